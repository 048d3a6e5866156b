"""The comparison in hand: a garden, its plans, the seasons lived, and how to come back to this setting."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from dashboard.charts.plan_titles import PlanTitles
from dashboard.language.tongue import _

if TYPE_CHECKING:
    import pandas as pd

    from dashboard.seasons.wishes import Lived
    from sim.comparison import Comparison
    from sim.scenario import Scenario


@dataclass(frozen=True)
class Findings:
    """What a handout is about.

    Parameters
    ----------
    garden
        With every changed setting.
    seasons
        (plan, season) → what was lived; every plan the same seasons.
    changed
        Each changed setting in words.
    code
        The short code of this setting; empty where there is none.
    command
        The command that makes this handout again.
    called
        Slug → what a plan is called here, where it is not by its title.
    """

    garden: Scenario
    seasons: Mapping[tuple[str, int], Lived]
    changed: tuple[str, ...] = ()
    code: str = ""
    command: str = ""
    called: Mapping[str, str] = field(default_factory=dict)
    kept: dict[str, pd.DataFrame] = field(default_factory=dict, compare=False)

    @property
    def plans(self) -> tuple[str, ...]:
        """Names of the plans, in order; the others are held against the first."""
        return tuple(dict.fromkeys(plan for plan, _season in self.seasons))

    @property
    def numbers(self) -> tuple[int, ...]:
        """Numbers of the seasons."""
        return tuple(dict.fromkeys(season for _plan, season in self.seasons))

    @property
    def titles(self) -> PlanTitles:
        """Slug → title of the plans, in order."""
        known = {plan.name: plan.title for plan in self.garden.plans}
        titles = {name: self.called.get(name) or _(known[name]) for name in self.plans}
        return PlanTitles(titles, self.garden.plan_names)

    @cached_property
    def comparison(self) -> Comparison:
        """The plans against each other."""
        from sim.comparison import FinishedSeason, comparison_of

        finished = [FinishedSeason(plan, season, dict(one.summary)) for (plan, season), one in self.seasons.items()]
        return comparison_of(self.garden, self.plans, finished)

    @cached_property
    def means(self) -> dict[tuple[str, str], float]:
        """(measure, plan) → mean of the seasons, where there is one."""
        rows = self.comparison.table[["measure", "plan", "mean"]].dropna()
        return {(str(measure), str(plan)): float(mean) for measure, plan, mean in rows.itertuples(index=False)}

    def lived(self, plan: str) -> list[Lived]:
        """Return the seasons of one plan."""
        return [one for (name, _season), one in self.seasons.items() if name == plan]

    def days(self) -> dict[str, pd.DataFrame]:
        """Return the days of the first season under each plan, lived once more: what was kept has no harvest by day."""
        from sim.season import run_season

        for plan in self.plans:
            if plan not in self.kept:
                self.kept[plan] = run_season(self.garden, plan=plan, seed=self.numbers[0]).daily
        return {plan: self.kept[plan] for plan in self.plans}


def gather(
    garden: Scenario, plans: tuple[str, ...], numbers: range, progress: object = None
) -> dict[tuple[str, int], Lived]:
    """Live the seasons of a handout that begins from nothing, on a few processes; ``progress`` takes (done, total)."""
    from dashboard.seasons.wishes import wishes
    from dashboard.seasons.work import desk

    wished = wishes(garden, plans, numbers)
    found: dict[Any, Lived] = {}
    with desk().order(wished) as order:
        while not order.is_done:
            found |= order.wait(1.0)
            if callable(progress):
                progress(len(found), len(wished))
    lived = {(wish.plan, wish.season): found[wish.key] for wish in wished}
    return {(plan, number): lived[plan, number] for plan in plans for number in numbers}
