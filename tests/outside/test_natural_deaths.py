"""Of what insects die without a gardener: single causes in a rearing box, all together in an unpicked bed."""

from functools import lru_cache

import numpy as np
import pytest

from sim import load_scenario, run_season
from sim.cast import Fate, Species, Stage
from sim.parameters import load_parameters
from sim.patterns.gardens import NOTHING, PLANTED, PLANTED_COOL, bed, garden
from sim.patterns.wasps import Collector
from tests.outside.insect_trials import BIRD_FATES, Box, count, day_of, entered, seasons, unharmed
from tests.outside.register import check

EGG, PUPA, ADULT = Stage.EGG, Stage.PUPA, Stage.ADULT
L1, L2, L3, L4, L5 = list(Stage)[1:6]
WHITE, LOOPER, DIAMONDBACK = Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH
HARLEQUIN = Species.HARLEQUIN_BUG
NUMBER = 400


def share_lost(species, cause, fate, first, last, *, mean_c=20.0, number=NUMBER, plants=40):
    """Return what share dies of one cause alone between two stages, from ``first`` until all have reached ``last``."""
    box = Box(species, unharmed([cause]), plants=plants)
    box.put(first, number)
    while (box.alive["stage"] < last).any():
        box.live(day_of(mean_c))
    return box.dead(fate)[first:last].sum() / number


def share_washed_off(species, stage, rain_mm, exposure=0):
    box = Box(species, unharmed(["rain_loss"]))
    box.put(stage, NUMBER, exposure=exposure)
    box.live(day_of(18.0, rain_mm=rain_mm))
    return box.dead(Fate.WASHED_OFF).sum() / NUMBER


@lru_cache
def unpicked(climate):
    """Return seasons of twenty leaf plants that nobody picks, in a cool or a warm place."""
    planted = "05-01" if climate == "cool_maritime" else "03-25"
    beds = {f"beds.{bed}.{key}": value for bed in ("collards", "kale") for key, value in
            (("harvest", "none"), ("planted", planted))}  # fmt: skip
    return seasons(load_scenario("leaf_bed").with_changes({"place.climate": climate, **beds}))


def over_seasons(counted, climate="cool_maritime"):
    return sum(counted(season) for season in unpicked(climate))


@check(
    "17 mm of rain: most diamondback eggs of the upper side of leaves are lost, few of the lower",
    source="kob03",
    read="read: abstract",
    independent=False,
)
def test_rain_on_eggs_by_side():
    assert share_washed_off(DIAMONDBACK, EGG, 17.3, exposure=0) >= 0.5
    assert share_washed_off(DIAMONDBACK, EGG, 17.3, exposure=1) <= 0.15


@check(
    "the same rain on diamondback larvae: loss falls from second to fourth instar, is low in the first, never total",
    source="kob03",
    read="read: abstract",
    independent=False,
)
def test_rain_on_larvae_by_instar():
    first, second, third, fourth = (share_washed_off(DIAMONDBACK, stage, 17.3) for stage in (L1, L2, L3, L4))
    assert 0.5 > second > third > fourth > first


@check(
    "a downpour costs diamondback moths at least twice the share that it costs white caterpillars",
    source="downpours",
    read="read: abstract",
    independent=True,
)
def test_a_downpour_on_two_kinds():
    lost = {}
    for species in (DIAMONDBACK, WHITE):
        below = load_parameters().number(f"moths.{species.name.lower()}.under_leaf_share")
        eggs = (1.0 - below) * share_washed_off(species, EGG, 25.0) + below * share_washed_off(species, EGG, 25.0, 1)
        lost[species] = np.mean([eggs, *(share_washed_off(species, stage, 25.0) for stage in (L1, L2, L3, L4))])
    assert lost[DIAMONDBACK] >= 2.0 * lost[WHITE]


@check(
    "small wasps take 32 and 70 % of cabbage white pupae in two Virginia years: 20 to 75 %",
    source="lk86",
    read="read: abstract",
    independent=False,
)
def test_wasps_in_pupae():
    lost = share_lost(WHITE, "other_parasitoids_per_day", Fate.OTHER_PARASITOIDS, PUPA, ADULT, mean_c=21.0)
    assert 0.20 <= lost <= 0.75


@check(
    "without releases, egg wasps take 0 to 3 % of cabbage white eggs and 8 to 41 % of looper eggs",
    source="par68",
    read="read: abstract",
    independent=False,
)
def test_wasps_in_eggs():
    lost = [share_lost(s, "other_parasitoids_per_day", Fate.OTHER_PARASITOIDS, EGG, L1) for s in (WHITE, LOOPER)]
    assert 0.0 < lost[0] <= 0.04
    assert 0.078 <= lost[1] <= 0.406


@check(
    "of eggs collected in the field 67 to 90 % hatch",
    source="par68",
    read="read: abstract",
    independent=False,
)
def test_hatch_of_field_eggs():
    box = Box(WHITE, unharmed(["failed_share", "other_parasitoids_per_day"]))
    box.put(EGG, 1000)
    while (box.alive["stage"] == EGG).any():
        box.live(day_of(21.0))
    assert 0.667 <= box.insects.count / 1000.0 <= 0.90


@check(
    "wasps take 5 to 40 % of harlequin bug eggs (8 and 37 % in two years), and no nymphs or adults",
    source="ludwig1998",
    read="read: abstract",
    independent=False,
)
def test_wasps_in_harlequin_bugs():
    wasps = ("other_parasitoids_per_day", Fate.OTHER_PARASITOIDS)
    assert 0.05 <= share_lost(HARLEQUIN, *wasps, EGG, L1, mean_c=24.0) <= 0.40
    assert share_lost(HARLEQUIN, *wasps, L1, ADULT, mean_c=24.0) == 0.0


@check("virus takes 1 to 4 % of larvae where they are few", source="dem67", read="read: abstract", independent=False)
def test_virus_where_larvae_are_few():
    assert 0.005 <= share_lost(WHITE, "disease_per_day", Fate.DISEASE, L1, PUPA, number=40, plants=40) <= 0.05


@check(
    "disease that is rare among few larvae is a major loss among many on each plant",
    source="har66",
    read="read: abstract",
    independent=True,
)
def test_disease_rises_with_crowding():
    few = share_lost(WHITE, "disease_per_day", Fate.DISEASE, L1, PUPA, number=400, plants=400)
    many = share_lost(WHITE, "disease_per_day", Fate.DISEASE, L1, PUPA, number=800, plants=40)
    assert many > 3.0 * few


@check(
    "of cabbage white eggs in the open about a tenth become pupae, 5 to 20 %",
    source="dem67",
    read="read: abstract",
    independent=False,
)
def test_one_egg_in_ten_becomes_a_pupa():
    eggs = over_seasons(lambda season: entered(season, WHITE, EGG), "warm_humid")
    pupae = over_seasons(lambda season: entered(season, WHITE, PUPA), "warm_humid")
    assert eggs > 1000
    assert 0.05 <= pupae / eggs <= 0.20


@check(
    "birds take cabbage white larvae mostly in the last two instars",
    source="dem67",
    read="read: abstract",
    independent=True,
)
def test_birds_take_large_larvae():
    large, small = (
        over_seasons(lambda season, stages=stages: count(season, WHITE, *BIRD_FATES, stages=stages))
        for stages in ([L4, L5], [L1, L2, L3])
    )
    assert large > 3 * small


@check(
    "half or more of each generation is gone by the end of the first instar, in three kinds of caterpillars",
    source="hirata1963",
    read="read: abstract",
    independent=True,
)
@pytest.mark.parametrize("species", [WHITE, LOOPER, DIAMONDBACK])
def test_half_is_gone_by_the_second_instar(species):
    left = over_seasons(lambda season: entered(season, species, L2)) / over_seasons(
        lambda season: entered(season, species, EGG)
    )
    assert left <= 0.55


@check(
    "a third to a half of diamondback moths vanish as eggs and young larvae, within a tenth either way",
    source="wak90",
    read="read: abstract",
    independent=True,
)
def test_young_diamondback_moths_vanish():
    vanished = 1.0 - over_seasons(lambda season: entered(season, DIAMONDBACK, L2), "warm_humid") / over_seasons(
        lambda season: entered(season, DIAMONDBACK, EGG), "warm_humid"
    )
    assert 0.23 <= vanished <= 0.60


@check(
    "wasps find 30 to 70 % of larvae on average, with a range of 40 points or more: generations there, seasons here",
    source="van88",
    read="read: abstract",
    independent=True,
)
def test_parasitism_is_erratic():
    found = np.array(
        [
            season.garden.insects.stung / season.garden.insects.reached[:, WHITE, L1].sum()
            for season in unpicked("warm_humid")
        ]
    )
    assert 0.30 <= found.mean() <= 0.70
    assert np.ptp(found) >= 0.40


@pytest.mark.parametrize(("climate", "planted"), [("warm_humid", PLANTED), ("cool_maritime", PLANTED_COOL)])
@check(
    "a quarter of the cabbage white larvae on cabbage in Virginia had the gregarious wasp in them: 17 to 38 %",
    source="lk86",
    read="read: abstract",
    independent=False,
)
def test_the_followed_wasp_is_in_a_quarter_of_the_larvae(climate, planted):
    """Those that it kills are fewer: birds and beetles take many of the stung ones before.

    Virginia's mountains lie between the two climates. On kale and collards of the warm one it is a third to a half.
    """
    cabbage = bed("cabbage", "cabbage", harvest="none", planted=planted)
    place = garden([cabbage], {"nothing": NOTHING}, climate=climate)
    collector = Collector()
    for seed in range(1, 25):
        run_season(place, "nothing", seed, collector)
    assert 0.25 / 1.5 <= collector.with_wasps / collector.larvae <= 0.25 * 1.5


@check(
    "a roof that keeps rain off lowers the loss of diamondback moths",
    source="wak90",
    read="read: abstract",
    independent=True,
)
def test_a_roof_lowers_losses():
    def lost(rain_mm):
        box = Box(DIAMONDBACK, unharmed(["rain_loss", "failed_share"]))
        box.put(EGG, NUMBER)
        while (box.alive["stage"] < PUPA).any():
            box.live(day_of(20.0, rain_mm=rain_mm if box.day % 4 == 0 else 0.0))
        return 1.0 - box.insects.count / NUMBER

    assert lost(0.0) < 0.7 * lost(15.0)
