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
    height = (threshold_c - mean_c) / swing_c  # a threshold a last digit off an end may round to beyond it
    crossing = math.asin(min(1.0, max(-1.0, height)))
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
