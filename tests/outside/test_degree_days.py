"""Degree-days by single sine against published tables."""

import math

import pytest

from sim.weather.warmth import degree_days
from tests.outside.register import check


def single_sine_f(tmin_f, tmax_f, base_f, upper_f):
    """Degree-days in °F·d: the formula knows no unit."""
    return degree_days(float(tmin_f), float(tmax_f), base_f, upper_f)


@check("a cool day that crosses the base of 12", source="trenchr", read="read", independent=True)
def test_day_that_crosses_the_base():
    assert degree_days(7.0, 14.0, 12.0, 33.0) == pytest.approx(0.47, abs=0.005)


@check(
    "table 7: days within, above or below the thresholds",
    source="zalom1983",
    read="read: second hand",
    independent=True,
)
@pytest.mark.parametrize(
    ("tmin_f", "tmax_f", "expected"),
    [(60, 80, 15.00), (75, 88, 26.50), (45, 54, 0.0), (96, 110, 35.00)],
)
def test_days_on_one_side_of_thresholds(tmin_f, tmax_f, expected):
    assert single_sine_f(tmin_f, tmax_f, 55.0, 90.0) == pytest.approx(expected, abs=0.01)


@check("table 7: days that cross the lower threshold", source="zalom1983", read="read: second hand", independent=True)
@pytest.mark.parametrize(("tmin_f", "tmax_f", "expected"), [(50, 82, 11.85), (45, 70, 5.31)])
def test_days_that_cross_the_lower_threshold(tmin_f, tmax_f, expected):
    assert single_sine_f(tmin_f, tmax_f, 55.0, 90.0) == pytest.approx(expected, abs=0.01)


@check("table 7: days that cross the upper threshold", source="zalom1983", read="read: second hand", independent=True)
@pytest.mark.parametrize(("tmin_f", "tmax_f", "expected"), [(60, 100, 22.82), (75, 95, 28.91)])
def test_days_that_cross_the_upper_threshold(tmin_f, tmax_f, expected):
    assert single_sine_f(tmin_f, tmax_f, 55.0, 90.0) == pytest.approx(expected, abs=0.01)


@check("table 7: days that cross both thresholds", source="zalom1983", read="read: second hand", independent=True)
@pytest.mark.parametrize(("tmin_f", "tmax_f", "expected"), [(50, 101, 18.95), (48, 95, 16.96)])
def test_days_that_cross_both_thresholds(tmin_f, tmax_f, expected):
    assert single_sine_f(tmin_f, tmax_f, 55.0, 90.0) == pytest.approx(expected, abs=0.01)


@check("six winter days at a station", source="esparto2020", read="read", independent=True)
@pytest.mark.parametrize(
    ("tmin_f", "tmax_f", "expected"),
    [(36, 67, 3.31), (33, 59, 0.68), (37, 59, 0.74), (38, 63, 1.99), (36, 58, 0.48), (38, 55, 0.00)],
)
def test_six_winter_days(tmin_f, tmax_f, expected):
    assert single_sine_f(tmin_f, tmax_f, 55.0, 93.9) == pytest.approx(expected, abs=0.01)


CLIPPED_MEAN = {(20, 10): 15, (10, 1): 5.5, (8, -2): 3, (6, 0): 3, (10, 5): 7.5, (5, -5): 0, (-2, -7): 0}
CLIPPED_MEAN |= {(-5, -10): 0, (10, -2): 4, (15, 2): 8.5}
CLIPPED_ENDS = CLIPPED_MEAN | {(8, -2): 4, (5, -5): 2.5, (10, -2): 5}
"""Table 1: growing degree-days of (max, min) at base 0 by the two readings of the averaging method."""


@check(
    "table 1: sine equals both readings of averaging where they agree",
    source="mcmaster1997",
    read="read: second hand",
    independent=True,
)
def test_sine_equals_averages_where_both_readings_agree():
    agreed = [pair for pair in CLIPPED_MEAN if CLIPPED_MEAN[pair] == CLIPPED_ENDS[pair]]
    assert len(agreed) == 7
    for tmax_c, tmin_c in agreed:
        assert degree_days(float(tmin_c), float(tmax_c), 0.0, math.inf) == pytest.approx(CLIPPED_MEAN[tmax_c, tmin_c])


@check(
    "table 1: sine lies between the two readings where they differ",
    source="mcmaster1997",
    read="read: second hand",
    independent=True,
)
def test_sine_lies_between_the_readings_where_they_differ():
    differing = [pair for pair in CLIPPED_MEAN if CLIPPED_MEAN[pair] != CLIPPED_ENDS[pair]]
    assert len(differing) == 3
    for tmax_c, tmin_c in differing:
        warmth = degree_days(float(tmin_c), float(tmax_c), 0.0, math.inf)
        assert CLIPPED_MEAN[tmax_c, tmin_c] < warmth < CLIPPED_ENDS[tmax_c, tmin_c]


@check("a base at the day's mean gives half-swing over pi", source="baskerville1969", read="derived", independent=True)
def test_base_at_the_mean():
    assert degree_days(5.0, 15.0, 10.0, math.inf) == pytest.approx(1.5915, abs=0.0005)
