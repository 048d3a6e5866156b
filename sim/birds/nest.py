"""The nest: from the first egg to young that have left, with what they weigh and what they need.

Takes: the date and the food that parents brought home.
Keeps: one ``NEST`` record a pair, and a row of nestling masses a nest (0 where there is no chick).
Changes: the nest's stage, its nestlings' mass, who starves, who fledges, and the family outside the nest.
"""

from __future__ import annotations

import math
from enum import IntEnum
from typing import Any

import numpy as np

from sim.birds.nestlings import adult_kj, curve_g, grow_nestling, nestling_need_kj, share_food, upkeep_kj
from sim.compiled import Floats, Records, loop, rule
from sim.randomness import chance, child_key, normal

BROOD = 14
"""Places for nestlings: more than any clutch here."""


class NestStage(IntEnum):
    """What a pair is doing."""

    WAITING = 0
    LAYING = 1
    INCUBATING = 2
    NESTLINGS = 3
    DONE = 4
    LOST = 5


NEST = np.dtype(
    [
        ("key", "u8"),
        ("kind", "i8"),  # Bird
        ("distance_m", "f8"),  # from the garden
        ("stage", "i8"),  # NestStage
        ("brood", "i8"),  # clutches begun so far
        ("egg_day_of_year", "i8"),  # first egg of this clutch, or of the next
        ("eggs", "i8"),
        ("age_days", "i8"),  # of the nestlings
        ("nestlings", "i8"),
        ("parents", "i8"),
        ("is_here", "u1"),  # not away for the winter
        ("parents_free", "f8"),  # parents that may forage all day; the rest sit on eggs or young
        ("parent_need_kj", "f8"),
        ("brood_need_kj", "f8"),  # nestlings alone
        ("young_need_kj", "f8"),  # nestlings and fledglings that are still fed
        ("grown_young", "f8"),  # young that find food themselves
        ("grown_need_kj", "f8"),
        ("fledglings", "f8"),  # young out of the nest and still fed
        ("days_out", "i8"),
        ("parent_minutes", "f8"),
        ("own_minutes", "f8"),
        ("young_minutes", "f8"),
        ("hunger_share", "f8"),  # of today's brood need that was not met
        ("fed_kj", "f8"),  # brought to nestlings today
        ("garden_kj", "f8"),  # of it from the garden
        ("clutches", "i8"),
        ("eggs_laid", "i8"),
        ("hatched", "i8"),
        ("fledged", "i8"),
        ("starved", "i8"),
        ("lost", "i8"),  # nestlings lost with the whole nest
        ("failed_nests", "i8"),
        ("entangled", "i8"),  # birds of this pair caught in nets so far
        ("entangled_expected", "f8"),
        ("need_so_far_kj", "f8"),
        ("fed_so_far_kj", "f8"),
        ("garden_so_far_kj", "f8"),
        ("brood_days_fed", "f8"),  # garden food over the mean daily need of an ordinary brood
        ("nest_days", "i8"),  # days with nestlings
    ],
    align=True,
)

_CLUTCH_SIZE, _FIRST_EGG, _SECOND_BROOD, _REPLACEMENT, _HATCH, _FAIL, _SNARE, _DEATH_IN_NET = range(8)


@rule
def _choose_first_egg(nest: Any, kind: Any, shift_days: float) -> None:
    spread = kind.first_egg_spread_days * normal(nest.key, 0, _FIRST_EGG)
    nest.egg_day_of_year = round(kind.first_egg_day_of_year + shift_days + spread)


@loop
def begin_year(nests: Records, kinds: Records, spring_shift_days: float) -> None:
    """Give each pair the date of its first egg, from its own luck and the spring's earliness."""
    for n in range(nests.size):
        _choose_first_egg(nests[n], kinds[nests[n].kind], spring_shift_days)


@loop
def wake_nests(
    nests: Records, nestling_g: Floats, kinds: Records, shared: Records, day_of_year: int, shift_days: float
) -> None:
    """Set who is there this morning, who may forage, and what parents, nestlings and fledged young need today."""
    for n in range(nests.size):
        nest, kind = nests[n], kinds[nests[n].kind]
        arrival = kind.arrival_day_of_year + (shift_days if kind.arrival_day_of_year > 1.0 else 0.0)
        nest.is_here = arrival <= day_of_year <= kind.departure_day_of_year and nest.parents > 0
        if not nest.is_here:
            nest.fledglings, nest.grown_young = 0.0, 0.0
        _set_free_parents(nest, shared[0])
        grown_kj = adult_kj(kind.adult_g, shared[0])
        nest.parent_need_kj = grown_kj * nest.parents if nest.is_here else 0.0
        nest.brood_need_kj = 0.0
        for i in range(nestling_g.shape[1]):
            if nestling_g[n, i] > 0.0:
                nest.brood_need_kj += nestling_need_kj(nestling_g[n, i], kind, shared[0])
        still_fed_share = max(0.0, 1.0 - nest.days_out / kind.care_days)
        fledgling_kj = nest.fledglings * upkeep_kj(kind.growth_top_g, shared[0])
        nest.young_need_kj = nest.brood_need_kj + fledgling_kj * still_fed_share
        nest.grown_need_kj = nest.grown_young * grown_kj + fledgling_kj * (1.0 - still_fed_share)


@rule
def _set_free_parents(nest: Any, shared: Any) -> None:
    nest.parents_free = float(nest.parents) if nest.is_here else 0.0
    if not nest.is_here:
        return
    if nest.stage == NestStage.INCUBATING:
        nest.parents_free += shared.incubating_parent_share - 1.0
    elif nest.stage == NestStage.NESTLINGS and nest.age_days <= shared.brooding_days:
        nest.parents_free += shared.brooding_parent_share - 1.0


@loop
def feed_nestlings(
    nests: Records, nestling_g: Floats, kinds: Records, shared: Records, food_kj: Floats, portions_kj: Floats
) -> None:
    """Share ``food_kj`` (N,) among nestlings, let them grow, and let those too light for their age starve."""
    for n in range(nests.size):
        nest, kind = nests[n], kinds[nests[n].kind]
        if nest.stage != NestStage.NESTLINGS:
            continue
        share_food(nestling_g[n], food_kj[n], kind, shared[0], portions_kj)
        for i in range(nestling_g.shape[1]):
            if nestling_g[n, i] > 0.0:
                nestling_g[n, i] = grow_nestling(nestling_g[n, i], portions_kj[i], kind, shared[0])
                if nestling_g[n, i] <= 0.0:  # used up, whatever its age
                    nest.nestlings -= 1
                    nest.starved += 1
        nest.age_days += 1
        _starve(nest, nestling_g[n], kind, shared[0])


@rule
def _starve(nest: Any, masses_g: Floats, kind: Any, shared: Any) -> None:
    if nest.age_days <= shared.starving_from_age_days:
        return
    least_g = shared.starving_share * curve_g(float(nest.age_days), kind)
    for i in range(masses_g.size):
        if 0.0 < masses_g[i] < least_g:
            masses_g[i] = 0.0
            nest.nestlings -= 1
            nest.starved += 1


@loop
def turn_page(
    nests: Records, nestling_g: Floats, kinds: Records, shared: Records, day: int, day_of_year: int, shift_days: float
) -> None:
    """End the day of every nest: eggs laid or hatched, whole nests lost, young fledged, families growing up."""
    for n in range(nests.size):
        nest, kind = nests[n], kinds[nests[n].kind]
        _raise_family(nest, kind, shared[0])
        if not nest.is_here:
            continue
        if nest.stage == NestStage.WAITING and day_of_year > kind.last_egg_day_of_year + shift_days:
            nest.stage = NestStage.DONE
        elif nest.stage == NestStage.WAITING and day_of_year >= nest.egg_day_of_year:
            _lay_first_egg(nest, kind, day_of_year)
        elif nest.stage in (NestStage.LAYING, NestStage.INCUBATING):
            _sit(nest, nestling_g[n], kind, shared[0], day_of_year)
        if nest.stage in (NestStage.LAYING, NestStage.INCUBATING, NestStage.NESTLINGS):
            _meet_misfortune(nest, nestling_g[n], kind, day, day_of_year)
        if nest.stage == NestStage.NESTLINGS:
            _leave_nest(nest, nestling_g[n], kind, shared[0], day_of_year)


@rule
def _lay_first_egg(nest: Any, kind: Any, day_of_year: int) -> None:
    nest.egg_day_of_year = day_of_year
    nest.brood += 1
    spread = kind.clutch_spread_eggs * normal(nest.key, nest.brood, _CLUTCH_SIZE)
    nest.eggs = min(BROOD, max(1, round(kind.clutch_eggs + spread)))
    nest.stage = NestStage.LAYING
    nest.clutches += 1
    nest.eggs_laid += nest.eggs


@rule
def _sit(nest: Any, masses_g: Floats, kind: Any, shared: Any, day_of_year: int) -> None:
    last_egg = nest.egg_day_of_year + nest.eggs - 1
    if day_of_year >= last_egg:
        nest.stage = NestStage.INCUBATING
    if day_of_year >= last_egg + kind.incubation_days:
        _hatch(nest, masses_g, kind, shared)


@rule
def _empty(masses_g: Floats) -> None:
    for i in range(masses_g.size):
        masses_g[i] = 0.0


@rule
def _hatch(nest: Any, masses_g: Floats, kind: Any, shared: Any) -> None:
    clutch_key = child_key(nest.key, nest.brood)
    _empty(masses_g)
    nest.nestlings = 0
    for egg in range(nest.eggs):
        if chance(clutch_key, egg, _HATCH) < shared.hatching_share:
            masses_g[nest.nestlings] = curve_g(0.0, kind)
            nest.nestlings += 1
    if nest.nestlings > 1:  # the last egg hatches behind the others
        masses_g[nest.nestlings - 1] *= shared.late_chick_share
    nest.hatched += nest.nestlings
    nest.stage = NestStage.NESTLINGS
    nest.age_days = 0


@rule
def _meet_misfortune(nest: Any, masses_g: Floats, kind: Any, day: int, day_of_year: int) -> None:
    nest_days = kind.clutch_eggs + kind.incubation_days + kind.nestling_days
    hazard = -math.log1p(-kind.failure_per_nest) / nest_days
    if chance(nest.key, day, _FAIL) < -math.expm1(-hazard):
        lose_nest(nest, masses_g, kind, day_of_year)


@rule
def lose_nest(nest: Any, masses_g: Floats, kind: Any, day_of_year: int) -> None:
    """Lose all eggs or nestlings at once; the pair may try again if the season allows."""
    nest.lost += nest.nestlings
    nest.nestlings = 0
    _empty(masses_g)
    nest.failed_nests += 1
    _plan_next(nest, kind, day_of_year, kind.replacement_share, _REPLACEMENT)


@rule
def _plan_next(nest: Any, kind: Any, day_of_year: int, wanted_share: float, question: int) -> None:
    next_egg = day_of_year + int(kind.next_clutch_gap_days)
    tries = nest.parents > 1 and chance(nest.key, nest.brood, question) < wanted_share
    nest.stage = NestStage.DONE
    if tries and next_egg <= kind.last_egg_day_of_year:
        nest.stage = NestStage.WAITING
        nest.egg_day_of_year = next_egg


@rule
def _leave_nest(nest: Any, masses_g: Floats, kind: Any, shared: Any, day_of_year: int) -> None:
    if nest.nestlings > 0 and nest.age_days < kind.nestling_days:
        return
    if nest.nestlings > 0 and nest.age_days < kind.nestling_days + shared.fledging_wait_days:
        for i in range(masses_g.size):  # the brood leaves together: wait for the light ones
            if 0.0 < masses_g[i] < shared.fledging_share * kind.growth_top_g:
                return
    left = 0
    for i in range(masses_g.size):
        if masses_g[i] >= shared.fledging_share * kind.growth_top_g:
            left += 1
        elif masses_g[i] > 0.0:
            nest.starved += 1
        masses_g[i] = 0.0
    nest.nestlings = 0
    if left == 0:
        nest.failed_nests += 1
        _plan_next(nest, kind, day_of_year, kind.replacement_share, _REPLACEMENT)
        return
    nest.fledged += left
    nest.grown_young += nest.fledglings
    nest.fledglings = float(left)
    nest.days_out = 0
    _plan_next(nest, kind, day_of_year, kind.second_brood_share, _SECOND_BROOD)


@rule
def _raise_family(nest: Any, kind: Any, shared: Any) -> None:
    if nest.fledglings > 0.0:
        death = shared.early_death_per_day if nest.days_out < shared.early_days else shared.late_death_per_day
        nest.fledglings *= 1.0 - death
        nest.days_out += 1
        if nest.days_out >= kind.care_days:
            nest.grown_young += nest.fledglings
            nest.fledglings = 0.0
    nest.grown_young *= 1.0 - shared.dispersal_per_day


@rule
def catch_in_net(
    nest: Any, masses_g: Floats, kind: Any, snare: float, death_share: float, day: int, day_of_year: int
) -> None:
    """Let a net take a bird with this chance; a parent that dies in it leaves the other alone, or the nest lost."""
    if nest.parents == 0 or chance(nest.key, day, _SNARE) >= snare:
        return
    nest.entangled += 1
    if chance(nest.key, day, _DEATH_IN_NET) >= death_share:
        return
    nest.parents -= 1
    if nest.parents == 0:
        if nest.stage in (NestStage.LAYING, NestStage.INCUBATING, NestStage.NESTLINGS):
            lose_nest(nest, masses_g, kind, day_of_year)
        nest.stage = NestStage.LOST
