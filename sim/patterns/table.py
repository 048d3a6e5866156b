"""The table of patterns: what is expected, what the model gives, whether it is met, and what was tuned to it."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from importlib.resources import files

from sim.errors import RunError, tell, unknown

SEEDS = tuple(range(1, 9))
"""Seasons of each pattern unless other seeds are asked for."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """One pattern.

    Parameters
    ----------
    name
        Its key in ``patterns.toml``.
    level
        At what level of the system it is seen.
    find
        The function that lives the gardens: module and name below ``sim.patterns``.
    what, expected
        What is looked at and what others found, in words.
    low, high
        The band in which the model's figure must lie; infinite where a side is open.
    source, read
        Key in the bibliography, and what was read of it.
    tuned_to
        Parameters that were set by this very finding; empty for a check.
    note
        What must be known to judge it.
    """

    name: str
    level: str
    find: str
    what: str
    expected: str
    low: float
    high: float
    source: str
    read: str
    tuned_to: str
    note: str

    @property
    def is_check(self) -> bool:
        """Whether no parameter was set by it."""
        return not self.tuned_to

    @property
    def asks_a_direction(self) -> bool:
        """Whether a ratio need only lie above one, or below one: a weak demand."""
        return (self.low, self.high) in ((1.0, math.inf), (-math.inf, 1.0))

    def measure(self, seeds: Sequence[int]) -> float:
        """Live the gardens and return the figure."""
        return float(self.function(seeds))

    @property
    def function(self) -> Callable[[Sequence[int]], float]:
        """What lives the gardens."""
        module, name = self.find.split(".")
        function: Callable[[Sequence[int]], float] = getattr(import_module(f"sim.patterns.{module}"), name)
        return function

    def is_met_by(self, value: float) -> bool:
        """Return whether a figure lies in the band; no figure is not met."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Finding:
    """What the model gave for a pattern."""

    pattern: Pattern
    value: float

    @property
    def is_met(self) -> bool:
        """Whether the pattern is met."""
        return self.pattern.is_met_by(self.value)


@cache
def patterns() -> tuple[Pattern, ...]:
    """Return every pattern in the order of the file."""
    raw = tomllib.loads((files("sim.patterns") / "patterns.toml").read_text(encoding="utf-8"))
    defaults = {"low": -math.inf, "high": math.inf, "note": ""}
    return tuple(Pattern(name=name, **{**defaults, **entry}) for name, entry in raw.items())


def named(names: Sequence[str]) -> tuple[Pattern, ...]:
    """Return these patterns; all if none is named.

    Raises
    ------
    RunError
        If there is no such pattern.
    """
    known = {pattern.name: pattern for pattern in patterns()}
    for name in names:
        if name not in known:
            said = tell("There is no pattern '{name}' among those of 'leafnest patterns --list'", name=name)
            raise RunError(unknown(said, name, known, is_listed=False))
    return tuple(known[name] for name in names) if names else patterns()


def findings(wanted: Sequence[Pattern], seeds: Sequence[int] = SEEDS) -> Iterator[Finding]:
    """Yield what the model gives for each pattern, as each is done."""
    for pattern in wanted:
        yield Finding(pattern, pattern.measure(seeds))


def figure_of(value: float) -> str:
    """Return a figure as it is printed."""
    if math.isnan(value):
        return "none"
    return "endless" if math.isinf(value) else f"{value:.3g}"


def range_of(pattern: Pattern) -> str:
    """Return the band in which the figure must lie, in words."""
    if math.isinf(pattern.low):
        return f"at most {pattern.high:g}"
    if math.isinf(pattern.high):
        return f"at least {pattern.low:g}"
    return f"{pattern.low:g}" if pattern.low == pattern.high else f"{pattern.low:g} to {pattern.high:g}"
