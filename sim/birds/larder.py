"""What each pair brought home: counted and weighed by place and prey group, valued, and handed to the young.

Takes: the area each nest searched, what was met outside, and the insects that birds really caught in the beds.
Keeps: nothing.
Changes: ``carried``, ``carried_mg`` and ``food_kj`` of the day, the nests' food so far, and both tables.
"""

from __future__ import annotations

from typing import Any

from sim.birds.daybook import FED_COUNT, FED_KJ, FED_MG, TABLES, TAKEN_COUNT, TAKEN_MG, DayBook, Here
from sim.birds.foraging import taken_share
from sim.birds.menu import GROUPS, MOUTHS, PLACES, Menu, Mouth, Place
from sim.cast import BIRDS, GENERALISTS, SPECIES, STAGES
from sim.compiled import Floats, Records, loop, rule

_OWN, _YOUNG = int(Mouth.OWN), int(Mouth.YOUNG)
_GARDEN, _HEDGEROW, _TERRITORY = int(Place.GARDEN), int(Place.HEDGEROW), int(Place.TERRITORY)
_MG_PER_G = 1000.0


@loop
def carry_from_outside(nests: Records, here: Here, menu: Menu, book: DayBook) -> None:
    """Start the day's larder with what the disc equation gives in hedgerow and territory."""
    hedgerow, territory = book.effort.shape[1] - 2, book.effort.shape[1] - 1
    still_there = _left_in_hedgerow(here.site[0].hedgerow_area_m2, book)
    for n in range(nests.size):
        kind = nests[n].kind
        area_per_minute = menu.kinds[kind].search_m2_per_minute
        for mouth in range(MOUTHS):
            hedgerow_minutes = book.effort[n, hedgerow, mouth] / area_per_minute * still_there
            territory_minutes = book.effort[n, territory, mouth] / area_per_minute
            for g in range(GROUPS):
                is_taken = 1.0 if mouth == _OWN or menu.groups[g].is_for_young > 0.0 else 0.0
                book.carried[n, mouth, _GARDEN, g] = 0.0
                book.carried[n, mouth, _HEDGEROW, g] = hedgerow_minutes * book.met[kind, 0, g] * is_taken
                book.carried[n, mouth, _TERRITORY, g] = territory_minutes * book.met[kind, 1, g] * is_taken
                for place in range(PLACES):
                    book.carried_mg[n, mouth, place, g] = book.carried[n, mouth, place, g] * book.prey_mg[g]


@rule
def _left_in_hedgerow(hedgerow_m2: float, book: DayBook) -> float:
    """Return what a day's searching really yields over what it would if prey taken in the morning came back."""
    searched_m2 = 0.0
    for kind in range(BIRDS):
        searched_m2 += book.searched[kind, book.searched.shape[1] - 2]
    times = searched_m2 / hedgerow_m2 if hedgerow_m2 > 0.0 else 0.0
    return taken_share(times) / times if times > 0.0 else 1.0


@loop
def carry_enemies(nests: Records, here: Here, menu: Menu, book: DayBook) -> None:
    """Add the generalist enemies taken in the beds."""
    for bed in range(here.beds.size):
        all_searched = 0.0
        for kind in range(BIRDS):
            all_searched += book.searched[kind, bed] * menu.kinds[kind].reach_in_beds
        if all_searched <= 0.0:
            continue
        for enemy in range(GENERALISTS):
            present = here.generalists_per_m2[bed, enemy] * here.beds[bed].area_m2
            taken = present * taken_share(book.enemy_risk[bed, enemy])
            food = menu.enemies[enemy]
            for n in range(nests.size):
                reach = menu.kinds[nests[n].kind].reach_in_beds
                for mouth in range(MOUTHS):
                    share = book.effort[n, bed, mouth] * reach / all_searched
                    book.carried[n, mouth, _GARDEN, food.group] += taken * share
                    book.carried_mg[n, mouth, _GARDEN, food.group] += taken * share * food.mg


@loop
def carry_insects(nests: Records, caught_count: Floats, caught_mg: Floats, menu: Menu, book: DayBook) -> None:
    """Add the insects really caught, shared among nests of a kind by how much each searched the bed."""
    for kind in range(BIRDS):
        for bed in range(caught_count.shape[1]):
            if book.searched[kind, bed] <= 0.0:
                continue
            for species in range(SPECIES):
                for stage in range(STAGES):
                    if caught_count[kind, bed, species, stage] > 0.0:
                        caught = caught_count[kind, bed, species, stage], caught_mg[kind, bed, species, stage]
                        _carry_one(nests, kind, bed, caught, menu.meals[species, stage].group, book)


@rule
def _carry_one(nests: Records, kind: int, bed: int, caught: tuple[float, float], g: int, book: DayBook) -> None:
    for n in range(nests.size):
        if nests[n].kind == kind:
            for mouth in range(MOUTHS):
                share = book.effort[n, bed, mouth] / book.searched[kind, bed]
                book.carried[n, mouth, _GARDEN, g] += caught[0] * share
                book.carried_mg[n, mouth, _GARDEN, g] += caught[1] * share


@loop
def hand_out(nests: Records, brood_need_kj: Floats, menu: Menu, book: DayBook) -> None:
    """Let parents eat their fill first, give the rest to the young, and write the day's and the season's tables."""
    _turn_to_a_blank_page(book)
    for n in range(nests.size):
        nest = nests[n]
        own_kj = _worth_kj(book.carried_mg[n, _OWN], menu)
        young_kj = _worth_kj(book.carried_mg[n, _YOUNG], menu)
        parents_kj = own_kj * nest.parent_minutes / nest.own_minutes if nest.own_minutes > 0.0 else 0.0
        kept_kj = min(young_kj, max(0.0, nest.parent_need_kj - parents_kj))
        nestling_share = nest.brood_need_kj / nest.young_need_kj if nest.young_need_kj > 0.0 else 0.0
        fed_share = nestling_share * (1.0 - kept_kj / young_kj) if young_kj > 0.0 else 0.0
        _write_tables(nest.kind, book.carried[n], book.carried_mg[n], fed_share, menu, book.today)
        nest.fed_kj = young_kj * fed_share
        nest.garden_kj = _worth_kj(book.carried_mg[n, _YOUNG, _GARDEN : _GARDEN + 1], menu) * fed_share
        book.food_kj[n] = nest.fed_kj
        _count_up(nest, brood_need_kj[nest.kind])
    _add_to_season(book)


@rule
def _turn_to_a_blank_page(book: DayBook) -> None:
    for table in range(TABLES):
        for kind in range(BIRDS):
            for place in range(PLACES):
                for g in range(GROUPS):
                    book.today[table, kind, place, g] = 0.0


@rule
def _add_to_season(book: DayBook) -> None:  # plain loops: an array expression here takes seconds to compile
    for table in range(TABLES):
        for kind in range(BIRDS):
            for place in range(PLACES):
                for g in range(GROUPS):
                    book.season[table, kind, place, g] += book.today[table, kind, place, g]


@rule
def _worth_kj(mg: Floats, menu: Menu) -> float:
    worth_kj = 0.0
    for place in range(mg.shape[0]):
        for g in range(GROUPS):
            worth_kj += mg[place, g] / _MG_PER_G * menu.groups[g].energy_kj_per_g
    return worth_kj


@rule
def _count_up(nest: Any, ordinary_need_kj: float) -> None:
    nest.hunger_share = max(0.0, 1.0 - nest.fed_kj / nest.brood_need_kj) if nest.brood_need_kj > 0.0 else 0.0
    nest.need_so_far_kj += nest.brood_need_kj
    nest.fed_so_far_kj += nest.fed_kj
    nest.garden_so_far_kj += nest.garden_kj
    nest.brood_days_fed += nest.garden_kj / ordinary_need_kj
    if nest.nestlings > 0:
        nest.nest_days += 1


@rule
def _write_tables(kind: int, count: Floats, mg: Floats, fed_share: float, menu: Menu, today: Floats) -> None:
    for place in range(PLACES):
        for g in range(GROUPS):
            fed_mg = mg[_YOUNG, place, g] * fed_share
            today[TAKEN_COUNT, kind, place, g] += count[_OWN, place, g] + count[_YOUNG, place, g]
            today[TAKEN_MG, kind, place, g] += mg[_OWN, place, g] + mg[_YOUNG, place, g]
            today[FED_COUNT, kind, place, g] += count[_YOUNG, place, g] * fed_share
            today[FED_MG, kind, place, g] += fed_mg
            today[FED_KJ, kind, place, g] += fed_mg / _MG_PER_G * menu.groups[g].energy_kj_per_g
