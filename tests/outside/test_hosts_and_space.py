"""Where adults lay: patches small and large, rings of a better host, and comers to an open bed month by month."""

from functools import lru_cache

import numpy as np
import pytest

from sim import load_scenario
from sim.cast import CROPS, Crop, Species, Stage, word
from sim.insects.arrivals import pressures
from sim.parameters import load_parameters
from tests.outside.insect_trials import Box, at_place, day_of, entered, seasons, unharmed, weather_of_months
from tests.outside.register import check

WHITE, LOOPER, DIAMONDBACK = Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH
HARLEQUIN = Species.HARLEQUIN_BUG
GOOD_WEATHER_C = [-3, -2, 3, 9, 16, 20, 22, 22, 18, 12, 5, 0]
"""Monthly means of an invented northern place with warm, bright summers."""


def eggs_of_visitors(plants, females=300):
    """Return eggs that a visiting cabbage white leaves in a patch before she flies on."""
    box = Box(WHITE, unharmed(), plants=plants)
    box.put(Stage.ADULT, females, warmth_dd=40.0, plant=-1)
    for _ in range(12):
        box.live(day_of(20.0, swing_c=5.0), flies=True)
    return box.laid / females


@check(
    "a visiting cabbage white leaves as many eggs in 18 plants as in 180 or more, so ten times as many on each plant",
    source="cjz1987",
    read="read: abstract",
    independent=False,
)
def test_eggs_of_a_visitor_do_not_rise_with_the_patch():
    small, large, larger = (eggs_of_visitors(plants) for plants in (18, 180, 720))
    assert large == pytest.approx(small, rel=0.1)
    assert larger == pytest.approx(small, rel=0.1)
    assert 5.0 <= (small / 18) / (large / 180) <= 12.0


@check(
    "visitors leave a patch at a high rate: most are gone on the day they came",
    source="cjz1987",
    read="read: abstract",
    independent=False,
)
def test_visitors_leave_soon():
    box = Box(WHITE, unharmed(), plants=100)
    box.put(Stage.ADULT, 300, warmth_dd=40.0, plant=-1)
    box.live(day_of(22.0, swing_c=6.0), flies=True)
    assert (box.alive["stage"] == Stage.ADULT).sum() < 150


@check(
    "small beds get more comers for each square metre than large ones",
    source="cjz1987",
    read="read: abstract",
    independent=False,
)
def test_comers_a_square_metre():
    area_m2, factors = np.full(len(Species), 6.0), np.ones(len(Species))
    small, large = (pressures(load_parameters(), 1, area_m2 * size, factors) for size in (1.0, 10.0))
    assert np.all(large > small)
    assert np.all(large / 10.0 < small)


@lru_cache
def eggs_by_crop(species):
    """Return eggs on each of two equal plants, a collard and a cabbage, side by side."""
    eggs = np.zeros(2)
    box = Box(species, unharmed(), plants=2)
    box.plants["crop"] = [int(Crop.COLLARD), int(Crop.CABBAGE)]
    for _ in range(20):
        box.put(Stage.ADULT, 40, warmth_dd=40.0, plant=-1)
        box.live(day_of(20.0, swing_c=5.0), flies=True)
        laid = box.alive[box.alive["stage"] == Stage.EGG]
        eggs += np.bincount(laid["plant"], minlength=2)
        box.clear_young()
    return eggs


@check(
    "a ring of collards draws diamondback moths from cabbage, at least two to one",
    source="ars1999",
    read="read: abstract",
    independent=False,
)
def test_collards_draw_diamondback_moths_from_cabbage():
    collard, cabbage = eggs_by_crop(DIAMONDBACK)
    assert collard >= 2.0 * cabbage


@check(
    "collards do not draw cabbage whites and loopers from cabbage as they draw diamondback moths",
    source="uconn",
    read="read",
    independent=False,
)
@pytest.mark.parametrize("species", [WHITE, LOOPER])
def test_collards_do_not_draw_other_caterpillars(species):
    collard, cabbage = eggs_by_crop(species)
    assert 0.7 <= collard / cabbage <= 1.6


@check(
    "of mustard and collard, plant for plant, harlequin bugs choose mustard",
    source="wal13",
    read="read: abstract",
    independent=False,
)
def test_harlequin_bugs_choose_mustard():
    box = Box(HARLEQUIN, unharmed(), plants=2)
    box.plants["crop"] = [int(Crop.MUSTARD), int(Crop.COLLARD)]
    box.put(Stage.ADULT, 300, plant=-1)
    box.live(day_of(24.0, swing_c=5.0), flies=True)
    sits = np.bincount(box.alive["plant"][box.alive["plant"] >= 0], minlength=2)
    assert sits[0] > 2.0 * sits[1]


@check(
    "broccoli and collards get the most caterpillars of the cabbage family, radish and wild hosts fewer",
    source="la1939",
    read="read: abstract",
    independent=False,
)
def test_ranks_of_hosts():
    weights = load_parameters().numbers("hosts.weights.cabbage_white")
    assert len(weights) == CROPS
    best = {Crop(place) for place in np.argsort(weights)[-2:]}
    assert best == {Crop.BROCCOLI, Crop.COLLARD}


@check(
    "cucumber beetles come to cucumbers only, cabbage insects to none",
    source="none",
    read="common practice, no source",
    independent=True,
)
def test_who_comes_to_a_cucumber_bed():
    season = seasons(load_scenario("cucumber_bed"), seeds=[1])[0]
    eggs = {species: entered(season, species, Stage.EGG) for species in Species}
    assert eggs[Species.CUCUMBER_BEETLE] > 100
    assert {species for species, number in eggs.items() if number} <= {Species.CUCUMBER_BEETLE, LOOPER}


@pytest.fixture(scope="module")
def open_bed(tmp_path_factory):
    """Return seasons of an unprotected bed of ten collards and ten kale in the north, with no home-bred females."""
    weather = weather_of_months(tmp_path_factory.mktemp("weather") / "north.csv", GOOD_WEATHER_C, swing_c=7.0)
    leaf_bed = at_place(load_scenario("leaf_bed"), weather, 45.0, **{"pests.stay_share": 0.0})
    return seasons(leaf_bed, seeds=range(1, 13))


@check(
    "cabbage white eggs a plant and day in an open bed of twenty from May to September, within half to twice",
    source="none",
    read="memory",
    independent=False,
)
def test_eggs_a_plant_and_day(open_bed):
    expected = {5: 0.05, 6: 0.15, 7: 0.35, 8: 0.35, 9: 0.15}
    laid = {month: [] for month in expected}
    for season in open_bed:
        daily = season.daily
        months = daily["date"].str[5:7].astype(int)
        for month in expected:
            standing = daily[f"{word(WHITE)}_eggs"][months == month].mean()
            mean_c = (daily["tmin_c"] + daily["tmax_c"])[months == month].mean() / 2.0
            laid[month].append(standing / days_of_egg(mean_c) / 20.0)
    for month, eggs in expected.items():
        assert 0.5 * eggs <= np.mean(laid[month]) <= 2.0 * eggs, f"month {month}: {np.mean(laid[month]):.2f}"


def days_of_egg(mean_c):
    """Return the days that an egg stands before it hatches or is lost, in the open."""
    parameters = load_parameters()
    base_c = parameters.numbers("moths.cabbage_white.base_c")[0]
    heat_dd = parameters.numbers("moths.cabbage_white.heat_dd")[0]
    return 0.85 * heat_dd / (mean_c + 1.0 - base_c)
