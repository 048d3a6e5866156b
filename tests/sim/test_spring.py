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
