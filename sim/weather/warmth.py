"""Warmth: degree-days of a day, and how much of its light is warm enough.

Takes    lowest and highest temperature of the day, day length, thresholds.
Keeps    nothing.
Changes  nothing.

The day's temperature is taken as a sine wave between its lowest and its highest value (Baskerville and Emin 1969,
source key ``baskerville1969``).
"""

from __future__ import annotations

import math

from sim.compiled import rule


@rule
def degrees_above(tmin_c: float, tmax_c: float, threshold_c: float) -> float:
    """Return the day's mean of degrees above a threshold [°C·d] under a single sine; the threshold may be infinite."""
    mean_c = (tmin_c + tmax_c) / 2.0
    if tmin_c >= threshold_c:
        return mean_c - threshold_c
    if tmax_c <= threshold_c:
        return 0.0
    swing_c = (tmax_c - tmin_c) / 2.0
    crossing = math.asin((threshold_c - mean_c) / swing_c)
    return ((mean_c - threshold_c) * (math.pi / 2.0 - crossing) + swing_c * math.cos(crossing)) / math.pi


@rule
def degree_days(tmin_c: float, tmax_c: float, base_c: float, upper_c: float) -> float:
    """Return the day's degree-days [°C·d] by single sine with a horizontal upper cutoff.

    Parameters
    ----------
    tmin_c, tmax_c
        Lowest and highest temperature of the day [°C], ``tmin_c`` not above ``tmax_c``.
    base_c
        Lower threshold of development [°C].
    upper_c
        Upper threshold [°C]: warmer hours count as this; infinite where there is none.
    """
    return degrees_above(tmin_c, tmax_c, base_c) - degrees_above(tmin_c, tmax_c, upper_c)


@rule
def air_c(tmin_c: float, tmax_c: float, day_length_h: float, hours_after_sunrise: float, peak_lag_h: float) -> float:
    """Return the air temperature at an hour of daylight [°C], lowest at sunrise (``parton1981``).

    Parameters
    ----------
    tmin_c, tmax_c
        Lowest and highest temperature of the day [°C].
    day_length_h
        Hours from sunrise to sunset [h], above 0.
    hours_after_sunrise
        Hour asked for [h], 0 to ``day_length_h``.
    peak_lag_h
        How long after solar noon the air is warmest [h].
    """
    wave = math.sin(math.pi * hours_after_sunrise / (day_length_h + 2.0 * peak_lag_h))
    return tmin_c + (tmax_c - tmin_c) * wave


@rule
def hours_above(
    tmin_c: float, tmax_c: float, day_length_h: float, threshold_c: float, peak_lag_h: float = 0.0
) -> float:
    """Return the hours of daylight with air at or above a threshold [h], 0 to the day length (``parton1981``).

    Hours within a band are the hours above its foot less those above its top.

    Parameters
    ----------
    tmin_c, tmax_c
        Lowest and highest temperature of the day [°C].
    day_length_h
        Hours from sunrise to sunset [h].
    threshold_c
        Temperature to be reached [°C].
    peak_lag_h
        How long after solar noon the air is warmest [h]; 0 for a day that is even about noon.
    """
    if tmin_c >= threshold_c:
        return day_length_h
    if tmax_c <= threshold_c or day_length_h <= 0.0:
        return 0.0
    wave_h = day_length_h + 2.0 * peak_lag_h
    rises_h = wave_h / math.pi * math.asin((threshold_c - tmin_c) / (tmax_c - tmin_c))
    return max(min(wave_h - rises_h, day_length_h) - rises_h, 0.0)
