"""Action thresholds as extension services print them, and what a first pass of hand-picking finds."""

import numpy as np
import pytest

from sim.cast import SPECIES, STAGES, Species, Stage
from sim.parameters import load_parameters
from sim.practices.by_hand import find_table, found_in, spot_table, write_sheet
from sim.practices.orders import is_over
from sim.practices.workday import Seen
from sim.scenario.actions import SprayAtThreshold
from tests.outside.register import check

P = load_parameters()


def sheet_of(species, stage, counts):
    noticed = np.zeros((len(counts), SPECIES, STAGES))
    noticed[:, species, stage] = counts
    return write_sheet(noticed, np.zeros(len(counts)), 20.0)


def rule(**threshold):
    return SprayAtThreshold(do="spray_at_threshold", product="bt", **threshold)


def fewest_infested(plants, threshold):
    """Return the fewest infested plants of a sample at which the gardener sprays."""
    action = rule(caterpillar_infested_share=threshold)
    for infested in range(plants + 1):
        counts = np.arange(plants) < infested
        if is_over(sheet_of(Species.CABBAGE_WHITE, Stage.INSTAR_3, counts), action):
            return infested
    return None


@check("heading crops: 10, 20, 5 % of 50 plants", source="rut", read="read", independent=True)
@pytest.mark.parametrize(("threshold", "plants"), [(0.10, 5), (0.20, 10), (0.05, 3)])
def test_caterpillar_rule_on_fifty_plants(threshold, plants):
    assert fewest_infested(50, threshold) == plants


@check("home garden: 10, 30, 20, 10 % of plants", source="wisconsin_veg204", read="read", independent=True)
@pytest.mark.parametrize(("threshold", "plants"), [(0.10, 2), (0.30, 6), (0.20, 4)])
def test_caterpillar_rule_on_a_bed_of_twenty(threshold, plants):
    assert fewest_infested(20, threshold) == plants


@check("diamondback: 20 % before, 5 % after heading", source="psu_diamondback", read="read", independent=True)
@pytest.mark.parametrize(("threshold", "plants"), [(0.20, 8), (0.05, 2)])
def test_diamondback_rule_on_forty_plants(threshold, plants):
    assert fewest_infested(40, threshold) == plants


@check("harlequin bug: 5 % of 50 young plants", source="rut", read="read", independent=True)
def test_harlequin_rule():
    action = rule(harlequin_infested_share=0.05)
    assert not is_over(sheet_of(Species.HARLEQUIN_BUG, Stage.ADULT, np.arange(50) < 2), action)
    assert is_over(sheet_of(Species.HARLEQUIN_BUG, Stage.ADULT, np.arange(50) < 3), action)


@check("1 beetle a plant on cucumber, 5 on squash", source="purdue_beetle", read="read", independent=True)
def test_two_beetles_a_plant_alert_cucumber_and_not_squash():
    seen = sheet_of(Species.CUCUMBER_BEETLE, Stage.ADULT, np.full(10, 2))
    assert is_over(seen, rule(cucumber_beetles_per_plant=1.0))
    assert not is_over(seen, rule(cucumber_beetles_per_plant=5.0))


@check("1 flea beetle a plant on young greens", source="umass_flea", read="read", independent=True)
def test_flea_beetle_rule():
    action = rule(flea_beetles_per_plant=1.0)
    assert not is_over(sheet_of(Species.FLEA_BEETLE, Stage.ADULT, [3, 0, 0, 0]), action)
    assert is_over(sheet_of(Species.FLEA_BEETLE, Stage.ADULT, [3, 1, 0, 0]), action)


@check("0.3 larvae a plant at random infest 26 % of plants", source="none", read="derived", independent=False)
def test_mean_and_infested_share_go_together():
    counts = np.random.default_rng(5).poisson(0.3, 20_000)
    seen = sheet_of(Species.DIAMONDBACK_MOTH, Stage.INSTAR_2, counts)
    assert seen.caterpillar_infested_share == pytest.approx(1.0 - np.exp(-0.3), abs=0.02)


@check("a first pass found 73 of at least 90 caterpillars", source="home_garden_pick", read="read", independent=True)
def test_a_first_pass_of_hand_picking():
    # a mix weighted to those that are large enough to be noticed at home; the anecdote's 0.81 is one garden's
    weights = np.array([0.05, 0.10, 0.25, 0.30, 0.30])
    find = find_table(P)[Species.CABBAGE_WHITE, Stage.INSTAR_1 : Stage.INSTAR_5 + 1]
    assert 0.6 <= float(weights @ find) <= 0.9
    quick = found_in(find, 10.0, P.number("labour.search_reference_seconds"))
    assert float(weights @ quick) < float(weights @ find)


@check("small larvae blend in", source="wisconsin_veg204", read="read", independent=True)
def test_small_larvae_are_found_and_noticed_least():
    for table in (find_table(P), spot_table(P)):
        assert np.all(np.diff(table[: Species.DIAMONDBACK_MOTH + 1, 1:6], axis=1) >= 0.0)


@check("nothing seen, nothing sprayed", source="none", read="common practice, no source", independent=True)
def test_an_empty_sheet_passes_no_threshold():
    every = rule(
        caterpillar_infested_share=0.05, harlequin_infested_share=0.05, flea_beetles_per_plant=0.5,
        cucumber_beetles_per_plant=0.5, aphid_infested_share=0.05,
    )  # fmt: skip
    assert not is_over(Seen(), every)
