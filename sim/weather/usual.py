"""What a day is usually like at its time of year: months turned into days without losing a month's mean.

Takes    a climate, how much warmer and wetter it shall be, limits of the sky.
Keeps    one ``USUAL`` record a day of the year.
Changes  nothing.

Temperatures and radiation run in straight lines between mid-months, with corners such that the mean over each month's
days is the month's figure. The record's standard deviations hold the drift of the season within a month; it is taken
out, since the lines bring it back. Spreads and rain keep their month's figures all month long.
"""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import Floats, Ints, Records, records
from sim.weather.climate import DAYS_OF_MONTH, Climate, Month
from sim.weather.daylight import clear_sky_mj_m2, extraterrestrial_mj_m2

MEANS = ("tmax_dry_c", "tmax_wet_c", "tmin_c", "radiation_dry_mj_m2", "radiation_wet_mj_m2")
SPREADS = ("tmax_dry_sd_c", "tmax_wet_sd_c", "tmin_sd_c", "radiation_dry_sd_mj_m2", "radiation_wet_sd_mj_m2")
WARMED = ("tmax_dry_c", "tmax_wet_c", "tmin_c")
BY_MONTH = ("wet_share", "wet_after_dry_share", "wet_after_wet_share", "gamma_shape", "gamma_scale_mm")

USUAL = np.dtype(
    [(name, "f8") for name in (*MEANS, *SPREADS, *BY_MONTH, "clear_mj_m2", "darkest_mj_m2")],
    align=True,
)
"""One record a day of the year: means, standard deviations (sd), chances of rain, limits of radiation."""

_MONTHS = len(DAYS_OF_MONTH)


def months_of(days_in_year: int) -> Ints:
    """Return the month, 0 to 11, of each day of a year of 365 or 366 days."""
    first = np.datetime64("2023-01-01" if days_in_year == 365 else "2024-01-01")
    return np.asarray((first + np.arange(days_in_year)).astype("M8[M]").astype(np.int64) % _MONTHS)


def _weights(months: Ints) -> Floats:
    """Return the share of each mid-month's corner in each day, shape (days, 12); two shares a day, sum 1."""
    count = len(months)
    middles = np.array([np.flatnonzero(months == month).mean() for month in range(_MONTHS)])
    corners = np.concatenate([[middles[-1] - count], middles, [middles[0] + count]])
    days = np.arange(count, dtype=np.float64)
    after = np.searchsorted(corners, days, side="right")
    share = (days - corners[after - 1]) / (corners[after] - corners[after - 1])
    weights = np.zeros((count, _MONTHS))
    rows = np.arange(count)
    weights[rows, (after - 2) % _MONTHS] += 1.0 - share
    weights[rows, (after - 1) % _MONTHS] += share
    return weights


def _corners(means: Floats, weights: Floats, months: Ints) -> Floats:
    """Return the mid-month corners whose lines have these monthly means, shape as the means (12, fields)."""
    averaging = np.array([weights[months == month].mean(axis=0) for month in range(_MONTHS)])
    return np.asarray(np.linalg.solve(averaging, means))


def _figures(climate: Climate, names: tuple[str, ...]) -> Floats:
    return np.array([[getattr(month, name) for name in names] for month in climate.months])


def rain_of(month: Month, wetter: float, wettest_share: float) -> tuple[float, float, float, float, float]:
    """Return a month's ``BY_MONTH`` figures in a climate with ``wetter`` times the rain.

    The square root of the change goes into the number of wet days, the rest into the rain of each; the chain keeps
    its persistence.
    """
    wet_share = min(month.wet_share * math.sqrt(wetter), max(wettest_share, month.wet_share))
    after_dry = wet_share * (1.0 - month.persistence)
    wet_day_mm = month.rain_mm / month.wet_days
    scale_mm = wet_day_mm / month.gamma_shape * (wetter * month.wet_share / wet_share if wet_share > 0 else 0.0)
    return wet_share, after_dry, after_dry + month.persistence, month.gamma_shape, scale_mm


def usual_days(
    climate: Climate,
    days_in_year: int,
    *,
    warmer_c: float,
    wetter: float,
    wettest_share: float,
    darkest_share: float,
) -> Records:
    """Return a ``USUAL`` record for each day of a year, shape (365,) or (366,).

    Parameters
    ----------
    climate
        Whose months.
    days_in_year
        365 or 366.
    warmer_c
        Added to all temperatures [°C].
    wetter
        Times the climate's rain.
    wettest_share
        Share of wet days [1] that a wetter climate stops at.
    darkest_share
        Least radiation of a day as a share of a clear sky's.
    """
    months = months_of(days_in_year)
    usual = records(np.zeros(days_in_year, USUAL))
    weights = _weights(months)
    means = weights @ _corners(_figures(climate, MEANS), weights, months)
    drift = np.array([means[months == month].var(axis=0) for month in range(_MONTHS)])
    spreads = np.sqrt(np.maximum(_figures(climate, SPREADS) ** 2 - drift, 0.0))
    for column, name in enumerate(MEANS):
        usual[name] = means[:, column] + (warmer_c if name in WARMED else 0.0)
    for column, name in enumerate(SPREADS):
        usual[name] = spreads[months, column]
    rain = np.array([rain_of(month, wetter, wettest_share) for month in climate.months])
    for column, name in enumerate(BY_MONTH):
        usual[name] = rain[months, column]
    above_air = extraterrestrial_mj_m2(np.arange(1, days_in_year + 1), climate.latitude_deg)
    usual["clear_mj_m2"] = clear_sky_mj_m2(above_air, climate.elevation_m)
    usual["darkest_mj_m2"] = darkest_share * usual["clear_mj_m2"]
    return usual
