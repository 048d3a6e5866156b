"""How early this year's spring is: leaves, caterpillars of hedge and wood, and nests follow it."""

from __future__ import annotations

from datetime import date

from sim.parameters import Parameters
from sim.weather.days import Weather


def spring_shift_days(weather: Weather, year: int, parameters: Parameters) -> float:
    """Return how many days later (below 0: earlier) than the tables of ``birds.toml`` the spring of a year is.

    Taken from the mean temperature of 1 March to 30 April, as far as the weather holds these days; without
    any of them, no shift.
    """
    first = max(0, (date(year, 3, 1) - weather.first_date).days)
    days = weather.days[first : (date(year, 5, 1) - weather.first_date).days]
    if not len(days):
        return 0.0
    mean_c = float((days["tmin_c"] + days["tmax_c"]).mean()) / 2.0
    reference_c = parameters.number("habitat.spring_reference_c")
    return (mean_c - reference_c) * parameters.number("habitat.spring_days_per_c")
