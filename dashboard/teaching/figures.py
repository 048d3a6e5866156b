"""Every figure that a lesson's papers need, from the seasons of its seats: none is typed in, so all match the tool."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from dashboard.charts.plan_titles import PlanTitles
from dashboard.language.saying import say_number, short_number
from dashboard.language.spoken import BY_MEASURE, Spoken
from dashboard.language.tongue import _
from dashboard.lesson.lesson_file import LessonFile, Pause, Reason
from dashboard.seasons.moments import day_of, standing_on
from sim.scenario.values import date_in
from sim.uncertainty import held_against

if TYPE_CHECKING:
    from sim.comparison import Comparison, FinishedSeason
    from sim.compiled import Floats
    from sim.garden import Garden
    from sim.jobs import Progress
    from sim.scenario import Scenario

AS_IT_WAS, AS_CHANGED = "as it was", "as changed"
"""The two plans of the second round."""
_SIGNS = {"ahead": ">", "behind": "<", "too close to call": "~", "level": "="}


@dataclass(frozen=True)
class Stop:
    """Where a season stops under one plan, and how things stand there.

    Parameters
    ----------
    day
        The day of the stop.
    has_come
        Whether the plan saw the moment; if not, the day is the lesson's own.
    standing
        Name in ``moments.STANDING`` → figure.
    """

    day: date
    has_come: bool
    standing: Mapping[str, float]


@dataclass(frozen=True)
class LessonFigures:
    """A lesson with what its seasons gave.

    Parameters
    ----------
    comparison
        The lesson's plans over the seasons of its seats.
    second
        The plan of the second round as it was and as changed, over the same seasons.
    stops
        Plan → a stop for each pause, in the class's own season.
    """

    lesson: LessonFile
    garden: Scenario
    comparison: Comparison
    second: Comparison
    stops: Mapping[str, Sequence[Stop]]

    @cached_property
    def titles(self) -> PlanTitles:
        """Slug → title of the lesson's plans, in its order and in the language spoken now."""
        titles = {name: _(self.garden.plan(name).title) for name in self.lesson.plans}
        return PlanTitles(titles, self.garden.plan_names)

    @cached_property
    def pauses_by_day(self) -> list[int]:
        """The places of the lesson's pauses in the order in which the class's season comes to them, as on the map.

        A pause comes on the first day on which any plan sees its moment; on the lesson's own day if none does.
        """
        first = [self._first_day_of(place) for place in range(len(self.lesson.pauses))]
        return sorted(range(len(first)), key=first.__getitem__)

    def _first_day_of(self, place: int) -> date:
        own = [stops[place] for stops in self.stops.values()]
        return min(stop.day for stop in [one for one in own if one.has_come] or own)

    def values(self, plan: str, measure: str) -> Floats:
        """Return a measure under a plan in each season, in the model's unit; empty if the garden has none."""
        if measure not in self.comparison.measures:
            return np.zeros(0)
        place = (self.comparison.plans.index(plan), slice(None), self.comparison.measures.index(measure))
        return np.asarray(self.comparison.values[place], dtype=np.float64)

    def values_by_plan(self, measure: str) -> Floats:
        """Return a measure by plan and season, shape (plans, seasons), seasons without it left out."""
        wide = np.array([self.values(plan, measure) for plan in self.lesson.plans])
        return wide[:, ~np.isnan(wide).any(axis=0)]

    def holds(self, reason: Reason, measure: str) -> bool:
        """Return whether the seasons bear out what a reason rests on."""
        this, sign, that = reason.parts
        values, others = self.values(this, measure), self.values(that, measure)
        if not len(values):
            return False
        return _SIGNS[held_against(values, others, "more")[1].verdict] == sign

    def first_of(self, plan: str, measure: str) -> str:
        """Return what the class's own season gave, as said."""
        return self._said(self.values(plan, measure)[:1], measure)

    def range_of(self, plan: str, measure: str) -> str:
        """Return the lowest and the highest of the seasons, as said: ``35 to 45``."""
        values = self._known(plan, measure)
        if not len(values):
            return _("none")
        low, high = (figure_words(float(end) * spoken_of(measure).factor) for end in (values.min(), values.max()))
        return low if low == high else _("{low} to {high}").format(low=low, high=high)

    def mean_of(self, plan: str, measure: str) -> str:
        """Return the mean of the seasons, as said."""
        values = self._known(plan, measure)
        return self._said(np.array([values.mean()]) if len(values) else values, measure)

    def of_seat(self, seat: int, plan: str, measure: str) -> str:
        """Return what a seat's season gave, as said; the first seat is 1."""
        return self._said(self.values(plan, measure)[seat - 1 : seat], measure)

    def _known(self, plan: str, measure: str) -> Floats:
        values = self.values(plan, measure)
        return values[~np.isnan(values)]

    def _said(self, values: Floats, measure: str) -> str:
        if not len(values) or np.isnan(values[0]):
            return _("none")
        return figure_words(float(values[0]) * spoken_of(measure).factor)


def figure_words(figure: float) -> str:
    """Return a figure as said; a count is whole, for there are no tenths of a caterpillar."""
    return say_number(figure) if figure.is_integer() else short_number(figure)


def spoken_of(measure: str) -> Spoken:
    """Return how screens say a measure."""
    return BY_MEASURE[measure]


def figures_of(lesson: LessonFile, garden: Scenario, progress: Progress | None = None) -> LessonFigures:
    """Run the seasons of a lesson and return its figures.

    Parameters
    ----------
    lesson
        The lesson.
    garden
        Its garden.
    progress
        Called with seasons done and all seasons of the first round.
    """
    from sim.comparison import compare, comparison_of

    seasons = list(lesson.seasons)
    plans = list(dict.fromkeys([*lesson.plans, lesson.next.plan]))
    together = compare(garden, plans, seasons, progress=progress)
    changed = compare(garden.with_changes(lesson.next.changes), [lesson.next.plan], seasons)
    first = [one for one in _seasons_in(together) if one.plan in lesson.plans]
    second = [one._replace(plan=AS_IT_WAS) for one in _seasons_in(together) if one.plan == lesson.next.plan]
    second += [one._replace(plan=AS_CHANGED) for one in _seasons_in(changed)]
    return LessonFigures(
        lesson,
        garden,
        comparison_of(garden, lesson.plans, first),
        comparison_of(garden, [AS_IT_WAS, AS_CHANGED], second),
        stops_of(lesson, garden),
    )


def _seasons_in(comparison: Comparison) -> list[FinishedSeason]:
    from sim.comparison import FinishedSeason

    return [
        FinishedSeason(plan, seed, dict(zip(comparison.measures, comparison.values[p, s].tolist(), strict=True)))
        for p, plan in enumerate(comparison.plans)
        for s, seed in enumerate(comparison.seeds)
    ]


def stops_of(lesson: LessonFile, garden: Scenario) -> dict[str, tuple[Stop, ...]]:
    """Return plan → its stops in the class's own season."""
    from sim.season import run_season

    lived = {plan: run_season(garden, plan=plan, seed=lesson.season).garden for plan in lesson.plans}
    return {plan: tuple(_stop(garden_then, pause) for pause in lesson.pauses) for plan, garden_then in lived.items()}


def _stop(lived: Garden, pause: Pause) -> Stop:
    seen = day_of(pause.event, lived.chronicle)
    if seen is not None:
        day = seen
    else:
        fallback = date_in(pause.fallback_day, lived.first_date.year)
        day = min(max(0, (fallback - lived.first_date).days), len(lived.chronicle.rows) - 1)
    return Stop(lived.first_date + timedelta(days=day), seen is not None, standing_on(day, lived.chronicle))
