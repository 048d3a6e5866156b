"""Weather from a file: a plain table, or one of the three shapes of a public archive, known by the first line.

Takes    a path, the place, and units where the file is silent.
Keeps    nothing.
Changes  nothing.
"""

from __future__ import annotations

from os import PathLike
from pathlib import Path

import numpy as np

from sim.errors import WeatherError, in_words, tell, tell_many, why_of
from sim.parameters import Parameters, load_parameters
from sim.weather.daylight import clear_sky_mj_m2, extraterrestrial_mj_m2
from sim.weather.days import Weather, check_place, days_of_year, weather_from
from sim.weather.gaps import Columns, check_order, without_gaps
from sim.weather.reading import Found
from sim.weather.stations import is_long, is_monthly, read_long, read_monthly
from sim.weather.tables import is_table, read_table
from sim.weather.units import convert, settle_units

LARGEST_FILE_MB = 64
_BYTES_PER_MB = 1 << 20
_PACKED_FILES = {
    b"PK\x03\x04": tell("a spreadsheet or a packed archive; save it as CSV"),
    b"\x1f\x8b": tell("packed; unpack it first"),
    b"%PDF": tell("a PDF; save it as CSV"),
    b"\xd0\xcf\x11\xe0": tell("an old spreadsheet; save it as CSV"),
}
_UTF_16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def text_of(raw: bytes) -> str:
    """Return the text of a file in UTF-8 (with or without Excel's mark), marked UTF-16, or Western European bytes.

    Raises
    ------
    WeatherError
        If the file is empty, packed or no text.
    """
    for start, words in _PACKED_FILES.items():
        if raw.startswith(start):
            raise WeatherError(tell("the file is {words}.", words=words))
    encoding = "utf-16" if raw.startswith(_UTF_16_MARKS) else "utf-8-sig"
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        text = raw.decode("latin-1")
    if "\0" in text:
        raise WeatherError(
            tell("the file is no plain text in UTF-8, marked UTF-16 or Latin-1; save it as CSV in UTF-8.")
        )
    if not text.strip():
        raise WeatherError(tell("the file is empty."))
    return text


def _found(text: str) -> Found:
    lines = text.splitlines()
    skipped = 0
    while not lines[skipped].strip() or lines[skipped].startswith(("#", "sep=")):
        skipped += 1
        if skipped == len(lines):
            raise WeatherError(tell("the file holds remarks but no days."))
    first, rest = lines[skipped], lines[skipped:]
    if is_long(first):
        return read_long(rest, skipped)
    if is_monthly(first):
        return read_monthly(rest, skipped)
    if is_table(first):
        return read_table(rest, skipped)
    raise WeatherError(
        tell(
            "line {line}: '{first}' is no known header; a table begins with one such as 'date,tmin_c,tmax_c,rain_mm'.",
            line=skipped + 1,
            first=first[:60],
        )
    )


def _check_radiation(columns: Columns, latitude_deg: float, elevation_m: float, parameters: Parameters) -> None:
    days = days_of_year(columns.first, len(columns.tmin_c))
    clear = clear_sky_mj_m2(extraterrestrial_mj_m2(days, latitude_deg), elevation_m)
    brightest = parameters.number("weather.radiation.brightest_share")
    for place in np.flatnonzero((columns.radiation_mj_m2 > brightest * clear) | (columns.radiation_mj_m2 < 0)):
        raise WeatherError(
            tell(
                "line {line}: radiation is {radiation:g}; a clear sky gives {clear:.3g} MJ/m² a day there.",
                line=columns.lines[place],
                radiation=columns.radiation_mj_m2[place],
                clear=clear[place],
            )
        )


def _read(
    path: Path,
    latitude_deg: float,
    elevation_m: float,
    temperature_unit: str | None,
    rain_unit: str | None,
    parameters: Parameters,
) -> Weather:
    found = _found(text_of(path.read_bytes()))
    if not found.readings:
        raise WeatherError(tell("the file has a header but no days."))
    check_order(found.readings)
    temperature, rain, silence = settle_units(found, temperature_unit, rain_unit, parameters)
    convert(found.readings, temperature, rain, parameters)
    columns = without_gaps(found.readings, int(parameters.number("weather.reader.longest_gap_days")))
    _check_radiation(columns, latitude_deg, elevation_m, parameters)
    flagged = (
        (
            tell_many(
                "1 value marked as doubtful by the archive was dropped.",
                "{count} values marked as doubtful by the archive were dropped.",
                count=found.flagged_count,
            ),
        )
        if found.flagged_count
        else ()
    )
    return weather_from(
        columns.first,
        columns.tmin_c,
        columns.tmax_c,
        columns.rain_mm,
        columns.radiation_mj_m2,
        latitude_deg=latitude_deg,
        elevation_m=elevation_m,
        wet_from_mm=parameters.number("weather.rain.wet_from_mm"),
        range_factor=parameters.number("weather.radiation.range_factor"),
        origin=f"read from the file '{in_words(path.name)}' ({found.shape})",
        notes=(*silence, *flagged, *columns.notes),
    )


def read_weather(
    path: str | PathLike[str],
    *,
    latitude_deg: float,
    elevation_m: float = 0.0,
    temperature_unit: str | None = None,
    rain_unit: str | None = None,
    parameters: Parameters | None = None,
) -> Weather:
    """Return the days of a weather file.

    Parameters
    ----------
    path
        A table with columns for date, tmin, tmax and rain (radiation in MJ/m² if known), or a file of the public
        archive GHCN-Daily: one value a line, "daily summaries", or one month a line.
    latitude_deg, elevation_m
        Where the weather was measured.
    temperature_unit
        ``c``, ``f`` or ``tenths_c`` where the file names none.
    rain_unit
        ``mm``, ``inch`` or ``tenths_mm`` where the file names none.
    parameters
        The table of numbers; the shipped one where not given.

    Raises
    ------
    WeatherError
        If the file cannot be used as it stands: one sentence with its name, the line, what was found, what is allowed.
    """
    file = Path(path)
    table = load_parameters() if parameters is None else parameters
    check_place(latitude_deg, elevation_m, table)
    try:
        if file.stat().st_size > LARGEST_FILE_MB * _BYTES_PER_MB:
            raise WeatherError(
                tell("the file is larger than {most} MB; keep the lines of one station.", most=LARGEST_FILE_MB)
            )
        return _read(file, latitude_deg, elevation_m, temperature_unit, rain_unit, table)
    except OSError as error:
        raise WeatherError(
            tell("The weather file '{file}' cannot be read: {why}.", file=in_words(file.name), why=why_of(error))
        ) from None
    except WeatherError as error:
        name = in_words(file.name)
        raise WeatherError(tell("The weather file '{name}' cannot be used: {why}", name=name, why=error)) from None
