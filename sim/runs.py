"""One run of many seasons, as every caller may have it: who works, who is told, where seasons are kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import Executor
from pathlib import Path
from typing import Any, TypedDict

from sim.jobs import Cancel, Job, Progress, SeasonFunction, run_jobs
from sim.store import ResultsFolder, Summary


class HowToRun(TypedDict, total=False):
    """Who does the work of many seasons, where they are kept, and who is told; nothing of it changes a number.

    Attributes
    ----------
    executor
        Who works (see ``sim.workers``); None chooses by the time the first seasons take.
    progress
        Called with seasons done and all seasons.
    cancel
        When set, the run ends with the seasons that all plans have finished.
    store
        Folder that keeps seasons as they come; a run that was interrupted goes on from it.
    season
        Stands in for ``run_season`` in tests.
    """

    executor: Executor | None
    progress: Progress | None
    cancel: Cancel | None
    store: str | Path | None
    season: SeasonFunction | None


def summaries_of(
    scenario: Any,
    jobs: Sequence[Job],
    plans: Sequence[str],
    *,
    executor: Executor | None = None,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    store: str | Path | None = None,
    season: SeasonFunction | None = None,
) -> Iterator[Summary]:
    """Yield the measures of each job in order, as soon as they are there; see :class:`HowToRun` for the parameters."""
    folder = ResultsFolder(store, {"scenario": scenario.name}) if store is not None else None
    return run_jobs(
        jobs,
        executor=executor,
        progress=progress,
        cancel=cancel,
        store=folder,
        season=season,
        first_here=max(2, len(plans)),
    )
