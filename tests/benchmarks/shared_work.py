"""How much faster is shared work? Ratios of one run: python -m tests.benchmarks.shared_work [GARDEN]

Every way of working is timed in turn, in the same process, and must give the same numbers. Ratios, not seconds,
are what to compare between machines.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor

import numpy as np

from sim.comparison import Comparison, compare, compare_as_they_come
from sim.scenario import Scenario, load_scenario
from sim.workers import Processes, cluster, here

LONG_SECONDS = 10
CLUSTER_SEASONS = 1000


def timed(work: Callable[[], Comparison]) -> tuple[float, Comparison]:
    started = time.perf_counter()
    found = work()
    return time.perf_counter() - started, found


def say(what: str, value: float, unit: str) -> None:
    print(f"{what:<62}{value:10.3f} {unit}")


def quick_comparison(garden: Scenario, plans: list[str]) -> float:
    """Four plans x 20 seasons, as a person waits for it; returns seconds a season."""
    started = time.perf_counter()
    coming = compare_as_they_come(garden, plans, 20)
    for _ in plans[:2]:
        next(coming)
    say("first pair on hand", time.perf_counter() - started, "s")
    list(coming)
    seconds = time.perf_counter() - started
    say(f"{len(plans)} plans x 20 seasons, workers chosen by measured time", seconds, "s")
    return seconds / (20 * len(plans))


def two_workers_against_one(garden: Scenario, plans: list[str], season_seconds: float, pool: Executor) -> None:
    seasons = max(4, round(LONG_SECONDS / season_seconds / len(plans)))
    alone, expected = timed(lambda: compare(garden, plans, seasons, executor=here()))
    shared, found = timed(lambda: compare(garden, plans, seasons, executor=pool))
    with ThreadPoolExecutor(2) as threads:
        threaded, same = timed(lambda: compare(garden, plans, seasons, executor=threads))
    assert found.values.tobytes() == expected.values.tobytes() == same.values.tobytes()
    say(f"{seasons * len(plans)} seasons here", alone, "s")
    say("two warm processes are faster by", alone / shared, "times")
    say("two threads are faster by", alone / threaded, "times")


def cluster_against_pool(garden: Scenario, plans: list[str], pool: Executor) -> None:
    from distributed import LocalCluster

    seasons = CLUSTER_SEASONS // len(plans)
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as local,
        cluster(local.scheduler_address) as executor,
    ):
        compare(garden, plans, 10, executor=executor)
        on_pool, expected = timed(lambda: compare(garden, plans, seasons, executor=pool))
        on_cluster, found = timed(lambda: compare(garden, plans, seasons, executor=executor))
    assert np.array_equal(found.values, expected.values, equal_nan=True)
    say(f"{seasons * len(plans)} seasons on two processes", on_pool, "s")
    say("a cluster of two local workers takes, against the pool", on_cluster / on_pool, "times")


def main(name: str) -> None:
    garden = load_scenario(name)
    plans = [plan.name for plan in garden.plans[:4]]
    compare(garden, plans, 2)  # load the rules
    season_seconds = quick_comparison(garden, plans)
    say("a season", season_seconds * 1000, "ms")
    with Processes(2) as pool:
        started = time.perf_counter()
        compare(garden, plans, 1, executor=pool)
        say("start of two processes, with their first seasons", time.perf_counter() - started, "s")
        compare(garden, plans, 10, executor=pool)
        two_workers_against_one(garden, plans, season_seconds, pool)
        cluster_against_pool(garden, plans, pool)


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "teaching_garden")
