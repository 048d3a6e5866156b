"""What each pair brought home: counted and weighed by place and prey group, valued, and handed to the young.

Takes: the area each nest searched, what was met outside, and the insects that birds really caught in the beds.
Keeps: nothing.
Changes: ``count`` and ``mg`` (N, MOUTHS, PLACES, GROUPS), the nests' food of the day, and the season's totals.
"""

from __future__ import annotations

from sim.birds.foraging import taken_share
from sim.birds.menu import GROUPS, MOUTHS, PLACES, Mouth, Place
from sim.cast import BIRDS, GENERALISTS, SPECIES, STAGES
from sim.compiled import Floats, Ints, Records, loop

_OWN, _YOUNG = int(Mouth.OWN), int(Mouth.YOUNG)
_GARDEN, _HEDGEROW, _TERRITORY = int(Place.GARDEN), int(Place.HEDGEROW), int(Place.TERRITORY)
_MG_PER_G = 1000.0
TAKEN_COUNT, TAKEN_MG, FED_COUNT, FED_MG, FED_KJ = range(5)
"""Rows of the tables (5, BIRDS, PLACES, GROUPS): all that was taken, and of it what nestlings were fed."""


@loop
def carry_from_outside(
    nests: Records,
    kinds: Records,
    groups: Records,
    effort: Floats,
    searched: Floats,
    met: Floats,
    prey_mg: Floats,
    hedgerow_m2: float,
    count: Floats,
    mg: Floats,
) -> None:
    """Start the day's larder with what the disc equation gives in hedgerow and territory."""
    patches = effort.shape[1]
    all_searched = 0.0
    for kind in range(BIRDS):
        all_searched += searched[kind, patches - 2]
    times = all_searched / hedgerow_m2 if hedgerow_m2 > 0.0 else 0.0
    still_there = taken_share(times) / times if times > 0.0 else 1.0  # no prey is taken twice
    for n in range(nests.size):
        kind = nests[n].kind
        for mouth in range(MOUTHS):
            hedgerow_minutes = effort[n, patches - 2, mouth] / kinds[kind].search_m2_per_minute * still_there
            territory_minutes = effort[n, patches - 1, mouth] / kinds[kind].search_m2_per_minute
            for g in range(GROUPS):
                wanted = 1.0 if mouth == _OWN or groups[g].is_for_young > 0.0 else 0.0
                count[n, mouth, _GARDEN, g] = 0.0
                count[n, mouth, _HEDGEROW, g] = hedgerow_minutes * met[kind, 0, g] * wanted
                count[n, mouth, _TERRITORY, g] = territory_minutes * met[kind, 1, g] * wanted
                for place in range(PLACES):
                    mg[n, mouth, place, g] = count[n, mouth, place, g] * prey_mg[g]


@loop
def carry_enemies(
    nests: Records,
    kinds: Records,
    beds: Records,
    effort: Floats,
    searched: Floats,
    generalists: Floats,
    enemy_risk: Floats,
    enemy_mg: Floats,
    enemy_group: Ints,
    count: Floats,
    mg: Floats,
) -> None:
    """Add the generalist enemies taken in the beds."""
    for bed in range(beds.size):
        all_searched = 0.0
        for kind in range(BIRDS):
            all_searched += searched[kind, bed] * kinds[kind].reach_in_beds
        if all_searched <= 0.0:
            continue
        for enemy in range(GENERALISTS):
            taken = generalists[bed, enemy] * beds[bed].area_m2 * taken_share(enemy_risk[bed, enemy])
            if taken <= 0.0:
                continue
            g = enemy_group[enemy]
            for n in range(nests.size):
                for mouth in range(MOUTHS):
                    share = effort[n, bed, mouth] * kinds[nests[n].kind].reach_in_beds / all_searched
                    count[n, mouth, _GARDEN, g] += taken * share
                    mg[n, mouth, _GARDEN, g] += taken * share * enemy_mg[enemy]


@loop
def carry_insects(
    nests: Records,
    effort: Floats,
    searched: Floats,
    group_of: Ints,
    caught_count: Floats,
    caught_mg: Floats,
    count: Floats,
    mg: Floats,
) -> None:
    """Add the insects really caught, shared among nests of a kind by how much each searched the bed."""
    for kind in range(BIRDS):
        for bed in range(caught_count.shape[1]):
            if searched[kind, bed] <= 0.0:
                continue
            for species in range(SPECIES):
                for stage in range(STAGES):
                    caught = caught_count[kind, bed, species, stage]
                    if caught <= 0.0:
                        continue
                    g = group_of[species, stage]
                    for n in range(nests.size):
                        if nests[n].kind != kind:
                            continue
                        for mouth in range(MOUTHS):
                            share = effort[n, bed, mouth] / searched[kind, bed]
                            count[n, mouth, _GARDEN, g] += caught * share
                            mg[n, mouth, _GARDEN, g] += caught_mg[kind, bed, species, stage] * share


@loop
def hand_out(
    nests: Records, groups: Records, count: Floats, mg: Floats, food_kj: Floats, today: Floats, totals: Floats
) -> None:
    """Let parents eat their fill first, give the rest to the young, and write the day's and the season's tables."""
    today[:] = 0.0
    for n in range(nests.size):
        nest = nests[n]
        own_kj, young_kj = 0.0, 0.0
        for place in range(PLACES):
            for g in range(GROUPS):
                own_kj += mg[n, _OWN, place, g] / _MG_PER_G * groups[g].energy_kj_per_g
                young_kj += mg[n, _YOUNG, place, g] / _MG_PER_G * groups[g].energy_kj_per_g
        parents_kj = own_kj * nest.parent_minutes / nest.own_minutes if nest.own_minutes > 0.0 else 0.0
        short_kj = max(0.0, nest.parent_need_kj - parents_kj)
        kept_kj = min(young_kj, short_kj)
        nestling_share = nest.brood_need_kj / nest.young_need_kj if nest.young_need_kj > 0.0 else 0.0
        fed_share = nestling_share * (1.0 - kept_kj / young_kj) if young_kj > 0.0 else 0.0
        food_kj[n] = young_kj * fed_share
        nest.garden_kj = 0.0
        for place in range(PLACES):
            for g in range(GROUPS):
                _write_down(today, nest.kind, place, g, count[n], mg[n], fed_share, groups)
                if place == _GARDEN:
                    nest.garden_kj += mg[n, _YOUNG, place, g] / _MG_PER_G * groups[g].energy_kj_per_g * fed_share
        nest.fed_kj = food_kj[n]
        nest.hunger_share = max(0.0, 1.0 - food_kj[n] / nest.brood_need_kj) if nest.brood_need_kj > 0.0 else 0.0
        nest.need_so_far_kj += nest.brood_need_kj
        nest.fed_so_far_kj += nest.fed_kj
        nest.garden_so_far_kj += nest.garden_kj
        if nest.nestlings > 0:
            nest.nest_days += 1
    totals += today


@loop
def _write_down(
    today: Floats, kind: int, place: int, g: int, count: Floats, mg: Floats, fed_share: float, groups: Records
) -> None:
    for mouth in range(MOUTHS):
        today[TAKEN_COUNT, kind, place, g] += count[mouth, place, g]
        today[TAKEN_MG, kind, place, g] += mg[mouth, place, g]
    today[FED_COUNT, kind, place, g] += count[_YOUNG, place, g] * fed_share
    today[FED_MG, kind, place, g] += mg[_YOUNG, place, g] * fed_share
    today[FED_KJ, kind, place, g] += mg[_YOUNG, place, g] / _MG_PER_G * groups[g].energy_kj_per_g * fed_share
