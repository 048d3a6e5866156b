"""How early spring is: the season's own spring, whatever else a file of weather holds."""

from datetime import date

import numpy as np
import pytest

from sim.compiled import records
from sim.parameters import load_parameters
from sim.spring import spring_shift_days
from sim.surroundings import TODAY
from sim.weather.days import Weather

P = load_parameters()
REFERENCE_C = P.number("habitat.spring_reference_c")


def days_of(*means_c):
    """Return whole years of weather from 2025 on, each as warm as its mean all the time."""
    days = records(np.zeros(365 * len(means_c), TODAY))
    for extreme in ("tmin_c", "tmax_c"):
        days[extreme] = np.repeat(means_c, 365)
    return Weather(days=days, first_date=date(2025, 1, 1), latitude_deg=40.0, elevation_m=0.0, origin="made by hand")


def test_each_year_of_a_file_has_its_own_spring():
    weather = days_of(REFERENCE_C + 2.0, REFERENCE_C - 3.0)
    per_c = P.number("habitat.spring_days_per_c")
    assert spring_shift_days(weather, 2025, P) == pytest.approx(2.0 * per_c)
    assert spring_shift_days(weather, 2026, P) == pytest.approx(-3.0 * per_c)


def test_a_year_that_the_weather_does_not_hold_shifts_nothing():
    assert spring_shift_days(days_of(REFERENCE_C + 2.0), 2027, P) == 0.0


def test_spring_is_the_first_of_march_to_the_thirtieth_of_april_and_no_day_more():
    """61 days; so one that is 61 degrees warmer than usual makes their mean a degree warmer."""
    per_c = P.number("habitat.spring_days_per_c")
    for of_the_year, expected in ((59, 0.0), (60, per_c), (120, per_c), (121, 0.0)):  # 28 February to 1 May
        weather = days_of(REFERENCE_C)
        for extreme in ("tmin_c", "tmax_c"):
            weather.days[extreme][of_the_year - 1] += 61.0
        assert spring_shift_days(weather, 2025, P) == pytest.approx(expected, abs=1e-9)


def test_weather_that_begins_in_april_has_what_it_holds_of_spring():
    whole = days_of(REFERENCE_C)
    for extreme in ("tmin_c", "tmax_c"):
        whole.days[extreme][90:120] += 2.0  # April
    from_april = whole.window(date(2025, 4, 1), date(2025, 12, 31))
    assert spring_shift_days(from_april, 2025, P) == pytest.approx(2.0 * P.number("habitat.spring_days_per_c"))
