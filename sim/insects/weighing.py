"""The day weighed up: warmth and every daily hazard, once for each kind of insect in each bed.

Takes the morning's surroundings. Gives, for each bed, species and stage that has anybody alive, the degree-days of the
day and the hazards (1/d) of each cause for three exposures. All insects of a kind in a bed share them; who dies is then
one draw an insect, and of what a second draw, in proportion.
"""

from __future__ import annotations

import math

from sim.cast import HAZARDS, PREDATORS, PRODUCTS, STAGES, Fate, Species, Stage, Visitor
from sim.compiled import Floats, Record, Records, loop, rule
from sim.insects.record import EXPOSURES, HIDDEN, LOWER, OPEN, kind_in_bed
from sim.weather.warmth import degree_days

_HAZARDS, _PREDATORS, _PRODUCTS, _STAGES = HAZARDS, PREDATORS, PRODUCTS, STAGES
_LEAST_LEFT = math.exp(-50.0)
"""A share of all but nothing: keeps the logarithm finite."""
_ADULT = int(Stage.ADULT)
_PUPA, _WASP = int(Stage.PUPA), int(Species.PARASITOID_WASP)
_HUNTING, _OTHER = int(Fate.EATEN_BY_HUNTING_WASP), int(Fate.OTHER_PARASITOIDS)
_DISEASE, _SPRAYED, _WASHED, _WEATHER = (
    int(Fate.DISEASE),
    int(Fate.SPRAYED),
    int(Fate.WASHED_OFF),
    int(Fate.HEAT_OR_COLD),
)
_V_HUNTING, _V_SMALL = int(Visitor.HUNTING_WASP), int(Visitor.SMALL_PARASITOID)


@rule
def hazard_of_share(share: float) -> float:
    """Return the daily hazard that removes this share; a share of 1 counts as all but certain."""
    if share <= 0.0:
        return 0.0
    return -math.log(max(1.0 - share, _LEAST_LEFT))


@rule
def warmth_of_the_day(kind: Record, bed: Record, habits: Record) -> float:
    """Return the degree-days [°C·d] that a stage gathers in a bed today, in soil or on sunlit plants."""
    tmin, tmax = bed.tmin_c, bed.tmax_c
    if kind.in_soil > 0.0:
        middle = (tmin + tmax) / 2.0
        half = (tmax - tmin) / 2.0 * habits.soil_swing_share
        tmin, tmax = middle - half, middle + half
    else:
        tmin, tmax = tmin, tmax + 2.0 * bed.sun_bonus_c  # a bonus of the day's mean, felt while the sun shines
    return degree_days(tmin, tmax, kind.base_c, kind.upper_c)


@loop
def add_warmth(life: Records, tmin_c: float, tmax_c: float, season_dd: Floats) -> None:
    """Add a day's degree-days above each adult's base to the year's warmth, shape (S,)."""
    for s in range(season_dd.size):
        kind = life[s, _ADULT]
        season_dd[s] += degree_days(tmin_c, tmax_c, kind.base_c, kind.upper_c)


@rule
def spray_hazard(
    kind: Record, kill: Floats, eaten_share: Floats, residue: Floats, contact: Floats, stage_index: int
) -> float:
    """Return the daily hazard of today's contact and of eating what lies on the leaf."""
    total = 0.0
    for product in range(_PRODUCTS):
        by_eating = eaten_share[product]
        if contact[product] > 0.0:
            total += hazard_of_share(kill[product, stage_index] * (1.0 - by_eating) * contact[product])
        if kind.feeds > 0.0 and residue[product] > 0.0:
            total += hazard_of_share(kill[product, stage_index]) * by_eating * residue[product]
    return total


@rule
def wasp_activity(wasp_kill: Floats, residue: Floats, contact: Floats) -> float:
    """Return the share of hunting and parasitic wasps at work over residues that harm them."""
    left = 1.0
    for product in range(_PRODUCTS):
        left *= 1.0 - wasp_kill[product] * min(1.0, residue[product] + contact[product])
    return left


@rule
def write_warmth(out_dd: Floats, life: Records, bed: Record, habits: Record, b: int, s: int, alive: Floats) -> None:
    """Write the day's degree-days of every stage of a species that is in the bed: one that moults needs the next."""
    anybody = 0.0
    for t in range(_STAGES):
        anybody += alive[b, s, t]
    if anybody == 0.0:
        return
    for t in range(_STAGES):
        kind, here = life[s, t], kind_in_bed(b, s, t)
        if t > 0 and kind.base_c == life[s, t - 1].base_c and kind.in_soil == life[s, t - 1].in_soil:
            out_dd[here] = out_dd[here - 1]
        else:
            out_dd[here] = warmth_of_the_day(kind, bed, habits)


@rule
def weather_hazard(kind: Record, tmin_c: float, mean_c: float) -> float:
    """Return the daily hazard of heat and frost for those above ground."""
    hazard = 0.0
    if mean_c > kind.heat_death_c:
        hazard += hazard_of_share(kind.heat_death_per_day)
    if tmin_c < kind.cold_death_c:
        hazard += hazard_of_share(kind.cold_death_per_day)
    return hazard


@rule
def write_hazards(
    row: Floats,
    kind: Record,
    bed: Record,
    habits: Record,
    exposure: int,
    mean_c: float,
    risk: Floats,
    hunting: float,
    other: float,
    crowding: float,
    sprayed: float,
    wet_share: float,
) -> None:
    """Write every cause's daily hazard for one kind and one exposure; the soil keeps out spray, rain and weather."""
    in_soil = kind.in_soil > 0.0
    in_head = exposure == HIDDEN and not in_soil
    met = habits.head_predator_factor if in_head else 1.0
    for predator in range(_PREDATORS):
        row[predator] = risk[predator] * met
    row[_HUNTING] = kind.hunting_wasps_per_day * hunting * met
    row[_OTHER] = kind.other_parasitoids_per_day * other
    row[_DISEASE] = kind.disease_per_day * crowding
    row[_SPRAYED], row[_WASHED], row[_WEATHER] = 0.0, 0.0, 0.0
    if in_soil:
        return
    row[_SPRAYED] = sprayed * (habits.head_spray_factor if in_head else 1.0)
    row[_WEATHER] = weather_hazard(kind, bed.tmin_c, mean_c)
    washed = hazard_of_share(kind.rain_loss * wet_share)
    if exposure == OPEN:
        row[_WASHED] = washed
    elif exposure == LOWER:
        row[_WASHED] = washed * habits.rain_lower_factor


@rule
def share_inside(gets_in: float, leave_over_die: float) -> float:
    """Return how many wasps are at work in a bed, of those in an open one: few get in, but they leave as hardly.

    In balance, comers x gets_in = inside x (leave x gets_in + die).
    """
    return float(gets_in * (1.0 + leave_over_die) / (1.0 + leave_over_die * gets_in))


@loop
def weigh_the_day(
    alive: Floats,
    plants_in_bed: Floats,
    life: Records,
    habits_of_all: Records,
    beds: Records,
    gets_in: Floats,
    residue: Floats,
    contact: Floats,
    risk: Floats,
    kill: Floats,
    eaten_share: Floats,
    wasp_kill: Floats,
    out_dd: Floats,
    out_hazard: Floats,
    out_death: Floats,
) -> None:
    """Fill degree-days [B * S * T], hazards [B * S * T, EXPOSURES, 13] and chances of death [B * S * T, EXPOSURES]."""
    habits = habits_of_all[0]
    for b in range(beds.size):
        bed = beds[b]
        mean_c = (bed.tmin_c + bed.tmax_c) / 2.0
        wet_share = min(
            1.0, max(0.0, bed.rain_mm - habits.rain_harmless_mm) / (habits.rain_full_mm - habits.rain_harmless_mm)
        )
        wasps = wasp_activity(wasp_kill, residue[b], contact[b])
        hunting = wasps * share_inside(gets_in[b, _V_HUNTING], habits.wasps_leave_over_die)
        other = wasps * share_inside(gets_in[b, _V_SMALL], habits.wasps_leave_over_die)
        out_dd[kind_in_bed(b, _WASP, _PUPA)] = warmth_of_the_day(
            life[_WASP, _PUPA], bed, habits
        )  # grubs inside hosts need it too
        for s in range(alive.shape[1]):
            larvae = 0.0
            for t in range(1, _STAGES - 2):
                if life[s, t].in_soil == 0.0:
                    larvae += alive[b, s, t]
            crowding = 1.0 + larvae / max(1.0, plants_in_bed[b]) / habits.disease_larvae_per_plant
            write_warmth(out_dd, life, bed, habits, b, s, alive)
            for t in range(_STAGES):
                if alive[b, s, t] <= 0.0:
                    continue
                kind = life[s, t]
                here = kind_in_bed(b, s, t)
                sprayed = spray_hazard(kind, kill[:, s], eaten_share[:, s], residue[b], contact[b], t)
                if s == _WASP and t == _ADULT:
                    sprayed = hazard_of_share(1.0 - wasps)  # walks on all leaves, eats none
                for e in range(EXPOSURES):
                    row = out_hazard[here, e]
                    write_hazards(
                        row, kind, bed, habits, e, mean_c, risk[b, s, t], hunting, other, crowding, sprayed, wet_share
                    )
                    total = 0.0
                    for h in range(_HAZARDS):
                        total += row[h]
                    out_death[here, e] = 1.0 - math.exp(-total)
