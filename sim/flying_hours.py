"""When bees fly: how much of a cucumber flower's morning each kind of bee uses on a day of given weather."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sim.compiled import rule
from sim.weather.warmth import air_c

BEE = np.dtype(
    [
        ("lowest_flight_c", "f8"),
        ("flowers_per_minute", "f8"),
        ("bees_at_most", "f8"),
        ("strip_gain", "f8"),
        ("hedgerow_gain", "f8"),
    ],
    align=True,
)
"""What one kind of bee is like; each field is a row of ``pollinators.toml``."""

HOURS = np.dtype(
    [
        ("full_flight_above_lowest_c", "f8"),
        ("hot_from_c", "f8"),
        ("too_hot_c", "f8"),
        ("window_start_hour", "f8"),
        ("window_hours", "f8"),
        ("rain_some_mm", "f8"),
        ("rain_much_mm", "f8"),
        ("rain_some_share", "f8"),
        ("rain_much_share", "f8"),
    ],
    align=True,
)
"""When bees fly."""

HOURS_PER_DAY = 24.0


@rule
def flies_at(here_c: float, lowest_c: float, full_c: float, hot_from_c: float, too_hot_c: float) -> float:
    """Return the share of bees out at this temperature: 0, rising to 1, level, falling to 0."""
    rise = (here_c - lowest_c) / (full_c - lowest_c)
    fall = (too_hot_c - here_c) / (too_hot_c - hot_from_c)
    return max(0.0, min(1.0, min(rise, fall)))


@rule
def flying_share(bee: Any, hours: Any, peak_lag_h: float, today: Any) -> float:
    """Return the share of the flowering window that this kind of bee uses today, 0 to 1."""
    sunrise_h = (HOURS_PER_DAY - today.day_length_h) / 2.0
    total = 0.0
    steps = math.ceil(hours.window_hours)
    width = hours.window_hours / steps
    for step in range(steps):
        hour = hours.window_start_hour + (step + 1.0 / 2.0) * width
        warmth_c = air_c(today.tmin_c, today.tmax_c, today.day_length_h, max(0.0, hour - sunrise_h), peak_lag_h)
        full_c = bee.lowest_flight_c + hours.full_flight_above_lowest_c
        total += flies_at(warmth_c, bee.lowest_flight_c, full_c, hours.hot_from_c, hours.too_hot_c)
    share = total / steps
    if today.rain_mm > hours.rain_much_mm:
        return float(share * hours.rain_much_share)
    if today.rain_mm >= hours.rain_some_mm:
        return float(share * hours.rain_some_share)
    return float(share)
