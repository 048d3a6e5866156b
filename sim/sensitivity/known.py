"""How far each number of nature is varied: every number is a place between 0, its low end, and 1, its high end.

At ½ stands the value that the model uses, so half of all draws lie below it and half above.

| | |
|---|---|
| takes | the table of parameters; ``known.toml`` |
| returns | what is varied, by what mechanism, and the value at any place |
| changes | nothing |
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from importlib.resources import files
from typing import Any

from sim.errors import ParameterError, tell
from sim.parameters import Parameters
from sim.parameters.table import Parameter

MIDDLE = 1 / 2
Value = float | tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Span:
    """How far one number, or one row of numbers, is varied.

    Parameters
    ----------
    key
        Its dotted key.
    lows, values, highs
        Ends and the value used, one for each place of a row; a single number has one.
    is_row
        Whether the parameter is a row.
    """

    key: str
    lows: tuple[float, ...]
    values: tuple[float, ...]
    highs: tuple[float, ...]
    is_row: bool

    @property
    def is_open(self) -> bool:
        """Whether there is anything to vary."""
        return any(low < high for low, high in zip(self.lows, self.highs, strict=True))

    def at(self, place: float) -> Value:
        """Return the value at a place from 0 to 1; all numbers of a row move together."""
        ends = zip(self.lows, self.values, self.highs, strict=True)
        row = tuple(_between(low, value, high, place) for low, value, high in ends)
        return row if self.is_row else row[0]


def _between(low: float, value: float, high: float, place: float) -> float:
    if place < MIDDLE:
        return min(value, max(low, low + (value - low) * 2 * place))
    return min(high, max(value, value + (high - value) * (2 * place - 1)))


def spans(table: Parameters) -> dict[str, Span]:
    """Return how far every number is varied, by key; those left alone or known exactly are not in it."""
    found = {key: span_of(entry) for key, entry in table.items() if reason_left_alone(key) is None}
    return {key: span for key, span in found.items() if span.is_open}


def span_of(entry: Parameter) -> Span:
    """Return how far one entry is varied.

    Raises
    ------
    ParameterError
        If the rule that fits says no range.
    """
    bounds = entry.bounds()
    is_row = isinstance(entry.value, tuple)
    rule = rule_for(entry.key)
    if rule:
        ends = [_ends(rule, value) for _, value, _ in bounds]
    elif is_row and not isinstance(entry.low, tuple) and not isinstance(entry.high, tuple):
        ends = _whole_row(bounds)
    else:
        ends = [(low, high) for low, _, high in bounds]
    lows, values, highs = [], [], []
    for (least, value, most), (low, high) in zip(bounds, ends, strict=True):
        is_absent = is_row and value == 0
        lows.append(value if is_absent else min(value, max(least, low)))
        values.append(value)
        highs.append(value if is_absent else max(value, min(most, high)))
    return Span(entry.key, tuple(lows), tuple(values), tuple(highs), is_row)


def _ends(rule: Mapping[str, Any], value: float) -> tuple[float, float]:
    if "low" in rule:
        return float(rule["low"]), float(rule["high"])
    if "least" in rule:
        return tuple(sorted((value * float(rule["least"]), value * float(rule["most"]))))  # type: ignore[return-value]
    if "either_side" in rule:
        return value - float(rule["either_side"]), value + float(rule["either_side"])
    raise ParameterError(
        tell("The rule for '{rule}' says neither low and high, least and most, nor either_side.", rule=rule["keys"])
    )


def _whole_row(bounds: Sequence[tuple[float, float, float]]) -> list[tuple[float, float]]:
    """Return ends that keep the shape of a row: the widest factors that leave no place out of bounds."""
    if any(value < 0 for _, value, _ in bounds) or not any(value > 0 for _, value, _ in bounds):
        return [(low, high) for low, _, high in bounds]
    least = max(low / value for low, value, _ in bounds if value > 0)
    most = min(high / value for _, value, high in bounds if value > 0)
    return [(least * value, most * value) for _, value, _ in bounds]


def mechanism_of(key: str) -> str:
    """Return what is varied together: a table of a guild's file, or the file for numbers that stand in none."""
    parts = key.split(".")
    return ".".join(parts[:2]) if len(parts) > 2 else parts[0]


def reason_left_alone(key: str) -> str | None:
    """Return why a number is not varied; None if it is."""
    return next((str(rule["why"]) for rule in _file()["left_alone"] if fnmatchcase(key, rule["keys"])), None)


def rule_for(key: str) -> Mapping[str, Any] | None:
    """Return the rule that says how well a number is known, if it is not what its entry allows."""
    return next((rule for rule in _file()["narrower"] if fnmatchcase(key, rule["keys"])), None)


def rules() -> Mapping[str, list[Mapping[str, Any]]]:
    """Return all rules, ``left_alone`` and ``narrower``."""
    return _file()


@cache
def _file() -> dict[str, list[Mapping[str, Any]]]:
    return tomllib.loads((files("sim.sensitivity") / "known.toml").read_text(encoding="utf-8"))
