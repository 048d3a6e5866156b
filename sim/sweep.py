"""What if: one or more settings varied over values, every point run with the same seasons and the same luck.

Seasons that a setting does not touch (another plan, say) are run once for all points.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, Unpack

import numpy as np

from sim.comparison import (
    Comparison,
    FinishedSeason,
    better_of,
    comparison_of,
    measures_in,
    plans_of,
    seeds_of,
    unit_of,
)
from sim.compiled import Floats
from sim.errors import RunError, tell, unknown
from sim.jobs import Job, season_fingerprint
from sim.runs import HowToRun, summaries_of
from sim.settings import Setting, Value
from sim.uncertainty import held_against

if TYPE_CHECKING:
    import pandas as pd

MOST_POINTS = 100_000
"""Most points of a sweep; more is a slip of the finger."""

Point = tuple[Value, ...]
"""One value of each setting."""


class FinishedPointSeason(NamedTuple):
    """One season of one plan at one point of a sweep."""

    point: Point
    season: FinishedSeason


@dataclass(frozen=True)
class Sweep:
    """Measures of some plans over some seasons at every point.

    Parameters
    ----------
    settings
        What was varied.
    comparisons
        Point → the comparison of the plans there, all with the same seeds, plans and measures.
    """

    settings: tuple[Setting, ...]
    comparisons: dict[Point, Comparison]

    @property
    def plans(self) -> tuple[str, ...]:
        """Names of the plans."""
        return self._first.plans

    @property
    def seeds(self) -> tuple[int, ...]:
        """Seeds of the seasons that every point has."""
        return self._first.seeds

    @property
    def measures(self) -> tuple[str, ...]:
        """Names of the measures."""
        return self._first.measures

    @cached_property
    def table(self) -> pd.DataFrame:
        """A column for each setting, then plan, measure, unit, mean, low, high, spread, seasons."""
        return self._stacked("table")

    @cached_property
    def seasons(self) -> pd.DataFrame:
        """A column for each setting, then plan, seed, measure, value."""
        return self._stacked("seasons")

    @cached_property
    def paired(self) -> pd.DataFrame:
        """A column for each setting, then the plans against the first plan at that point, as in a comparison."""
        return self._stacked("paired")

    @cached_property
    def along(self) -> pd.DataFrame:
        """Each plan at each point less the same plan at the first point, season by season.

        A column for each setting, then plan, measure, unit, difference, low, high, ahead, level, behind, verdict.
        """
        import pandas as pd

        rows = []
        for point in self.comparisons:
            for plan in self.plans:
                for measure in self.measures:
                    better = better_of(measure)
                    found, tally = held_against(
                        self.values(point, plan, measure), self.values(self._first_point, plan, measure), better
                    )
                    counts = (tally.ahead, tally.level, tally.behind, tally.verdict)
                    rows.append((*point, plan, measure, unit_of(measure), found.mean, found.low, found.high, *counts))
        columns = ["plan", "measure", "unit", "difference", "low", "high", "ahead", "level", "behind", "verdict"]
        return pd.DataFrame(rows, columns=[*self.setting_names, *columns])

    @property
    def setting_names(self) -> list[str]:
        """The columns that hold the settings."""
        return [setting.name for setting in self.settings]

    @property
    def provenance(self) -> dict[str, Any]:
        """What produced these numbers."""
        varied = {setting.name: list(setting.values) for setting in self.settings}
        return {**self._first.provenance, "settings": varied}

    def values(self, point: Point, plan: str, measure: str) -> Floats:
        """Return one number a season, in the order of the seeds.

        Raises
        ------
        RunError
            If the plan was not run or there is no such measure.
        """
        if plan not in self.plans:
            raise RunError(unknown(tell("This sweep has no plan '{name}'", name=plan), plan, self.plans))
        if measure not in self.measures:
            raise RunError(unknown(tell("This sweep has no measure '{name}'", name=measure), measure, self.measures))
        at = self.comparisons[point]
        values: Floats = at.values[at.plans.index(plan), :, at.measures.index(measure)]
        return values

    def write_parquet(self, path: str | Path) -> None:
        """Write the table as Parquet, with the run record among its metadata.

        Raises
        ------
        OutputError
            If the file cannot be written.
        """
        from sim.parquet import write_table

        write_table(Path(path), self.table, self.provenance)

    @property
    def _first_point(self) -> Point:
        return next(iter(self.comparisons))

    @property
    def _first(self) -> Comparison:
        return self.comparisons[self._first_point]

    def _stacked(self, name: str) -> pd.DataFrame:
        import pandas as pd

        frames = []
        for point, comparison in self.comparisons.items():
            frame = getattr(comparison, name)
            for place, value in enumerate(point):
                frame = frame.assign(**{self.setting_names[place]: value})
            frames.append(frame)
        whole = pd.concat(frames, ignore_index=True)
        others = [column for column in whole.columns if column not in self.setting_names]
        return whole[[*self.setting_names, *others]]


def sweep(
    scenario: Any,
    settings: Sequence[Setting],
    plans: Sequence[str] | None = None,
    seasons: int | Sequence[int] = 20,
    seed: int = 1,
    **how: Unpack[HowToRun],
) -> Sweep:
    """Run plans at every combination of the settings' values; the other parameters are those of ``compare``.

    Raises
    ------
    ScenarioError
        If a setting is unknown or a value not allowed; said before any season is run.
    RunError
        If a setting belongs to a plan that is not run, or it is cancelled before each point has one season.
    """
    names, seeds = plans_of(scenario, plans), seeds_of(seasons, seed)
    finished: dict[Point, list[FinishedSeason]] = {}
    for one in sweep_as_they_come(scenario, settings, names, seeds, **how):
        finished.setdefault(one.point, []).append(one.season)
    return sweep_of(scenario, settings, names, finished, seasons_wanted=len(seeds))


def sweep_as_they_come(
    scenario: Any,
    settings: Sequence[Setting],
    plans: Sequence[str] | None = None,
    seasons: int | Sequence[int] = 20,
    seed: int = 1,
    **how: Unpack[HowToRun],
) -> Iterator[FinishedPointSeason]:
    """Yield seasons as they finish, every point of the first seed first: the curve is there early, then narrows."""
    names, seeds = plans_of(scenario, plans), seeds_of(seasons, seed)
    points = points_of(settings)
    _check_plans_are_run(scenario, settings, names)
    jobs = _jobs_at(scenario, settings, points, names, seeds)
    where = [point for _ in seeds for point in points for _ in names]
    for point, job, summary in zip(where, jobs, summaries_of(scenario, jobs, names, **how), strict=False):
        yield FinishedPointSeason(point, FinishedSeason(job.plan, job.seed, summary))


def sweep_of(
    scenario: Any,
    settings: Sequence[Setting],
    plans: Sequence[str],
    finished: dict[Point, list[FinishedSeason]],
    *,
    seasons_wanted: int | None = None,
) -> Sweep:
    """Return the sweep of the seasons that every plan has finished at every point.

    Raises
    ------
    RunError
        If there is no such season yet.
    """
    points = points_of(settings)
    seeds = {one.seed for one in finished.get(points[0], [])}
    for point in points:
        had = {(one.plan, one.seed) for one in finished.get(point, [])}
        seeds = {seed for seed in seeds if all((plan, seed) in had for plan in plans)}
    measures = measures_in(one.summary for had in finished.values() for one in had)
    comparisons = {
        point: comparison_of(
            scenario,
            plans,
            [one for one in finished.get(point, []) if one.seed in seeds],
            seasons_wanted=seasons_wanted,
            measures=measures,
        )
        for point in points
    }
    return Sweep(tuple(settings), comparisons)


def points_of(settings: Sequence[Setting]) -> list[Point]:
    """Return every combination of values, the last setting changing fastest.

    Raises
    ------
    RunError
        If there is no setting, one is varied twice, or there are too many points.
    """
    if not settings:
        raise RunError(tell("No setting was given to vary; at least 1 is needed, such as pests.arrivals=1,2,5."))
    keys = [key for setting in settings for key in setting.keys]
    for key in keys:
        if keys.count(key) > 1:
            raise RunError(tell("The setting '{key}' is varied twice; each is varied once.", key=key))
    count = int(np.prod([float(len(setting.values)) for setting in settings]))
    if count > MOST_POINTS:
        raise RunError(
            tell("These settings make {count:,} points; at most {most:,} are allowed.", count=count, most=MOST_POINTS)
        )
    return list(product(*(setting.values for setting in settings)))


def _jobs_at(
    scenario: Any, settings: Sequence[Setting], points: Sequence[Point], plans: Sequence[str], seeds: Sequence[int]
) -> list[Job]:
    changed = []
    for point in points:
        changes = {key: value for setting, value in zip(settings, point, strict=True) for key in setting.keys}
        garden = scenario.with_changes(changes)
        changed.append((garden, {plan: season_fingerprint(garden, plan) for plan in plans}))
    return [
        Job(garden, plan, seed, fingerprints[plan])
        for seed in seeds
        for garden, fingerprints in changed
        for plan in plans
    ]


def _check_plans_are_run(scenario: Any, settings: Sequence[Setting], plans: Sequence[str]) -> None:
    known = {word: plan.name for place, plan in enumerate(scenario.plans) for word in (plan.name, str(place))}
    for setting in settings:
        for key in setting.keys:
            match key.split("."):
                case ["plans", word, *_] if word in known and known[word] not in plans:
                    raise RunError(
                        tell(
                            "'{key}' belongs to plan '{name}', which is not among those run: {known}.",
                            key=key,
                            name=known[word],
                            known=", ".join(plans),
                        )
                    )
