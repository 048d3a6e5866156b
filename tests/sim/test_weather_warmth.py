import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sim.weather.warmth import air_c, degree_days

celsius = st.floats(-20.0, 45.0)


def ordered(pair):
    return min(pair), max(pair)


ranges = st.tuples(celsius, celsius).map(ordered)


@given(ranges, st.floats(-5.0, 20.0), st.floats(0.5, 30.0))
@example(day=(0.8, 9.0), base_c=5.926480214288548e-17, band_c=0.8)  # a threshold the least bit above the coldest
def test_degree_days_equal_the_mean_over_a_sine(day, base_c, band_c):
    tmin_c, tmax_c = day
    upper_c = base_c + band_c
    hours = (np.arange(20_000) + 0.5) / 20_000
    air = (tmin_c + tmax_c) / 2 + (tmax_c - tmin_c) / 2 * np.sin(2 * np.pi * hours)
    integral = np.clip(air, base_c, upper_c).mean() - base_c
    assert degree_days(tmin_c, tmax_c, base_c, upper_c) == pytest.approx(integral, abs=1e-4)


@given(celsius, st.floats(0.0, 25.0), st.floats(-20.0, 10.0))
def test_a_day_wholly_above_the_base_is_its_mean(tmin_c, range_c, base_c):
    tmin_c = max(tmin_c, base_c)
    expected = tmin_c + range_c / 2 - base_c
    assert degree_days(tmin_c, tmin_c + range_c, base_c, math.inf) == pytest.approx(expected, abs=1e-9)


@given(ranges, st.floats(0.0, 10.0), st.floats(0.0, 20.0))
def test_a_warmer_day_never_has_fewer_degree_days(day, warmer_c, base_c):
    tmin_c, tmax_c = day
    cool = degree_days(tmin_c, tmax_c, base_c, 30.0)
    assert degree_days(tmin_c + warmer_c, tmax_c + warmer_c, base_c, 30.0) >= cool - 1e-9


def test_a_day_of_one_temperature_counts_fully_or_not_at_all():
    assert degree_days(12.0, 12.0, 10.0, 30.0) == 2.0
    assert degree_days(10.0, 10.0, 10.0, 30.0) == 0.0
    assert degree_days(35.0, 35.0, 10.0, 30.0) == 20.0


def test_air_is_warmest_the_lag_after_noon():
    assert air_c(10.0, 20.0, 12.0, 0.0, 2.0) == 10.0
    assert air_c(10.0, 20.0, 12.0, 8.0, 2.0) == pytest.approx(20.0)
