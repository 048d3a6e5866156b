"""Weather drawn from a climate: like the record in its months, unlike it day by day.

Takes    a climate, dates, a seed; how much warmer and wetter than the record.
Keeps    nothing: a day depends on climate, settings, seed and date only, whatever period is asked for.
Changes  nothing.

The form is that of Richardson and Wright (``richardson1984``). Rain follows a chain of wet and dry days with gamma
amounts. Highest and lowest temperature and radiation depart from the day's usual values, those of a wet or a dry day,
by standardised residuals that carry over from day to day and move together.
"""

from __future__ import annotations

import math
from calendar import isleap
from datetime import date
from functools import lru_cache

import numpy as np

from sim.compiled import Floats, Records, loop, records, rule
from sim.errors import WeatherError, tell
from sim.parameters import Parameters, load_parameters
from sim.randomness import chance, normal, stream_key
from sim.weather.climate import Climate
from sim.weather.days import Weather, weather_from
from sim.weather.usual import usual_days

SPIN_UP_DAYS = 60
"""Days drawn and dropped before each 1 January: the chain forgets its start, so that years join without a seam."""

# Questions put to chance; an amount may ask several times, each try with its own number.
_IS_WET, _TMAX, _TMIN, _SUN, _SMALL_SHAPE = range(5)
_AMOUNT_TRY = 100
_ACCEPT_TRY = 200

DRAWN = np.dtype(
    [("tmin_c", "f8"), ("tmax_c", "f8"), ("rain_mm", "f8"), ("radiation_mj_m2", "f8")],
    align=True,
)


@rule
def gamma_amount(shape: float, key: np.uint64, day: int) -> float:
    """Return a gamma number of this shape and scale 1 (``marsaglia2000``)."""
    boost = 1.0
    if shape < 1.0:
        boost = (1.0 - chance(key, day, _SMALL_SHAPE)) ** (1.0 / shape)
        shape += 1.0
    d = shape - 1.0 / 3.0
    c = 1.0 / math.sqrt(9.0 * d)
    for attempt in range(_ACCEPT_TRY - _AMOUNT_TRY):
        x = normal(key, day, _AMOUNT_TRY + attempt)
        v = (1.0 + c * x) ** 3
        u = 1.0 - chance(key, day, _ACCEPT_TRY + attempt)
        if v > 0.0 and math.log(u) < x * x / 2.0 + d * (1.0 - v + math.log(v)):
            return boost * d * v
    return boost * d


@loop
def draw_days(
    days: Records,
    usual: Records,
    keys: Records,
    numbers: Records,
    carry_over: Floats,
    shock: Floats,
    least_range_c: float,
    wet_from_mm: float,
) -> None:
    """Fill ``DRAWN`` records, one after the other, from ``USUAL`` ones; keys and day numbers name each day's chance."""
    is_wet = chance(keys[0], numbers[0] - 1, _IS_WET) < usual[0].wet_share
    tmax = tmin = sun = 0.0
    for i in range(len(days)):
        key, day, norm, drawn = keys[i], numbers[i], usual[i], days[i]
        is_wet = chance(key, day, _IS_WET) < (norm.wet_after_wet_share if is_wet else norm.wet_after_dry_share)
        e1, e2, e3 = normal(key, day, _TMAX), normal(key, day, _TMIN), normal(key, day, _SUN)
        tmax, tmin, sun = (
            carry_over[0] * tmax + carry_over[1] * tmin + carry_over[2] * sun + shock[0] * e1,
            carry_over[3] * tmax + carry_over[4] * tmin + carry_over[5] * sun + shock[3] * e1 + shock[4] * e2,
            carry_over[6] * tmax
            + carry_over[7] * tmin
            + carry_over[8] * sun
            + shock[6] * e1
            + shock[7] * e2
            + shock[8] * e3,
        )
        drawn.tmin_c = norm.tmin_c + norm.tmin_sd_c * tmin
        if is_wet:
            drawn.rain_mm = max(norm.gamma_scale_mm * gamma_amount(norm.gamma_shape, key, day), wet_from_mm)
            drawn.tmax_c = norm.tmax_wet_c + norm.tmax_wet_sd_c * tmax
            radiation_mj_m2 = norm.radiation_wet_mj_m2 + norm.radiation_wet_sd_mj_m2 * sun
        else:
            drawn.rain_mm = 0.0
            drawn.tmax_c = norm.tmax_dry_c + norm.tmax_dry_sd_c * tmax
            radiation_mj_m2 = norm.radiation_dry_mj_m2 + norm.radiation_dry_sd_mj_m2 * sun
        if drawn.tmax_c - drawn.tmin_c < least_range_c:  # part them about their middle, so that neither mean drifts
            middle_c = (drawn.tmin_c + drawn.tmax_c) / 2.0
            drawn.tmin_c = middle_c - least_range_c / 2.0
            drawn.tmax_c = middle_c + least_range_c / 2.0
        drawn.radiation_mj_m2 = min(max(radiation_mj_m2, norm.darkest_mj_m2), norm.clear_mj_m2)


@lru_cache(maxsize=64)
def _usual_year(
    climate: Climate, days_in_year: int, warmer_c: float, wetter: float, wettest_share: float, darkest_share: float
) -> Records:
    return usual_days(
        climate,
        days_in_year,
        warmer_c=warmer_c,
        wetter=wetter,
        wettest_share=wettest_share,
        darkest_share=darkest_share,
    )


def _draw_year(
    climate: Climate, year: int, seed: int, warmer_c: float, wetter: float, parameters: Parameters
) -> Records:
    """Return ``DRAWN`` records of a calendar year, after a spin-up through the last days of the year before."""
    shares = parameters.number("weather.generator.wettest_share"), parameters.number("weather.radiation.darkest_share")
    lengths = [366 if isleap(one) else 365 for one in (year - 1, year)]
    before, now = (_usual_year(climate, length, warmer_c, wetter, *shares) for length in lengths)
    usual = records(np.concatenate([before[-SPIN_UP_DAYS:], now]))
    numbers = np.concatenate([np.arange(lengths[0] - SPIN_UP_DAYS, lengths[0]), np.arange(lengths[1])])
    keys = np.full(len(usual), stream_key(seed, "weather", year))
    keys[:SPIN_UP_DAYS] = stream_key(seed, "weather", year - 1)
    days = records(np.zeros(len(usual), DRAWN))
    draw_days(
        days,
        usual,
        keys,
        numbers,
        parameters.numbers("weather.residuals.carry_over"),
        parameters.numbers("weather.residuals.shock"),
        parameters.number("weather.generator.least_range_c"),
        climate.wet_from_mm,
    )
    return days[SPIN_UP_DAYS:]


def _check_setting(name: str, value: float, parameters: Parameters) -> None:
    for low, _, high in parameters[f"weather.generator.{name}"].bounds():
        if not low <= value <= high:
            raise WeatherError(
                tell(
                    "The setting {name} is {value!r}; {low:g} to {high:g} is allowed.",
                    name=name,
                    value=value,
                    low=low,
                    high=high,
                )
            )


def _words(climate: Climate, warmer_c: float, wetter: float) -> str:
    changes = [f"{abs(warmer_c):g} °C {'warmer' if warmer_c > 0 else 'colder'}"] if warmer_c else []
    changes += [f"{wetter:g} times the rain"] if wetter != 1 else []
    return f"drawn from the climate '{climate.title}' ({climate.data_from})" + "".join(f", {part}" for part in changes)


def generate_weather(
    climate: Climate,
    first: date,
    last: date,
    seed: int,
    *,
    warmer_c: float = 0.0,
    wetter: float = 1.0,
    parameters: Parameters | None = None,
) -> Weather:
    """Return drawn weather for the days from first to last, both included.

    Parameters
    ----------
    climate
        One of ``load_climates()``.
    first, last
        Dates; any period, also of several years.
    seed
        Which weather. The same climate, settings, seed and date give the same day in every period.
    warmer_c
        Added to all temperatures [°C].
    wetter
        Times the climate's rain: the square root of it in wet days, the rest in the rain of each.
    parameters
        The table of numbers; the shipped one where not given.

    Raises
    ------
    WeatherError
        If the period is empty or a setting is outside its range.
    """
    if last < first:
        raise WeatherError(
            tell("The weather asked for ends on {last}, before it starts on {first}.", last=last, first=first)
        )
    table = load_parameters() if parameters is None else parameters
    _check_setting("warmer_c", warmer_c, table)
    _check_setting("wetter", wetter, table)
    years = [
        _draw_year(climate, year, seed, float(warmer_c), float(wetter), table)
        for year in range(first.year, last.year + 1)
    ]
    start = (first - date(first.year, 1, 1)).days
    drawn = np.concatenate(years)[start : start + (last - first).days + 1]
    return weather_from(
        first,
        drawn["tmin_c"],
        drawn["tmax_c"],
        drawn["rain_mm"],
        drawn["radiation_mj_m2"],
        latitude_deg=climate.latitude_deg,
        elevation_m=climate.elevation_m,
        wet_from_mm=climate.wet_from_mm,
        range_factor=table.number("weather.radiation.range_factor"),
        origin=_words(climate, warmer_c, wetter),
    )
