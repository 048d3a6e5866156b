"""Sun and sky: day length, the radiation above the air and what of it reaches the ground.

Takes    day of the year, latitude, elevation, temperature range or hours of sunshine.
Keeps    nothing.
Changes  nothing.

Formulas of FAO Irrigation and Drainage Paper 56 (source key ``fao56``); the numbers inside them are the paper's. Each
function takes single numbers or arrays that broadcast together and returns floats of that shape.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sim.compiled import Floats

_SOLAR_CONSTANT_MJ_M2_MINUTE = 0.0820
_MINUTES_PER_DAY = 24 * 60


def _year_angle(day_of_year: ArrayLike) -> Floats:
    return 2.0 * np.pi * np.asarray(day_of_year, dtype=np.float64) / 365.0


def relative_distance(day_of_year: ArrayLike) -> Floats:
    """Return the inverse relative distance from Earth to Sun [1], FAO-56 eq. 23; ``day_of_year`` from 1 to 366."""
    return np.asarray(1.0 + 0.033 * np.cos(_year_angle(day_of_year)))


def declination_rad(day_of_year: ArrayLike) -> Floats:
    """Return the Sun's declination [rad], FAO-56 eq. 24; ``day_of_year`` from 1 to 366."""
    return np.asarray(0.409 * np.sin(_year_angle(day_of_year) - 1.39))


def sunset_angle_rad(day_of_year: ArrayLike, latitude_deg: ArrayLike) -> Floats:
    """Return the hour angle of sunset [rad], 0 in polar night to π in polar day, FAO-56 eq. 25.

    Parameters
    ----------
    day_of_year
        Day of the year, 1 to 366.
    latitude_deg
        Latitude [°], -90 to 90, north positive.
    """
    latitude_rad = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    cosine = -np.tan(latitude_rad) * np.tan(declination_rad(day_of_year))
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)))


def day_length_h(day_of_year: ArrayLike, latitude_deg: ArrayLike) -> Floats:
    """Return the hours between sunrise and sunset [h], 0 to 24, FAO-56 eq. 34; arguments as in ``sunset_angle_rad``."""
    return np.asarray(24.0 * sunset_angle_rad(day_of_year, latitude_deg) / np.pi)


def extraterrestrial_mj_m2(day_of_year: ArrayLike, latitude_deg: ArrayLike) -> Floats:
    """Return the day's radiation above the air on a level surface [MJ/m²], FAO-56 eq. 21.

    Parameters
    ----------
    day_of_year
        Day of the year, 1 to 366.
    latitude_deg
        Latitude [°], -90 to 90, north positive.
    """
    latitude_rad = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    declination = declination_rad(day_of_year)
    sunset = sunset_angle_rad(day_of_year, latitude_deg)
    height = sunset * np.sin(latitude_rad) * np.sin(declination)
    height = height + np.cos(latitude_rad) * np.cos(declination) * np.sin(sunset)
    whole_day = _MINUTES_PER_DAY / np.pi * _SOLAR_CONSTANT_MJ_M2_MINUTE * relative_distance(day_of_year)
    return np.asarray(np.maximum(whole_day * height, 0.0))


def clear_sky_mj_m2(extraterrestrial_mj_m2: ArrayLike, elevation_m: ArrayLike) -> Floats:
    """Return the day's radiation under a clear sky [MJ/m²], FAO-56 eq. 37.

    Parameters
    ----------
    extraterrestrial_mj_m2
        Radiation above the air [MJ/m²].
    elevation_m
        Height above the sea [m].
    """
    return np.asarray((0.75 + 2e-5 * np.asarray(elevation_m)) * np.asarray(extraterrestrial_mj_m2))


def temperature_radiation_mj_m2(
    extraterrestrial_mj_m2: ArrayLike, tmin_c: ArrayLike, tmax_c: ArrayLike, range_factor: float
) -> Floats:
    """Return the day's radiation from the temperature range [MJ/m²], the formula of Hargreaves, FAO-56 eq. 50.

    Parameters
    ----------
    extraterrestrial_mj_m2
        Radiation above the air [MJ/m²].
    tmin_c, tmax_c
        Lowest and highest air temperature of the day [°C].
    range_factor
        Adjustment coefficient k_Rs [°C^-0.5], about 0.16 inland and 0.19 on a coast.
    """
    spread_c = np.maximum(np.asarray(tmax_c, dtype=np.float64) - np.asarray(tmin_c, dtype=np.float64), 0.0)
    return np.asarray(range_factor * np.sqrt(spread_c) * np.asarray(extraterrestrial_mj_m2))
