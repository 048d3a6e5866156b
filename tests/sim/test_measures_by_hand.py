"""A season that nobody lived, written into the garden's books by hand: each reported number is what a reader adds up.

Where a number is about the beds, the margin's books hold other figures, so that one who reads the wrong page is found.
"""

from __future__ import annotations

import pytest

from sim.birds.daybook import FED_COUNT, FED_KJ, FED_MG
from sim.birds.menu import Place, PreyGroup
from sim.cast import Bird, Crop, Entry, Fate, Species, Stage
from sim.measures import summarise
from sim.practices.workday import Task
from tests.strategies import NO_PESTS, bed, garden, open_garden

COLLARDS, CUCUMBERS, MARGIN = range(3)
WHITE, BUG, WASP = Species.CABBAGE_WHITE, Species.HARLEQUIN_BUG, Species.PARASITOID_WASP
POTENTIAL_KG = {int(Crop.COLLARD): 40.0, int(Crop.CUCUMBER): 10.0}


@pytest.fixture
def unlived():
    """Return a garden on its first morning: collards, cucumbers, a nest, and empty books."""
    nests = {"nests": [{"kind": "wren_like", "distance_m": 5.0}]}
    return open_garden(garden(bed(), bed("cucumber"), pests=NO_PESTS, birds=nests))


def written(book, day, **figures):
    """Write figures of one day into the day book."""
    for name, figure in figures.items():
        book.column(name)[day] = figure


def of(unlived):
    return summarise(unlived, POTENTIAL_KG)


# -- harvest -----------------------------------------------------------------------------------------------------------


def test_each_crop_has_its_own_harvest_and_its_own_potential(unlived):
    unlived.harvests.update({COLLARDS: [20.0, 12.0, 0.0, 0.0], CUCUMBERS: [5.0, 4.0, 0.0, 0.0]})
    told = of(unlived)
    assert (told["harvest_kg"], told["marketable_kg"]) == (25.0, 16.0)
    assert told["marketable_share"] == pytest.approx(16 / 25)
    assert told["potential_share"] == pytest.approx(25 / 50)
    assert told["marketable_potential_share"] == pytest.approx(16 / 50)
    assert (told["collard_harvest_kg"], told["collard_marketable_kg"]) == (20.0, 12.0)
    assert (told["cucumber_harvest_kg"], told["cucumber_marketable_kg"]) == (5.0, 4.0)
    assert told["collard_potential_share"] == pytest.approx(20 / 40)
    assert told["cucumber_potential_share"] == pytest.approx(5 / 10)


def test_a_crop_that_gave_nothing_is_told_as_nothing(unlived):
    unlived.harvests[COLLARDS] = [20.0, 12.0, 0.0, 0.0]
    assert of(unlived)["cucumber_harvest_kg"] == 0.0
    assert of(unlived)["cucumber_potential_share"] == 0.0


def test_what_pests_took_is_leaf_and_head_of_the_beds_and_not_wild_plants(unlived):
    flows = unlived.plants.flows
    flows["grown_g"] = 60.0, 40.0, 1000.0
    flows["leaf_eaten_g"] = 8.0, 2.0, 900.0
    flows["head_eaten_g"] = 5.0, 0.0, 90.0
    assert of(unlived)["leaf_eaten_share"] == pytest.approx(15 / 100)


def test_fruit_sets_of_all_flowers_that_opened_whether_or_not_a_bee_came(unlived):
    flows = unlived.plants.flows
    flows["flowers_opened"], flows["flowers_visited"], flows["fruits_set"] = (0, 200, 0), (0, 80, 0), (0, 50, 0)
    assert of(unlived)["fruit_set_share"] == pytest.approx(50 / 200)


def test_wilt_is_counted_of_the_cucumbers_that_were_put_in(unlived):
    plants = unlived.plants.plants
    plants["planted_day"] = -1
    cucumbers = unlived.plants.rows(CUCUMBERS)
    assert "cucumbers_wilted_share" not in of(unlived)  # none stands: a share of nothing
    plants["planted_day"][cucumbers[:4]] = 3
    plants["is_wilting"][cucumbers[:1]] = 1
    plants["is_wilting"][unlived.plants.rows(COLLARDS)] = 1
    assert of(unlived)["cucumbers_wilted_share"] == pytest.approx(1 / 4)


# -- pests -------------------------------------------------------------------------------------------------------------


def test_eggs_and_those_that_grew_up_are_of_the_beds_and_of_plant_eaters_only(unlived):
    reached = unlived.insects.reached
    reached[0, WHITE, [Stage.EGG, Stage.ADULT]] = 100, 7
    reached[0, BUG, [Stage.EGG, Stage.ADULT]] = 300, 13
    reached[0, WASP, [Stage.EGG, Stage.ADULT]] = 1000, 1000
    reached[1, WHITE, [Stage.EGG, Stage.ADULT]] = 5000, 4000
    told = of(unlived)
    assert told["egg_to_adult_share"] == pytest.approx(20 / 400)
    assert told["cabbage_white_egg_to_adult_share"] == pytest.approx(7 / 100)
    assert told["harlequin_bug_egg_to_adult_share"] == pytest.approx(13 / 300)
    assert (told["cabbage_white_eggs_count"], told["harlequin_bug_eggs_count"]) == (100, 300)


def test_the_peak_of_all_pests_is_that_of_one_day_and_not_of_each_kinds_best_day(unlived):
    book = unlived.chronicle
    written(book, 5, cabbage_white_young=30.0, harlequin_bug_young=4.0, aphids=70.0)
    written(book, 9, cabbage_white_young=10.0, harlequin_bug_young=18.0, harlequin_bug_adults=3.0, aphids=500.0)
    told = of(unlived)
    assert told["pests_alive_peak_count"] == 34
    assert told["pest_days_count"] == 30 + 4 + 10 + 18 + 3
    assert (told["cabbage_white_peak_count"], told["harlequin_bug_peak_count"]) == (30, 21)
    assert told["aphids_peak_count"] == 500


def test_moths_eggs_and_beetle_larvae_in_the_soil_are_no_pests_on_the_plants(unlived):
    written(unlived.chronicle, 5, cabbage_white_adults=8.0, cabbage_white_eggs=90.0, cabbage_white_pupae=5.0)
    written(unlived.chronicle, 5, flea_beetle_young=70.0, flea_beetle_adults=2.0)
    assert of(unlived)["pests_alive_peak_count"] == 2


def test_wasps_share_of_the_larvae_is_of_the_beds(unlived):
    insects = unlived.insects
    insects.reached[0, WHITE, Stage.INSTAR_1] = 80
    insects.exits[0, Entry.BORN, WHITE, Stage.INSTAR_5, Fate.PARASITISED] = 12
    insects.exits[0, Entry.ARRIVED, WHITE, Stage.INSTAR_5, Fate.PARASITISED] = 4  # they came as eggs on transplants
    insects.exits[1, Entry.BORN, WHITE, Stage.INSTAR_5, Fate.PARASITISED] = 60
    insects.exits[0, Entry.BORN, WHITE, Stage.INSTAR_5, Fate.OTHER_PARASITOIDS] = 9
    assert of(unlived)["parasitised_share"] == pytest.approx(16 / 80)


# -- birds -------------------------------------------------------------------------------------------------------------


def test_bird_food_is_a_mean_of_the_days_with_nestlings_and_that_of_the_beds_leaves_the_margin_out(unlived):
    book = unlived.chronicle
    book.column("caterpillars_reachable_g")[:] = 100.0
    for day, grams in zip(range(10, 14), (4.0, 6.0, 8.0, 2.0), strict=True):
        written(book, day, nestlings=3.0, caterpillars_reachable_g=grams, spiders_reachable_g=1.0)
        written(book, day, moths_reachable_g=0.5, margin_reachable_g=2.5)
    told = of(unlived)
    assert told["caterpillars_reachable_g"] == pytest.approx(5.0)
    assert told["bird_food_reachable_g"] == pytest.approx(5.0 + 1.0 + 0.5)
    assert told["bird_food_in_beds_g"] == pytest.approx(5.0 + 1.0 + 0.5 - 2.5)


def test_food_of_the_season_is_a_mean_of_all_its_days(unlived):
    days = len(unlived.chronicle.rows)
    written(unlived.chronicle, 7, caterpillars_reachable_g=3.0 * days, spiders_reachable_g=2.0 * days)
    told = of(unlived)
    assert told["caterpillars_reachable_season_g"] == pytest.approx(3.0)
    assert told["spiders_reachable_season_g"] == pytest.approx(2.0)
    assert told["wasps_reachable_season_g"] == 0.0


def test_without_a_nestling_on_any_day_there_is_no_food_of_nestling_weeks(unlived):
    assert not {"bird_food_reachable_g", "bird_food_in_beds_g", "caterpillars_reachable_g"} & set(of(unlived))


def test_what_came_to_the_nests_is_told_by_where_it_was_found(unlived):
    season = unlived.nests.book.season
    for place, caterpillars in ((Place.GARDEN, 10.0), (Place.HEDGEROW, 20.0), (Place.TERRITORY, 70.0)):
        season[FED_COUNT, Bird.WREN_LIKE, place, PreyGroup.CATERPILLAR] = caterpillars
        season[FED_COUNT, Bird.WREN_LIKE, place, PreyGroup.SPIDER] = 1000.0
        season[FED_MG, Bird.TIT_LIKE, place, PreyGroup.SPIDER] = 50.0 * caterpillars
        season[FED_KJ, Bird.TIT_LIKE, place, PreyGroup.SPIDER] = 2.0 * caterpillars
    told = of(unlived)
    assert told["caterpillars_to_nests_count"] == 10
    assert told["caterpillars_fed_count"] == 100
    assert told["bird_food_delivered_g"] == pytest.approx(0.5)
    assert told["garden_food_share"] == pytest.approx(0.1)
    kj = [told[f"{where}_to_nestlings_kj"] for where in ("garden", "hedgerow", "territory")]
    assert kj == pytest.approx([20.0, 40.0, 140.0])


# -- bees and enemies --------------------------------------------------------------------------------------------------


def test_visits_are_of_all_bees_to_the_flowers_of_the_beds(unlived):
    written(unlived.chronicle, 3, honey_bee_visits=50.0, bumble_bee_visits=20.0)
    written(unlived.chronicle, 4, small_bee_visits=10.0)
    unlived.plants.flows["flowers_opened"] = 0, 40, 500
    told = of(unlived)
    assert told["flower_visits_count"] == 80
    assert told["visits_per_flower"] == pytest.approx(80 / 40)


def test_harmed_bees_are_a_share_of_those_at_work(unlived):
    unlived.pollinators.at_work[:] = 6.0, 3.0, 1.0
    unlived.pollinators.harmed[:] = 1.0, 1.0, 0.5
    assert of(unlived)["bees_harmed_share"] == pytest.approx(0.25)


def test_enemies_are_a_mean_of_all_days(unlived):
    days = len(unlived.chronicle.rows)
    written(unlived.chronicle, 3, spiders=12.0 * days, ground_beetles=7.0 * days, parasitoid_wasps=3.0 * days)
    told = of(unlived)
    assert (told["spiders_mean_count"], told["ground_beetles_mean_count"]) == pytest.approx((12.0, 7.0))
    assert told["parasitoid_wasps_mean_count"] == pytest.approx(3.0)


# -- work --------------------------------------------------------------------------------------------------------------

PEST_CARE = {"COVER", "UNCOVER", "CHECK_NET", "SPRAY", "SCOUT", "HAND_PICK", "WASH_OFF"}


@pytest.mark.parametrize("task", Task, ids=lambda task: task.name.lower())
def test_an_hour_of_work_counts_once_and_as_pest_care_if_it_is_care_against_pests(unlived, task):
    unlived.gardener.minutes[4, task] = 60.0
    unlived.gardener.cost_usd[4, task] = 9.0
    told = of(unlived)
    assert (told["labour_minutes"], told["cost_usd"]) == (60.0, 9.0)
    is_care = task.name in PEST_CARE
    assert (told["pest_care_minutes"], told["pest_care_usd"]) == ((60.0, 9.0) if is_care else (0.0, 0.0))


def test_kilograms_for_an_hour_are_those_fit_to_sell(unlived):
    unlived.harvests[COLLARDS] = [20.0, 12.0, 0.0, 0.0]
    unlived.gardener.minutes[4, Task.WEED] = 90.0
    assert of(unlived)["marketable_kg_per_hour"] == pytest.approx(8.0)


def test_jobs_put_off_and_days_lost_to_weather_are_counted(unlived):
    unlived.gardener.put_off[4, Task.SPRAY], unlived.gardener.put_off[9, Task.WEED] = 2, 1
    unlived.gardener.days_lost_to_weather.update({4, 5, 9, 11})
    told = of(unlived)
    assert (told["put_off_count"], told["spray_days_lost_count"]) == (3, 4)


# -- energy ------------------------------------------------------------------------------------------------------------


def test_energy_of_insects_goes_to_whoever_ate_them(unlived):
    numbers, exits_mg = unlived.parameters, unlived.insects.exits_mg
    kj_per_g = numbers.number("energy.insect_kj_per_g_dry") * numbers.number("energy.insect_dry_share")
    exits_mg[WHITE, Fate.EATEN_BY_SPIDER] = 1000.0
    exits_mg[WHITE, Fate.PARASITISED] = 500.0
    exits_mg[BUG, Fate.EATEN_BY_WREN_LIKE_BIRD] = 3000.0
    exits_mg[BUG, Fate.SPRAYED] = 7000.0
    exits_mg[WASP, Fate.EATEN_BY_SPIDER] = 90_000.0  # a wasp is no plant-eater
    told = of(unlived)
    assert told["insects_to_enemies_kj"] == pytest.approx(1.5 * kj_per_g)
    assert told["insects_to_birds_kj"] == pytest.approx(3.0 * kj_per_g)
    assert told["insects_grown_kj"] == pytest.approx(11.5 * kj_per_g)


def test_energy_of_plants_is_that_of_the_beds_with_what_heads_lost(unlived):
    leaf_kj = unlived.parameters.number("energy.leaf_kj_per_g_dry")
    flows = unlived.plants.flows
    flows["light_mj"], flows["grown_g"] = (3.0, 2.0, 100.0), (60.0, 40.0, 1000.0)
    flows["leaf_eaten_g"], flows["head_eaten_g"] = (8.0, 2.0, 900.0), (5.0, 0.0, 90.0)
    told = of(unlived)
    assert told["light_caught_mj"] == pytest.approx(5.0)
    assert told["plants_grown_kj"] == pytest.approx(100.0 * leaf_kj)
    assert told["eaten_by_insects_kj"] == pytest.approx(15.0 * leaf_kj)


def test_those_alive_at_the_end_hold_energy_that_they_grew(unlived):
    numbers = unlived.parameters
    kj_per_g = numbers.number("energy.insect_kj_per_g_dry") * numbers.number("energy.insect_dry_share")
    unlived.insects.come_with_transplants(COLLARDS, 5.0, 0)
    alive = unlived.insects.records[: unlived.insects.count]
    alive["mass_mg"] = 20.0
    assert len(alive) > 0
    assert of(unlived)["insects_grown_kj"] == pytest.approx(0.02 * len(alive) * kj_per_g)


@pytest.mark.parametrize("fate", Fate, ids=lambda fate: fate.name.lower())
def test_each_insect_that_was_eaten_feeds_birds_or_small_enemies_and_no_other_does(unlived, fate):
    unlived.insects.exits_mg[WHITE, fate] = 1000.0
    told = of(unlived)
    is_bird = fate.name.endswith("_BIRD")
    is_enemy = not is_bird and ("EATEN_BY" in fate.name or "PARASIT" in fate.name)
    assert (told["insects_to_birds_kj"] > 0.0, told["insects_to_enemies_kj"] > 0.0) == (is_bird, is_enemy)
