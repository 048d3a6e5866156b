"""Many seasons, in order, on whatever workers there are: the same numbers whoever did the work.

Seasons that are alike (same scenario, plan and seed) are run once. Small work is done here; a pool is started only when
the seasons timed so far say that it will pay. A worker that dies costs its batch another try, not the run.
"""

from __future__ import annotations

import math
import time
from collections import Counter, deque
from collections.abc import Callable, Generator, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, CancelledError, Executor, Future, wait
from contextlib import closing
from dataclasses import dataclass, field
from typing import Any, Protocol, TypeAlias

from sim.errors import RunError, tell
from sim.store import ResultsFolder, SeasonKey, Summary, model_identity
from sim.workers import Here, Processes, cores, processes, worker_count

BATCH_SECONDS = 1 / 2
"""Work handed over at once: long against the cost of handing it over, short against a person's patience."""
MOST_IN_A_BATCH = 50
MOST_TRIES = 3
"""How often a season may lose its worker before the run is given up."""
CANCEL_CHECK_SECONDS = 1 / 20

Progress: TypeAlias = Callable[[int, int], object]
"""Called with the number of seasons done and of all seasons."""
SeasonFunction: TypeAlias = Callable[[Any, str, int], Any]
"""``run_season`` or a stand-in: scenario, plan, seed → something with ``.summary``; must be importable by workers."""


Batch: TypeAlias = list[tuple[SeasonKey, Summary]]


class Cancel(Protocol):
    """What can be asked whether to stop, such as a ``threading.Event``."""

    def is_set(self) -> bool:
        """Return whether to stop."""


@dataclass(frozen=True, slots=True)
class Job:
    """One season to run."""

    scenario: Any
    plan: str
    seed: int
    fingerprint: str

    @property
    def key(self) -> SeasonKey:
        """What makes this season the same season."""
        return SeasonKey(self.fingerprint, self.plan, self.seed)


@dataclass(slots=True)
class Waiting:
    """Seasons still to run, and how long one takes as far as is known."""

    jobs: deque[Job]
    season: SeasonFunction | None
    cancel: Cancel | None
    timed_count: int = 0
    quickest_seconds: float = math.inf
    tries: Counter[SeasonKey] = field(default_factory=Counter)

    @property
    def is_cancelled(self) -> bool:
        """Whether the caller has asked to stop."""
        return self.cancel is not None and self.cancel.is_set()

    def take_batch(self, workers: int) -> list[Job]:
        """Return the next seasons to hand over: one at first and here, then what fills half a second.

        Seasons of one seed stay together where they can, for they share weather and the harvest without pests; but not
        so that another worker is left without.
        """
        size = 1
        if workers and self.timed_count:
            fair = math.ceil(len(self.jobs) / (2 * workers))
            fitting = int(BATCH_SECONDS / max(self.quickest_seconds, BATCH_SECONDS / MOST_IN_A_BATCH))
            size = max(1, min(fair, fitting))
        batch = [self.jobs.popleft() for _ in range(min(size, len(self.jobs)))]
        while len(self.jobs) >= workers > 0 and self.jobs[0].seed == batch[-1].seed and len(batch) < 2 * size:
            batch.append(self.jobs.popleft())
        return batch

    def note_time(self, seconds: float, count: int) -> None:
        """Take in how long a batch of so many seasons took; the quickest counts, for the first also loads the rules."""
        self.timed_count += count
        self.quickest_seconds = min(self.quickest_seconds, seconds / count)

    def give_back(self, batch: Sequence[Job]) -> None:
        """Put seasons back whose worker was lost, for another try."""
        self.jobs.extendleft(reversed(batch))
        self.tries.update(job.key for job in batch)
        if any(self.tries[job.key] >= MOST_TRIES for job in batch):
            raise WorkersLostError(
                tell(
                    "Season {seed} of plan '{plan}' lost its worker {tries} times, so the run was given up; what is"
                    " done is kept. Fewer workers need less memory.",
                    seed=batch[0].seed,
                    plan=batch[0].plan,
                    tries=MOST_TRIES,
                )
            )

    def is_worth_a_pool(self, workers: int, start_seconds: float) -> bool:
        """Return whether sharing what is left among workers saves more than their start costs.

        As long as no season has been timed, a season counts as long.
        """
        left_seconds = self.quickest_seconds * len(self.jobs)
        return workers > 1 and len(self.jobs) > 1 and left_seconds * (1 - 1 / workers) > start_seconds


class WorkersLostError(RunError):
    """Workers died again and again, or cannot be replaced."""


def season_fingerprint(scenario: Any, plan: str) -> str:
    """Return the fingerprint of a scenario with only this plan; titles and descriptions do not count."""
    words = {"title": "", "about": ""}
    alone = tuple(entry.model_copy(update=words) for entry in scenario.plans if entry.name == plan)
    return str(scenario.model_copy(update={**words, "plans": alone}).fingerprint)


def jobs_for(scenario: Any, plans: Sequence[str], seeds: Sequence[int]) -> list[Job]:
    """Return every plan of the first seed, then of the next: pairs come complete as early as can be."""
    fingerprints = {plan: season_fingerprint(scenario, plan) for plan in plans}
    return [Job(scenario, plan, seed, fingerprints[plan]) for seed in seeds for plan in plans]


def run_jobs(
    jobs: Sequence[Job],
    *,
    executor: Executor | None = None,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    store: ResultsFolder | None = None,
    season: SeasonFunction | None = None,
    first_here: int = 2,
) -> Iterator[Summary]:
    """Yield the measures of every season in the order of the jobs, each as soon as it and all before it are done.

    Parameters
    ----------
    jobs
        What to run.
    executor
        Who works; None lets the time that the first seasons take decide between here and the machine's processes.
    progress
        Called after every batch with seasons done and all seasons, kept ones included.
    cancel
        Asked often; when set, the iterator ends early and what is done stays done.
    store
        Folder in which seasons are kept as they come, and from which those already there are taken.
    season
        Stands in for ``sim.season.run_season``.
    first_here
        Seasons run and timed here before a pool is started; one that is there already is used at once.

    Raises
    ------
    RunError
        If workers keep dying, or belong to another version of the model.
    """
    done: dict[SeasonKey, Summary] = dict(store.seasons()) if store else {}
    copies = Counter(job.key for job in jobs)
    missing = {job.key: job for job in jobs if job.key not in done}
    done_count = sum(count for key, count in copies.items() if key in done)
    if progress and done_count:
        progress(done_count, len(jobs))
    with closing(_finish(Waiting(deque(missing.values()), season, cancel), executor, first_here)) as finished:
        yielded = 0
        while True:
            while yielded < len(jobs) and jobs[yielded].key in done:
                yield done[jobs[yielded].key]
                yielded += 1
            batch = next(finished, None)
            if batch is None:
                return
            if store:
                store.keep(batch)
            done.update(batch)
            done_count += sum(copies[key] for key, _ in batch)
            if progress:
                progress(done_count, len(jobs))


def _finish(waiting: Waiting, executor: Executor | None, first_here: int) -> Generator[Batch, None, None]:
    """Yield batches as they finish, in any order."""
    if executor is not None:
        yield from _finish_with(waiting, executor)
        return
    pool = processes()
    while waiting.jobs and not waiting.is_cancelled:
        is_time_to_ask = pool.is_started or waiting.timed_count >= first_here
        if is_time_to_ask and waiting.is_worth_a_pool(cores(), pool.start_seconds):
            yield from _finish_with_pool(waiting, pool)
            return
        yield from _finish_one_here(waiting)


def _finish_with_pool(waiting: Waiting, pool: Processes) -> Generator[Batch, None, None]:
    timed_here_count = waiting.timed_count
    try:
        yield from _finish_with(waiting, pool)
    except WorkersLostError:
        if waiting.timed_count > timed_here_count:
            raise
        # No process ever got to work, as when a script cannot be imported by them; the seasons run here, so go on here.
        yield from _finish_with(waiting, Here())


def _finish_one_here(waiting: Waiting) -> Generator[Batch, None, None]:
    batch = waiting.take_batch(workers=0)
    seconds, summaries = _run_batch(batch, waiting.season, model_identity())
    waiting.note_time(seconds, len(batch))
    yield _paired_up(batch, summaries)


def _finish_with(waiting: Waiting, executor: Executor) -> Generator[Batch, None, None]:
    in_flight: dict[Future[tuple[float, list[Summary]]], list[Job]] = {}
    try:
        while (waiting.jobs or in_flight) and not waiting.is_cancelled:
            _hand_over(waiting, executor, in_flight)
            ready, _ = wait(in_flight, CANCEL_CHECK_SECONDS if waiting.cancel else None, FIRST_COMPLETED)
            for future in ready:
                batch = in_flight.pop(future)
                try:
                    seconds, summaries = future.result()
                except Exception as error:
                    if not _is_loss_of_worker(error):
                        raise
                    waiting.give_back(batch)
                else:
                    waiting.note_time(seconds, len(batch))
                    yield _paired_up(batch, summaries)
    finally:
        for future, batch in in_flight.items():
            future.cancel()
            waiting.jobs.extendleft(reversed(batch))


def _hand_over(waiting: Waiting, executor: Executor, in_flight: dict[Future[Any], list[Job]]) -> None:
    """Keep every worker busy: one batch in hand and one waiting."""
    workers = worker_count(executor)
    while waiting.jobs and len(in_flight) < max(1, 2 * workers):
        batch = waiting.take_batch(workers)
        try:
            in_flight[executor.submit(_run_batch, batch, waiting.season, model_identity())] = batch
        except BrokenExecutor:
            waiting.jobs.extendleft(reversed(batch))
            raise WorkersLostError(
                tell("The workers died and this executor starts no others; what is done is kept.")
            ) from None


def _is_loss_of_worker(error: Exception) -> bool:
    """Return whether work failed because its worker went away, not because of the work."""
    return isinstance(error, BrokenExecutor | CancelledError) or type(error).__module__.startswith("distributed")


def _paired_up(batch: Sequence[Job], summaries: Sequence[Summary]) -> Batch:
    return [(job.key, summary) for job, summary in zip(batch, summaries, strict=True)]


def _run_batch(
    batch: Sequence[Job], season: SeasonFunction | None, model: Mapping[str, str]
) -> tuple[float, list[Summary]]:
    """Run seasons one after the other where this is called; return seconds taken and their measures."""
    if model != model_identity():
        raise RunError(
            tell(
                "A worker has another version of the model than this program; install the same one on both, or start "
                "this program again if its files have changed."
            )
        )
    run = season or _run_season()
    started = time.perf_counter()
    summaries = [_measures_of(run(job.scenario, job.plan, job.seed)) for job in batch]
    return time.perf_counter() - started, summaries


def _run_season() -> SeasonFunction:
    from sim.season import run_season  # heavy: Mesa and compiled rules, not wanted where no season is run

    return run_season


def _measures_of(season: Any) -> Summary:
    return {str(name): float(value) for name, value in season.summary.items()}
