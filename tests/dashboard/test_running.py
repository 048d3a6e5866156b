"""Answers come in steps: after the first season, the fifth, the twentieth and the last, always the first ones."""

import numpy as np
import pytest

import dashboard.page.running
from dashboard.page.running import run_step_by_step
from dashboard.seasons.wishes import Lived, wishes
from dashboard.seasons.work import Desk
from sim import load_scenario
from sim.workers import here


@pytest.fixture
def desk(monkeypatch):
    made = Desk(
        here(), 1, lambda _, plan, season: Lived({"season": float(season)}, np.zeros((1, 1, 1), dtype=np.int32))
    )
    monkeypatch.setattr(dashboard.page.running, "desk", lambda: made)
    return made


@pytest.fixture
def one_at_a_time(monkeypatch):
    """Let an order hand over one season at each look, as a slow pool would."""
    whole = dashboard.seasons.work.Order.wait

    def wait(order, seconds):
        held = order.__dict__.setdefault("held", {})
        held |= whole(order, 0)
        key = next(iter(held))
        return {key: held.pop(key)}

    monkeypatch.setattr(dashboard.seasons.work.Order, "wait", wait)


def steps(garden, count):
    shown = []
    wished = {plan: wishes(garden, [plan], range(3, 3 + count)) for plan in ("nothing", "net")}
    run_step_by_step(wished, lambda seasons, is_all: shown.append((sorted({one for _, one in seasons}), is_all)))
    return shown


@pytest.mark.usefixtures("desk", "one_at_a_time")
@pytest.mark.parametrize(("count", "sizes"), [(1, [1]), (7, [1, 5, 7]), (20, [1, 5, 20]), (30, [1, 5, 20, 30])])
def test_answers_are_shown_in_steps(count, sizes):
    shown = steps(load_scenario("leaf_bed"), count)
    assert [seasons for seasons, _ in shown] == [list(range(3, 3 + size)) for size in sizes]
    assert [is_all for _, is_all in shown] == [False] * (len(sizes) - 1) + [True]


@pytest.mark.usefixtures("desk")
def test_what_is_remembered_is_shown_at_once():
    garden = load_scenario("leaf_bed")
    steps(garden, 20)
    assert len(steps(garden, 20)) == 1
