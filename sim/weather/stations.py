"""Weather archives without a header: one value a line, or one month a line in fixed columns (GHCN-Daily shapes).

Takes    lines of text.
Keeps    the days as ``Found``, in tenths of a degree and of a millimetre as both shapes have them.
Changes  nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from sim.errors import WeatherError, tell, tell_many
from sim.weather.reading import TRACE, Found, Reading, number_in, packed_date

ELEMENTS = {"TMIN": "tmin", "TMAX": "tmax", "PRCP": "rain"}
_LONG = re.compile(r"[A-Za-z0-9_-]{11},\d{8},[A-Z0-9]{4},")
_LONG_HEADER = re.compile(r"id,date,element,", re.IGNORECASE)
_MONTH = re.compile(r"[A-Za-z0-9_-]{11}\d{6}[A-Z0-9]{4}[ \d-]{4}\d")

# Where things stand in a month's line: station, year, month, element, then 31 cells of value and three flags.
_STATION, _YEAR, _MONTH_NUMBER, _ELEMENT = slice(0, 11), slice(11, 15), slice(15, 17), slice(17, 21)
_FIRST_CELL, _CELL_WIDTH, _VALUE_WIDTH, _CELLS = 21, 8, 5, 31

Value = tuple[int, str, date, str, str, str, str]
"""Line, station, date, element, value, measurement flag, quality flag."""


def is_long(first_line: str) -> bool:
    """Return whether a line is one value with its station, date and element."""
    return bool(_LONG.match(first_line) or _LONG_HEADER.match(first_line))


def is_monthly(first_line: str) -> bool:
    """Return whether a line is a month of one element in fixed columns."""
    return bool(_MONTH.match(first_line))


def _long_values(lines: list[str], skipped: int) -> Iterator[Value]:
    for number, text in enumerate(lines, start=skipped + 1):
        if not text.strip() or _LONG_HEADER.match(text):
            continue
        cells = text.split(",")
        if len(cells) < 6:
            raise WeatherError(
                tell_many(
                    "line {number}: one cell found; station, date, element, value and flags are needed.",
                    "line {number}: {count} cells found; station, date, element, value and flags are needed.",
                    number=number,
                    count=len(cells),
                )
            )
        station, day, element, value, measured, quality = (cell.strip() for cell in cells[:6])
        if element in ELEMENTS:
            yield number, station, packed_date(day, number), element, value, measured, quality


def _monthly_values(lines: list[str], skipped: int) -> Iterator[Value]:
    for number, text in enumerate(lines, start=skipped + 1):
        if not text.strip():
            continue
        if not _MONTH.match(text):
            raise WeatherError(
                tell(
                    "line {number}: '{text}' is no month of an element in fixed columns.", number=number, text=text[:25]
                )
            )
        if text[_ELEMENT] not in ELEMENTS:
            continue
        for day in range(1, _CELLS + 1):
            start = _FIRST_CELL + (day - 1) * _CELL_WIDTH
            cell = text[start : start + _CELL_WIDTH].ljust(_CELL_WIDTH)
            value, measured, quality = cell[:_VALUE_WIDTH].strip(), cell[_VALUE_WIDTH], cell[_VALUE_WIDTH + 1]
            if value not in ("", "-9999"):
                when = packed_date(f"{text[_YEAR]}{text[_MONTH_NUMBER]}{day:02d}", number)
                yield number, text[_STATION], when, text[_ELEMENT], value, measured.strip(), quality.strip()


def _gather(values: Iterator[Value], shape: str) -> Found:
    days: dict[date, Reading] = {}
    seen: dict[tuple[date, str], int] = {}
    stations: set[str] = set()
    flagged_count = 0
    for line, station, day, element, value, measured, quality in values:
        stations.add(station)
        if len(stations) > 1:
            raise WeatherError(
                tell("line {line}: a second station ({station}); keep the lines of one.", line=line, station=station)
            )
        if (day, element) in seen:
            raise WeatherError(
                tell(
                    "line {line}: {element} of {day} stands in line {earlier} already.",
                    line=line,
                    element=element,
                    day=day,
                    earlier=seen[day, element],
                )
            )
        seen[day, element] = line
        reading = days.setdefault(day, Reading(line, day))
        if quality:
            flagged_count += 1
            continue
        is_trace = element == "PRCP" and measured.lower() == TRACE
        setattr(reading, ELEMENTS[element], 0.0 if is_trace else number_in(value, element, line))
    absent = [element for element in ELEMENTS if not any(key[1] == element for key in seen)]
    if seen and absent:
        raise WeatherError(
            tell(
                "there is no {absent}; a garden needs all of {needed}.",
                absent=" and no ".join(absent),
                needed=", ".join(ELEMENTS),
            )
        )
    return Found(
        sorted(days.values(), key=lambda reading: reading.date),
        shape=shape,
        temperature_unit="tenths_c",
        rain_unit="tenths_mm",
        flagged_count=flagged_count,
    )


def read_long(lines: list[str], skipped: int) -> Found:
    """Return what an archive with one value a line holds; ``skipped`` lines stand before these.

    Raises
    ------
    WeatherError
        If a line cannot be read, a value stands twice, or there is more than one station.
    """
    return _gather(_long_values(lines, skipped), "one value a line")


def read_monthly(lines: list[str], skipped: int) -> Found:
    """Return what an archive with one month a line holds; ``skipped`` lines stand before these.

    Raises
    ------
    WeatherError
        If a line cannot be read, a value stands twice, or there is more than one station.
    """
    return _gather(_monthly_values(lines, skipped), "one month a line")
