"""Where birds look for food and what they meet there: one functional response in beds, hedgerow and country.

Takes: the morning's insects and generalist enemies by bed, what gets through a net, the date and the weather.
Keeps: nothing.
Changes: the minutes and shares of each nest, the risk of insects and enemies, and what is caught outside the beds.

A bird that searches a patch meets prey class i at the rate ``s_i = a w_i D_i`` (a: area searched a minute, w: chance
that it is seen and wanted, D: density) and takes ``s_i / (1 + h sum(s))`` a minute: the disc equation for several
kinds of prey (Holling 1959, type II; from memory). h is longer for prey carried to a nest than for the bird's own meal.
Time goes to patches by area, use and what pays: ``area * use * pays ** matching_exponent``.
"""

from __future__ import annotations

import math

from sim.cast import BIRDS, GENERALISTS, SPECIES, STAGES, Predator, Visitor
from sim.compiled import Floats, Ints, Records, loop, rule

_HERE = int(Predator.TIT_LIKE_BIRD)
_BIRD = int(Visitor.BIRD)
_MINUTES_PER_HOUR = 60.0
_MG_PER_G = 1000.0
# columns of ``offer``: rate of meetings [1/min] and energy met [kJ/min], for the bird itself and for its young
_OWN_RATE, _OWN_KJ, _YOUNG_RATE, _YOUNG_KJ = 0, 1, 2, 3


@rule
def wanted_share(prey_mg: float, shared: Records) -> float:
    """Return how much a prey of this fresh mass is wanted when met, 0 to 1 (after nd00: switch at 10 to 12 mg)."""
    if prey_mg <= shared.small_prey_mg:
        return float(shared.small_prey_share)
    if prey_mg < shared.wanted_prey_mg:
        risen = (prey_mg - shared.small_prey_mg) / (shared.wanted_prey_mg - shared.small_prey_mg)
        return float(shared.small_prey_share + (1.0 - shared.small_prey_share) * risen)
    if prey_mg <= shared.large_prey_mg:
        return 1.0
    return float(shared.large_prey_share)


@rule
def density_per_m2(group: Records, day_of_year: float) -> float:
    """Return prey of a group [1/m²] in the country on a date: a lasting part and a flush around its day."""
    from_flush = (day_of_year - group.flush_day_of_year) / group.flush_width_days
    return float(group.lasting_per_m2 + group.flush_per_m2 * math.exp(-from_flush * from_flush / 2.0))


@rule
def mean_mg(group: Records, day_of_year: float) -> float:
    """Return the mean fresh mass [mg] of a prey group on a date; it grows along a logistic curve."""
    grown = 1.0 / (1.0 + math.exp(-(day_of_year - group.half_grown_day_of_year) / group.growing_days))
    return float(group.young_mg + (group.grown_mg - group.young_mg) * grown)


@rule
def feeding_minutes(today: Records, shared: Records) -> float:
    """Return minutes in which a bird can look for food: daylight less rain."""
    wetness = min(1.0, today.rain_mm / shared.wet_full_rain_mm)
    dry_share = 1.0 - (1.0 - shared.wet_hours_share) * wetness
    return float(today.day_length_h * _MINUTES_PER_HOUR * shared.feeding_share_of_daylight * dry_share)


@rule
def prey_activity(today: Records, shared: Records) -> float:
    """Return how well prey shows itself, from a low share in the cold to 1 on a mild day."""
    mean_c = (today.tmin_c + today.tmax_c) / 2.0
    warmth = (mean_c - shared.cold_to_c) / (shared.cold_from_c - shared.cold_to_c)
    return float(shared.cold_search_share + (1.0 - shared.cold_search_share) * min(1.0, max(0.0, warmth)))


@rule
def nearness(distance_m: float, territory_m2: float) -> float:
    """Return the use of a place at a distance from the nest: 1 beside it, falling as a bell over the range."""
    return math.exp(-distance_m * distance_m * math.pi / territory_m2)


@rule
def caught_per_minute(met: float, all_met: float, handling_minutes: float) -> float:
    """Return what is caught a minute of a class met at a rate, while all classes are met at another (type II)."""
    return met / (1.0 + all_met * handling_minutes)


@rule
def _put_on_offer(here: Floats, rate: float, kj: float, is_for_young: bool) -> None:
    here[_OWN_RATE] += rate
    here[_OWN_KJ] += rate * kj
    if is_for_young:
        here[_YOUNG_RATE] += rate
        here[_YOUNG_KJ] += rate * kj


@loop
def offer_in_beds(
    beds: Records,
    gets_in: Floats,
    alive: Floats,
    mass_mg: Floats,
    generalists: Floats,
    kinds: Records,
    shared: Records,
    groups: Records,
    appeal: Floats,
    group_of: Ints,
    enemy_appeal: Floats,
    enemy_mg: Floats,
    enemy_group: Ints,
    wanted: Floats,
    offer: Floats,
) -> None:
    """Fill ``wanted`` (B, SPECIES, STAGES) and the beds' part of ``offer`` (BIRDS, B + 2, 4) at full prey activity."""
    for bed in range(beds.size):
        open_share = gets_in[bed, _BIRD]
        area_m2 = beds[bed].area_m2
        rate, energy = 0.0, 0.0
        for species in range(SPECIES):
            for stage in range(STAGES):
                wanted[bed, species, stage] = 0.0
                count = alive[bed, species, stage]
                if count <= 0.0 or open_share <= 0.0 or area_m2 <= 0.0 or appeal[species, stage] <= 0.0:
                    continue
                prey_mg = mass_mg[bed, species, stage] / count
                want = appeal[species, stage] * wanted_share(prey_mg, shared[0]) * open_share
                wanted[bed, species, stage] = want
                kj = prey_mg / _MG_PER_G * groups[group_of[species, stage]].energy_kj_per_g
                rate += want * count / area_m2
                energy += want * count / area_m2 * kj
        for enemy in range(GENERALISTS):
            want = enemy_appeal[enemy] * wanted_share(enemy_mg[enemy], shared[0]) * open_share
            kj = enemy_mg[enemy] / _MG_PER_G * groups[enemy_group[enemy]].energy_kj_per_g
            rate += want * generalists[bed, enemy]
            energy += want * generalists[bed, enemy] * kj
        for kind in range(BIRDS):
            searched = kinds[kind].search_m2_per_minute * kinds[kind].reach_in_beds
            offer[kind, bed, _OWN_RATE] = rate * searched
            offer[kind, bed, _OWN_KJ] = energy * searched
            offer[kind, bed, _YOUNG_RATE] = rate * searched
            offer[kind, bed, _YOUNG_KJ] = energy * searched


@loop
def offer_outside(
    day_of_year: float,
    territory_food: float,
    kinds: Records,
    shared: Records,
    groups: Records,
    reach: Floats,
    met: Floats,
    prey_mg: Floats,
    offer: Floats,
) -> None:
    """Fill ``met`` (BIRDS, 2, GROUPS) [1/min], ``prey_mg`` (GROUPS,) and the last two patches of ``offer``."""
    hedgerow, territory = offer.shape[1] - 2, offer.shape[1] - 1
    for kind in range(BIRDS):
        offer[kind, hedgerow, :] = 0.0
        offer[kind, territory, :] = 0.0
        for g in range(groups.size):
            prey_mg[g] = mean_mg(groups[g], day_of_year)
            want = groups[g].palatability * wanted_share(prey_mg[g], shared[0]) * reach[kind, g]
            rate = kinds[kind].search_m2_per_minute * want * density_per_m2(groups[g], day_of_year)
            kj = prey_mg[g] / _MG_PER_G * groups[g].energy_kj_per_g
            met[kind, 0, g] = rate * groups[g].hedgerow_factor
            met[kind, 1, g] = rate * territory_food
            is_for_young = groups[g].is_for_young > 0.0
            _put_on_offer(offer[kind, hedgerow], met[kind, 0, g], kj, is_for_young)
            _put_on_offer(offer[kind, territory], met[kind, 1, g], kj, is_for_young)


@rule
def _use_of_patch(
    patch: int, beds: Records, hedgerow_m2: float, near_use: float, hedgerow_use: float, kind: Records
) -> float:
    if patch < beds.size:
        return float(beds[patch].area_m2 * near_use * kind.use_of_garden)
    if patch == beds.size:
        return hedgerow_m2 * hedgerow_use
    return float(kind.territory_m2)


@loop
def share_time(
    nests: Records,
    beds: Records,
    hedgerow_m2: float,
    use_of_garden: float,
    kinds: Records,
    shared: Records,
    offer: Floats,
    activity: float,
    shares: Floats,
) -> None:
    """Fill ``shares`` (N, B + 2): of a nest's foraging time, where it is spent."""
    for n in range(nests.size):
        kind = kinds[nests[n].kind]
        near = nearness(nests[n].distance_m, kind.territory_m2)
        column = _YOUNG_RATE if nests[n].young_need_kj > 0.0 else _OWN_RATE
        handling = kind.handling_minutes if nests[n].young_need_kj > 0.0 else shared[0].own_meal_minutes
        total = 0.0
        for patch in range(shares.shape[1]):
            here = offer[nests[n].kind, patch]
            pays = caught_per_minute(here[column + 1] * activity, here[column] * activity, handling)
            use = _use_of_patch(patch, beds, hedgerow_m2, near * use_of_garden, near * shared[0].hedgerow_use, kind)
            shares[n, patch] = use * pays ** shared[0].matching_exponent if pays > 0.0 else 0.0
            total += shares[n, patch]
        if total > 0.0:
            for patch in range(shares.shape[1]):
                shares[n, patch] /= total


@loop
def plan_minutes(
    nests: Records,
    kinds: Records,
    shared: Records,
    offer: Floats,
    shares: Floats,
    activity: float,
    day_minutes: float,
) -> None:
    """Set each nest's minutes of own meals and of feeding young: no longer than needed, no longer than the day."""
    for n in range(nests.size):
        nest = nests[n]
        own_kj, young_kj = 0.0, 0.0
        for patch in range(shares.shape[1]):
            here = offer[nest.kind, patch]
            own = caught_per_minute(here[_OWN_KJ] * activity, here[_OWN_RATE] * activity, shared[0].own_meal_minutes)
            young = caught_per_minute(
                here[_YOUNG_KJ] * activity, here[_YOUNG_RATE] * activity, kinds[nest.kind].handling_minutes
            )
            own_kj += shares[n, patch] * own
            young_kj += shares[n, patch] * young
        parents_have = nest.parents_free * day_minutes
        own_minutes = min(parents_have, nest.parent_need_kj / own_kj) if own_kj > 0.0 else 0.0
        grown_have = nest.grown_young * day_minutes
        grown_minutes = min(grown_have, nest.grown_need_kj / own_kj) if own_kj > 0.0 else 0.0
        left = parents_have - own_minutes
        nest.young_minutes = min(left, nest.young_need_kj / young_kj) if young_kj > 0.0 else 0.0
        nest.parent_minutes = own_minutes
        nest.own_minutes = own_minutes + grown_minutes


@loop
def hunt(
    nests: Records,
    beds: Records,
    kinds: Records,
    shared: Records,
    offer: Floats,
    shares: Floats,
    activity: float,
    effort: Floats,
    searched: Floats,
) -> None:
    """Fill ``effort`` (N, B + 2, 2) and its sum by kind ``searched`` (BIRDS, B + 2): m² really searched in the day."""
    searched[:, :] = 0.0
    for n in range(nests.size):
        kind = kinds[nests[n].kind]
        area_per_minute = kind.search_m2_per_minute * activity
        for patch in range(shares.shape[1]):
            here = offer[nests[n].kind, patch]
            own = caught_per_minute(area_per_minute, here[_OWN_RATE] * activity, shared[0].own_meal_minutes)
            young = caught_per_minute(area_per_minute, here[_YOUNG_RATE] * activity, kind.handling_minutes)
            effort[n, patch, 0] = nests[n].own_minutes * shares[n, patch] * own
            effort[n, patch, 1] = nests[n].young_minutes * shares[n, patch] * young
            searched[nests[n].kind, patch] += effort[n, patch, 0] + effort[n, patch, 1]


@loop
def write_risk(
    beds: Records,
    gets_in: Floats,
    kinds: Records,
    shared: Records,
    wanted: Floats,
    enemy_appeal: Floats,
    enemy_mg: Floats,
    searched: Floats,
    risk: Floats,
    enemy_risk: Floats,
) -> None:
    """Write the birds' part of ``risk`` (B, SPECIES, STAGES, PREDATORS) and ``enemy_risk`` (B, GENERALISTS) [1/d]."""
    for bed in range(beds.size):
        all_times = 0.0
        for kind in range(BIRDS):
            area_m2 = beds[bed].area_m2
            times = searched[kind, bed] * kinds[kind].reach_in_beds / area_m2 if area_m2 > 0.0 else 0.0
            all_times += times
            for species in range(SPECIES):
                for stage in range(STAGES):
                    risk[bed, species, stage, _HERE + kind] = times * wanted[bed, species, stage]
        for enemy in range(GENERALISTS):
            want = enemy_appeal[enemy] * wanted_share(enemy_mg[enemy], shared[0])
            enemy_risk[bed, enemy] = all_times * want * gets_in[bed, _BIRD]


@rule
def taken_share(hazard: float) -> float:
    """Return the share of prey that falls to a hazard within the day."""
    return -math.expm1(-hazard)
