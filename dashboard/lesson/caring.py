"""What a class cares about, and which plan that puts first: no weights of our own, and no score before the class spoke.

A measure is a way from its worst plan to its best, by the means of the seasons. A plan stands somewhere on that way,
0 to 1; how much the class cares for going all of it is the measure's weight. Where the sign test leaves open whether
best and worst differ at all, the measure counts for nothing. These two are picked out of all pairs of plans for lying
farthest apart, so the test's limit is shared out among the pairs: else ten plans that are all alike had a best and a
worst in one case of three (measured: 32 of 100; 14 of 100 for four plans), and not in one of twenty.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import comb
from typing import TYPE_CHECKING

import numpy as np

from dashboard.language.tongue import _
from dashboard.lesson.lesson import CARED, LEVELS
from sim.comparison import better_of
from sim.uncertainty import held_against

if TYPE_CHECKING:
    from sim.comparison import Comparison

SEASONS = 20
"""Weights are set against so many seasons: with fewer, nearly everything is too close to call."""
_AS_GOOD = 1e-9


@dataclass(frozen=True)
class Way:
    """From the worst plan to the best in one measure.

    Parameters
    ----------
    worst, best
        Names of the plans, and their means in the model's unit.
    places
        Plan → how far along it stands, 0 to 1.
    is_open
        Whether best and worst are level or too close to call.
    """

    measure: str
    worst: tuple[str, float]
    best: tuple[str, float]
    places: Mapping[str, float]
    is_open: bool


@dataclass(frozen=True)
class Turn:
    """One answer, changed alone, that would put others first."""

    measure: str
    now: int
    then: int
    first: tuple[str, ...]


def ways_of(comparison: Comparison, measures: Iterable[str] = CARED) -> list[Way]:
    """Return the way of each measure that every plan has a number in."""
    return [way for measure in measures if measure in comparison.measures for way in _way(comparison, measure)]


def points_of(ways: Sequence[Way], cares: Mapping[str, int]) -> dict[str, float]:
    """Return plan → how far along it stands in all that is cared for, 0 to 1, best first; empty if nothing counts."""
    weighed = [(way, cares.get(way.measure, 0)) for way in ways if not way.is_open]
    whole = sum(weight for _way_, weight in weighed)
    if not whole:
        return {}
    plans = weighed[0][0].places
    points = {plan: sum(weight * way.places[plan] for way, weight in weighed) / whole for plan in plans}
    return dict(sorted(points.items(), key=lambda one: -one[1]))


def first_of(points: Mapping[str, float]) -> tuple[str, ...]:
    """Return the plan with most points, or those that share the place."""
    most = max(points.values(), default=0.0)
    return tuple(sorted(plan for plan, value in points.items() if value >= most - _AS_GOOD))


def firsts(ways: Sequence[Way], cares: Mapping[str, int]) -> dict[tuple[str, int], tuple[str, ...]]:
    """Return (measure, answer) → who would be first were that answer changed alone; only measures that count."""
    return {
        (way.measure, level): first_of(points_of(ways, {**cares, way.measure: level}))
        for way in ways
        if not way.is_open
        for level in LEVELS
    }


def turns(ways: Sequence[Way], cares: Mapping[str, int]) -> list[Turn]:
    """Return, for each measure that can do it alone, the nearest answer that would put others first."""
    now_first = first_of(points_of(ways, cares))
    whose = firsts(ways, cares)
    found = []
    for measure in dict.fromkeys(measure for measure, _level in whose):
        now = cares.get(measure, 0)
        others = [level for level in LEVELS if whose[measure, level] and whose[measure, level] != now_first]
        if now_first and others:
            nearest = min(others, key=lambda level, at=now: (abs(level - at), level))  # type: ignore[misc]
            found.append(Turn(measure, now, nearest, whose[measure, nearest]))
    return found


def turn_sentence(turn: Turn, title: str, plans: Mapping[str, str]) -> str:
    """Return a turn in words; ``title`` is the measure's."""
    first = " = ".join(plans[plan] for plan in turn.first)
    said = _("Care '{then}' instead of '{now}' for '{what}', and first is: {plan}.")
    return said.format(then=_(LEVELS[turn.then]), now=_(LEVELS[turn.now]), what=title, plan=first)


def _way(comparison: Comparison, measure: str) -> list[Way]:
    values = comparison.values[:, :, comparison.measures.index(measure)]
    if np.isnan(values).all(axis=1).any():
        return []
    better = better_of(measure)
    means = np.nanmean(values, axis=1)
    order = np.argsort(means if better == "more" else -means, kind="stable")
    worst, best = int(order[0]), int(order[-1])
    _found, tally = held_against(values[best], values[worst], better)
    length = means[best] - means[worst]
    places = {
        plan: float((means[place] - means[worst]) / length) if length else 0.0
        for place, plan in enumerate(comparison.plans)
    }
    ends = [(comparison.plans[place], float(means[place])) for place in (worst, best)]
    way = Way(measure, ends[0], ends[1], places, is_open=True)
    is_called = tally.verdict == "ahead" and tally.is_called_among(comb(len(means), 2))
    return [replace(way, is_open=not is_called)]
