"""Weather as the garden meets it: one record a day, in the open.

Takes    temperatures, rain and, if known, radiation of days in a row.
Keeps    a ``TODAY`` record a day, with the place and where the days come from.
Changes  nothing once made.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from sim.compiled import Floats, Records, records
from sim.errors import Sentence, WeatherError, tell
from sim.parameters import Parameters
from sim.surroundings import TODAY
from sim.weather.daylight import (
    clear_sky_mj_m2,
    day_length_h,
    extraterrestrial_mj_m2,
    temperature_radiation_mj_m2,
)


@dataclass(frozen=True, eq=False)
class Weather:
    """Days in a row at one place.

    Attributes
    ----------
    days
        ``TODAY`` records, shape (D,), with ``day`` counted from 0.
    first_date
        Date of the first day.
    latitude_deg, elevation_m
        The place: latitude [°], north positive, and height above the sea [m].
    origin
        Where the days come from, in words.
    notes
        What was done to them, such as days that were filled; a sentence each.
    """

    days: Records
    first_date: date
    latitude_deg: float
    elevation_m: float
    origin: str
    notes: tuple[Sentence, ...] = ()

    def __len__(self) -> int:
        return len(self.days)

    @property
    def last_date(self) -> date:
        """Date of the last day."""
        return self.first_date + timedelta(days=len(self.days) - 1)

    def window(self, first: date, last: date) -> Weather:
        """Return the days from first to last, both included, counted from 0 again.

        Raises
        ------
        WeatherError
            If the window is empty or reaches outside these days.
        """
        if last < first:
            raise WeatherError(
                tell("The weather asked for ends on {last}, before it starts on {first}.", last=last, first=first)
            )
        if first < self.first_date or last > self.last_date:
            raise WeatherError(
                tell(
                    "The weather ({origin}) runs from {first_date} to {last_date}; {first} to {last} was asked for; "
                    "the year stands in the garden's 'season.calendar_year'.",
                    origin=self.origin,
                    first_date=self.first_date,
                    last_date=self.last_date,
                    first=first,
                    last=last,
                )
            )
        start = (first - self.first_date).days
        chosen = self.days[start : start + (last - first).days + 1]
        days = records(np.zeros(len(chosen), TODAY))  # not a copy: the bytes between fields must be the same, too
        days[:] = chosen
        days["day"] = np.arange(len(days))
        return replace(self, days=days, first_date=first)


def days_of_year(first: date, count: int) -> Records:
    """Return the day of the year, 1 to 366, of days in a row, shape (count,)."""
    dates = np.datetime64(first, "D") + np.arange(count)
    return np.asarray((dates - dates.astype("M8[Y]").astype("M8[D]")).astype(np.int64) + 1)


def check_place(latitude_deg: float, elevation_m: float, parameters: Parameters) -> None:
    """Refuse a place that is not on the ground of this Earth.

    Raises
    ------
    WeatherError
        If the latitude or the elevation is outside its range, or is no number.
    """
    if not -90 <= latitude_deg <= 90:
        raise WeatherError(
            tell("The latitude is {latitude!r} degrees; -90 (south) to 90 (north) is allowed.", latitude=latitude_deg)
        )
    place = parameters["weather.place.elevation_m"]
    for low, _, high in place.bounds():
        if not low <= elevation_m <= high:
            raise WeatherError(
                tell(
                    "The elevation is {elevation!r} m; {low:g} to {high:g} m is allowed.",
                    elevation=elevation_m,
                    low=low,
                    high=high,
                )
            )


def weather_from(
    first: date,
    tmin_c: Floats,
    tmax_c: Floats,
    rain_mm: Floats,
    radiation_mj_m2: Floats | None,
    *,
    latitude_deg: float,
    elevation_m: float,
    wet_from_mm: float,
    range_factor: float,
    origin: str,
    notes: tuple[Sentence, ...] = (),
) -> Weather:
    """Return weather from columns of days in a row, with day length and radiation worked out.

    Parameters
    ----------
    first
        Date of the first day.
    tmin_c, tmax_c, rain_mm
        Lowest and highest temperature [°C] and rain [mm] of each day, shape (D,).
    radiation_mj_m2
        Global radiation of each day [MJ/m²], shape (D,), not a number where unknown; or None. What is unknown is
        estimated from the temperature range (``fao56`` eq. 50) and never above a clear sky.
    latitude_deg, elevation_m
        The place.
    wet_from_mm
        Rain from which a day counts as wet [mm].
    range_factor
        Coefficient of the radiation estimate, see ``temperature_radiation_mj_m2``.
    origin, notes
        Words on where the days come from and what was done to them.
    """
    days = records(np.zeros(len(tmin_c), TODAY))
    day_of_year = days_of_year(first, len(days))
    above_air = extraterrestrial_mj_m2(day_of_year, latitude_deg)
    clear = clear_sky_mj_m2(above_air, elevation_m)
    estimate = np.minimum(temperature_radiation_mj_m2(above_air, tmin_c, tmax_c, range_factor), clear)
    radiation = estimate if radiation_mj_m2 is None else np.where(np.isnan(radiation_mj_m2), estimate, radiation_mj_m2)
    days["day"] = np.arange(len(days))
    days["day_of_year"] = day_of_year
    days["tmin_c"] = tmin_c
    days["tmax_c"] = tmax_c
    days["rain_mm"] = rain_mm
    days["radiation_mj_m2"] = radiation
    days["day_length_h"] = day_length_h(day_of_year, latitude_deg)
    days["clear_share"] = clear_share(radiation, clear)
    days["is_wet"] = rain_mm >= wet_from_mm
    return Weather(days, first, float(latitude_deg), float(elevation_m), origin, notes)


def clear_share(radiation_mj_m2: Floats, clear_mj_m2: Floats) -> Floats:
    """Return radiation as a share of that under a clear sky, 0 to 1; 0 in polar night."""
    shares = np.zeros(np.shape(radiation_mj_m2))
    np.divide(radiation_mj_m2, clear_mj_m2, out=shares, where=clear_mj_m2 > 0)
    return np.asarray(np.clip(shares, 0.0, 1.0))
