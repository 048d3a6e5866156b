"""A day in the life of every insect: one loop that calls the rules in order.

Takes the weighed day, the plants and the morning's state of each insect. ``live`` decides who dies, grows and how much
each would eat; once the plants have shared out what there is, ``eat`` feeds them. Nothing here depends on the order of
insects: what one does today another feels tomorrow.
"""

from __future__ import annotations

import math

from sim.cast import Bird, Entry, Fate, Predator, Species, Stage
from sim.compiled import Floats, Ints, Record, Records, loop, rule
from sim.insects.record import ADULTS, FEEDERS, HIDDEN, HOSTS, IN_SOIL, SPENT_HOSTS, kind_in_bed
from sim.insects.rules import (
    age_as_adult,
    appetite_cm2,
    become_adult,
    carry_wasps,
    crawl_on,
    die_of_one_hazard,
    grow,
    has_head_to_hide_in,
    looks_for_plants,
    moult,
    picks_up_wilt,
    rest_for_winter,
    shut_in_or_free,
    sit_somewhere,
    survives,
    take_meal,
)

_ALIVE, _BORN, _PARASITISED = int(Fate.ALIVE), int(Entry.BORN), int(Fate.PARASITISED)
_PUPA, _ADULT, _LARVA, _LAST_INSTAR = int(Stage.PUPA), int(Stage.ADULT), int(Stage.INSTAR_1), int(Stage.INSTAR_5)
_WASP, _WHITE = int(Species.PARASITOID_WASP), int(Species.CABBAGE_WHITE)
_BEETLE = int(Species.CUCUMBER_BEETLE)
_FIRST_BIRD, _BIRDS = int(Predator.TIT_LIKE_BIRD), len(Bird)


@rule
def note_catch(insect: Record, caught_count: Floats, caught_mg: Floats) -> None:
    """Count one that a bird took."""
    bird = insect.fate - _FIRST_BIRD
    if 0 <= bird < _BIRDS:
        caught_count[bird, insect.bed, insect.species, insect.stage] += 1.0
        caught_mg[bird, insect.bed, insect.species, insect.stage] += insect.mass_mg


@rule
def put_on_list(i: int, which: int, lists: Ints, listed: Ints) -> None:
    """Write an insect's place down on one of the day's lists."""
    lists[which, listed[which]] = i
    listed[which] += 1


@rule
def join_lists(
    insect: Record, i: int, as_adult: Record, flier: Record, flight: float, lists: Ints, listed: Ints, flying: Ints
) -> float:
    """List one that will try plants today, or a host whose wasps have left it; return how many young it may have."""
    if insect.fate == _PARASITISED:
        put_on_list(i, SPENT_HOSTS, lists, listed)
        return float(insect.wasp_brood)
    is_on_the_wing = insect.fate == _ALIVE and insect.stage == _ADULT and insect.is_resting == 0
    if is_on_the_wing and flight > 0.0 and looks_for_plants(insect, as_adult, flier):
        put_on_list(i, ADULTS, lists, listed)
        flying[insect.species] += 1
        return float(insect.eggs_ready)
    return 0.0


@rule
def mark_root(insect: Record, kind: Record, plants: Records, warmth_dd: float) -> None:
    """Let a larva in the soil leave its marks on the root above it."""
    if kind.root_cm2_per_dd > 0.0:
        plants[insect.plant].root_eaten_cm2 += kind.root_cm2_per_dd * warmth_dd * insect.pace


@rule
def grow_older(insect: Record, rests: bool, pupa: Record, flier: Record, warmth_dd: float) -> None:
    """Live a day as an adult: age, or go to winter rest when it is time."""
    if rests and winters_as_adult(pupa):
        rest_for_winter(insect, flier)
    else:
        age_as_adult(insect, flier, warmth_dd)


@rule
def is_winter_near(is_shortening: bool, day_length_h: float, flier: Record) -> bool:
    """Return whether days are short and shortening enough for this species to seek its winter rest."""
    return is_shortening and day_length_h < flier.rest_day_length_h


@rule
def winters_as_adult(pupa: Record) -> bool:
    """Return whether a species winters as adult: it has no pupa, or one in soil that it leaves before winter."""
    return bool(pupa.heat_dd <= 0.0 or pupa.in_soil > 0.0)


@rule
def pass_into_next_stage(
    insect: Record,
    life: Records,
    flier: Record,
    habits: Record,
    has_head: bool,
    fits_share: float,
    gap_pass: float,
    rests: bool,
    margin: int,
    reached: Ints,
) -> None:
    """Moult, and settle what the new stage brings: adult ways, or winter rest for a pupa of short days."""
    species, before = insect.species, insect.stage
    moult(insect, life, flier, has_head)
    if insect.fate != _ALIVE or insect.stage == before:
        return
    if insect.entry == _BORN:
        reached[1 if insect.bed == margin else 0, species, insect.stage] += 1
    if insect.stage == _ADULT:
        become_adult(insect, flier, habits, fits_share, gap_pass)
    elif insect.stage == _PUPA and rests and life[species, _PUPA].in_soil == 0.0:
        insect.is_resting = 1
        insect.life_dd = math.inf


@rule
def ask_for_food(
    insect: Record,
    kind: Record,
    flier: Record,
    habits: Record,
    plants: Records,
    leaves: Records,
    demand_cm2: Floats,
    warmth_dd: float,
    mean_c: float,
    day: int,
) -> None:
    """Sit down somewhere on its plant and say how much it would eat there."""
    p = insect.plant
    if not plants[p].is_growing:
        insect.want_cm2 = -1.0  # hungry, with nothing to eat here
        return
    sit_somewhere(insect, plants[p], leaves, habits, day)
    insect.want_cm2 = appetite_cm2(insect, kind, flier, habits, warmth_dd, mean_c)
    if insect.place >= 0:
        demand_cm2[p, insect.place] += insect.want_cm2
        plants[p].is_asked = 1


@loop
def live(
    insects: Records,
    count: int,
    day: int,
    is_shortening: bool,
    day_length_h: float,
    season_dd: Floats,
    life: Records,
    fliers: Records,
    habits_of_all: Records,
    beds: Records,
    fits_through: Floats,
    gap_pass: Floats,
    dd: Floats,
    hazard: Floats,
    death: Floats,
    plants: Records,
    leaves: Records,
    demand_cm2: Floats,
    caught_count: Floats,
    caught_mg: Floats,
    reached: Ints,
    lists: Ints,
    listed: Ints,
    flight: Floats,
    flying: Ints,
) -> float:
    """Let every living insect meet the day's hazards, grow, moult and ask for its food; return room for its young.

    ``demand_cm2`` [P, PLACES] is added to, and the plants asked are marked; ``caught_*`` [BIRDS, B, S, T] are set to
    what birds took; ``reached`` [2, S, T] counts those born here that entered a stage, in the beds and in the margin.
    ``lists`` [LISTS, capacity] and ``listed`` [LISTS] name those who come after: most insects are eggs, pupae or in the
    soil. ``flying`` [S] is set to how many of each species will try plants, if their ``flight`` [S], the weather's
    share of a full day's, is not 0.
    """
    habits = habits_of_all[0]
    margin = beds.size - 1
    listed[:] = 0
    flying[:] = 0
    caught_count[:] = 0.0
    caught_mg[:] = 0.0
    room = 0.0
    for i in range(count):
        insect = insects[i]
        if insect.fate != _ALIVE:
            continue
        b, s, t = insect.bed, insect.species, insect.stage
        here = kind_in_bed(b, s, t)
        if not survives(insect, death[here, insect.exposure], day):
            die_of_one_hazard(insect, hazard[here, insect.exposure], day)
            note_catch(insect, caught_count, caught_mg)
            continue
        shut_in_or_free(insect, life[s, _ADULT].feeds, fits_through, gap_pass)
        flier, bed = fliers[s], beds[b]
        insect.want_cm2 = 0.0
        rests = is_winter_near(is_shortening, day_length_h, flier)
        if insect.is_resting:
            if season_dd[s] >= insect.life_dd:
                insect.mass_mg *= life[s, _ADULT].mass_at_end_mg / life[s, t].mass_at_end_mg
                become_adult(insect, flier, habits, fits_through[b, s], gap_pass[b, s])
        elif t != _ADULT:
            if insect.wasp_brood > 0:
                carry_wasps(insect, dd[kind_in_bed(b, _WASP, _PUPA)], habits.in_host_dd)
            grow(insect, dd[here])
            if insect.fate == _ALIVE and insect.warmth_dd >= life[s, t].heat_dd:
                has_head = insect.plant >= 0 and has_head_to_hide_in(plants[insect.plant])
                pass_into_next_stage(
                    insect, life, flier, habits, has_head, fits_through[b, s], gap_pass[b, s], rests, margin, reached
                )
        else:
            grow_older(insect, rests, life[s, _PUPA], flier, dd[here])
        room += join_lists(insect, i, life[s, _ADULT], flier, flight[s], lists, listed, flying)
        if insect.fate != _ALIVE or insect.is_resting != 0 or insect.plant < 0:
            continue
        kind = life[s, insect.stage]
        if insect.place == IN_SOIL:
            mark_root(insect, kind, plants, dd[here])
        elif kind.feeds > 0.0:
            put_on_list(i, FEEDERS, lists, listed)
            mean_c = (bed.tmin_c + bed.tmax_c) / 2.0
            ask_for_food(insect, kind, flier, habits, plants, leaves, demand_cm2, dd[here], mean_c, day)
    return room


@loop
def eat(
    insects: Records,
    day: int,
    life: Records,
    habits_of_all: Records,
    dd: Floats,
    plants: Records,
    first_plant: Ints,
    ration: Floats,
    eaten_cm2: Floats,
    grown_mg: Floats,
    hosts_on_plant: Floats,
    larvae_in_head: Floats,
    infective_on_plant: Floats,
    lists: Ints,
    listed: Ints,
) -> None:
    """Give every feeder its ration; let the hungry move on or starve; count and list who sits where for later comers.

    ``first_plant`` [B + 1] holds each bed's first plant; ``eaten_cm2`` [S] is added to; ``grown_mg`` [B, S]
    and the last three [P] are set.
    """
    habits = habits_of_all[0]
    grown_mg[:] = 0.0
    hosts_on_plant[:] = 0.0
    larvae_in_head[:] = 0.0
    infective_on_plant[:] = 0.0
    for k in range(listed[FEEDERS]):
        insect = insects[lists[FEEDERS, k]]
        b, s, t, p = insect.bed, insect.species, insect.stage, insect.plant
        if insect.want_cm2 != 0.0:
            fed = 0.0
            if insect.want_cm2 > 0.0 and insect.place >= 0:
                fed = ration[p, insect.place]
                eaten_cm2[s] += fed * insect.want_cm2
            before_mg = insect.mass_mg
            take_meal(insect, life[s, t], habits, dd[kind_in_bed(b, s, t)], fed)
            grown_mg[b, s] += insect.mass_mg - before_mg
            if insect.fate == _ALIVE and fed < 1.0:
                crawl_on(insect, habits, first_plant[b], first_plant[b + 1], plants, day)
            if s == _BEETLE and t == _ADULT and fed > 0.0:
                if insect.is_infective:
                    infective_on_plant[p] += 1.0
                elif plants[p].is_wilting:
                    insect.is_infective = picks_up_wilt(insect, habits, day)
        if insect.fate != _ALIVE:
            continue
        if s == _WHITE and insect.wasp_brood == 0 and habits.host_youngest_instar <= t <= habits.host_oldest_instar:
            hosts_on_plant[insect.plant] += 1.0  # perhaps crawled since the meal
            put_on_list(lists[FEEDERS, k], HOSTS, lists, listed)
        if insect.place >= 0 and insect.exposure == HIDDEN and _LARVA <= t <= _LAST_INSTAR:
            larvae_in_head[p] += 1.0
