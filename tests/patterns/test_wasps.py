"""Larvae with wasps inside are counted where they stand, before anybody else takes them."""

import math

from sim import run_season
from sim.cast import Fate
from sim.chronicle import LARVAL
from sim.patterns.lives import WHITE, open_kale_place
from sim.patterns.wasps import Collector, stung_range, with_wasps_inside

SEED = 1


def test_a_collector_finds_more_larvae_with_wasps_inside_than_the_wasps_kill():
    collector = Collector()
    insects = run_season(open_kale_place(), "nothing", SEED, collector).garden.insects
    killed = insects.exits[0, :, WHITE, LARVAL, Fate.PARASITISED].sum()
    assert killed > 0
    assert collector.with_wasps / collector.larvae > killed / insects.reached[0, WHITE, LARVAL.start]
    assert with_wasps_inside((SEED,)) == collector.with_wasps / collector.larvae


def test_a_collector_finds_none_where_no_wasp_comes():
    collector = Collector()
    run_season(open_kale_place().with_changes({"enemies.parasitoid_wasps": 0.0}), "nothing", SEED, collector)
    assert collector.larvae > 0
    assert collector.with_wasps == 0


def test_fewer_than_five_seasons_still_have_a_best_and_a_worst():
    assert stung_range((SEED,)) == 0.0
    assert 0.0 < stung_range((SEED, SEED + 1)) < 1.0
    assert math.isfinite(stung_range(range(1, 7)))
