"""The questions that gardeners ask, each as one ``leafnest sweep`` command, and what the answer may say.

A claim is written by hand and said only when the seasons of that very run bear it out; its figures come from the run.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from dashboard.language.saying import short_number
from sim.comparison import unit_of
from sim.errors import RunError, tell, unknown
from sim.uncertainty import held_against

if TYPE_CHECKING:
    from sim.compiled import Floats
    from sim.sweep import Sweep

FILE = Path(__file__).with_name("questions.toml")
_FIGURE = re.compile(r"\{(\w+)\s+(\w+@-?\d+)\}")
_SUPPORT = re.compile(r"(\w+): (\w+@-?\d+) ([<>~=]) (\w+@-?\d+)")
_SIGNS = {"ahead": ">", "behind": "<", "too close to call": "~", "level": "="}
_SPOKEN_UNITS = {"kg": " kg", "g": " g", "kJ": " kJ", "min": " minutes", "share": " %"}
"""Units that a figure is said with; of a count the sentence says what is counted."""
_HUNDRED = 100


@dataclass(frozen=True)
class Support:
    """What must hold for a claim: a measure at one place is more than at another, less, open or the same (``> < ~ =``).

    A place is a plan and the number of a point, such as ``net@0``; -1 is the last point.
    """

    measure: str
    this: str
    sign: str
    that: str


@dataclass(frozen=True)
class Claim:
    """A sentence with figures as ``{measure plan@point}``, and what must hold for it to be said."""

    says: str
    supports: tuple[Support, ...]

    @property
    def figures(self) -> list[tuple[str, str]]:
        """Measure and place of every figure in the sentence."""
        return [(found[1], found[2]) for found in _FIGURE.finditer(self.says)]


@dataclass(frozen=True)
class Question:
    """One question.

    Parameters
    ----------
    name
        For the command and the picture's file.
    asks
        The question, as a gardener puts it.
    command
        What to say at the prompt.
    note
        What is varied and why there, and what this cannot tell.
    claims
        The answer, as far as the run bears it out.
    """

    name: str
    asks: str
    command: str
    note: str
    claims: tuple[Claim, ...]


@cache
def questions() -> tuple[Question, ...]:
    """Return every question in order."""
    return tuple(map(_question, tomllib.loads(FILE.read_text(encoding="utf-8"))["questions"]))


def named(names: Iterable[str]) -> tuple[Question, ...]:
    """Return the questions of these names, all if none is given.

    Raises
    ------
    RunError
        If there is no such question.
    """
    known = {question.name: question for question in questions()}
    wanted = tuple(names)
    for name in wanted:
        if name not in known:
            raise RunError(unknown(tell("There is no question '{name}'", name=name), name, known))
    return tuple(known[name] for name in wanted) or questions()


def holds(claim: Claim, sweep: Sweep) -> bool:
    """Return whether the seasons of a sweep bear a claim out, each part of it by the rule of every comparison."""
    return all(_sign(support, sweep) == support.sign for support in claim.supports)


def said(claim: Claim, sweep: Sweep) -> str:
    """Return a claim with the figures of the sweep, rounded as a reader would say them."""
    return _FIGURE.sub(lambda found: _figure(sweep, found[1], found[2]), claim.says)


def _figure(sweep: Sweep, measure: str, place: str) -> str:
    mean = float(np.nanmean(_values(sweep, measure, place)))
    unit = unit_of(measure)
    return short_number(_HUNDRED * mean if unit == "share" else mean) + _SPOKEN_UNITS.get(unit, "")


def _sign(support: Support, sweep: Sweep) -> str:
    this, that = (_values(sweep, support.measure, place) for place in (support.this, support.that))
    return _SIGNS[held_against(this, that, "more")[1].verdict]


def _values(sweep: Sweep, measure: str, place: str) -> Floats:
    plan, _, number = place.partition("@")
    return sweep.values(list(sweep.comparisons)[int(number)], plan, measure)


def _question(raw: dict[str, Any]) -> Question:
    claims = tuple(
        Claim(claim["says"], tuple(_support(raw["name"], text) for text in claim["if"])) for claim in raw["claims"]
    )
    return Question(raw["name"], raw["asks"], raw["command"], raw["note"], claims)


def _support(name: str, text: str) -> Support:
    found = _SUPPORT.fullmatch(text)
    if found is None:
        raise ValueError(f"Question '{name}': '{text}' cannot be read; say 'measure: plan@point > plan@point'.")
    return Support(*found.groups())
