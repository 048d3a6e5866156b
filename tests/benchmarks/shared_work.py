"""How much faster is shared work? Ratios of one run: python -m tests.benchmarks.shared_work [GARDEN]

Every way of working is timed in turn, in the same process, and must give the same numbers. Ratios, not seconds,
are what to compare between machines. Where other work shares the machine, processor time tells more than the wall.
What the machine itself gives a second process is measured beside: two processors may be two doors to one.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from multiprocessing import active_children
from pathlib import Path
from unittest.mock import patch

import numpy as np

import sim.workers
from sim.cluster import cluster
from sim.comparison import Comparison, compare, compare_as_they_come, comparison_of
from sim.compiled import loop
from sim.randomness import mix
from sim.scenario import Scenario, load_scenario
from sim.workers import Processes, here, processes

TURNS = 3
SEASONS = 20
LONG_SECONDS = 12
MIXED = 150_000_000
"""Rounds of a loop that needs no memory: about a second."""
COUNTED = 8_000_000
"""Rounds of a loop of Python's own steps: about a second."""
MACHINE_TURNS = 5
CLUSTER_SEASONS = int(os.environ.get("CLUSTER_SEASONS", "1000"))


def timed(work: Callable[[], Comparison]) -> tuple[float, Comparison]:
    started = time.perf_counter()
    found = work()
    return time.perf_counter() - started, found


def say(what: str, value: float, unit: str) -> None:
    print(f"{what:<62}{value:10.3f} {unit}")


def quick_comparison(garden: Scenario, plans: list[str]) -> None:
    """Four plans x 20 seasons, as a person waits for it: what a slider's next place costs, weather and all."""
    pairs, alls = [], []
    for turn in range(TURNS):
        started = time.perf_counter()
        coming = compare_as_they_come(garden, plans, SEASONS, seed=1000 * (turn + 1))
        finished = [next(coming) for _ in plans[:2]]
        pairs.append(time.perf_counter() - started)
        finished += coming
        comparison = comparison_of(garden, plans, finished)
        comparison.table, comparison.paired  # noqa: B018
        alls.append(time.perf_counter() - started)
    say("first pair on hand, processes warm, seasons new", min(pairs), "s")
    say(f"{len(plans)} plans x {SEASONS} seasons with their tables, the same", min(alls), "s")


def season_seconds(garden: Scenario, plans: list[str]) -> float:
    """Return the processor's time for a season, with its share of the harvest without pests: the least of turns."""

    def turn(first: int) -> float:
        started = time.process_time()
        compare(garden, plans, range(first, first + 10), executor=here())
        return (time.process_time() - started) / (10 * len(plans))

    return min(turn(5000 + 10 * number) for number in range(TURNS))


def start_of_processes(garden: Scenario, plans: list[str]) -> None:
    """What two processes cost that begin as copies, and from nothing."""
    for way, can_be_copied in (("as copies of this process", True), ("from nothing", False)):
        with patch.object(sim.workers, "_can_be_copied", lambda can=can_be_copied: can), Processes(2) as pool:
            started = time.perf_counter()
            compare(garden, plans[:2], 1, executor=pool)
            say(f"two processes {way}, with the first pair", time.perf_counter() - started, "s")


def small_batches(garden: Scenario, plans: list[str], pool: Executor) -> None:
    """From how many seasons on is it quicker to share them?"""

    def fastest(count: int, executor: Executor) -> float:
        return min(timed(lambda: compare(garden, plans[:count], [7000], executor=executor))[0] for _ in range(TURNS))

    for count in (1, 2, 4):
        alone, shared = fastest(count, here()), fastest(count, pool)
        say(f"{count} seasons of one seed: here, against two warm processes", alone / shared, "times")


def busy_seconds(pids: Iterable[int]) -> list[float]:
    """Return the processor's time that each process has had so far."""
    ticks = os.sysconf("SC_CLK_TCK")
    fields = [Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split() for pid in pids]
    return [(int(stat[11]) + int(stat[12])) / ticks for stat in fields]


def busiest_of(pids: Sequence[int], work: Callable[[], Comparison]) -> tuple[float, float, Comparison]:
    """Return how long work took by the wall, and how much processor's time the busiest of these processes had of it."""
    before = busy_seconds(pids)
    seconds, found = timed(work)
    return seconds, max(after - early for after, early in zip(busy_seconds(pids), before, strict=True)), found


@loop
def mix_on(rounds: int) -> np.uint64:
    """Do nothing but arithmetic, each step waiting for the last: most of a processor stands idle."""
    value = np.uint64(1)
    for _ in range(rounds):
        value = mix(value)
    return value


def count_on(rounds: int) -> int:
    """Do what a season does between its loops: Python's own steps, in a few kilobytes."""
    counts: dict[int, int] = {}
    for i in range(rounds):
        counts[i & 1023] = counts.get(7 * i & 1023, 0) + 1
    return len(counts)


def gains_of_machine(work: Callable[[int], object], rounds: int, pool: Executor) -> list[float]:
    """Return how much faster two processes get through work than one, turn by turn: what any work could gain."""

    def seconds_for(count: int) -> float:
        started = time.perf_counter()
        for done in [pool.submit(work, rounds) for _ in range(count)]:
            done.result()
        return time.perf_counter() - started

    seconds_for(2)
    return sorted(2 * seconds_for(1) / seconds_for(2) for _ in range(MACHINE_TURNS))


def two_workers_against_one(garden: Scenario, plans: list[str], a_season_seconds: float, pool: Executor) -> None:
    """By the wall and by the processor's time, in turn: the latter holds on a machine that has other work, too."""
    seasons = max(4, round(LONG_SECONDS / a_season_seconds / len(plans)))
    pids = [child.pid for child in active_children() if child.pid]
    by_the_wall, by_processors = [], []
    for _ in range(TURNS):
        busy = time.process_time()
        alone, expected = timed(lambda: compare(garden, plans, seasons, executor=here()))
        busy = time.process_time() - busy
        shared, busiest, found = busiest_of(pids, lambda: compare(garden, plans, seasons, executor=pool))
        assert found.values.tobytes() == expected.values.tobytes()
        by_the_wall.append(alone / shared)
        by_processors.append(busy / busiest)
    with ThreadPoolExecutor(2) as threads:
        threaded, same = timed(lambda: compare(garden, plans, seasons, executor=threads))
    assert same.values.tobytes() == expected.values.tobytes()
    say(f"{seasons * len(plans)} seasons here", alone, "s")
    for turn, (wall, processors) in enumerate(zip(by_the_wall, by_processors, strict=True), start=1):
        say(f"two warm processes are faster by, turn {turn}", wall, "times")
        say("the same by the processor's time of the busier one", processors, "times")
    say("two threads are faster by", alone / threaded, "times")
    for what, work, rounds in (("arithmetic", mix_on, MIXED), ("plain Python", count_on, COUNTED)):
        gains = gains_of_machine(work, rounds, pool)
        say(f"two processes that only do {what}: the least gain", gains[0], "times")
        say(f"two processes that only do {what}: the middle gain", gains[len(gains) // 2], "times")


def cluster_against_pool(garden: Scenario, plans: list[str], pool: Executor) -> None:
    from distributed import LocalCluster

    seasons = CLUSTER_SEASONS // len(plans)
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as local,
        cluster(local.scheduler_address) as executor,
    ):
        compare(garden, plans, 10, executor=executor)
        pool_pids = [child.pid for child in active_children() if child.pid]
        cluster_pids = list(executor._client.run(os.getpid).values())
        pool_pids = [pid for pid in pool_pids if pid not in cluster_pids]
        on_pool, busy_on_pool, expected = busiest_of(pool_pids, lambda: compare(garden, plans, seasons, executor=pool))
        on_cluster, busy_on_cluster, found = busiest_of(
            cluster_pids, lambda: compare(garden, plans, seasons, executor=executor)
        )
    assert np.array_equal(found.values, expected.values, equal_nan=True)
    say(f"{seasons * len(plans)} seasons on two processes", on_pool, "s")
    say("a cluster of two local workers takes, against them", on_cluster / on_pool, "times")
    say("the same by the processor's time of the busiest worker", busy_on_cluster / busy_on_pool, "times")


def main(name: str) -> None:
    garden = load_scenario(name)
    plans = [plan.name for plan in garden.plans[:4]]
    compare(garden, plans, 2, executor=here())  # load the rules
    seconds = season_seconds(garden, plans)
    say("a season, with its share of the harvest without pests", seconds * 1000, "ms of the processor")
    start_of_processes(garden, plans)
    compare(garden, plans, 10, executor=processes(2))
    quick_comparison(garden, plans)
    small_batches(garden, plans, processes(2))
    two_workers_against_one(garden, plans, seconds, processes(2))
    cluster_against_pool(garden, plans, processes(2))


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "teaching_garden")
