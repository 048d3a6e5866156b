"""One line of a weather file, and how its words become numbers and dates.

Takes    the words in a file's cells.
Keeps    a ``Reading`` a day, still in the file's own units.
Changes  nothing.

Messages begin with the line; ``read_weather`` puts the file's name before them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sim.errors import WeatherError, tell

MISSING_WORDS = frozenset({"", "na", "nan", "null", "-"})
MISSING_CODE = -9999.0
TRACE = "t"
"""How American gauges write rain too little to measure."""

UNKNOWN = math.nan
_NUMBER = re.compile(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)(e[-+]?[0-9]+)?", re.IGNORECASE)


@dataclass(slots=True)
class Reading:
    """One day as it stands in a file; ``UNKNOWN`` where a value is missing or was flagged."""

    line: int
    date: date
    tmin: float = UNKNOWN
    tmax: float = UNKNOWN
    rain: float = UNKNOWN
    radiation: float = UNKNOWN


@dataclass(frozen=True, slots=True)
class Found:
    """What a file holds before its units are settled.

    Attributes
    ----------
    readings
        The days, rising.
    shape
        The file's shape, in words.
    temperature_unit, rain_unit
        Units that the file or its shape names, or None where it is silent.
    is_ordered_by_form
        Whether the units were chosen by whoever ordered the file, so that silence says nothing.
    flagged_count
        Values left out because the archive had marked them as doubtful.
    """

    readings: list[Reading]
    shape: str
    temperature_unit: str | None
    rain_unit: str | None
    is_ordered_by_form: bool = False
    flagged_count: int = 0


def number_in(text: str, column: str, line: int) -> float:
    """Return the number in a cell, a decimal comma included; ``UNKNOWN`` for a blank.

    Raises
    ------
    WeatherError
        If the cell holds no number, or a comma that may part thousands.
    """
    word = text.strip().replace("\N{MINUS SIGN}", "-")
    if word.lower() in MISSING_WORDS:
        return UNKNOWN
    if re.fullmatch(r"[-+]?\d+,\d{3}", word):
        raise WeatherError(
            tell(
                "line {line}: {column} is '{word}', where the comma may part decimals or thousands.",
                line=line,
                column=column,
                word=word,
            )
        )
    if re.fullmatch(r"[-+]?\d*,\d+", word):
        word = word.replace(",", ".")
    if not _NUMBER.fullmatch(word) or not math.isfinite(value := float(word)):
        raise WeatherError(
            tell(
                "line {line}: {column} is '{text}'; a number or a blank is allowed.",
                line=line,
                column=column,
                text=text.strip()[:40],
            )
        )
    return UNKNOWN if value == MISSING_CODE else value


def _day(year: str, month: str, day: str, text: str, line: int) -> date:
    try:
        return date(int(year), int(month), int(day))
    except ValueError:
        raise WeatherError(
            tell("line {line}: the date '{text}' is not in the calendar.", line=line, text=text)
        ) from None


_MONTHS = 12
_YEAR_FIRST = re.compile(r"(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:[T ].*)?")
_PACKED = re.compile(r"(\d{4})(\d{2})(\d{2})")
_YEAR_LAST = re.compile(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})(?:[T ].*)?")


def packed_date(text: str, line: int) -> date:
    """Return the date in eight digits such as 20240531."""
    match = _PACKED.fullmatch(text.strip())
    if not match:
        raise WeatherError(
            tell("line {line}: the date is '{text}'; eight digits such as 20240531 are allowed.", line=line, text=text)
        )
    return _day(match[1], match[2], match[3], text, line)


def dates_in(cells: Sequence[tuple[int, str]]) -> list[date]:
    """Return the dates in (line, text) cells: year first, or year last if one day above 12 settles the order.

    Raises
    ------
    WeatherError
        If a cell holds no date, or day and month cannot be told apart anywhere in the file.
    """
    last = [match for _, text in cells if (match := _YEAR_LAST.fullmatch(text.strip()))]
    is_day_first = any(int(match[1]) > _MONTHS for match in last)
    is_month_first = any(int(match[2]) > _MONTHS for match in last)
    if last and is_day_first == is_month_first:
        line, text = next((line, text) for line, text in cells if _YEAR_LAST.fullmatch(text.strip()))
        raise WeatherError(
            tell(
                "line {line}: day and month cannot be told apart in '{text}'; write dates as 2024-05-31.",
                line=line,
                text=text,
            )
        )
    return [_date_in(line, text.strip(), is_day_first) for line, text in cells]


def _date_in(line: int, text: str, is_day_first: bool) -> date:
    if match := _YEAR_FIRST.fullmatch(text):
        return _day(match[1], match[3], match[4], text, line)
    if match := _PACKED.fullmatch(text):
        return _day(match[1], match[2], match[3], text, line)
    if match := _YEAR_LAST.fullmatch(text):
        day, month = (match[1], match[2]) if is_day_first else (match[2], match[1])
        return _day(match[3], month, day, text, line)
    raise WeatherError(
        tell("line {line}: the date is '{text}'; dates such as 2024-05-31 are allowed.", line=line, text=text)
    )
