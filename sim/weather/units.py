"""The units of a weather file: declared, named by the file, or refused where in doubt.

Takes    the days in the file's own units and what the reader was told.
Keeps    nothing.
Changes  the readings, into °C, mm and MJ/m².
"""

from __future__ import annotations

import math

from sim.errors import Sentence, WeatherError, tell
from sim.parameters import Parameters
from sim.weather.reading import Found, Reading

TEMPERATURE_UNITS = {"c": "°C", "f": "°F", "tenths_c": "tenths of °C"}
RAIN_UNITS = {"mm": "mm", "inch": "inches", "tenths_mm": "tenths of mm"}
_TENTHS = 10.0
_MM_PER_INCH = 25.4
_FREEZING_F, _F_PER_C = 32.0, 1.8


def _to_c(value: float, unit: str) -> float:
    if unit == "f":
        return (value - _FREEZING_F) / _F_PER_C
    return value / _TENTHS if unit == "tenths_c" else value


def _to_mm(value: float, unit: str) -> float:
    if unit == "inch":
        return value * _MM_PER_INCH
    return value / _TENTHS if unit == "tenths_mm" else value


def _settle(option: str, declared: str | None, named: str | None, known: dict[str, str]) -> str | None:
    """Return the unit declared or named by the file, None where both are silent."""
    word = declared.strip().lower() if declared is not None else None
    if word is not None and word not in known:
        raise WeatherError(
            tell(
                "{option} is '{declared}'; {known} are allowed.",
                option=option,
                declared=declared,
                known=", ".join(known),
            )
        )
    if word and named and word != named:
        raise WeatherError(
            tell("{option} says {said}, but the file is in {unit}.", option=option, said=known[word], unit=known[named])
        )
    return word or named


def _doubt_temperature(found: Found, parameters: Parameters) -> Sentence | None:
    """Return why a silent file may not be in °C, or None."""
    hottest = parameters.number("weather.reader.tmax_c")
    warm_night = parameters.number("weather.reader.warm_night_c")
    for reading in found.readings:
        if reading.tmax > hottest:
            return tell(
                "line {line} has tmax {tmax:g}, above {most:g} °C", line=reading.line, tmax=reading.tmax, most=hottest
            )
        if reading.tmin > warm_night:
            return tell(
                "line {line} has tmin {tmin:g}, above {most:g} °C",
                line=reading.line,
                tmin=reading.tmin,
                most=warm_night,
            )
    values = [reading.tmax for reading in found.readings if not math.isnan(reading.tmax)]
    if found.is_ordered_by_form and values and all(value.is_integer() for value in values):
        return tell("all temperatures are whole numbers, as °F and tenths of °C are in this shape of file")
    return None


def _doubt_rain(found: Found, temperature_unit: str, parameters: Parameters) -> Sentence | None:
    """Return why a silent file may not be in mm, or None."""
    if temperature_unit != "c":
        return tell("the temperatures are in {unit}", unit=TEMPERATURE_UNITS[temperature_unit])
    wet = [reading.rain for reading in found.readings if reading.rain > 0]
    least, most = parameters.numbers("weather.reader.mean_wet_day_mm")
    if len(wet) < parameters.number("weather.reader.wet_days_to_judge"):
        return None
    mean = sum(wet) / len(wet)
    if least <= mean <= most:
        return None
    return tell(
        "a wet day has {mean:.3g} on average, {least:g} to {most:g} mm is usual", mean=mean, least=least, most=most
    )


def settle_units(
    found: Found, temperature_unit: str | None, rain_unit: str | None, parameters: Parameters
) -> tuple[str, str, tuple[Sentence, ...]]:
    """Return the units of temperature and rain, and a note where silence was taken for °C or mm.

    Raises
    ------
    WeatherError
        If a declared unit is unknown or contradicts the file, or a silent file leaves doubt.
    """
    temperature = _settle("temperature_unit", temperature_unit, found.temperature_unit, TEMPERATURE_UNITS)
    rain = _settle("rain_unit", rain_unit, found.rain_unit, RAIN_UNITS)
    silent = []
    if temperature is None:
        doubt = tell("the rain is in inches") if rain == "inch" else _doubt_temperature(found, parameters)
        if doubt:
            raise WeatherError(
                tell(
                    "{doubt}, so the temperatures may be in °F or tenths of °C; say which with temperature_unit "
                    "({known}).",
                    doubt=doubt,
                    known=", ".join(TEMPERATURE_UNITS),
                )
            )
        temperature = "c"
        silent.append(tell("The file names no unit of temperature, so it was read as °C."))
    if rain is None:
        doubt = _doubt_rain(found, temperature, parameters)
        if doubt:
            raise WeatherError(
                tell(
                    "{doubt}, so the rain may be in inches or tenths of mm; say which with rain_unit ({known}).",
                    doubt=doubt,
                    known=", ".join(RAIN_UNITS),
                )
            )
        rain = "mm"
        silent.append(tell("The file names no unit of rain, so it was read as mm."))
    return temperature, rain, tuple(silent)


def convert(readings: list[Reading], temperature_unit: str, rain_unit: str, parameters: Parameters) -> None:
    """Turn the readings into °C and mm, and refuse what no station has ever measured.

    Raises
    ------
    WeatherError
        If a value is beyond the world's extremes, or a night is warmer than its day.
    """
    coldest, hottest = parameters.number("weather.reader.tmin_c"), parameters.number("weather.reader.tmax_c")
    most_mm = parameters.number("weather.reader.rain_mm")
    for reading in readings:
        for name in ("tmin", "tmax"):
            value = _to_c(getattr(reading, name), temperature_unit)
            if value < coldest or value > hottest:
                raise WeatherError(
                    tell(
                        "line {line}: {name} is {value:g} °C; {coldest:g} to {hottest:g} °C is allowed.",
                        line=reading.line,
                        name=name,
                        value=value,
                        coldest=coldest,
                        hottest=hottest,
                    )
                )
            setattr(reading, name, value)
        reading.rain = _to_mm(reading.rain, rain_unit)
        if reading.rain < 0 or reading.rain > most_mm:
            raise WeatherError(
                tell(
                    "line {line}: rain is {rain:g} mm; 0 to {most_mm:g} mm is allowed.",
                    line=reading.line,
                    rain=reading.rain,
                    most_mm=most_mm,
                )
            )
        if reading.tmin > reading.tmax:
            raise WeatherError(
                tell(
                    "line {line}: tmin {tmin:g} °C is above tmax {tmax:g} °C; it may be equal at most.",
                    line=reading.line,
                    tmin=reading.tmin,
                    tmax=reading.tmax,
                )
            )
