"""How seasons are cut into batches, handed out and given back; no process is started, so that each step can be seen."""

from __future__ import annotations

from collections import deque
from concurrent.futures import BrokenExecutor, Executor, Future

import pytest

import sim.jobs
from sim.comparison import compare
from sim.errors import RunError
from sim.jobs import Waiting, _hand_over, jobs_for, run_jobs, season_fingerprint
from sim.store import ResultsFolder
from sim.workers import here
from tests.sim import fake_seasons as fake


def waiting_for(count, plans=("net",)):
    return Waiting(jobs=deque(jobs_for(fake.scenario(), plans, range(count))), season=None, cancel=None)


def test_small_work_stays_here_and_large_work_goes_to_a_pool():
    left = waiting_for(100)
    left.note_time(0.01, 1)
    assert not left.is_worth_a_pool(workers=2, start_seconds=2)
    assert left.is_worth_a_pool(workers=2, start_seconds=0.1)
    assert not left.is_worth_a_pool(workers=2, start_seconds=0.6)  # of a second of work, two workers save half
    left.quickest_seconds = 1.0
    assert left.is_worth_a_pool(workers=2, start_seconds=2)
    assert not left.is_worth_a_pool(workers=1, start_seconds=2)
    assert not waiting_for(1).is_worth_a_pool(workers=2, start_seconds=0.1)  # one season cannot be shared


def test_seasons_of_one_seed_stay_together():
    waiting = waiting_for(40, plans=["nothing", "net", "spray"])
    assert [job.seed for job in waiting.take_batch(workers=0)] == [0]
    assert [job.seed for job in waiting.take_batch(workers=2)] == [0, 0]
    waiting.note_time(0.1, 1)
    assert [job.seed for job in waiting.take_batch(workers=2)] == [1, 1, 1, 2, 2, 2]


def test_seasons_of_one_seed_stay_together_up_to_twice_the_time_of_a_batch():
    waiting = waiting_for(1, plans=[f"plan_{number}" for number in range(40)])
    waiting.note_time(0.1, 1)  # five fill half a second
    assert len(waiting.take_batch(workers=2)) == 10


def test_a_season_that_takes_longer_than_a_batch_should_is_a_batch():
    waiting = waiting_for(40)
    waiting.note_time(3.0, 1)
    assert len(waiting.take_batch(workers=2)) == 1


def test_a_pair_is_shared_between_two_workers():
    waiting = waiting_for(1, plans=["nothing", "net"])
    assert [[job.plan for job in waiting.take_batch(workers=2)] for _ in range(2)] == [["nothing"], ["net"]]


def test_the_last_seasons_are_shared_out_in_ever_smaller_batches():
    """Two workers have a batch in hand and one waiting each: a quarter of what is left, so that they end together."""
    waiting = waiting_for(8)
    waiting.note_time(0.001, 1)
    assert [len(waiting.take_batch(workers=2)) for _ in range(6)] == [2, 2, 1, 1, 1, 1]
    assert not waiting.jobs


def test_the_quickest_season_tells_how_long_one_takes():
    waiting = waiting_for(1)
    for seconds, count in ((5.0, 1), (1.0, 2), (3.0, 1)):  # the first also loads the rules; the last was disturbed
        waiting.note_time(seconds, count)
    assert (waiting.quickest_seconds, waiting.timed_count) == (0.5, 4)


def test_each_worker_has_a_batch_in_hand_and_one_waiting():
    class Slow(Executor):
        max_workers = 3

        def submit(self, function, /, *args, **kwargs):
            return Future()

    in_flight = {}
    _hand_over(waiting_for(40), Slow(), in_flight)
    assert len(in_flight) == 6


def test_seasons_that_lost_their_worker_come_first_and_in_order_but_not_for_ever():
    waiting = waiting_for(5)
    order = list(waiting.jobs)
    waiting.note_time(0.1, 1)
    for _ in range(2):
        waiting.give_back(waiting.take_batch(workers=1))
        assert list(waiting.jobs) == order
    batch = waiting.take_batch(workers=1)
    assert len(batch) > 1
    with pytest.raises(RunError, match="Season 0 of plan 'net' lost its worker 3 times"):
        waiting.give_back(batch)


def test_a_season_that_kills_workers_is_not_run_here_when_others_had_been_done_there(monkeypatch, tmp_path):
    """It would kill this process too. Only where no worker ever worked does the work come back."""

    class WorksOnce(Executor):
        max_workers, is_started, start_seconds = 1, True, 0.0

        def submit(self, function, /, *args, **kwargs):
            future = Future()
            if fake.runs(tmp_path):
                future.set_exception(BrokenExecutor())
            else:
                future.set_result(function(*args, **kwargs))
            return future

    monkeypatch.setattr(sim.jobs, "processes", WorksOnce)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 2)
    with pytest.raises(RunError, match="lost its worker 3 times"):
        compare(fake.scenario(about=str(tmp_path)), seasons=4, season=fake.marked)
    assert fake.runs(tmp_path) == [("net", 1), ("nothing", 1)]  # the first batch


def test_seasons_that_are_kept_already_are_done_however_often_they_are_asked_for(tmp_path):
    first, second = jobs_for(fake.scenario(), ["net"], [1, 2])
    folder = ResultsFolder(tmp_path, {"scenario": "fake_garden"})
    folder.keep([(first.key, {"harvest": 1.0})])
    told = []
    asked = [first, first, second, first]
    list(run_jobs(asked, executor=here(), store=folder, season=fake.season, progress=lambda *done: told.append(done)))
    assert told == [(3, 4), (4, 4)]


def test_words_about_a_garden_and_other_plans_make_no_other_season():
    """Else a title put right would have every kept season run again; a change in the plan itself must."""
    plain = fake.scenario()
    reworded = plain.with_changes(
        {"title": "Other", "about": "Other.", "plans.net.title": "Mesh", "plans.net.about": "A mesh."}
    )
    other_plan = plain.with_changes({"plans.spray.actions": [{"do": "spray", "product": "bt", "every_days": 7}]})
    later = plain.with_changes({"plans.net.actions.cover.days_after_planting": 7})
    of_net = season_fingerprint(plain, "net")
    assert season_fingerprint(reworded, "net") == season_fingerprint(other_plan, "net") == of_net
    assert season_fingerprint(later, "net") != of_net
