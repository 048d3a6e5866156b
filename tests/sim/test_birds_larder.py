"""What comes home from a day's hunting, and who eats it: pages filled by hand, a loop at a time."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.birds.daybook import (
    FED_COUNT,
    FED_KJ,
    FED_MG,
    SITE,
    TAKEN_COUNT,
    TAKEN_MG,
    DayBook,
    Here,
    empty_tables,
    open_daybook,
)
from sim.birds.larder import carry_enemies, carry_from_outside, carry_insects, hand_out
from sim.birds.menu import GROUPS, Mouth, Place, PreyGroup, build_menu
from sim.birds.nest import NEST
from sim.birds.snares import contact_share, meet_nets
from sim.cast import BIRDS, GENERALISTS, SPECIES, STAGES, Bird, Predator, Species, Stage
from sim.compiled import Records, records
from sim.parameters.table import load_parameters
from sim.surroundings import open_ground

MENU = build_menu(load_parameters())
KJ_PER_G = np.asarray(MENU.groups["energy_kj_per_g"])
OWN, YOUNG = int(Mouth.OWN), int(Mouth.YOUNG)
TIT, WREN, WOODPECKER = map(int, Bird)
HEDGEROW, TERRITORY = -2, -1  # the last two patches of a book
BEDS_M2 = (10.0, 4.0)


def garden(hedgerow_m2: float = 0.0, enemies_per_m2: float = 0.0, beds_m2: tuple[float, ...] = BEDS_M2) -> Here:
    near = open_ground(np.array(beds_m2))
    site = records(np.zeros(1, SITE))
    site["garden_area_m2"], site["hedgerow_area_m2"] = 100.0, hedgerow_m2
    enemies = np.full((len(beds_m2), GENERALISTS), enemies_per_m2)
    return Here(site, near.beds, near.gets_in, near.alive, near.mass_mg, enemies, near.risk)


def pairs_of(*kinds: int) -> tuple[Records, DayBook]:
    nests = records(np.zeros(len(kinds), NEST))
    nests["kind"], nests["parents"] = kinds, 2
    return nests, open_daybook(len(kinds), len(BEDS_M2), empty_tables())


def search(nests: Records, book: DayBook, n: int, patch: int, own_m2: float, young_m2: float) -> None:
    book.effort[n, patch, OWN], book.effort[n, patch, YOUNG] = own_m2, young_m2
    book.searched[nests["kind"][n], patch] += own_m2 + young_m2


# -- from hedgerow and territory


def test_what_hedgerow_and_territory_give_is_minutes_times_what_a_minute_meets() -> None:
    nests, book = pairs_of(TIT, WREN)
    search(nests, book, 0, HEDGEROW, 30.0, 10.0)
    search(nests, book, 1, TERRITORY, 7.0, 5.0)
    book.met[:, 0], book.met[:, 1] = np.arange(1.0, GROUPS + 1), np.arange(21.0, GROUPS + 21)
    book.prey_mg[:] = np.arange(2.0, GROUPS + 2)
    book.carried[:] = 99.0  # of the day before
    carry_from_outside(nests, garden(hedgerow_m2=80.0), MENU, book)

    of_kind = np.asarray(MENU.kinds["search_m2_per_minute"])
    times = 40.0 / 80.0
    left = (1.0 - math.exp(-times)) / times
    found = book.carried
    assert found[0, OWN, Place.HEDGEROW] == pytest.approx(30.0 / of_kind[TIT] * left * book.met[TIT, 0])
    assert found[1, OWN, Place.TERRITORY] == pytest.approx(7.0 / of_kind[WREN] * book.met[WREN, 1])
    for_young = np.asarray(MENU.groups["is_for_young"]) > 0.0
    assert not for_young[PreyGroup.SEED]
    assert found[0, YOUNG, Place.HEDGEROW] == pytest.approx(10.0 / of_kind[TIT] * left * book.met[TIT, 0] * for_young)
    assert found[1, YOUNG, Place.TERRITORY] == pytest.approx(5.0 / of_kind[WREN] * book.met[WREN, 1] * for_young)
    assert not found[0, :, Place.TERRITORY].any()
    assert not found[1, :, Place.HEDGEROW].any()
    assert not found[:, :, Place.GARDEN].any()
    assert book.carried_mg == pytest.approx(found * book.prey_mg)


@given(own_m2=st.floats(1.0, 5000.0), hedgerow_m2=st.floats(1.0, 5000.0))
def test_a_second_pair_leaves_each_less_of_a_hedgerow_but_both_together_more(own_m2: float, hedgerow_m2: float) -> None:
    carried = []
    for count in (1, 2):
        nests, book = pairs_of(*[TIT] * count)
        for n in range(count):
            search(nests, book, n, HEDGEROW, own_m2, 0.0)
        book.met[:] = 1.0
        carry_from_outside(nests, garden(hedgerow_m2), MENU, book)
        carried.append(book.carried[:, OWN, Place.HEDGEROW, PreyGroup.SPIDER])
    alone, together = carried
    assert together[0] == together[1] < alone[0]
    assert together.sum() >= alone[0]
    most = hedgerow_m2 / float(MENU.kinds["search_m2_per_minute"][TIT])  # all that the hedgerow holds
    assert together.sum() <= most * (1.0 + 1e-12)


# -- from the beds


def test_enemies_taken_are_shared_by_the_area_that_each_kind_reaches_and_weigh_what_they_weigh() -> None:
    nests, book = pairs_of(TIT, WOODPECKER)
    search(nests, book, 0, 0, 6.0, 2.0)
    search(nests, book, 1, 0, 0.0, 4.0)
    book.enemy_risk[:] = np.array([0.1, 0.5, 2.0, 0.0])
    carry_enemies(nests, garden(enemies_per_m2=3.0), MENU, book)

    reach = np.asarray(MENU.kinds["reach_in_beds"])
    searched = 8.0 * reach[TIT] + 4.0 * reach[WOODPECKER]
    assert reach[WOODPECKER] != reach[TIT]
    taken = 3.0 * BEDS_M2[0] * (1.0 - np.exp(-book.enemy_risk[0]))
    food = MENU.enemies
    for mouth, area_m2 in ((OWN, 6.0), (YOUNG, 2.0)):
        spiders = book.carried[0, mouth, Place.GARDEN, PreyGroup.SPIDER]
        assert spiders == pytest.approx(taken[Predator.SPIDER] * area_m2 * reach[TIT] / searched)
    assert book.carried.sum() == pytest.approx(taken.sum())
    assert book.carried[:, :, Place.GARDEN].sum() == pytest.approx(taken.sum())
    assert book.carried_mg.sum() == pytest.approx((taken * np.asarray(food["mg"])).sum())
    beetles = book.carried[:, :, Place.GARDEN, PreyGroup.BEETLE].sum()
    assert beetles == pytest.approx(taken[Predator.GROUND_BEETLE] + taken[Predator.LADY_BEETLE])


def test_insects_caught_go_to_the_pairs_of_their_kind_by_how_much_each_searched_for_whom() -> None:
    nests, book = pairs_of(TIT, TIT, WREN)
    search(nests, book, 0, 1, 1.0, 2.0)
    search(nests, book, 1, 1, 0.0, 5.0)
    search(nests, book, 2, 1, 3.0, 3.0)
    count = np.zeros((BIRDS, len(BEDS_M2), SPECIES, STAGES))
    count[TIT, 1, Species.CABBAGE_WHITE, Stage.INSTAR_5] = 16.0
    count[TIT, 0, Species.CABBAGE_WHITE, Stage.INSTAR_5] = 9.0  # nobody searched there, so nobody has it
    carry_insects(nests, count, 50.0 * count, MENU, book)
    here = book.carried[:, :, Place.GARDEN, PreyGroup.CATERPILLAR]
    assert here == pytest.approx(np.array([[2.0, 4.0], [0.0, 10.0], [0.0, 0.0]]))
    assert book.carried_mg == pytest.approx(50.0 * book.carried)
    assert book.carried.sum() == pytest.approx(16.0)


# -- to the young


def a_meal(book: DayBook, mouth: int, place: Place, group: PreyGroup, count: float, mg: float) -> float:
    """Put prey into the larder of the first nest and return what it is worth [kJ]."""
    book.carried[0, mouth, place, group], book.carried_mg[0, mouth, place, group] = count, mg
    return mg / 1000.0 * float(KJ_PER_G[group])


def fed(nests: Records, book: DayBook, brood_need_kj: float = 40.0) -> Records:
    hand_out(nests, np.full(BIRDS, brood_need_kj), MENU, book)
    return nests[0]


def test_parents_keep_what_their_own_meals_leave_open_and_nestlings_get_their_part_of_the_rest() -> None:
    nests, book = pairs_of(WREN)
    own_kj = a_meal(book, OWN, Place.TERRITORY, PreyGroup.SEED, 50.0, 2000.0)
    from_garden_kj = a_meal(book, YOUNG, Place.GARDEN, PreyGroup.CATERPILLAR, 10.0, 3000.0)
    from_hedge_kj = a_meal(book, YOUNG, Place.HEDGEROW, PreyGroup.BEETLE, 20.0, 1000.0)
    young_kj = from_garden_kj + from_hedge_kj
    nests["parent_minutes"], nests["own_minutes"] = 60.0, 80.0  # grown young ate a quarter
    nests["parent_need_kj"] = 0.75 * own_kj + 2.0
    nests["brood_need_kj"], nests["young_need_kj"], nests["nestlings"] = 60.0, 80.0, 1
    book.today[:] = 5.0  # of the day before
    nest = fed(nests, book)

    share = (1.0 - 2.0 / young_kj) * 60.0 / 80.0
    assert nest["fed_kj"] == pytest.approx(young_kj * share)
    assert book.food_kj[0] == pytest.approx(young_kj * share)
    assert nest["garden_kj"] == pytest.approx(from_garden_kj * share)
    assert nest["hunger_share"] == pytest.approx(1.0 - young_kj * share / 60.0)
    assert nest["brood_days_fed"] == pytest.approx(from_garden_kj * share / 40.0)
    assert nest["nest_days"] == 1

    today = book.today
    assert not today[:, TIT].any()
    assert today[TAKEN_COUNT, WREN].sum() == pytest.approx(80.0)
    assert today[TAKEN_COUNT, WREN, Place.TERRITORY, PreyGroup.SEED] == pytest.approx(50.0)
    assert today[TAKEN_MG, WREN].sum() == pytest.approx(6000.0)
    assert today[FED_COUNT, WREN].sum() == pytest.approx(30.0 * share)
    assert today[FED_MG, WREN, Place.GARDEN, PreyGroup.CATERPILLAR] == pytest.approx(3000.0 * share)
    assert today[FED_KJ, WREN, Place.HEDGEROW, PreyGroup.BEETLE] == pytest.approx(from_hedge_kj * share)
    assert today[FED_KJ].sum() == pytest.approx(nest["fed_kj"])


def test_days_are_added_up_for_nest_and_season() -> None:
    nests, book = pairs_of(TIT)
    kj = a_meal(book, YOUNG, Place.GARDEN, PreyGroup.CATERPILLAR, 10.0, 1000.0)
    nests["brood_need_kj"] = nests["young_need_kj"] = 2.0 * kj
    for _ in range(3):
        nest = fed(nests, book)
    assert (nest["need_so_far_kj"], nest["fed_so_far_kj"], nest["garden_so_far_kj"]) == pytest.approx(
        (6.0 * kj, 3.0 * kj, 3.0 * kj)
    )
    assert nest["hunger_share"] == pytest.approx(0.5)
    assert nest["nest_days"] == 0  # no nestling
    assert book.season == pytest.approx(3.0 * book.today)


@given(
    carried_mg=st.floats(0.0, 1e4),
    parent_need_kj=st.floats(0.0, 200.0),
    brood_need_kj=st.floats(0.0, 200.0),
    fledglings_need_kj=st.floats(0.0, 200.0),
)
def test_no_more_is_handed_out_than_was_carried(
    carried_mg: float, parent_need_kj: float, brood_need_kj: float, fledglings_need_kj: float
) -> None:
    nests, book = pairs_of(TIT)
    kj = a_meal(book, YOUNG, Place.GARDEN, PreyGroup.CATERPILLAR, 1.0, carried_mg)
    nests["parent_need_kj"], nests["brood_need_kj"] = parent_need_kj, brood_need_kj
    nests["young_need_kj"] = brood_need_kj + fledglings_need_kj
    nest = fed(nests, book)
    assert 0.0 <= nest["fed_kj"] <= max(0.0, kj - parent_need_kj) + 1e-9
    assert 0.0 <= nest["hunger_share"] <= 1.0
    if brood_need_kj == 0.0:
        assert nest["fed_kj"] == 0.0


# -- nets that catch


def meet(nests: Records, book: DayBook, danger: tuple[float, float], day: int = 100) -> None:
    nestling_g = np.zeros((len(nests), 14))
    meet_nets(nests, nestling_g, np.array(danger), day, 60 + day, garden(), MENU, book)


@given(minutes=st.floats(0.0, 1e4), more=st.floats(0.0, 1e4))
def test_who_stays_longer_comes_to_a_bed_more_surely(minutes: float, more: float) -> None:
    assert 0.0 <= contact_share(minutes, 30.0) <= contact_share(minutes + more, 30.0) <= 1.0
    assert contact_share(0.0, 30.0) == 0.0


def test_danger_is_each_beds_own_by_its_share_of_the_garden_and_the_birds_time_there() -> None:
    nests, book = pairs_of(TIT)
    nests["own_minutes"], nests["young_minutes"], nests["grown_young"] = 300.0, 100.0, 2.0
    book.shares[0, :2] = 0.3, 0.2  # the rest of its time it is elsewhere
    meet(nests, book, (0.0, 0.02))
    near_minutes = 400.0 / 4.0 * 0.5 * BEDS_M2[1] / 100.0
    hazard = contact_share(near_minutes, float(MENU.shared["visit_minutes"][0])) * 0.02
    assert nests["entangled_expected"][0] == pytest.approx(2.0 * hazard)


def test_a_widowed_bird_meets_nets_for_itself_and_an_empty_nest_for_nobody() -> None:
    nests, book = pairs_of(TIT, TIT, TIT)
    nests["own_minutes"], nests["parents"] = 200.0, (2, 1, 0)
    nests["own_minutes"][1] = 100.0  # as long for each bird
    nests["grown_young"][2] = 3.0
    book.shares[:, 0] = 1.0
    meet(nests, book, (0.05, 0.0))
    pair, widow, nobody = nests["entangled_expected"]
    assert widow > 0.0
    assert pair == pytest.approx(2.0 * widow)
    assert nobody == nests["entangled"][2] == 0


def test_as_many_are_caught_as_two_parents_chances_say() -> None:
    count = 3000
    nests, book = pairs_of(*[TIT] * count)
    nests["key"] = np.random.default_rng(7).integers(0, 2**63, count)
    nests["own_minutes"] = 1e5  # near every bed for sure
    book.shares[:, 0] = 1.0
    meet(nests, book, (0.4, 0.0))
    caught = np.mean(nests["entangled"] == 1)
    share = 1.0 - math.exp(-2.0 * 0.4)
    assert abs(caught - share) < 4.0 * math.sqrt(share * (1.0 - share) / count)
