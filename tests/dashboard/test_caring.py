"""A class's own weights: unset they say nothing, set they put plans in order, and one answer may turn it."""

from dataclasses import replace

import numpy as np
import pytest

from dashboard.charts.caring_picture import caring_scene, draw
from dashboard.lesson.caring import firsts, points_of, turn_sentence, turns, ways_of
from sim.comparison import Comparison
from tests.dashboard.invented import TITLES

MEASURES = ("marketable_kg", "bird_food_reachable_g", "cost_usd", "flower_visits_count")


def seasons_of(means, spread=0.1):
    """Return twenty seasons whose means by plan and measure are these; a little luck, the same for all plans."""
    luck = np.random.default_rng(1).normal(0, spread, size=(1, 20, 1))
    values = np.repeat(np.array(means, dtype=float)[:, None, :], 20, axis=1) + luck
    return Comparison(tuple(TITLES), tuple(range(1, 21)), MEASURES, values)


PLAIN = seasons_of([[10, 9, 0, 5], [20, 5, 50, 5], [14, 4, 30, 5]])


def test_nothing_is_said_before_the_class_has_spoken():
    ways = ways_of(PLAIN, MEASURES)
    assert points_of(ways, {}) == {}
    assert points_of(ways, {"marketable_kg": 0}) == {}
    assert turns(ways, {}) == []


def test_one_wish_puts_its_own_best_plan_first_and_less_money_is_better():
    ways = ways_of(PLAIN, MEASURES)
    assert list(points_of(ways, {"marketable_kg": 3})) == ["net", "spray_weekly", "nothing"]
    assert list(points_of(ways, {"cost_usd": 1})) == ["nothing", "spray_weekly", "net"]
    assert points_of(ways, {"marketable_kg": 1})["spray_weekly"] == pytest.approx(0.4)


def test_what_is_level_or_too_close_to_call_counts_for_nothing():
    ways = {way.measure: way for way in ways_of(PLAIN, MEASURES)}
    assert ways["flower_visits_count"].is_open
    assert points_of(list(ways.values()), {"flower_visits_count": 3}) == {}
    values = PLAIN.values.copy()
    values[:, :, 0] = np.random.default_rng(2).normal(10, 3, size=values.shape[:2])
    muddled = {way.measure: way for way in ways_of(replace(PLAIN, values=values), MEASURES)}
    assert muddled["marketable_kg"].is_open
    assert not muddled["cost_usd"].is_open


def test_what_one_plan_has_no_number_in_is_not_weighed():
    values = PLAIN.values.copy()
    values[0, :, 0] = np.nan  # as the share of eggs where none was laid
    values[1, 3, 2] = np.nan  # one season without is no matter
    assert [way.measure for way in ways_of(replace(PLAIN, values=values), MEASURES)] == list(MEASURES[1:])


@pytest.mark.statistical
@pytest.mark.parametrize("plans", [3, 10])
def test_plans_that_are_alike_seldom_have_a_best_and_a_worst(plans):
    """They are picked for lying farthest apart: held to the limit of one pair, ten of them do so one time in three."""
    chance = np.random.default_rng(8)
    names = tuple(f"plan_{number}" for number in range(plans))
    called = [
        not ways_of(Comparison(names, tuple(range(20)), MEASURES[:1], one[:, :, None]), MEASURES[:1])[0].is_open
        for one in chance.normal(10, 3, size=(1000, plans, 20))
    ]
    assert np.mean(called) <= 1 / 20


def test_the_answer_that_turns_the_order_is_found_and_said():
    ways = ways_of(PLAIN, MEASURES)
    cares = {"marketable_kg": 2, "bird_food_reachable_g": 1}
    found = {turn.measure: turn for turn in turns(ways, cares)}
    for turn in found.values():
        assert next(iter(points_of(ways, {**cares, turn.measure: turn.then}))) in turn.first
    assert found["bird_food_reachable_g"].then == 3
    said = turn_sentence(found["bird_food_reachable_g"], "Bird food", TITLES)
    assert said.startswith("Care 'Most of all' instead of 'A little' for 'Bird food', and first is: ")
    assert turns(ways, {"marketable_kg": 1}) != []


def test_of_two_answers_as_near_that_turn_the_order_the_one_that_cares_less_is_told():
    """Harvest and money weigh alike: 'Net it' and 'Do nothing' are both first, and either way one of them is alone."""
    ways = ways_of(PLAIN, MEASURES)
    found = {turn.measure: turn for turn in turns(ways, {"marketable_kg": 1, "cost_usd": 1})}
    assert (found["marketable_kg"].then, found["marketable_kg"].first) == (0, ("nothing",))
    assert (found["cost_usd"].then, found["cost_usd"].first) == (0, ("net",))


def test_picture_words_and_table_say_who_is_first_for_each_answer():
    ways = ways_of(PLAIN, MEASURES)
    cares = {"marketable_kg": 3}
    scene = caring_scene(ways, cares, TITLES)
    assert len(scene.frame) == 3 * 4 - 1  # with nothing cared for at all, nobody is first
    assert scene.frame["is_now"].sum() == 3
    whose = firsts(ways, cares)
    assert whose["marketable_kg", 3] == ("net",)
    assert "Net it (your answer)" in scene.table.iloc[0].tolist()
    assert "Harvest fit to sell" in scene.alt
    assert draw(scene).to_dict()["layer"]
