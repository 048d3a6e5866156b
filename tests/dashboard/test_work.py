"""The work desk: urgent first, each season once, nothing done that nobody waits for."""

import errno
import threading
import time
from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor

import numpy as np
import pytest

from dashboard.seasons.wishes import Lived, live, wishes
from dashboard.seasons.work import PAPER_URGENCY, Desk, _open
from sim import load_scenario
from sim.errors import RunError
from sim.workers import here


@pytest.fixture(scope="module")
def garden():
    return load_scenario("leaf_bed")


def lived(_, plan, season):
    return Lived({"season": float(season), "plan": float(len(plan))}, np.zeros((1, 1, 1), dtype=np.int32))


def finished(order):
    found = {}
    deadline = time.monotonic() + 10
    while not order.is_done:
        assert time.monotonic() < deadline
        found |= order.wait(0.1)
    return found


def test_every_wish_is_fulfilled_by_an_executor_that_works_at_once(garden):
    desk = Desk(here(), 1, lived)
    wished = wishes(garden, ["nothing", "net"], range(1, 301))
    with desk.order(wished) as order:
        found = finished(order)
    assert set(found) == {wish.key for wish in wished}
    assert all(value.summary["season"] == key.seed for key, value in found.items())


def test_a_season_is_run_once_and_then_remembered(garden):
    ran = []

    def note(scenario, plan, season):
        ran.append((plan, season))
        return lived(scenario, plan, season)

    desk = Desk(here(), 1, note)
    for _ in range(2):
        with desk.order(wishes(garden, ["nothing"], [1, 2])) as order:
            finished(order)
    assert ran == [("nothing", 1), ("nothing", 2)]


@pytest.fixture
def gated():
    """A desk with one worker that begins only when the gate is opened, and the list of what it ran."""
    gate, ran = threading.Event(), []

    def run(scenario, plan, season):
        assert gate.wait(10)
        ran.append((plan, season))
        return lived(scenario, plan, season)

    with ThreadPoolExecutor(1) as pool:
        yield Desk(pool, 1, run), gate, ran
        gate.set()


def test_first_answers_go_before_refining(garden, gated):
    desk, gate, ran = gated
    first = desk.order(wishes(garden, ["nothing"], range(1, 21)))
    second = desk.order(wishes(garden, ["net"], range(1, 7)))
    gate.set()
    finished(first), finished(second)
    order = {wish: place for place, wish in enumerate(ran)}
    assert order["net", 1] < order["nothing", 2]
    assert order["net", 5] < order["nothing", 6]
    assert len(ran) == 26


def test_a_paper_takes_turns_with_refining_and_waits_for_first_answers_only(garden, gated):
    desk, gate, ran = gated
    desk.order(wishes(garden, ["nothing"], range(1, 21)))
    paper = desk.order(wishes(garden, ["net"], range(1, 7)), PAPER_URGENCY)
    late = desk.order(wishes(garden, ["spray_weekly"], [1]))
    gate.set()
    finished(late), finished(paper)
    assert ran[:2] == [("nothing", 1), ("spray_weekly", 1)]
    assert [plan for plan, _ in ran[2:14]] == ["net", "nothing"] * 6


def test_a_season_that_a_paper_and_an_answer_wait_for_is_run_once_when_the_first_of_them_is_due(garden, gated):
    desk, gate, ran = gated
    desk.order(wishes(garden, ["nothing"], [1]))
    paper = desk.order(wishes(garden, ["net"], [1, 2]), PAPER_URGENCY)
    answer = desk.order(wishes(garden, ["net"], [2]))
    gate.set()
    finished(paper), finished(answer)
    assert ran == [("nothing", 1), ("net", 2), ("net", 1)]


def test_a_desk_takes_orders_before_it_opens(garden):
    desk = Desk(here(), 1, lived, is_open=False)
    with desk.order(wishes(garden, ["nothing"], [1])) as order:
        assert desk.waiting_count == 1
        desk.open()
        assert len(finished(order)) == 1


def test_what_is_taken_back_is_not_run(garden, gated):
    desk, gate, ran = gated
    with desk.order(wishes(garden, ["nothing"], range(1, 21))):
        assert desk.waiting_count == 19
    assert desk.waiting_count == 0
    gate.set()
    with desk.order(wishes(garden, ["net"], [1])) as order:
        finished(order)
    assert ran == [("nothing", 1), ("net", 1)]


def test_a_season_that_two_wait_for_is_run_once_and_goes_to_both(garden, gated):
    desk, gate, ran = gated
    blocker = desk.order(wishes(garden, ["net"], [9]))
    first, second = (desk.order(wishes(garden, ["nothing"], [1, 2])) for _ in range(2))
    desk.take_back(first)
    third = desk.order(wishes(garden, ["nothing"], [2]))
    gate.set()
    assert len(finished(second)) == 2
    assert len(finished(third)) == 1
    finished(blocker)
    assert sorted(ran) == [("net", 9), ("nothing", 1), ("nothing", 2)]


def test_a_mistake_reaches_who_asked_and_nobody_else(garden):
    def refuse(scenario, plan, season):
        if plan == "net":
            raise RunError("no such net")
        return lived(scenario, plan, season)

    desk = Desk(here(), 1, refuse)
    with desk.order(wishes(garden, ["net"], [1])) as order, pytest.raises(RunError, match="no such net"):
        finished(order)
    with desk.order(wishes(garden, ["nothing"], [1])) as order:
        assert len(finished(order)) == 1


class Dying(Executor):
    """Loses its first so many pieces of work."""

    def __init__(self, losses):
        self.losses = losses

    def submit(self, function, /, *args, **kwargs):
        future = Future()
        self.losses -= 1
        if self.losses >= 0:
            future.set_exception(BrokenExecutor())
        else:
            future.set_result(function(*args, **kwargs))
        return future


def test_a_lost_worker_costs_another_try_and_many_are_told(garden):
    wished = wishes(garden, ["nothing"], [1])
    with Desk(Dying(2), 1, lived).order(wished) as order:
        assert len(finished(order)) == 1
    with Desk(Dying(3), 1, lived).order(wished) as order, pytest.raises(RunError, match="again and again"):
        finished(order)


class Refusing(Executor):
    """Takes no work the first so many times."""

    def __init__(self, refusals):
        self.refusals = refusals

    def submit(self, function, /, *args, **kwargs):
        if self.refusals:
            raise self.refusals.pop()
        future = Future()
        future.set_result(function(*args, **kwargs))
        return future


REFUSALS = [OSError(errno.EAGAIN, "Resource temporarily unavailable"), EOFError(), RuntimeError("no new thread")]


@pytest.mark.parametrize("refusal", REFUSALS)
def test_an_executor_that_refuses_once_costs_another_try(garden, refusal):
    with Desk(Refusing([refusal]), 1, lived).order(wishes(garden, ["nothing"], [1])) as order:
        assert len(finished(order)) == 1


@pytest.mark.parametrize("refusal", REFUSALS)
def test_all_who_share_a_season_are_told_of_many_refusals_and_the_desk_goes_on(garden, refusal, caplog):
    desk = Desk(Refusing([refusal] * 3), 1, lived, is_open=False)
    wished = wishes(garden, ["nothing"], [1])
    first, second = (desk.order(wished) for _ in range(2))
    desk.open()
    for order in (first, second):
        with order, pytest.raises(RunError, match="again and again"):
            finished(order)
    assert repr(refusal).split("(")[0] in caplog.text
    with desk.order(wished) as order:
        assert len(finished(order)) == 1


@pytest.mark.parametrize("refusal", REFUSALS)
def test_a_desk_opens_also_when_its_processes_do_not_start(garden, monkeypatch, refusal):
    monkeypatch.setattr("sim.first_start.compile_once", lambda: None)
    desk = Desk(here(), 1, lived, is_open=False)
    with desk.order(wishes(garden, ["nothing"], [1])) as order:
        _open(desk, Refusing([refusal]))
        assert len(finished(order)) == 1


def test_what_is_kept_of_a_season_is_the_seasons_own(garden):
    from sim import run_season
    from sim.cast import Stage

    kept = live(garden, "nothing", 3)
    season = run_season(garden, plan="nothing", seed=3)
    assert kept.summary == season.summary
    born = season.fates[(season.fates["place"] == "beds") & (season.fates["entry"] == "born")]
    assert kept.ends.sum() == born["count"].sum() > 0
    assert kept.ends[:, Stage.ADULT].sum() == born.loc[born["stage"] == "adult", "count"].sum()


def test_a_closed_desk_gives_nothing_out_and_does_not_open_again(garden):
    desk = Desk(here(), 1, lived, is_open=False)
    desk.close()
    desk.open()
    desk.order(wishes(garden, ["nothing"], [1]))
    assert desk.waiting_count == 1
