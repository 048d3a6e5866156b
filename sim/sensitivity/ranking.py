"""The ranking that comes with the program: on which numbers a result leans, in words that a screen can show.

Made by ``leafnest sensitivity --remake`` with one garden; other gardens lean on much the same numbers, not on exactly
the same shares.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from sim.errors import RunError, tell, unknown
from sim.parameters import load_parameters
from sim.parameters.spoken import key_in_words
from sim.sensitivity.known import Span, span_of
from sim.writing import write_whole, writing

FILE = "ranking.json"
LEAST_SHARE = 1 / 20
"""Numbers that carry less than a twentieth of the spread are not spoken of."""

_ROW = re.compile(r"\[\s+([^\[\]{}]+?)\s+\]")


@dataclass(frozen=True, slots=True)
class Leaning:
    """One number on which a result leans.

    Parameters
    ----------
    key
        Its dotted key.
    share
        Share of the result's spread that it carries, alone and with others, when the numbers that matter most are
        varied together over their ranges.
    width
        Half-width of the share's 95 % interval: so few points are tried that it is often half of the share.
    low, value, high
        From, used, to; for a row, as multiples of the values used.
    unit
        As its entry says.
    is_stretched
        Whether the three are multiples of a whole row of values.
    evidence, note
        As its entry says.
    """

    key: str
    share: float
    width: float
    low: float
    value: float
    high: float
    unit: str
    is_stretched: bool
    evidence: str
    note: str

    @property
    def name(self) -> str:
        """The number in words: ``cabbage white: leaf total``."""
        return key_in_words(self.key)


def leans_on(measure: str, plan: str, most: int = 5) -> list[Leaning]:
    """Return the numbers on which a measure leans under a plan, the heaviest first; none if none carries much.

    Raises
    ------
    RunError
        If the ranking has no such plan or measure.
    """
    by_plan = stored_ranking()["shares"]
    if plan not in by_plan:
        raise RunError(unknown(tell("The ranking has no plan '{name}'", name=plan), plan, by_plan))
    by_measure = by_plan[plan]
    if measure not in by_measure:
        raise RunError(unknown(tell("The ranking has no measure '{name}'", name=measure), measure, by_measure))
    return [leaning_of(row[0], row[2], row[3]) for row in heavy_rows(by_measure[measure])[:most]]


def heavy_rows(rows: Sequence[Any]) -> list[Any]:
    """Return the rows (name, alone, in company, half-width) whose share is worth speaking of and surely not 0."""
    return [row for row in rows if row[2] >= LEAST_SHARE and row[2] > row[3] and row[0] in load_parameters()]


@cache
def stored_ranking() -> dict[str, Any]:
    """Return the ranking that comes with the program."""
    stored: dict[str, Any] = json.loads((files("sim.sensitivity") / FILE).read_text(encoding="utf-8"))
    return stored


def write_ranking(ranking: dict[str, Any], path: Path) -> None:
    """Write a ranking, a line for each row of numbers, so that changes can be read.

    Raises
    ------
    OutputError
        If the file cannot be written.
    """
    text = json.dumps(ranking, indent=1, ensure_ascii=False)
    with writing(path):
        write_whole(path, f"{_ROW.sub(_on_one_line, text)}\n".encode())


def keep_ranking(ranking: dict[str, Any]) -> None:
    """Replace the ranking that comes with the program.

    Raises
    ------
    OutputError
        If the program's folder cannot be written.
    """
    write_ranking(ranking, Path(__file__).parent / FILE)
    stored_ranking.cache_clear()


def _on_one_line(row: re.Match[str]) -> str:
    return f"[{', '.join(part.strip() for part in row[1].split(','))}]"


def leaning_of(key: str, share: float, width: float) -> Leaning:
    """Return what is known of one number on which a result leans by this share, give or take the width."""
    entry = load_parameters()[key]
    span: Span = span_of(entry)
    lows, values, highs = span.lows, span.values, span.highs
    place = next(place for place in range(len(values)) if lows[place] < highs[place])
    low, value, high = lows[place], values[place], highs[place]
    is_stretched = bool(span.is_row and value)  # one number cannot stand for a row; how far it is stretched can
    if is_stretched:
        low, high = sorted((low / value, high / value))
        value = 1.0
    return Leaning(key, min(share, 1.0), width, low, value, high, entry.unit, is_stretched, entry.evidence, entry.note)
