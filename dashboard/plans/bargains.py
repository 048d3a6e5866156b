"""Bargains to strike: several things that must hold in the same season, counted over seasons by the model itself."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

from dashboard.language.saying import in_units, short_number, unit_after
from dashboard.language.tongue import _, many, mark
from dashboard.plans.choices import choices
from sim.scenario import Scenario

SEASONS = 20
"""A bargain is settled after so many."""
WORDS = {
    "marketable_kg": mark("harvest fit to sell"),
    "marketable_share": mark("share fit to sell"),
    "collard_marketable_kg": mark("collards fit to sell, of those picked"),
    "bird_food_delivered_g": mark("garden food to nestlings"),
    "brood_days_fed_count": mark("days of food for a whole brood"),
    "labour_minutes": mark("minutes of work"),
    "cost_usd": mark("US dollars spent"),
    "spiders_mean_count": mark("spiders on a mean day"),
    "flower_visits_count": mark("bees' visits to cucumber flowers"),
}
"""What a term is called, marked."""
_HUNDRED = 100
_UNITS = {"kg": "kg", "g": "g"}


@dataclass(frozen=True)
class Term:
    """One thing that must hold: a measure, or one over another, at least or at most so much."""

    measure: str
    over: str = ""
    at_least: float | None = None
    at_most: float | None = None

    def value_in(self, summary: Mapping[str, float]) -> float | None:
        """Return its number in a season; None where the season has none."""
        value = summary.get(self.measure)
        whole = summary.get(self.over) if self.over else 1.0
        return value / whole if value is not None and whole else None

    def holds_in(self, summary: Mapping[str, float]) -> bool:
        """Return whether it holds in a season; what has no number does not hold."""
        value = self.value_in(summary)
        if value is None:
            return False
        return not (
            (self.at_least is not None and value < self.at_least) or (self.at_most is not None and value > self.at_most)
        )

    @property
    def words(self) -> str:
        """The term as it is said: ``harvest fit to sell: 48 kg or more``."""
        limit = self.at_least if self.at_least is not None else self.at_most or 0.0
        said = _("{what}: {limit} or more") if self.at_least is not None else _("{what}: {limit} or less")
        return said.format(what=_(WORDS[self.measure]), limit=self.say(limit))

    def say(self, value: float | None) -> str:
        """Return a number of this term in words."""
        if value is None:
            return _("no figure")
        if self.over or self.measure.endswith("_share"):
            return _("{figure} of 100").format(figure=short_number(_HUNDRED * value))
        unit = self.measure.rpartition("_")[2]
        if unit in _UNITS:
            return f"{short_number(in_units(value, unit))} {unit_after(unit)}"
        return short_number(value)


@dataclass(frozen=True)
class Bargain:
    """A task: what must hold in the same season, in so many of twenty.

    Parameters
    ----------
    reached_by
        One setting that was found to do it: a plan, and either changes or a choice by its words with a value.
    """

    name: str
    garden: str
    title: str
    about: str
    held_in_20: int
    terms: tuple[Term, ...]
    reached_by: Mapping[str, Any] = field(compare=False)

    def held(self, summaries: Sequence[Mapping[str, float]]) -> int:
        """Return in how many seasons every term holds."""
        return sum(all(term.holds_in(summary) for term in self.terms) for summary in summaries)

    def is_struck(self, summaries: Sequence[Mapping[str, float]]) -> bool | None:
        """Return whether it is struck; None while there are fewer than twenty seasons."""
        return None if len(summaries) < SEASONS else self.held(summaries) >= self.held_in_20

    def known_way(self, garden: Scenario) -> tuple[str, dict[str, Any]]:
        """Return a plan and changes that were found to strike it."""
        plan = str(self.reached_by["plan"])
        if "choice" in self.reached_by:
            chosen = next(one for one in choices(garden, plan) if one.words == self.reached_by["choice"])
            return plan, chosen.changes(self.reached_by["value"])
        return plan, dict(self.reached_by.get("changes", {}))


@cache
def bargains() -> tuple[Bargain, ...]:
    """Return every bargain, in the order of the file."""
    raw = tomllib.loads((files("dashboard.plans") / "bargains.toml").read_text(encoding="utf-8"))
    return tuple(
        Bargain(name=name, **{**entry, "terms": tuple(Term(**term) for term in entry["terms"])})
        for name, entry in raw.items()
    )


def bargains_of(garden: str) -> dict[str, Bargain]:
    """Return name → bargain of a garden."""
    return {one.name: one for one in bargains() if one.garden == garden}


def verdict_sentence(bargain: Bargain, summaries: Sequence[Mapping[str, float]]) -> str:
    """Return in how many seasons all terms held, and whether the bargain is struck."""
    count = len(summaries)
    said = many(
        "All of it held in {held} of {count} season.", "All of it held in {held} of {count} seasons.", count
    ).format(held=bargain.held(summaries), count=count)
    match bargain.is_struck(summaries):
        case True:
            return f"{said} {_('**The bargain is struck.**')}"
        case False:
            missing = _("**Not struck yet:** it takes {needed} of twenty.")
            return f"{said} {missing.format(needed=bargain.held_in_20)}"
        case _:
            return said
