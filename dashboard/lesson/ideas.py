"""Ideas about food webs that learners bring along, how a season meets each, and the screen that speaks to it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True)
class Idea:
    """One idea.

    Parameters
    ----------
    says
        The idea, as a learner would say it.
    meets
        How a season meets it.
    screen
        The address of the screen that speaks to it; the first one is ``garden``.
    measure
        A measure whose figures are printed beside it; empty if the answer is no figure.
    source, known
        Where the idea was described, and how that is known.
    look
        Where the screen has several questions, the one that is meant, as an address says it.
    """

    says: str
    meets: str
    screen: str
    measure: str
    source: str
    known: str
    look: str = ""


@cache
def ideas() -> dict[str, Idea]:
    """Return every idea by its word."""
    raw = tomllib.loads((files("lessons") / "ideas" / "food_webs.toml").read_text(encoding="utf-8"))
    return {word: Idea(**entry) for word, entry in raw.items()}
