"""Drawing from the same keys, the plain twin and the engine live identical seasons, insect by insect."""

import numpy as np
import pytest

from sim.cast import Entry, Fate, Species, Stage
from sim.garden import Garden
from tests.benchmarks.twin.garden import TwinGarden, live_season, two_beds

SEEDS = (1, 2, 3)
PLANS = ("nothing", "net", "spray", "by_hand")
COUNTS = ("entries", "exits", "reached", "turned_away", "stung")
AMOUNTS = ("eaten_cm2", "exits_mg")
NEVER_HERE = {Fate.TILLED_IN, Fate.WINTER, Fate.ALIVE}  # neither species lives in soil; no winter is passed
CROWDED = {"rows_of_plants": 1, "arrivals": 60.0, "wild_host_plants": 0}


def both(plan, seed, **garden):
    scenario = two_beds(**garden)
    return live_season(Garden, scenario, plan, seed), live_season(TwinGarden, scenario, plan, seed)


def assert_identical(engine, twin):
    assert type(twin.insects) is not type(engine.insects)
    for name in COUNTS:
        np.testing.assert_array_equal(getattr(twin.insects, name), getattr(engine.insects, name), name)
    np.testing.assert_array_equal(twin.insects.still_alive(), engine.insects.still_alive())
    for name in AMOUNTS:
        np.testing.assert_allclose(getattr(twin.insects, name), getattr(engine.insects, name), rtol=1e-9, err_msg=name)
    np.testing.assert_allclose(twin.chronicle.rows, engine.chronicle.rows, rtol=1e-9, atol=1e-9)
    for name in engine.plants.flows.dtype.names:
        np.testing.assert_allclose(twin.plants.flows[name], engine.plants.flows[name], rtol=1e-9, err_msg=name)
    assert not twin.insects.balance().any()


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("plan", PLANS)
def test_the_same_keys_give_identical_fates(plan, seed):
    engine, twin = both(plan, seed)
    assert engine.insects.entries[Entry.BORN].sum() > 100
    assert_identical(engine, twin)


def test_the_same_keys_give_identical_fates_where_leaf_runs_short():
    engine, twin = both("nothing", 1, **CROWDED)
    assert engine.insects.exits[..., Fate.STARVED].sum() > 100
    assert_identical(engine, twin)


def test_the_seasons_compared_hold_every_fate_and_every_rule():
    seasons = [live_season(TwinGarden, two_beds(), plan, seed).insects for plan in PLANS for seed in SEEDS]
    crowded = live_season(TwinGarden, two_beds(**CROWDED), "nothing", 1).insects
    exits = sum(one.exits for one in [*seasons, crowded])
    missing = {fate for fate in Fate if not exits[..., fate].any()} - NEVER_HERE
    assert not missing
    assert exits[:, :, Species.PARASITOID_WASP, Stage.ADULT, Fate.SPRAYED].any()
    assert exits[:, Entry.OVERWINTERED].any()
    assert sum(one.turned_away.sum() for one in seasons) > 0
    assert sum(one.stung for one in seasons) > 0
