"""What nets and hands do to insects in a whole garden, against what trials and advice say of them."""

from functools import lru_cache

import numpy as np
import pytest

from sim import load_scenario
from sim.cast import Fate, Species, Stage, word
from sim.parameters import load_parameters
from sim.practices.by_hand import find_table
from tests.outside.insect_trials import Box, count, entered, seasons, unharmed
from tests.outside.register import check

WHITE, LOOPER, DIAMONDBACK = Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH
CATERPILLARS = (WHITE, LOOPER, DIAMONDBACK)
SEEDS = range(1, 9)
WEED = {"do": "weed", "every_days": 21}


def with_plan(scenario, *actions):
    """Return a scenario whose first plan does only these things."""
    plan = {"name": "nothing", "title": "As told", "about": "", "actions": [WEED, *actions]}
    return type(scenario).model_validate(scenario.model_dump() | {"plans": [plan]})


def cover(material, days_after_planting=0):
    return {"do": "cover", "material": material, "edges": "buried", "days_after_planting": days_after_planting}


@lru_cache
def leaf_bed(material=None, days_after_planting=0, **changes):
    scenario = load_scenario("leaf_bed").with_changes(changes)
    actions = [cover(material, days_after_planting)] if material else []
    return seasons(with_plan(scenario, *actions), seeds=SEEDS)


def mean_on_plants(all_seasons, species, stage, first, last):
    """Return the mean standing number of a kind between two dates (month and day) over seasons."""
    days = [season.daily[season.daily["date"].str[5:].between(first, last)] for season in all_seasons]
    return float(np.mean([daily[f"{word(species)}_{stage}"].mean() for daily in days]))


@check(
    "row covers from planting gave the best control of flea beetles on greens in Kentucky",
    source="ky20",
    read="read: abstract",
    independent=True,
)
def test_row_covers_keep_flea_beetles_down():
    bare = mean_on_plants(leaf_bed(), Species.FLEA_BEETLE, "adults", "04-15", "06-15")
    covered = mean_on_plants(leaf_bed("row_cover"), Species.FLEA_BEETLE, "adults", "04-15", "06-15")
    assert covered < 0.3 * bare


@check(
    "mesh of 0.6 mm keeps flea beetles down, mesh that is wider does so less",
    source="gaityuu",
    read="read",
    independent=False,
)
def test_finer_mesh_holds_more_flea_beetles():
    wide, fine = (
        mean_on_plants(leaf_bed(material), Species.FLEA_BEETLE, "adults", "04-15", "06-15")
        for material in ("insect_mesh", "fine_mesh")
    )
    assert fine < 0.5 * wide


@check(
    "nets over brassicas from planting: caterpillars all but gone",
    source="alt_cabbage",
    read="read: abstract",
    independent=True,
)
def test_a_net_from_planting_keeps_caterpillars_out():
    for species in CATERPILLARS:
        bare, netted = (
            np.median([entered(season, species, Stage.EGG) for season in plan])
            for plan in (leaf_bed(), leaf_bed("fine_mesh"))
        )
        assert bare > 100
        assert netted < 0.2 * bare


@check(
    "a net put on late shuts in what has come: more caterpillars under it than under one from planting",
    source="late_net_page",
    read="read",
    independent=False,
)
def test_a_late_net_shuts_pests_in():
    for species in (WHITE, DIAMONDBACK):
        in_time, late = (
            mean_on_plants(leaf_bed("fine_mesh", days), species, "young", "05-01", "05-31") for days in (0, 28)
        )
        assert late > 2.0 * in_time


@check(
    "under a late net 1.2 to 2.5 times as many caterpillars reach the last instar as in the open",
    source="late_net_page",
    read="derived",
    independent=False,
)
def test_enemies_do_not_follow_under_a_net():
    def survive(all_seasons):
        born = sum(entered(season, WHITE, Stage.INSTAR_1) for season in all_seasons)
        return sum(entered(season, WHITE, Stage.INSTAR_5) for season in all_seasons) / born

    assert 1.2 <= survive(leaf_bed("fine_mesh", 28)) / survive(leaf_bed()) <= 2.5


@check(
    "covers over a bed that held the same host last year bring its pests up inside, ten times those of a rotated bed",
    source="neveg",
    read="read",
    independent=False,
)
def test_rotate_before_covering():
    cool = {"place.climate": "cool_maritime"}  # where beetles have not yet come up when beds are planted and covered
    hosted = {"beds.collards.hosted_last_year": True, "beds.kale.hosted_last_year": True}
    rotated, same_bed = (
        mean_on_plants(leaf_bed("row_cover", **cool, **changes), Species.FLEA_BEETLE, "adults", "05-01", "06-15")
        for changes in ({}, hosted)
    )
    assert same_bed > 0.5
    assert same_bed > 10.0 * rotated


@check(
    "old stalks left in a bed hold cabbage white pupae that a cleared bed has not",
    source="ufic",
    read="read",
    independent=False,
)
def test_old_stalks_hold_pupae():
    stalks = {"beds.collards.old_stalks": True, "beds.kale.old_stalks": True}
    wintered = [count(season, WHITE, entry="overwintered") for season in leaf_bed(**stalks)]
    cleared = [count(season, WHITE, entry="overwintered") for season in leaf_bed()]
    assert np.mean(wintered) > 1.0
    assert not any(cleared)


@check(
    "a gardener who picked 73 larvae found 17 two days later: one pass takes 60 to 90 % of a mix of larger larvae",
    source="home_garden_pick",
    read="read",
    independent=False,
)
def test_one_pass_by_hand():
    box = Box(WHITE, unharmed(), plants=10)
    for stage, number in zip(list(Stage)[2:6], (10, 25, 30, 35), strict=True):
        box.put(stage, number)
    taken = box.insects.pick_by_hand(0, 0, find_table(load_parameters()), 0.0, 1.0)
    assert 0.60 <= taken / 100.0 <= 0.90


@check(
    "picking every third day leaves fewer larvae than doing nothing",
    source="wisconsin_veg204",
    read="read",
    independent=True,
)
def test_hand_picking_cuts_larvae():
    picked = seasons(load_scenario("leaf_bed"), "hand_picking", SEEDS)
    for species in (WHITE, LOOPER):
        bare = mean_on_plants(leaf_bed(), species, "young", "05-01", "08-31")
        assert mean_on_plants(picked, species, "young", "05-01", "08-31") < 0.6 * bare


@check(
    "weekly sprays cut caterpillars in the bed, and none of the eggs that fly in from outside",
    source="none",
    read="common practice, no source",
    independent=True,
)
def test_sprays_kill_larvae_not_comers():
    sprayed = seasons(load_scenario("leaf_bed"), "spray_weekly", SEEDS)
    bare = leaf_bed()
    assert mean_on_plants(sprayed, WHITE, "young", "05-01", "08-31") < 0.6 * mean_on_plants(
        bare, WHITE, "young", "05-01", "08-31"
    )
    eggs = [sum(entered(season, WHITE, Stage.EGG) for season in plan) for plan in (bare, sprayed)]
    assert eggs[1] == pytest.approx(eggs[0], rel=0.15)
    assert sum(count(season, WHITE, word(Fate.SPRAYED)) for season in sprayed) > 0.2 * eggs[1]
