"""Weather tables with a header: a plain date, tmin, tmax, rain, or the archive's wide "daily summaries".

Takes    lines of text.
Keeps    the days as ``Found``.
Changes  nothing.

The separator is the one that fills the header; columns are known by name, English or Spanish, with or without accents,
and a unit may stand in the name.
"""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterator

from sim.errors import WeatherError, near_names, tell, tell_many
from sim.weather.reading import TRACE, UNKNOWN, Found, Reading, dates_in, number_in

NAMES = {
    "date": ("date", "day", "fecha"),
    "tmin": (
        *("tmin", "temp_min", "min_temp", "temperature_min", "minimum_temperature"),
        *("t_min", "minima", "temp_minima", "temperatura_minima"),
    ),
    "tmax": (
        *("tmax", "temp_max", "max_temp", "temperature_max", "maximum_temperature"),
        *("t_max", "maxima", "temp_maxima", "temperatura_maxima"),
    ),
    "rain": ("rain", "rainfall", "prcp", "precip", "precipitation", "lluvia", "precipitacion"),
    "radiation": ("radiation", "srad", "solar_radiation", "radiacion", "radiacion_solar"),
    "station": ("station",),
}
UNITS = {
    "c": "c",
    "degc": "c",
    "deg_c": "c",
    "celsius": "c",
    "f": "f",
    "degf": "f",
    "deg_f": "f",
    "fahrenheit": "f",
    "mm": "mm",
    "in": "inch",
    "inch": "inch",
    "inches": "inch",
    "pulgadas": "inch",
    "mj_m2": "mj_m2",
    "mj_m_2": "mj_m2",
}
_UNITS_OF = {"tmin": ("c", "f"), "tmax": ("c", "f"), "rain": ("mm", "inch"), "radiation": ("mj_m2",)}
_NEEDED = ("date", "tmin", "tmax", "rain")
_SEPARATORS = (",", ";", "\t")


def _plain(header: str) -> str:
    bare = "".join(sign for sign in unicodedata.normalize("NFD", header.lower()) if not unicodedata.combining(sign))
    return re.sub(r"[^a-z0-9]+", "_", bare).strip("_")


def _meaning(header: str) -> tuple[str, str | None] | None:
    """Return (quantity, unit or None) of a column's name, or None for a column that is not read."""
    for quantity, names in NAMES.items():
        for name in names:
            if header == name:
                return quantity, None
            unit = UNITS.get(header.removeprefix(name + "_")) if header.startswith(name + "_") else None
            if unit in _UNITS_OF.get(quantity, ()):
                return quantity, unit
    return None


def is_table(first_line: str) -> bool:
    """Return whether a line is a header that names a date column."""
    words = re.split(r"[,;\t]", first_line)
    return any((meaning := _meaning(_plain(word))) and meaning[0] == "date" for word in words)


def _columns(header: list[str]) -> tuple[dict[str, int], dict[str, str | None]]:
    places: dict[str, int] = {}
    units: dict[str, str | None] = {}
    for place, word in enumerate(header):
        meaning = _meaning(_plain(word))
        if meaning is None:
            continue
        if meaning[0] in places:
            raise WeatherError(
                tell(
                    "the columns '{first}' and '{word}' both hold {meaning}; keep one.",
                    first=header[places[meaning[0]]].strip(),
                    word=word.strip(),
                    meaning=meaning[0],
                )
            )
        places[meaning[0]], units[meaning[0]] = place, meaning[1]
    for quantity in _NEEDED:
        if quantity not in places:
            near = near_names(NAMES[quantity][0], [word.strip() for word in header])
            raise WeatherError(
                tell(
                    "there is no column for {quantity}; found {known}.{near}",
                    quantity=quantity,
                    known=", ".join(map(str.strip, header)),
                    near=near,
                )
            )
    return places, units


def _rows(lines: list[str], skipped: int, separator: str, width: int) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(lines, delimiter=separator, skipinitialspace=True)
    try:
        next(reader)
        for row in reader:
            line = skipped + reader.line_num
            while len(row) > width and not row[-1].strip():
                row.pop()
            if not any(cell.strip() for cell in row):
                continue
            if len(row) != width:
                hint = tell(" Decimal commas? Save with semicolons between the columns.") if len(row) > width else ""
                raise WeatherError(
                    tell_many(
                        "line {line}: one cell found where the header has {width}.{hint}",
                        "line {line}: {count} cells found where the header has {width}.{hint}",
                        line=line,
                        count=len(row),
                        width=width,
                        hint=hint,
                    )
                )
            yield line, row
    except csv.Error as error:
        raise WeatherError(
            tell("line {line}: the cells cannot be parted ({why}).", line=skipped + reader.line_num, why=error)
        ) from None


def _header(line: str, separator: str, skipped: int) -> list[str]:
    try:
        return next(csv.reader([line], delimiter=separator, skipinitialspace=True))
    except csv.Error as error:
        raise WeatherError(
            tell("line {line}: the cells cannot be parted ({why}).", line=skipped + 1, why=error)
        ) from None


def _one_unit(units: dict[str, str | None]) -> str | None:
    if units["tmin"] != units["tmax"]:
        raise WeatherError(tell("the header gives tmin and tmax different units; use one for both."))
    return units["tmin"]


class _Cells:
    """The cells of a row by quantity, with the archive's flags where it has them."""

    def __init__(self, header: list[str], places: dict[str, int]) -> None:
        plain = [_plain(word) for word in header]
        self.places = places
        self.flags = {
            quantity: plain.index(f"{plain[place]}_attributes")
            for quantity, place in places.items()
            if f"{plain[place]}_attributes" in plain
        }
        self.flagged_count = 0

    def number(self, row: list[str], quantity: str, line: int) -> float:
        if quantity not in self.places:
            return UNKNOWN
        cell = row[self.places[quantity]]
        flags = row[self.flags[quantity]].split(",") if quantity in self.flags else []
        if len(flags) > 1 and flags[1].strip():  # measurement flag, then quality flag
            self.flagged_count += 1
            return UNKNOWN
        is_trace = cell.strip().lower() == TRACE or (flags[:1] == ["T"] and cell.strip() != "")
        return 0.0 if quantity == "rain" and is_trace else number_in(cell, quantity, line)


def read_table(lines: list[str], skipped: int) -> Found:
    """Return what a table with a header holds.

    Parameters
    ----------
    lines
        The header and what follows it.
    skipped
        Lines of the file before the header.

    Raises
    ------
    WeatherError
        If a column is missing or doubled, a row is of another length, or a cell cannot be read.
    """
    separator = max(_SEPARATORS, key=lines[0].count)
    header = _header(lines[0], separator, skipped)
    places, units = _columns(header)
    rows = list(_rows(lines, skipped, separator, len(header)))
    dates = dates_in([(line, row[places["date"]]) for line, row in rows])
    cells = _Cells(header, places)
    readings = [
        Reading(line, day, *(cells.number(row, quantity, line) for quantity in ("tmin", "tmax", "rain", "radiation")))
        for (line, row), day in zip(rows, dates, strict=True)
    ]
    stations = {row[places["station"]].strip() for _, row in rows} if "station" in places else set()
    if len(stations) > 1:
        raise WeatherError(
            tell(
                "there are {count} stations ({known}…); keep one.",
                count=len(stations),
                known=", ".join(sorted(stations)[:3]),
            )
        )
    return Found(
        readings,
        shape="daily summaries" if "station" in places else "table",
        temperature_unit=_one_unit(units),
        rain_unit=units["rain"],
        is_ordered_by_form="station" in places,
        flagged_count=cells.flagged_count,
    )
