"""What is written down of a day: who is counted where, what a bird can reach, and totals told day by day."""

from __future__ import annotations

import numpy as np
import pytest

from sim.birds.daybook import FED_COUNT, FED_KJ
from sim.birds.menu import Place, PreyGroup
from sim.cast import Bee, Bird, Predator, Species, Stage, Visitor
from sim.chronicle import Chronicle
from sim.evening import write_down
from sim.practices.workday import Workday
from tests.strategies import NO_PESTS, bed, garden, open_garden

COLLARDS, KALE, MARGIN = range(3)
WHITE, BUG = Species.CABBAGE_WHITE, Species.HARLEQUIN_BUG


@pytest.fixture
def evening():
    """Return a garden of collards, kale and a margin on its first evening, with nobody in it yet."""
    nests = {"nests": [{"kind": "wren_like", "distance_m": 5.0, "count": 2}]}
    quiet = open_garden(garden(bed(), bed("kale", length_m=4.0), pests=NO_PESTS, birds=nests))
    quiet.generalists.density_per_m2[:] = 0.0
    quiet.visits = np.zeros((3, len(Bee)), np.int64)
    return quiet


def told(evening, *names):
    """Write the day down and return what stands under each name."""
    write_down(evening, Workday())
    values = [float(evening.chronicle.column(name)[0]) for name in names]
    return values[0] if len(values) == 1 else values


def put(evening, bed, species, stage, count, mg_each=100.0):
    """Put insects that hide nowhere into a bed's morning count."""
    evening.insects.awake[bed, species, stage] = count
    evening.insects.in_reach_mg[bed, species, stage] = count * mg_each


def test_pests_are_counted_in_the_beds_by_kind_and_stage_and_the_margin_keeps_a_count_of_its_own(evening):
    for bed_, count in ((COLLARDS, 3), (KALE, 4), (MARGIN, 500)):
        for stage in (Stage.EGG, Stage.INSTAR_1, Stage.INSTAR_5, Stage.PUPA, Stage.ADULT):
            put(evening, bed_, WHITE, stage, count)
            put(evening, bed_, BUG, stage, 0 if stage == Stage.PUPA else 10 * count)
    white = [f"cabbage_white_{form}" for form in ("eggs", "young", "pupae", "adults")]
    assert told(evening, *white, "harlequin_bug_young", "caterpillars_in_margin") == [7, 14, 7, 7, 140, 1000]


@pytest.mark.parametrize("open_share", [0.0, 0.25, 1.0])
def test_birds_reach_what_is_under_a_net_as_far_as_it_lets_them_in(evening, open_share):
    evening.near.gets_in[COLLARDS] = 1.0  # whatever else gets in
    evening.near.gets_in[COLLARDS, Visitor.BIRD] = open_share
    put(evening, COLLARDS, WHITE, Stage.INSTAR_5, 10)
    put(evening, KALE, WHITE, Stage.INSTAR_5, 20)
    put(evening, COLLARDS, BUG, Stage.ADULT, 30)
    evening.insects.grown_mg[[COLLARDS, KALE], WHITE] = 800.0, 400.0
    evening.insects.grown_mg[KALE, BUG] = 9000.0  # a bug is no caterpillar
    names = ("caterpillars_reachable_g", "bugs_reachable_g", "caterpillars_grown_reachable_g")
    expected = [2.0 + open_share * 1.0, open_share * 3.0, 0.4 + open_share * 0.8]
    assert told(evening, *names) == pytest.approx(expected)


def test_food_on_wild_plants_is_part_of_all_food_and_told_by_itself(evening):
    put(evening, KALE, WHITE, Stage.INSTAR_5, 20)
    put(evening, MARGIN, WHITE, Stage.INSTAR_5, 50)
    put(evening, MARGIN, WHITE, Stage.ADULT, 10)
    caterpillars, moths, margin = told(evening, "caterpillars_reachable_g", "moths_reachable_g", "margin_reachable_g")
    assert (caterpillars, moths, margin) == pytest.approx((7.0, 1.0, 6.0))


def test_enemies_are_animals_in_the_whole_garden_and_spiders_are_food_by_the_area_they_stand_on(evening):
    areas_m2 = evening.layout.area_m2
    evening.generalists.density_per_m2[:, Predator.SPIDER] = 2.0, 5.0, 1.0
    evening.generalists.density_per_m2[KALE, Predator.LACEWING] = 3.0
    evening.near.gets_in[KALE, Visitor.BIRD] = 0.0
    spiders, lacewings, food_g, of_margin_g = told(
        evening, "spiders", "lacewings", "spiders_reachable_g", "margin_reachable_g"
    )
    assert spiders == pytest.approx(2 * areas_m2[COLLARDS] + 5 * areas_m2[KALE] + areas_m2[MARGIN])
    assert lacewings == pytest.approx(3 * areas_m2[KALE])
    spider_g = evening.nests.spider_mg / 1000
    assert food_g == pytest.approx((2 * areas_m2[COLLARDS] + areas_m2[MARGIN]) * spider_g)
    assert of_margin_g == pytest.approx(areas_m2[MARGIN] * spider_g)


def test_nestlings_food_is_told_by_place_and_visits_by_what_a_bird_carries_at_a_time(evening):
    today, season = evening.nests.book.today, evening.nests.book.season
    for kind in (Bird.TIT_LIKE, Bird.WREN_LIKE):
        today[FED_KJ, kind, [Place.GARDEN, Place.HEDGEROW, Place.TERRITORY], PreyGroup.SPIDER] = 1.0, 20.0, 300.0
        today[FED_COUNT, kind, Place.GARDEN, PreyGroup.CATERPILLAR] = 6.0
        season[FED_COUNT, kind, Place.GARDEN, PreyGroup.CATERPILLAR] = 40.0
        season[FED_COUNT, kind, Place.TERRITORY, PreyGroup.CATERPILLAR] = 900.0
    evening.nests.nests["nestlings"], evening.nests.nests["fledged"] = (4, 5), (1, 2)
    kj = [f"fed_from_{place}_kj" for place in ("garden", "hedgerow", "territory")]
    assert told(evening, *kj) == [2, 40, 600]
    book = evening.chronicle
    assert book.column("feeding_visits")[0] == pytest.approx(12 / evening.nests.items_per_trip)
    assert [book.column(name)[0] for name in ("caterpillars_to_nests", "nestlings", "fledged")] == [80, 9, 3]


def test_leaf_flowers_and_aphids_are_those_of_crops_and_not_of_wild_plants(evening):
    plants, crops = evening.plants.plants, evening.crop_plants
    for name, amount in (("leaf_area_cm2", 500.0), ("eaten_cm2", 100.0), ("aphids", 7.0)):
        plants[name][:crops], plants[name][crops:] = amount, 1e6
    plants["open_flowers"], plants["shows_holes"] = 2, 1
    names = ("leaf_area_m2", "leaf_eaten_m2", "aphids", "open_flowers", "plants_with_holes")
    assert crops < len(plants)  # there are wild ones
    assert told(evening, *names) == pytest.approx([0.05 * crops, 0.01 * crops, 7 * crops, 2 * crops, crops])


def test_covered_beds_bees_and_tries_that_a_net_ended_are_added_up_over_beds(evening):
    evening.near.beds["is_covered"] = 1, 1, 0
    evening.visits[:] = [[1, 2, 3], [10, 20, 30], [0, 0, 0]]
    evening.insects.turned_away[WHITE], evening.insects.turned_away[BUG, KALE] = (3.0, 4.0, 0.0), 5.0
    bees = [f"{bee.name.lower()}_visits" for bee in Bee]
    assert told(evening, "covered_beds", "turned_away", *bees) == [2, 12, 11, 22, 33]


SO_FAR = (
    "harvest_kg",
    "marketable_kg",
    "leaf_eaten_m2",
    "caterpillars_to_nests",
    "fledged",
    "fruit_set",
    "turned_away",
)
OF_THE_DAY = ("nestlings", "aphids", "covered_beds", "feeding_visits", "beds_sprayed")


def test_totals_so_far_become_what_each_day_added_and_counts_of_a_day_stay():
    book = Chronicle(4)
    for name in (*SO_FAR, *OF_THE_DAY):
        book.column(name)[:] = 2.0, 5.0, 5.0, 9.0
    book.close()
    for name in SO_FAR:
        assert book.column(name).tolist() == [2.0, 3.0, 0.0, 4.0], name
    for name in OF_THE_DAY:
        assert book.column(name).tolist() == [2.0, 5.0, 5.0, 9.0], name
