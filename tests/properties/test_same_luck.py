"""The same garden with the same luck is the same season, to the last bit, whoever runs it."""

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim import compare, run_season
from sim.cast import PLANT_EATERS, Entry
from sim.workers import here, processes
from tests.strategies import bed, garden, gardens, live, open_garden

few = settings(max_examples=15, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
seeds = st.integers(0, 10_000)


def bytes_of(lived):
    insects = lived.insects
    return (
        lived.chronicle.rows.tobytes(),
        insects.records[: insects.count].tobytes(),
        insects.exits.tobytes(),
        lived.plants.plants.tobytes(),
    )


@few
@given(scenario=gardens(), seed=seeds)
def test_one_seed_gives_one_season(scenario, seed):
    assert bytes_of(live(scenario, "tried", seed)) == bytes_of(live(scenario, "tried", seed))


@few
@given(scenario=gardens(), seed=seeds)
def test_what_stood_in_memory_before_makes_no_difference(scenario, seed):
    """Room for insects is taken as it comes: whoever enters is written whole, wasps and winterers, too."""
    littered = open_garden(scenario, "tried", seed)
    insects = littered.insects
    for room in (insects.records[insects.count :], insects._clutches, insects._clutch_order, insects._lists):
        room.view(np.uint8).fill(0xFF)
    for _ in littered.dates:
        littered.step()
    assert bytes_of(littered) == bytes_of(live(scenario, "tried", seed))


@few
@given(scenario=gardens(), seed=seeds)
def test_plans_that_differ_only_in_name_give_one_season(scenario, seed):
    again = scenario.plan("tried").model_copy(update={"name": "by_another_name", "title": "The same by another name"})
    both = scenario.model_copy(update={"plans": (*scenario.plans, again)})
    both = type(scenario).model_validate(both.model_dump())
    assert bytes_of(live(both, "tried", seed)) == bytes_of(live(both, "by_another_name", seed))


@few
@given(scenario=gardens(), seed=seeds)
def test_every_plan_meets_the_same_weather(scenario, seed):
    one, other = live(scenario, "nothing", seed), live(scenario, "tried", seed)
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        assert one.chronicle.column(name).tobytes() == other.chronicle.column(name).tobytes()


@few
@given(scenario=gardens(), seed=seeds)
def test_every_plan_meets_the_same_pests(scenario, seed):
    bare = garden(
        *[one.model_dump() | {"transplant_eggs_per_plant": 0.0} for one in scenario.beds],
        plans={"tried": [action.model_dump() for action in scenario.plan("tried").actions]},
        season=scenario.season.model_dump(),
        pests=scenario.pests.model_dump(),
    )
    one, other = live(bare, "nothing", seed), live(bare, "tried", seed)
    for entry in (Entry.ARRIVED, Entry.OVERWINTERED):
        for eater in PLANT_EATERS:  # wasps may be drawn by flowers that a plan puts in
            assert one.insects.entries[entry, eater] == other.insects.entries[entry, eater]


def test_another_seed_gives_another_season():
    scenario = garden()
    assert bytes_of(live(scenario, seed=1)) != bytes_of(live(scenario, seed=2))


def test_a_season_run_after_others_is_the_same_as_one_run_first():
    scenario = garden(bed(), bed("cucumber"), plans={"spray": [{"do": "spray", "product": "bt", "every_days": 7}]})
    first = run_season(scenario, "spray", 3)
    run_season(scenario, "nothing", 4)
    assert run_season(scenario, "spray", 3).daily.equals(first.daily)
    assert run_season(scenario, "spray", 3).summary == first.summary


def test_any_number_of_workers_gives_the_same_numbers():
    scenario = garden(plans={"net": [{"do": "cover", "days_after_planting": 0}]})
    alone = compare(scenario, seasons=3, executor=here())
    together = compare(scenario, seasons=3, executor=processes(2))
    assert alone.table.equals(together.table)
    assert alone.paired.equals(together.paired)
