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
from typing import Any

from sim.birds.daybook import OWN_KJ, OWN_RATE, YOUNG_KJ, YOUNG_RATE, DayBook, Here
from sim.birds.menu import Menu
from sim.cast import BIRDS, GENERALISTS, SPECIES, STAGES, Predator, Visitor
from sim.compiled import Floats, Records, loop, rule
from sim.surroundings import MINUTES_PER_HOUR

_FIRST_BIRD = int(Predator.TIT_LIKE_BIRD)
_BIRD = int(Visitor.BIRD)
_MG_PER_G = 1000.0


@rule
def wanted_share(prey_mg: float, shared: Any) -> float:
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
def density_per_m2(group: Any, day_of_year: float) -> float:
    """Return prey of a group [1/m²] in the country on a date: a lasting part and a flush around its day."""
    from_flush = (day_of_year - group.flush_day_of_year) / group.flush_width_days
    return float(group.lasting_per_m2 + group.flush_per_m2 * math.exp(-from_flush * from_flush / 2.0))


@rule
def mean_mg(group: Any, day_of_year: float) -> float:
    """Return the mean fresh mass [mg] of a prey group on a date; it grows along a logistic curve."""
    grown = 1.0 / (1.0 + math.exp(-(day_of_year - group.half_grown_day_of_year) / group.growing_days))
    return float(group.young_mg + (group.grown_mg - group.young_mg) * grown)


@rule
def feeding_minutes(today: Any, shared: Any) -> float:
    """Return minutes in which a bird can look for food: daylight less rain."""
    wetness = min(1.0, today.rain_mm / shared.wet_full_rain_mm)
    dry_share = 1.0 - (1.0 - shared.wet_hours_share) * wetness
    return float(today.day_length_h * MINUTES_PER_HOUR * shared.feeding_share_of_daylight * dry_share)


@rule
def prey_activity(today: Any, shared: Any) -> float:
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
def taken_share(hazard: float) -> float:
    """Return the share of prey that falls to a hazard within the day."""
    return -math.expm1(-hazard)


@loop
def look_into_beds(here: Here, menu: Menu, book: DayBook) -> None:
    """Fill ``wanted`` and the beds' part of ``offer``; under a closed net there is nothing to be had."""
    for bed in range(here.beds.size):
        open_share = here.gets_in[bed, _BIRD]
        area_m2 = here.beds[bed].area_m2
        rate, energy = _enemies_on_offer(bed, open_share, here, menu)
        for species in range(SPECIES):
            for stage in range(STAGES):
                book.wanted[bed, species, stage] = 0.0
                count = here.alive[bed, species, stage]
                meal = menu.meals[species, stage]
                if count <= 0.0 or open_share <= 0.0 or area_m2 <= 0.0 or meal.appeal <= 0.0:
                    continue
                prey_mg = here.mass_mg[bed, species, stage] / count
                want = meal.appeal * wanted_share(prey_mg, menu.shared[0]) * open_share
                book.wanted[bed, species, stage] = want
                rate += want * count / area_m2
                energy += want * count / area_m2 * prey_mg / _MG_PER_G * menu.groups[meal.group].energy_kj_per_g
        for kind in range(BIRDS):
            looked_at = menu.kinds[kind].search_m2_per_minute * menu.kinds[kind].reach_in_beds
            offer = book.offer[kind, bed]
            offer[OWN_RATE], offer[OWN_KJ] = rate * looked_at, energy * looked_at
            offer[YOUNG_RATE], offer[YOUNG_KJ] = rate * looked_at, energy * looked_at


@rule
def _enemies_on_offer(bed: int, open_share: float, here: Here, menu: Menu) -> tuple[float, float]:
    rate, energy = 0.0, 0.0
    for enemy in range(GENERALISTS):
        food = menu.enemies[enemy]
        want = food.appeal * wanted_share(food.mg, menu.shared[0]) * open_share
        rate += want * here.generalists_per_m2[bed, enemy]
        kj = food.mg / _MG_PER_G * menu.groups[food.group].energy_kj_per_g
        energy += want * here.generalists_per_m2[bed, enemy] * kj
    return rate, energy


@loop
def look_outside(day_of_year: float, here: Here, menu: Menu, book: DayBook) -> None:
    """Fill ``met``, ``prey_mg`` and the last two patches of ``offer`` with the date's prey."""
    hedgerow, territory = book.offer.shape[1] - 2, book.offer.shape[1] - 1
    date = day_of_year - here.site[0].spring_shift_days
    for g in range(menu.groups.size):
        book.prey_mg[g] = mean_mg(menu.groups[g], date)
    for kind in range(BIRDS):
        for column in range(book.offer.shape[2]):
            book.offer[kind, hedgerow, column] = 0.0
            book.offer[kind, territory, column] = 0.0
        for g in range(menu.groups.size):
            group = menu.groups[g]
            want = group.palatability * wanted_share(book.prey_mg[g], menu.shared[0]) * menu.reach[kind, g]
            rate = menu.kinds[kind].search_m2_per_minute * want * density_per_m2(group, date)
            book.met[kind, 0, g] = rate * group.hedgerow_factor
            book.met[kind, 1, g] = rate * here.site[0].territory_food
            kj = book.prey_mg[g] / _MG_PER_G * group.energy_kj_per_g
            _put_on_offer(book.offer[kind, hedgerow], book.met[kind, 0, g], kj, group.is_for_young)
            _put_on_offer(book.offer[kind, territory], book.met[kind, 1, g], kj, group.is_for_young)


@rule
def _put_on_offer(offer: Floats, rate: float, kj: float, is_for_young: float) -> None:
    offer[OWN_RATE] += rate
    offer[OWN_KJ] += rate * kj
    if is_for_young > 0.0:
        offer[YOUNG_RATE] += rate
        offer[YOUNG_KJ] += rate * kj


@loop
def share_time(nests: Records, activity: float, here: Here, menu: Menu, book: DayBook) -> None:
    """Fill ``shares``: of a nest's foraging time, where it is spent; the bird follows what pays for its need."""
    for n in range(nests.size):
        nest, kind = nests[n], menu.kinds[nests[n].kind]
        near = nearness(nest.distance_m, kind.territory_m2)
        total = 0.0
        for patch in range(book.shares.shape[1]):
            offer = book.offer[nest.kind, patch]
            if nest.young_need_kj > 0.0:
                pays = caught_per_minute(
                    offer[YOUNG_KJ] * activity, offer[YOUNG_RATE] * activity, kind.handling_minutes
                )
            else:
                own_minutes = menu.shared[0].own_meal_minutes
                pays = caught_per_minute(offer[OWN_KJ] * activity, offer[OWN_RATE] * activity, own_minutes)
            use_m2 = _use_of_patch_m2(patch, near, kind, here, menu)
            book.shares[n, patch] = use_m2 * pays ** menu.shared[0].matching_exponent if pays > 0.0 else 0.0
            total += book.shares[n, patch]
        if total > 0.0:
            for patch in range(book.shares.shape[1]):
                book.shares[n, patch] /= total


@rule
def _use_of_patch_m2(patch: int, near: float, kind: Any, here: Here, menu: Menu) -> float:
    site = here.site[0]
    if patch < here.beds.size:
        return float(here.beds[patch].area_m2 * near * kind.use_of_garden * site.use_of_garden)
    if patch == here.beds.size:
        return float(site.hedgerow_area_m2 * near * menu.shared[0].hedgerow_use)
    return float(kind.territory_m2)


@loop
def plan_minutes(nests: Records, activity: float, day_minutes: float, menu: Menu, book: DayBook) -> None:
    """Set each nest's minutes of own meals and of feeding young: no longer than needed, no longer than the day."""
    own_meal = menu.shared[0].own_meal_minutes
    for n in range(nests.size):
        nest = nests[n]
        own_kj, young_kj = 0.0, 0.0
        for patch in range(book.shares.shape[1]):
            offer, share = book.offer[nest.kind, patch], book.shares[n, patch]
            handling = menu.kinds[nest.kind].handling_minutes
            own_kj += share * caught_per_minute(offer[OWN_KJ] * activity, offer[OWN_RATE] * activity, own_meal)
            young_kj += share * caught_per_minute(offer[YOUNG_KJ] * activity, offer[YOUNG_RATE] * activity, handling)
        day_of_parents = nest.parents_free * day_minutes
        nest.parent_minutes = _minutes_for(nest.parent_need_kj, own_kj, day_of_parents)
        nest.young_minutes = _minutes_for(nest.young_need_kj, young_kj, day_of_parents - nest.parent_minutes)
        grown_minutes = _minutes_for(nest.grown_need_kj, own_kj, nest.grown_young * day_minutes)
        nest.own_minutes = nest.parent_minutes + grown_minutes


@rule
def _minutes_for(need_kj: float, kj_per_minute: float, most_minutes: float) -> float:
    if kj_per_minute <= 0.0:
        return most_minutes if need_kj > 0.0 else 0.0
    return min(most_minutes, need_kj / kj_per_minute)


@loop
def hunt(nests: Records, activity: float, menu: Menu, book: DayBook) -> None:
    """Fill ``effort`` and ``searched``: the area really searched, handling taken off, in each patch."""
    for kind in range(BIRDS):
        for patch in range(book.searched.shape[1]):
            book.searched[kind, patch] = 0.0
    for n in range(nests.size):
        nest, manner = nests[n], menu.kinds[nests[n].kind]
        area_per_minute = manner.search_m2_per_minute * activity
        for patch in range(book.shares.shape[1]):
            offer, share = book.offer[nest.kind, patch], book.shares[n, patch]
            own = caught_per_minute(area_per_minute, offer[OWN_RATE] * activity, menu.shared[0].own_meal_minutes)
            young = caught_per_minute(area_per_minute, offer[YOUNG_RATE] * activity, manner.handling_minutes)
            book.effort[n, patch, 0] = nest.own_minutes * share * own
            book.effort[n, patch, 1] = nest.young_minutes * share * young
            book.searched[nest.kind, patch] += book.effort[n, patch, 0] + book.effort[n, patch, 1]


@loop
def write_risk(here: Here, menu: Menu, book: DayBook) -> None:
    """Write the birds' part of ``risk``, and ``enemy_risk`` [1/d]: times a bed is searched, times what is wanted."""
    for bed in range(here.beds.size):
        area_m2, all_times = here.beds[bed].area_m2, 0.0
        for kind in range(BIRDS):
            times = book.searched[kind, bed] * menu.kinds[kind].reach_in_beds / area_m2 if area_m2 > 0.0 else 0.0
            all_times += times
            for species in range(SPECIES):
                for stage in range(STAGES):
                    here.risk[bed, species, stage, _FIRST_BIRD + kind] = times * book.wanted[bed, species, stage]
        for enemy in range(GENERALISTS):
            food = menu.enemies[enemy]
            want = food.appeal * wanted_share(food.mg, menu.shared[0]) * here.gets_in[bed, _BIRD]
            book.enemy_risk[bed, enemy] = all_times * want
