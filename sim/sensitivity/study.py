"""The study behind the ranking: screen mechanisms, move numbers singly, share out the spread, turn all at once.

All seasons of a study have the same few seeds, so that a result differs only by the numbers. Seasons are kept in a
folder as they come; a study that was interrupted goes on from there.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import asdict, dataclass, field
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np

from sim.compiled import Floats
from sim.jobs import Job, Progress, SeasonFunction, run_jobs
from sim.parameters import load_parameters
from sim.sensitivity import design
from sim.sensitivity.known import MIDDLE, Span, mechanism_of, spans
from sim.store import ResultsFolder, model_identity

MEASURES = ("marketable_kg", "marketable_share", "egg_to_adult_share", "pest_days_count", "bird_food_delivered_g")
"""Marketable harvest by weight and as a share of what is picked, survival and number of pests, nestlings' food."""
PLANS = ("nothing", "net", "spray_weekly")
IN_POWERS_OF_TEN = ("pest_days_count",)
"""Numbers of animals multiply: these are compared by their logarithm, lest one bad year be all that is seen."""
DIGITS = 4
MOST_TOLD = 20
"""Numbers moved singly that the ranking tells of for each result, besides those that went on."""
StageProgress = Callable[[str], Progress | None]
"""Given a stage's name, returns the function that is called with seasons done and all seasons of it."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How many points each stage tries.

    Parameters
    ----------
    seasons
        Seasons at each point, the same ones everywhere.
    screen_trajectories
        Starting points of Morris over mechanisms.
    mechanisms_kept, numbers_kept
        How many go on to the next stage.
    sobol_base
        A power of two; Sobol' tries this times (numbers kept + 2) points.
    orders
        Points at which every number of all is turned at once.
    """

    seasons: int = 2
    screen_trajectories: int = 8
    mechanisms_kept: int = 20
    numbers_kept: int = 20
    sobol_base: int = 64
    orders: int = 160


TASTE = Effort(seasons=1, screen_trajectories=2, mechanisms_kept=2, numbers_kept=2, sobol_base=2, orders=4)
"""A run that only shows that it runs."""


@dataclass
class Study:
    """Runs seasons at places of the ranges.

    Parameters
    ----------
    scenario
        The garden.
    plans
        Plans to look at; the scenario has them.
    effort
        How much is tried.
    store
        Folder for seasons; one folder a stage.
    season
        Stands in for ``run_season`` in tests.
    """

    scenario: Any
    plans: Sequence[str]
    effort: Effort
    store: Path | None = None
    executor: Executor | None = None
    progress: StageProgress | None = None
    season: SeasonFunction | None = None
    missing: int = field(default=0, init=False)

    def __post_init__(self) -> None:
        # Other plans must not tell points apart, nor be sent to workers.
        alone = tuple(self.scenario.plan(name) for name in self.plans)
        self.scenario = self.scenario.model_copy(update={"plans": alone})

    def results(self, stage: str, keys: Sequence[str], places: Floats, ranges: Mapping[str, Span]) -> Floats:
        """Return the mean over seasons of every measure at every point, shape (points, plans, measures)."""
        seeds = range(1, self.effort.seasons + 1)
        jobs = [
            Job(garden, plan, seed, fingerprint)
            for row in places
            for garden in [self._garden_at(keys, row, ranges)]
            for fingerprint in [str(garden.fingerprint)]
            for seed in seeds
            for plan in self.plans
        ]
        folder = ResultsFolder(self.store / stage, self._about(stage, places)) if self.store else None
        summaries = run_jobs(
            jobs,
            executor=self.executor,
            progress=self.progress(stage) if self.progress else None,
            store=folder,
            season=self.season,
        )
        values = np.array([[summary.get(name, np.nan) for name in MEASURES] for summary in summaries])
        values = values.reshape(len(places), len(seeds), len(self.plans), len(MEASURES))
        return self._without_gaps(values)

    def _garden_at(self, keys: Sequence[str], row: Floats, ranges: Mapping[str, Span]) -> Any:
        numbers = {key: ranges[key].at(float(place)) for key, place in zip(keys, row, strict=True)}
        return self.scenario.model_copy(update={"numbers": {**self.scenario.numbers, **numbers}})

    def _about(self, stage: str, places: Floats) -> dict[str, Any]:
        effort = {"seasons": self.effort.seasons, "points": len(places)}
        return {"scenario": self.scenario.name, "stage": stage, "plans": list(self.plans), **effort}

    def _without_gaps(self, values: Floats) -> Floats:
        """Return means over seasons; where no season gives a share, the middle of the other points stands in."""
        has_none = np.asarray(np.isnan(values).all(axis=1))
        self.missing += int(has_none.sum())
        filled = np.where(has_none[:, None], 0.0, values)
        means = np.nanmean(filled, axis=1)
        for plan, measure in np.argwhere(has_none.any(axis=0)):
            known = means[~has_none[:, plan, measure], plan, measure]
            means[has_none[:, plan, measure], plan, measure] = np.median(known) if len(known) else 0.0
        return np.asarray(means, dtype=np.float64)


def make_ranking(study: Study, seed: int = 1) -> dict[str, Any]:
    """Run every stage and return the ranking as it is stored.

    Returns
    -------
    dict
        Keys: made (how and with what), stated, mechanisms, numbers, shares, orders.
    """
    started = time.perf_counter()
    effort, ranges = study.effort, spans(load_parameters())
    keys = sorted(ranges)
    stated = study.results("stated", keys[:1], np.full((1, 1), MIDDLE), ranges)[0]

    problem = design.problem_of(keys, [mechanism_of(key) for key in keys])
    places = design.morris_places(problem, effort.screen_trajectories, seed)
    screened = study.results("mechanisms", keys, places, ranges)
    mechanisms = _by_result(study.plans, screened, lambda y: design.morris_effects(problem, places, y))

    kept = set(_kept(mechanisms, effort.mechanisms_kept))
    some = [key for key in keys if mechanism_of(key) in kept]
    single = study.results("numbers", some, design.end_places(len(some)), ranges)
    numbers = {
        plan: {
            name: [[row[0], *_short(row[1:])] for row in design.end_effects(some, single[:, p, m], stated[p, m])]
            for m, name in enumerate(MEASURES)
        }
        for p, plan in enumerate(study.plans)
    }

    few = _kept(numbers, effort.numbers_kept)
    of_few = design.problem_of(few)
    together = study.results("shares", few, design.sobol_places(of_few, effort.sobol_base, seed), ranges)
    shares = _by_result(study.plans, together, lambda y: design.sobol_shares(of_few, y))

    turned = study.results("orders", keys, design.spread_places(effort.orders, len(keys), seed), ranges)
    return {
        "made": {
            "scenario": study.scenario.name,
            "plans": list(study.plans),
            "measures": list(MEASURES),
            "effort": asdict(effort),
            "numbers_varied": len(keys),
            "mechanisms": len({mechanism_of(key) for key in keys}),
            "numbers_screened_singly": len(some),
            "results_without_value": study.missing,
            "seconds": round(time.perf_counter() - started),
            "model": model_identity(),
        },
        "stated": {plan: dict(zip(MEASURES, _short(stated[p]), strict=True)) for p, plan in enumerate(study.plans)},
        "mechanisms": mechanisms,
        "numbers": {
            plan: {
                name: [row for place, row in enumerate(rows) if place < MOST_TOLD or row[0] in few]
                for name, rows in of.items()
            }
            for plan, of in numbers.items()
        },
        "shares": shares,
        "orders": {name: order_of_plans(study.plans, turned[:, :, m], stated[:, m]) for m, name in enumerate(MEASURES)},
    }


def order_of_plans(plans: Sequence[str], values: Floats, stated: Floats) -> dict[str, Any]:
    """Return how often plans keep their order over points; values (points, plans), stated (plans,), more comes first.

    Returns
    -------
    dict
        stated: the order at the stated values; same_first, same_order: shares of points with the same plan first, with
        the same whole order; pairs: [plan, other, share of points in which the plan has more].
    """
    order = np.argsort(-stated, kind="stable")
    orders = np.argsort(-values, axis=1, kind="stable")
    pairs = [
        [plans[a], plans[b], round(float(np.mean(values[:, a] > values[:, b])), DIGITS)]
        for a, b in combinations(order.tolist(), 2)
    ]
    return {
        "stated": [plans[p] for p in order],
        "same_first": round(float(np.mean(orders[:, 0] == order[0])), DIGITS),
        "same_order": round(float(np.mean((orders == order).all(axis=1))), DIGITS),
        "pairs": pairs,
        "points": len(values),
    }


def _by_result(
    plans: Sequence[str], values: Floats, analyse: Callable[[Floats], list[Any]]
) -> dict[str, dict[str, list[Any]]]:
    return {
        plan: {
            name: [[row[0], *_short(row[1:])] for row in analyse(_scaled(name, values[:, p, m]))]
            for m, name in enumerate(MEASURES)
        }
        for p, plan in enumerate(plans)
    }


def _scaled(measure: str, values: Floats) -> Floats:
    return np.log10(1.0 + values) if measure in IN_POWERS_OF_TEN else values


def _kept(found: Mapping[str, Mapping[str, Sequence[Any]]], count: int) -> list[str]:
    """Return names in turn from every result's list, the largest effects first, until there are enough."""
    lists = [rows for of_plan in found.values() for rows in of_plan.values()]
    names: dict[str, None] = {}
    for rank in range(max(map(len, lists))):
        for rows in lists:
            if rank < len(rows) and rows[rank][1] > 0 and len(names) < count:
                names[rows[rank][0]] = None
    return list(names)


def _short(values: Sequence[float] | Floats) -> list[float]:
    return [float(f"{value:.{DIGITS}g}") for value in values]
