"""Days in a row: order checked, short gaps filled and said so, long ones refused.

Takes    readings in °C, mm and MJ/m².
Keeps    columns with a value for every day.
Changes  nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

import numpy as np

from sim.compiled import Floats, Ints
from sim.errors import Sentence, WeatherError, tell, tell_many
from sim.weather.reading import Reading

_DATES_SHOWN = 6


@dataclass(frozen=True, slots=True)
class Columns:
    """Days in a row, shape (D,) each; radiation is not a number where unknown."""

    first: date
    tmin_c: Floats
    tmax_c: Floats
    rain_mm: Floats
    radiation_mj_m2: Floats
    lines: Ints
    notes: tuple[Sentence, ...]


def check_order(readings: list[Reading]) -> None:
    """Refuse dates that do not rise.

    Raises
    ------
    WeatherError
        If a date stands twice or before an earlier one.
    """
    for before, after in pairwise(readings):
        if after.date == before.date:
            raise WeatherError(
                tell(
                    "line {line}: {date} stands in line {earlier} already.",
                    line=after.line,
                    date=after.date,
                    earlier=before.line,
                )
            )
        if after.date < before.date:
            raise WeatherError(
                tell(
                    "line {line}: {date} comes after {earlier}; dates must rise.",
                    line=after.line,
                    date=after.date,
                    earlier=before.date,
                )
            )


def _spread(readings: list[Reading]) -> tuple[Floats, Ints]:
    """Return the readings on every day from first to last, shape (D, 4), and their lines (0 for an absent day)."""
    first = readings[0].date
    count = (readings[-1].date - first).days + 1
    values = np.full((count, 4), np.nan)
    lines = np.zeros(count, np.int64)
    for reading in readings:
        place = (reading.date - first).days
        values[place] = reading.tmin, reading.tmax, reading.rain, reading.radiation
        lines[place] = reading.line
    return values, lines


def _refuse_long_gap(is_missing: Ints, first: date, longest_days: int) -> None:
    """Refuse too many days in a row without a reading; the last day of all has one."""
    run = 0
    for place, missing in enumerate(is_missing):
        if missing:
            run += 1
            continue
        if run > longest_days:
            start = first + timedelta(days=place - run)
            raise WeatherError(
                tell_many(
                    "the day {start} has no reading, and no gap is filled.",
                    "{count} days in a row have no reading from {start} to {end}; {most} at most can be filled.",
                    count=run,
                    start=start,
                    end=start + timedelta(days=run - 1),
                    most=longest_days,
                )
            )
        run = 0


def _notes(is_missing: Ints, first: date, trimmed_count: int) -> tuple[Sentence, ...]:
    notes = []
    filled = [first + timedelta(days=int(place)) for place in np.flatnonzero(is_missing)]
    if filled:
        dates = ", ".join(map(str, filled[:_DATES_SHOWN])) + (", …" if len(filled) > _DATES_SHOWN else "")
        notes.append(
            tell_many(
                "1 day was filled by a straight line between neighbours: {dates}.",
                "{count} days were filled by a straight line between neighbours: {dates}.",
                count=len(filled),
                dates=dates,
            )
        )
    if trimmed_count:
        notes.append(
            tell_many(
                "1 day without readings at an end was left out.",
                "{count} days without readings at the ends were left out.",
                count=trimmed_count,
            )
        )
    return tuple(notes)


def without_gaps(readings: list[Reading], longest_days: int) -> Columns:
    """Return the readings as days in a row, with gaps of up to ``longest_days`` filled.

    Parameters
    ----------
    readings
        Rising dates, in °C, mm and MJ/m².
    longest_days
        Missing days in a row that may be filled.

    Raises
    ------
    WeatherError
        If there is no complete day, or a gap is longer.
    """
    values, lines = _spread(readings)
    is_missing = np.isnan(values[:, :3]).sum(axis=1) > 0
    whole = np.flatnonzero(~is_missing)
    if not len(whole):
        raise WeatherError(tell("no day has tmin, tmax and rain."))
    start, stop = int(whole[0]), int(whole[-1]) + 1
    trimmed_count = sum(1 for reading in readings if not start <= (reading.date - readings[0].date).days < stop)
    values, lines, missing = values[start:stop], lines[start:stop], is_missing[start:stop].astype(np.int64)
    first = readings[0].date + timedelta(days=start)
    _refuse_long_gap(missing, first, longest_days)
    places = np.arange(len(values), dtype=np.float64)
    for column in range(3):
        known = ~np.isnan(values[:, column])
        values[:, column] = np.interp(places, places[known], values[known, column])
    tmin_c = np.minimum(values[:, 0], values[:, 1])  # only a filled value can stand above its partner
    return Columns(
        first, tmin_c, values[:, 1], values[:, 2], values[:, 3], lines, _notes(missing, first, trimmed_count)
    )
