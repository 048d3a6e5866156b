"""What a comparison says in plain words: how often a plan was ahead, by how much, and what did not move."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from dashboard.charts.picture import short_number

if TYPE_CHECKING:
    from pandas import DataFrame, Series

    from sim.comparison import Comparison

SPOKEN = (
    ("marketable_kg", "kg", "to sell"),
    ("bird_food_reachable_g", "g", "bird food in reach"),
)
"""Measure, unit and words of the headlines."""

FLEDGED = "nestlings_fledged_count"


def headlines(comparison: Comparison, titles: Mapping[str, str]) -> list[str]:
    """Return, for each plan against the first, in how many seasons it gave more, and how much more.

    Parameters
    ----------
    comparison
        Plans over the same seasons.
    titles
        Slug → title of its plans.
    """
    first = comparison.plans[0]
    verdicts = comparison.paired.set_index(["measure", "plan"])["verdict"]
    said = []
    for measure, unit, words in SPOKEN:
        wide = _season_by_plan(comparison.seasons, measure)
        for plan in [plan for plan in comparison.plans[1:] if {plan, first} <= set(wide.columns)]:
            sentence = _headline((wide[plan] - wide[first]).dropna(), titles[plan], titles[first], unit, words)
            is_open = verdicts[(measure, plan)] == "too close to call" and len(wide) > 1
            said.append(sentence + (" Too close to call: more seasons would be needed." if is_open else ""))
    return said


def fledging_sentence(seasons: DataFrame) -> str:
    """Return a sentence if no plan changed how many nestlings fledged in any season, else an empty text."""
    wide = _season_by_plan(seasons, FLEDGED)
    if wide.shape[1] < 2 or not wide.to_numpy().any() or wide.nunique(axis=1).max() > 1:
        return ""
    return (
        "No plan changed how many nestlings fledged, in any season: one bed is small beside a territory. "
        "Read the bird food, not the fledglings, to see what a plan does to birds."
    )


def _season_by_plan(seasons: DataFrame, measure: str) -> DataFrame:
    rows = seasons[seasons["measure"] == measure]
    return rows.pivot_table(index="seed", columns="plan", values="value")


def _headline(differences: Series, plan: str, first: str, unit: str, words: str) -> str:
    count = len(differences)
    more, fewer = int((differences > 0).sum()), int((differences < 0).sum())
    if not more and not fewer:
        return f"{plan}: as much {words} as '{first}' in every season."
    low, high = float(differences.quantile(0.1)), float(differences.quantile(0.9))
    way, often = ("more", more) if more >= fewer else ("less", fewer)
    amount = (
        f"from {_signed(low)} to {_signed(high)} {unit} in 8 of 10 seasons" if count > 1 else f"{_signed(low)} {unit}"
    )
    return f"{plan}: {way} {words} than '{first}' in {often} of {count} seasons ({amount})."


def _signed(value: float) -> str:
    return ("+" if value > 0 else "") + short_number(value)
