from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from sim.uncertainty import (
    POWER,
    SIGNIFICANCE,
    Score,
    estimate,
    held_against,
    more_seasons_needed,
    score,
    sign_test,
)


def test_sign_test_is_the_exact_binomial_test():
    for ahead in range(0, 31):
        for behind in range(0, 31):
            if ahead + behind:
                reference = stats.binomtest(ahead, ahead + behind, 0.5).pvalue
                assert sign_test(ahead, behind) == pytest.approx(reference, abs=1e-12)
    assert sign_test(0, 0) == 1


@pytest.mark.parametrize(
    ("ahead", "behind", "verdict"),
    [
        (5, 0, "too close to call"),  # 1 in 16
        (6, 0, "ahead"),  # 1 in 32
        (0, 6, "behind"),
        (14, 6, "too close to call"),
        (15, 5, "ahead"),
        (5, 15, "behind"),
        (0, 0, "too close to call"),
    ],
)
def test_rule_for_too_close_to_call(ahead, behind, verdict):
    assert Score(ahead, 0, behind).verdict == verdict


def test_level_seasons_are_left_out_of_the_rule():
    assert Score(6, 14, 0).verdict == "ahead"
    assert Score(5, 15, 0).verdict == "too close to call"
    assert Score(0, 20, 0).verdict == "level"
    assert Score(6, 14, 0).share_ahead == 0.3


@given(st.integers(0, 40), st.integers(0, 20), st.integers(0, 40))
def test_the_rule_has_no_favourite(ahead, level, behind):
    one, other = Score(ahead, level, behind), Score(behind, level, ahead)
    assert one.is_too_close_to_call == other.is_too_close_to_call
    assert one.more_seasons_needed == other.more_seasons_needed


def test_rule_calls_a_winner_among_equals_at_most_one_time_in_twenty():
    chances = np.random.default_rng(3)
    ahead = chances.binomial(20, 0.5, size=4000)
    called = np.mean([not Score(int(n), 0, 20 - int(n)).is_too_close_to_call for n in ahead])
    assert 0.02 < called <= SIGNIFICANCE


def test_seasons_still_needed():
    assert more_seasons_needed(Score(6, 0, 0)) == 0
    assert more_seasons_needed(Score(10, 0, 10)) is None
    assert more_seasons_needed(Score(0, 20, 0)) is None
    assert more_seasons_needed(Score(0, 0, 0)) is None
    assert more_seasons_needed(Score(5, 0, 0)) == 3  # eight decided seasons in all
    assert more_seasons_needed(Score(5, 5, 0)) == 6  # sixteen, of which half are decided
    assert more_seasons_needed(Score(11, 0, 9)) > more_seasons_needed(Score(13, 0, 7)) > 0


@pytest.mark.statistical
def test_that_many_seasons_do_settle_it_as_often_as_promised():
    chances = np.random.default_rng(5)
    for ahead, behind in [(13, 7), (12, 8), (9, 4)]:
        start = Score(ahead, 0, behind)
        whole = start.seasons + start.more_seasons_needed
        later = chances.binomial(whole, ahead / start.seasons, size=2000)
        settled = np.mean([not Score(int(n), 0, whole - int(n)).is_too_close_to_call for n in later])
        assert settled == pytest.approx(POWER, abs=0.08)


def test_estimate_is_students_interval():
    values = [3.0, 5.0, 4.5, 6.0]
    found = estimate(values)
    low, high = stats.t.interval(0.95, 3, loc=np.mean(values), scale=stats.sem(values))
    assert (found.low, found.high) == pytest.approx((low, high))
    assert found.spread == pytest.approx(np.std(values, ddof=1))


def test_one_season_has_no_interval():
    found = estimate([4.0])
    assert found.mean == 4.0
    assert math.isnan(found.low)
    assert math.isnan(found.spread)
    assert math.isnan(estimate([]).mean)


@pytest.mark.statistical
def test_intervals_cover_the_truth_as_often_as_they_say():
    chances = np.random.default_rng(11)
    samples = chances.normal(7, 3, size=(2000, 12))
    inside = [found.low <= 7 <= found.high for found in map(estimate, samples)]
    # 4 standard errors of a share of 0.95 in 2000
    assert np.mean(inside) == pytest.approx(0.95, abs=0.02)


def test_score_follows_what_is_better():
    ups = np.array([1.0, 2.0, -1.0, 0.0])
    sizes = np.ones(4) * 5
    assert score(ups, sizes, "more") == Score(2, 1, 1)
    assert score(ups, sizes, "neither") == Score(2, 1, 1)
    assert score(ups, sizes, "less") == Score(1, 1, 2)


def test_rounding_is_no_lead():
    assert score(np.array([1e-13, -1e-13, 0.0]), np.array([5.0, 5.0, 0.0]), "more") == Score(0, 3, 0)
    assert score(np.array([1e-13]), np.array([2e-13]), "more") == Score(1, 0, 0)


@given(st.lists(st.floats(0.1, 1e6), min_size=1, max_size=20), st.sampled_from([1.0, -1.0]))
def test_results_apart_by_rounding_alone_are_level_above_and_below_zero(sizes, sign):
    results = sign * np.array(sizes)
    assert held_against(results * (1 + 1e-13), results, "more")[1] == Score(0, len(sizes), 0)
    assert held_against(results * (1 + 1e-6), results, "more")[1].level == 0


def test_seasons_without_a_value_are_left_out():
    difference, tally = held_against(np.array([2.0, np.nan, 4.0]), np.array([1.0, 1.0, np.nan]), "more")
    assert difference.mean == 1.0
    assert tally == Score(1, 0, 0)
