"""Behind each number stand single insects: a trace adds up to what the season reports; looking on changes nothing."""

from datetime import date

import numpy as np
import pytest

from dashboard.boards.follow_board import by_kind, by_week, example_sentence, examples_of, rows_of
from dashboard.seasons.ends import GREW_UP, GROUPS, by_group, group_mask, kinds, mean_ends
from dashboard.seasons.tracing import EXAMPLES_OF_EACH, Example, live_traced, traced_wishes
from dashboard.seasons.wishes import live, wishes
from sim.cast import Fate, Species, Stage
from sim.scenario import load_scenario


@pytest.fixture(scope="module")
def garden():
    return load_scenario("leaf_bed")


@pytest.fixture(scope="module")
def traced(garden):
    return live_traced(garden, "spray_weekly", 1)


def test_a_traced_season_is_the_same_season(garden, traced):
    plain = live(garden, "spray_weekly", 1)
    assert plain.summary == traced.summary
    assert np.array_equal(plain.ends, traced.ends)


def test_every_number_on_the_screen_is_the_sum_of_those_behind_it(traced):
    for kind in kinds().values():
        groups = by_group(mean_ends([traced], kind))
        for group, count in groups.items():
            rows = rows_of(traced, kind, group)
            assert rows[:, 4].sum() == count
            assert sum(by_week(rows).values()) == count
            assert sum(row[-1] for row in by_kind(rows)) == count


def test_groups_share_no_fate_and_leave_none_out():
    masks = np.array([group_mask(group) for group in (*GROUPS, GREW_UP)])
    assert (masks.sum(axis=0) == 1).all()


def test_examples_are_some_of_those_who_ended_so(traced):
    sprayed = examples_of(traced, None, "killed by a spray")
    assert sprayed
    assert {one.fate for one in sprayed} == {Fate.SPRAYED}
    assert [one.day for one in sprayed] == sorted(one.day for one in sprayed)
    per_kind = {}
    for one in traced.examples:
        per_kind[one.species, one.fate] = per_kind.get((one.species, one.fate), 0) + 1
    assert max(per_kind.values()) <= EXAMPLES_OF_EACH
    assert {one.bed for one in sprayed} <= {bed.name for bed in load_scenario("leaf_bed").single_beds}


def test_an_example_is_told_in_a_sentence():
    one = Example(7, Species.CABBAGE_WHITE, Stage.INSTAR_4, Fate.SPRAYED, 40, "autumn_kale", 53.2, 0)
    said = example_sentence(one, date(2025, 3, 1))
    assert said == "April 10, autumn kale: a cabbage white, young, stage 4, 53 mg: sprayed."
    mother = Example(7, Species.CABBAGE_WHITE, Stage.ADULT, Fate.OLD_AGE, 40, "kale", 70.0, 120)
    assert example_sentence(mother, date(2025, 3, 1)).endswith("She had laid 120 eggs.")


def test_a_trace_is_another_thing_to_remember_than_the_season(garden):
    trace = traced_wishes(garden, ["net"], 3)["net"][0]
    assert trace.key != wishes(garden, ["net"], [3])[0].key
    assert trace.task is live_traced
