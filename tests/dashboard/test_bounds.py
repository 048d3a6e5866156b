"""Intervals are shown where their measures can lie, and no narrower."""

from math import inf, isnan, nan

import pytest

from dashboard.bounds import bounds_of, shown_interval
from sim.measures import MEASURES


@pytest.mark.parametrize(
    ("measure", "mean", "ends", "shown"),
    [
        ("cabbage_white_eggs_count", 1361.0, (-636.0, 3358.0), (0.0, 3358.0)),
        ("marketable_share", 0.95, (0.88, 1.02), (0.88, 1.0)),
        ("marketable_potential_share", 0.99, (0.9, 1.08), (0.9, 1.08)),  # more than without pests can happen
        ("marketable_kg", 5.0, (4.0, 6.0), (4.0, 6.0)),
        ("not_a_measure", -1.0, (-2.0, 3.0), (-2.0, 3.0)),
    ],
)
def test_an_interval_ends_where_its_measure_ends(measure, mean, ends, shown):
    assert shown_interval(measure, mean, *ends) == shown


def test_a_mean_stays_inside_and_no_number_stays_none():
    assert shown_interval("marketable_share", 1.2, 1.1, 1.3) == (1.1, 1.2)
    assert all(isnan(end) for end in shown_interval("marketable_kg", 5.0, nan, nan))


def test_only_shares_of_a_whole_have_an_upper_end():
    ended = {name for name in MEASURES if bounds_of(name)[1] < inf}
    assert "fruit_set_share" in ended
    assert all(MEASURES[name].unit == "share" for name in ended)
    assert all(bounds_of(name)[0] == 0 for name in MEASURES)
