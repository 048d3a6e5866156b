from __future__ import annotations

import errno
import os
import select
import signal
import subprocess
import sys
import threading
from concurrent.futures import BrokenExecutor, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from multiprocessing.process import BaseProcess
from types import SimpleNamespace

import pytest

import sim.jobs
import sim.workers
from sim.comparison import compare, compare_as_they_come
from sim.errors import RunError
from sim.jobs import Waiting, jobs_for, run_jobs
from sim.scenario import load_scenario
from sim.workers import Processes, here, processes, worker_count
from tests.sim import fake_seasons as fake
from tests.sim.fake_seasons import as_bytes

PATIENCE_SECONDS = 60
"""How long a test waits for what must come before it says that it did not; none waits so long when all is well."""
ALL = [(plan, seed) for plan in ("net", "nothing", "spray") for seed in range(1, 9)]


@pytest.fixture(scope="module")
def pool():
    made = Processes(2)
    yield made
    made.shutdown()


@pytest.fixture(scope="module")
def expected():
    return list(compare_as_they_come(fake.scenario(), seasons=8, season=fake.season, executor=here()))


def test_same_bytes_and_order_whoever_works(pool, expected):
    def by(executor):
        return as_bytes(compare_as_they_come(fake.scenario(), seasons=8, season=fake.season, executor=executor))

    wanted = as_bytes(expected)
    assert by(None) == wanted
    assert by(pool) == wanted
    with ThreadPoolExecutor(3) as threads:
        assert by(threads) == wanted
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as plain:
        assert by(plain) == wanted


@pytest.mark.slow
def test_seasons_of_a_real_garden_are_the_same_bytes_whoever_works(pool):
    garden = load_scenario("leaf_bed")
    plans = ["nothing", "net"]
    alone = compare(garden, plans, 2, executor=here())
    with ThreadPoolExecutor(2) as threads:
        threaded = compare(garden, plans, 2, executor=threads)
    shared = compare(garden, plans, 2, executor=pool)
    assert alone.measures == threaded.measures == shared.measures
    assert alone.values.tobytes() == threaded.values.tobytes() == shared.values.tobytes()
    assert alone.seeds == shared.seeds == (1, 2)


def test_each_season_is_run_once(tmp_path, pool):
    compare(fake.scenario(about=str(tmp_path)), seasons=8, season=fake.marked, executor=pool)
    assert fake.runs(tmp_path) == sorted(ALL)


def test_a_killed_worker_costs_a_retry_not_the_run(tmp_path, pool, expected):
    garden = fake.scenario(about=str(tmp_path))
    found = list(compare_as_they_come(garden, seasons=8, season=fake.kills_its_worker_once, executor=pool))
    assert (tmp_path / "died").exists()
    assert as_bytes(found) == as_bytes(expected)
    assert set(fake.runs(tmp_path)) == set(ALL)


def test_two_runs_share_a_pool_though_one_loses_a_worker(tmp_path, pool, expected):
    begun = threading.Event()

    def run(function, progress=None):
        garden = fake.scenario(about=str(tmp_path))
        return as_bytes(compare_as_they_come(garden, seasons=8, season=function, executor=pool, progress=progress))

    with ThreadPoolExecutor(2) as threads, fake.gate(tmp_path) as open_gate:
        waiting = threads.submit(run, fake.held_at_one, lambda *_: begun.set())
        assert begun.wait(PATIENCE_SECONDS)
        losing = threads.submit(run, fake.kills_its_worker_once)
        assert losing.result(PATIENCE_SECONDS) == as_bytes(expected)
        assert not waiting.done()
        open_gate()
        assert waiting.result(PATIENCE_SECONDS) == as_bytes(expected)
    assert (tmp_path / "died").exists()


def test_a_season_that_always_kills_its_worker_ends_the_run_with_a_sentence(pool):
    with pytest.raises(RunError, match="lost its worker 3 times"):
        compare(fake.scenario(), seasons=2, season=fake.kills_every_worker, executor=pool)


def test_a_plain_pool_that_died_is_told():
    with (
        ProcessPoolExecutor(1, mp_context=get_context("spawn")) as plain,
        pytest.raises(RunError, match="starts no others"),
    ):
        compare(fake.scenario(), seasons=2, season=fake.kills_every_worker, executor=plain)


def test_a_fault_of_our_own_comes_back_from_a_worker(pool):
    with pytest.raises(ZeroDivisionError):
        compare(fake.scenario(), seasons=2, season=fake.fails, executor=pool)


def test_cancelled_on_workers_stops_soon_and_keeps_what_is_done(tmp_path, pool):
    cancel = threading.Event()
    garden = fake.scenario(about=str(tmp_path))
    season = fake.held_from_second_seed
    coming = compare_as_they_come(garden, seasons=2000, season=season, executor=pool, cancel=cancel)
    with ThreadPoolExecutor(1) as thread, fake.gate(tmp_path):
        first = [next(coming) for _ in range(3)]
        cancel.set()
        rest = thread.submit(list, coming).result(PATIENCE_SECONDS)  # the gate is closed: nothing in hand is waited for
        assert len(fake.runs(tmp_path)) <= 3 + 2  # those that are done, and one in the hands of each worker
    assert [one.seed for one in first] == [1, 1, 1]
    assert rest == []


def test_workers_of_another_model_are_refused(monkeypatch, pool):
    monkeypatch.setattr(sim.jobs, "model_identity", lambda: {"version": "another"})
    with pytest.raises(RunError, match="another version of the model"):
        compare(fake.scenario(), seasons=1, season=fake.season, executor=pool)


def test_work_is_shared_out_when_it_pays(monkeypatch, tmp_path, expected):
    pool = Processes(2)
    monkeypatch.setattr(sim.jobs, "processes", lambda: pool)
    monkeypatch.setattr(Processes, "start_seconds", 0.0)  # it pays however short a season is
    monkeypatch.setattr(sim.jobs, "cores", lambda: 2)
    garden = fake.scenario(about=str(tmp_path))
    told: list[int] = []
    found = list(
        compare_as_they_come(garden, seasons=8, season=fake.marked, progress=lambda done, total: told.append(done))
    )
    assert as_bytes(found) == as_bytes(expected)
    assert told[:3] == [1, 2, 3]  # the first pair here, one by one
    assert told[-1] == 24
    assert fake.runs(tmp_path) == sorted(ALL)
    assert pool.is_started
    pool.shutdown()


def test_a_pool_that_is_there_gets_the_very_first_season(monkeypatch, pool):
    here_is = []
    compare(fake.scenario(), seasons=1, season=fake.season, executor=pool)  # it is there
    monkeypatch.setattr(sim.jobs, "processes", lambda: pool)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 2)
    monkeypatch.setattr(sim.jobs, "_finish_one_here", here_is.append)
    compare(fake.scenario(), seasons=8, season=fake.season)
    assert here_is == []


def started_by(threads):
    """Return in a process of its own how workers of a pool are started beside so many other threads."""
    script = (
        "import threading, time\n"
        "import sim.season\n"
        "from sim.workers import Processes\n"
        "from multiprocessing.process import active_children\n"
        "if __name__ == '__main__':\n"
        f"    for _ in range({threads}):\n"
        "        threading.Thread(target=threading.Event().wait, daemon=True).start()\n"
        "    with Processes(1) as pool:\n"
        "        assert pool.submit(max, 1, 2).result() == 2\n"
        "        print(type(active_children()[0]).__name__, pool.start_seconds)\n"
    )
    found = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return found.stdout.split()[0]


@pytest.mark.slow
def test_workers_are_copies_of_a_lone_process_or_of_one_kept_for_that_beside_threads():
    assert started_by(threads=0) == ("ForkProcess" if sys.platform == "linux" else "SpawnProcess")
    assert started_by(threads=1) == ("ForkServerProcess" if sys.platform == "linux" else "SpawnProcess")


def test_a_worker_clears_up_after_each_season(pool):
    assert pool.submit(fake.leaves_a_ring, 1).result() == 1
    assert all(pool.submit(fake.leaves_a_ring, n).result() <= 2 for n in range(2, 9))


def test_a_worker_beside_threads_has_what_a_season_needs_and_nothing_of_screens():
    script = (
        "import threading\n"
        "from sim.workers import Processes\n"
        "from tests.sim import fake_seasons as fake\n"
        "if __name__ == '__main__':\n"
        "    threading.Thread(target=threading.Event().wait, daemon=True).start()\n"
        "    with Processes(1) as pool:\n"
        "        print(pool.submit(fake.modules_loaded).result())\n"
    )
    found = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout.split()
    assert ("sim.season" in found) == (sys.platform == "linux")  # elsewhere it is loaded with the first season
    assert not {"streamlit", "altair", "matplotlib", "typst"} & set(found)


@pytest.mark.parametrize("refusal", [OSError(errno.EAGAIN, "Resource temporarily unavailable"), EOFError()])
def test_a_machine_that_gives_no_process_is_asked_again_later(monkeypatch, refusal):
    def refuse(_process):
        raise refusal

    with Processes(2) as pool:
        with monkeypatch.context() as short:
            short.setattr(BaseProcess, "start", refuse)
            with pytest.raises(BrokenExecutor, match="no process could be started"):
                pool.submit(abs, -1)
            assert not pool.is_started
        assert pool.submit(abs, -1).result() == 1


def test_a_pool_whose_processes_died_and_are_not_replaced_is_not_there(monkeypatch):
    def refuse(_process):
        raise OSError(errno.EAGAIN, "Resource temporarily unavailable")

    with Processes(1) as pool:
        with pytest.raises(BrokenExecutor):
            pool.submit(fake.kills_every_worker, None, "", 0).result()
        monkeypatch.setattr(BaseProcess, "start", refuse)
        with pytest.raises(BrokenExecutor, match="no process could be started"):
            pool.submit(abs, -1)
        assert not pool.is_started


def test_a_pool_that_is_there_costs_less_than_any_that_must_be_started(monkeypatch, pool):
    assert pool.submit(abs, -1).result() == 1
    for can_be_copied in (True, False):
        monkeypatch.setattr(sim.workers, "_can_be_copied", lambda can=can_be_copied: can)
        assert pool.start_seconds < Processes(2).start_seconds


def test_processes_that_nobody_will_lead_are_ended_where_the_next_one_is_refused(monkeypatch):
    start, begun = BaseProcess.start, []

    def start_one_only(process):
        if begun:
            raise OSError(errno.EAGAIN, "Resource temporarily unavailable")
        start(process)
        begun.append(process)

    monkeypatch.setattr("sim.workers._can_be_copied", lambda: True)  # all are started before the first work
    monkeypatch.setattr(BaseProcess, "start", start_one_only)
    with pytest.raises(BrokenExecutor, match="no process could be started"):
        Processes(2).submit(abs, -1)
    begun[0].join(PATIENCE_SECONDS)
    assert begun[0].exitcode == -signal.SIGKILL


def test_a_pool_that_never_works_is_done_without(monkeypatch, expected):
    class Dead(Processes):
        def submit(self, function, /, *args, **kwargs):
            return super().submit(fake.kills_every_worker, None, "", 0)

    dead = Dead(1)
    monkeypatch.setattr(sim.jobs, "processes", lambda: dead)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 2)
    monkeypatch.setattr(Waiting, "is_worth_a_pool", lambda *_, **__: True)
    found = list(compare_as_they_come(fake.scenario(), seasons=8, season=fake.season))
    dead.shutdown()
    assert as_bytes(found) == as_bytes(expected)


def test_seasons_that_are_alike_run_once(tmp_path):
    job = jobs_for(fake.scenario(about=str(tmp_path)), ["net"], [1, 2])
    told = []
    summaries = list(run_jobs([*job, *job], season=fake.marked, progress=lambda *done: told.append(done)))
    assert summaries[:2] == summaries[2:]
    assert fake.runs(tmp_path) == [("net", 1), ("net", 2)]
    assert told == [(2, 4), (4, 4)]


def test_the_pool_is_kept_and_counted():
    assert processes(2) is processes(2)
    assert worker_count(processes(3)) == 3
    assert worker_count(processes(200)) == 200
    assert worker_count(here()) == 0
    with pytest.raises(RunError, match="0 processes were asked for; at least 1"):
        processes(0)


def test_on_windows_a_pool_is_no_larger_than_it_can_be(monkeypatch):
    monkeypatch.setattr(sim.workers, "sys", SimpleNamespace(platform="win32"))
    assert worker_count(processes(200)) == 61
    assert worker_count(processes(60)) == 60


def test_workers_end_with_their_parent_however_it_ended(tmp_path):
    script = (
        "import sys\nfrom multiprocessing import active_children\n"
        "from sim.comparison import compare_as_they_come\nfrom sim.workers import Processes\n"
        "from tests.sim import fake_seasons as fake\n"
        "if __name__ == '__main__':\n"
        "    pool = Processes(2)\n"
        "    garden = fake.scenario(about=sys.argv[1])\n"
        "    season = fake.held_from_second_seed\n"
        "    coming = compare_as_they_come(garden, seasons=50, season=season, executor=pool)\n"
        "    next(coming)\n"
        "    print(*(child.pid for child in active_children()), flush=True)\n"
        "    list(coming)\n"
    )
    (tmp_path / "script.py").write_text(script)
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    run = [sys.executable, str(tmp_path / "script.py"), str(tmp_path)]
    with fake.gate(tmp_path), subprocess.Popen(run, env=environment, stdout=subprocess.PIPE, text=True) as parent:
        children = [os.pidfd_open(int(pid)) for pid in parent.stdout.readline().split()]
        try:
            assert len(children) == 2
            assert not any(_ends(child, within_seconds=0) for child in children)
            parent.kill()
            assert all(_ends(child, within_seconds=PATIENCE_SECONDS) for child in children)
        finally:
            parent.kill()
            for child in children:
                os.close(child)


def test_workers_that_are_ended_leave_nothing_to_warn_of():
    script = (
        "import os, signal, sys, threading\n"
        "from sim.workers import Processes, end_workers\n"
        "if __name__ == '__main__':\n"
        "    threading.Thread(target=threading.Event().wait, daemon=True).start()\n"
        "    pool = Processes(2)\n"
        "    pool.submit(abs, 1).result()\n"
        "    endless = pool.submit(signal.pause)\n"
        "    if sys.argv[1] == 'ended':\n"
        "        end_workers()\n"
        "        print('ended' if endless.done() else 'still waiting', flush=True)\n"
        "    os._exit(0)\n"
    )
    plain = {**os.environ, "NUMBA_DISABLE_JIT": "1"}  # nothing to compile: no season is lived

    def told(how):
        run = [sys.executable, "-c", script, how]
        return subprocess.run(run, capture_output=True, text=True, check=True, env=plain)

    assert "leaked semaphore" in told("left").stderr
    ended = told("ended")
    assert ended.stdout.split() == ["ended"]
    assert ended.stderr == ""


def _ends(process, within_seconds):
    """Return whether a process ends, told by its handle, which can be read from then on."""
    return bool(select.select([process], [], [], within_seconds)[0])
