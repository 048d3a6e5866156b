"""Plans against each other over many seasons, paired by season: same weather, same arrivals, same luck.

The first plan is the one the others are held against. A plan is *ahead* in a season when its measure is better:
more where more is better, less where less is; where neither is better, ahead means the larger number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple, Unpack

import numpy as np

from sim.errors import RunError, tell
from sim.jobs import jobs_for
from sim.runs import HowToRun, summaries_of
from sim.store import Summary, model_identity
from sim.uncertainty import Better, estimate, held_against

if TYPE_CHECKING:
    import pandas as pd

    from sim.compiled import Floats


class FinishedSeason(NamedTuple):
    """One season of one plan."""

    plan: str
    seed: int
    summary: Summary


@dataclass(frozen=True)
class Comparison:
    """Measures of some plans over some seasons.

    Parameters
    ----------
    plans, seeds, measures
        Names of the plans (the first is compared against), seeds of the seasons, names of the measures.
    values
        Shape (plans, seeds, measures); NaN where a measure has no value in a season.
    scenario_name
        For titles and records.
    is_complete
        False when it was cancelled and holds fewer seasons than were asked for.
    """

    plans: tuple[str, ...]
    seeds: tuple[int, ...]
    measures: tuple[str, ...]
    values: Floats
    scenario_name: str = ""
    scenario_fingerprint: str = ""
    is_complete: bool = True

    @cached_property
    def seasons(self) -> pd.DataFrame:
        """Every number: plan, seed, measure, value."""
        import pandas as pd

        plans, seeds, measures = len(self.plans), len(self.seeds), len(self.measures)
        return pd.DataFrame(
            {
                "plan": np.repeat(self.plans, seeds * measures),
                "seed": np.tile(np.repeat(self.seeds, measures), plans),
                "measure": np.tile(self.measures, plans * seeds),
                "value": self.values.ravel(),
            }
        )

    @cached_property
    def table(self) -> pd.DataFrame:
        """Each plan by itself: plan, measure, unit, mean, low, high, spread, seasons.

        ``low`` and ``high`` are Student's interval at 19 in 20 (how often it holds the true mean:
        :func:`~sim.uncertainty.estimate`); ``spread`` is the standard deviation between seasons.
        """
        import pandas as pd

        rows = [
            (plan, measure, unit_of(measure), found.mean, found.low, found.high, found.spread, found.count)
            for p, plan in enumerate(self.plans)
            for m, measure in enumerate(self.measures)
            for found in [estimate(_known(self.values[p, :, m]))]
        ]
        return pd.DataFrame(rows, columns=["plan", "measure", "unit", "mean", "low", "high", "spread", "seasons"])

    @cached_property
    def paired(self) -> pd.DataFrame:
        """Each plan less the first, season by season.

        Columns: plan, against, measure, unit, difference (mean), low, high (19 in 20), ahead, level, behind
        (seasons), share_ahead, verdict (ahead, behind, level, too close to call), more_seasons_needed (0 when settled,
        missing when no number of seasons would do).
        """
        import pandas as pd

        rows = [self._pair(p, m) for p in range(1, len(self.plans)) for m in range(len(self.measures))]
        frame = pd.DataFrame(rows, columns=_PAIRED)
        frame["more_seasons_needed"] = frame["more_seasons_needed"].astype("Int64")
        return frame

    @property
    def provenance(self) -> dict[str, Any]:
        """What produced these numbers."""
        return {
            "model": model_identity(),
            "scenario": self.scenario_name,
            "scenario_fingerprint": self.scenario_fingerprint,
            "plans": list(self.plans),
            "seeds": list(self.seeds),
            "is_complete": self.is_complete,
        }

    def _pair(self, p: int, m: int) -> tuple[Any, ...]:
        measure = self.measures[m]
        found, tally = held_against(self.values[p, :, m], self.values[0, :, m], better_of(measure))
        return (
            self.plans[p], self.plans[0], measure, unit_of(measure), found.mean, found.low, found.high,
            tally.ahead, tally.level, tally.behind, tally.share_ahead, tally.verdict, tally.more_seasons_needed,
        )  # fmt: skip


_PAIRED = [
    "plan", "against", "measure", "unit", "difference", "low", "high",
    "ahead", "level", "behind", "share_ahead", "verdict", "more_seasons_needed",
]  # fmt: skip


def compare(
    scenario: Any,
    plans: Sequence[str] | None = None,
    seasons: int | Sequence[int] = 20,
    seed: int = 1,
    **how: Unpack[HowToRun],
) -> Comparison:
    """Run plans over the same seasons and compare them.

    Parameters
    ----------
    scenario
        The garden with its plans.
    plans
        Names; the others are held against the first. All plans of the scenario if left out.
    seasons
        How many seasons (1 or more), or their seeds.
    seed
        Seed of the first season; the next has the next whole number.
    **how
        Who does the work and who is told: see :class:`~sim.runs.HowToRun`.

    Raises
    ------
    ScenarioError
        If a plan is not there.
    RunError
        If no plan or no season is asked for, one is twice, or it is cancelled before all plans have one season.
    OutputError
        If the folder holds another run or cannot be written.
    """
    names, seeds = plans_of(scenario, plans), seeds_of(seasons, seed)
    finished = list(compare_as_they_come(scenario, names, seeds, **how))
    return comparison_of(scenario, names, finished, seasons_wanted=len(seeds))


def compare_as_they_come(
    scenario: Any,
    plans: Sequence[str] | None = None,
    seasons: int | Sequence[int] = 20,
    seed: int = 1,
    **how: Unpack[HowToRun],
) -> Iterator[FinishedSeason]:
    """Yield seasons as they finish, all plans of the first seed first; see :func:`compare` for the parameters.

    ``comparison_of`` makes a comparison of those had so far, as often as a caller likes.
    """
    names, seeds = plans_of(scenario, plans), seeds_of(seasons, seed)
    jobs = jobs_for(scenario, names, seeds)
    for job, summary in zip(jobs, summaries_of(scenario, jobs, names, **how), strict=False):
        yield FinishedSeason(job.plan, job.seed, summary)


def comparison_of(
    scenario: Any,
    plans: Sequence[str],
    finished: Sequence[FinishedSeason],
    *,
    seasons_wanted: int | None = None,
    measures: Sequence[str] | None = None,
) -> Comparison:
    """Return the comparison of the seasons that every plan has finished, in every measure that any of them has.

    ``seasons_wanted`` tells whether it is complete; ``measures`` sets which measures it holds.

    Raises
    ------
    RunError
        If there is no such season yet.
    """
    found = {(one.plan, one.seed): one.summary for one in finished}
    seeds = [
        seed for seed in dict.fromkeys(one.seed for one in finished) if all((plan, seed) in found for plan in plans)
    ]
    if not seeds:
        raise RunError(tell("Stopped before every plan had finished one season, so there is nothing to compare."))
    names = list(measures_in(found.values()) if measures is None else measures)
    values = np.array(
        [[[found[plan, seed].get(name, np.nan) for name in names] for seed in seeds] for plan in plans], dtype=float
    ).reshape(len(plans), len(seeds), len(names))
    return Comparison(
        tuple(plans), tuple(seeds), tuple(names), values,
        scenario_name=str(scenario.name),
        scenario_fingerprint=str(getattr(scenario, "fingerprint", "")),
        is_complete=seasons_wanted is None or len(seeds) == seasons_wanted,
    )  # fmt: skip


def measures_in(summaries: Iterable[Summary]) -> list[str]:
    """Return every measure that some season has, in the order of the list of measures; others come last."""
    had = dict.fromkeys(name for summary in summaries for name in summary)
    order = {name: place for place, name in enumerate(_measures())}
    return sorted(had, key=lambda name: order.get(name, len(order)))


def plans_of(scenario: Any, plans: Sequence[str] | None) -> tuple[str, ...]:
    """Return the plans asked for, each known and named once; all of the scenario if none is named."""
    wanted = tuple(scenario.plan_names if plans is None else plans)
    if not wanted:
        raise RunError(tell("No plan was asked for; at least 1 is needed."))
    for name in wanted:
        scenario.plan(name)  # tells if there is none
        if wanted.count(name) > 1:
            raise RunError(tell("The plan '{name}' was asked for twice; each plan is compared once.", name=name))
    return wanted


def seeds_of(seasons: int | Sequence[int], seed: int) -> tuple[int, ...]:
    """Return the seeds of the seasons asked for."""
    seeds = tuple(range(seed, seed + seasons)) if isinstance(seasons, int) else tuple(seasons)
    if not seeds:
        raise RunError(
            tell(
                "{count} seasons were asked for; at least 1 is needed.",
                count=seasons if isinstance(seasons, int) else tell("No"),
            )
        )
    if len(set(seeds)) < len(seeds):
        raise RunError(tell("A seed was given twice; the same season counts once."))
    return seeds


def unit_of(measure: str) -> str:
    """Return the unit of a measure, or an empty text for one that is not known."""
    return str(getattr(_measures().get(measure), "unit", ""))


def words_of(measure: str) -> str:
    """Return a measure in words."""
    return str(getattr(_measures().get(measure), "words", measure.replace("_", " ")))


def better_of(measure: str) -> Better:
    """Return whether more or less of a measure is better, or neither."""
    better: Better = getattr(_measures().get(measure), "better", "neither")
    return better


def _measures() -> Mapping[str, Any]:
    from sim.measures import MEASURES

    measures: Mapping[str, Any] = MEASURES
    return measures


def _known(values: Floats) -> Floats:
    return values[~np.isnan(values)]
