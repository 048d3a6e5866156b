"""The numbers that are known worst, one at a time, from one end of their range to the other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from sim.cast import CATERPILLARS, word
from sim.jobs import Job, run_jobs, season_fingerprint
from sim.parameters import load_parameters
from sim.sensitivity.known import MIDDLE, Span, span_of
from sim.sensitivity.study import Study
from sim.store import ResultsFolder

MEASURES = (
    "harvest_kg",
    "marketable_kg",
    "egg_to_adult_share",
    "pest_days_count",
    "aphids_peak_count",
    "bird_food_reachable_g",
    "bird_food_delivered_g",
)
MOTHS = tuple(map(word, CATERPILLARS))
HOLE = "nets.stop_aperture_mm"
SEASONS_FOR_EACH = 4
"""Seasons at each value, as a multiple of those of the study."""
GRADE_LIMITS = (2.0, 5.0, 10.0, 20.0)
"""Per cent of a leaf."""
BIRD_USE = (0.0, 1 / 2, 1.0, 2.0, 4.0)
ENDS = (0.0, MIDDLE, 1.0)


def settings() -> dict[str, list[tuple[str, Mapping[str, Any]]]]:
    """Return what is varied in words → (value in words, changes by dotted key), the value used among them."""
    table = load_parameters()
    leaf = [span_of(table[f"moths.{moth}.leaf_total_cm2"]) for moth in MOTHS]
    leak = span_of(table["nets.edge_leak_share"])
    place = table[HOLE].axis.index("winged_aphid")
    bare = [span_of(table[f"moths.{moth}.try_bare_share"]) for moth in MOTHS]
    shut_in = [span_of(table[f"moths.{moth}.shut_in_egg_share"]) for moth in MOTHS]
    return {
        "missing share of a leaf that still sells": [
            (f"{limit:g} %", {"numbers.crops.grades.leaf_limit_share": limit / 100}) for limit in GRADE_LIMITS
        ],
        "tries that find a way under a buried edge": [
            (_percent(leak, end), {"numbers.nets.edge_leak_share": leak.at(end)}) for end in ENDS
        ],
        "leaf that a cabbage white larva eats (looper and diamondback alike within their ranges)": [
            (f"{leaf[0].at(end):g} cm²", {f"numbers.{span.key}": span.at(end) for span in leaf}) for end in ENDS
        ],
        "birds' use of the beds, as a multiple of the usual": [
            (f"{use:g}", {"birds.use_of_garden": use}) for use in BIRD_USE
        ],
        "moths turned away by a net that try bare plants, wild ones among them; the others leave": [
            (_percent(bare[0], end), {f"numbers.{span.key}": span.at(end) for span in bare}) for end in ENDS
        ],
        "eggs of a cabbage white shut in with the crop, of those that a free one lays (looper and diamondback alike "
        "within their ranges)": [
            (_percent(shut_in[0], end), {f"numbers.{span.key}": span.at(end) for span in shut_in}) for end in ENDS
        ],
        "hole that no winged aphid passes": [
            (f"{row[place]:g} mm", {f"numbers.{HOLE}": row}) for row in _rows_with(table[HOLE].bounds(), place)
        ],
    }


def _rows_with(bounds: Sequence[tuple[float, float, float]], place: int) -> list[tuple[float, ...]]:
    """Return a row three times: at one place its least, usual and largest value, at all others the usual."""
    usual = [value for _, value, _ in bounds]
    return [(*usual[:place], end, *usual[place + 1 :]) for end in bounds[place]]


def _percent(span: Span, end: float) -> str:
    return f"{100 * np.atleast_1d(span.at(end))[0]:g} %"


def least_certain(study: Study) -> list[dict[str, Any]]:
    """Return a row for each number, value and plan: the mean of each measure over the same seasons."""
    seeds = range(1, SEASONS_FOR_EACH * study.effort.seasons + 1)
    cases = [(words, value, changes) for words, values in settings().items() for value, changes in values]
    gardens = [study.scenario.with_changes(dict(changes)) for _, _, changes in cases]
    jobs = [
        Job(garden, plan, seed, season_fingerprint(garden, plan))
        for garden in gardens
        for plan in study.plans
        for seed in seeds
    ]
    about = {"scenario": study.scenario.name, "stage": "uncertain"}
    folder = ResultsFolder(study.store / "uncertain", about) if study.store else None
    report = study.progress("uncertain") if study.progress else None
    summaries = run_jobs(jobs, executor=study.executor, progress=report, store=folder, season=study.season)
    values = np.array([[one.get(name, np.nan) for name in MEASURES] for one in summaries])
    means = np.nanmean(values.reshape(len(cases), len(study.plans), len(seeds), len(MEASURES)), axis=2)
    return [
        {"number": words, "value": value, "plan": plan, **_rounded(means[case, p])}
        for case, (words, value, _) in enumerate(cases)
        for p, plan in enumerate(study.plans)
    ]


def _rounded(means: Sequence[float]) -> dict[str, float]:
    return {name: float(f"{mean:.4g}") for name, mean in zip(MEASURES, means, strict=True)}
