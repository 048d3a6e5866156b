"""Seasons that cost nothing, for tests of who runs them: small, importable by workers, and different for every key.

A scenario's ``about`` may name a folder; there each season run leaves a mark, so that a test can count them, and there
may stand a gate, at which some seasons wait until the test opens it: so a run is under way for as long as a test wants.
"""

from __future__ import annotations

import os
import random
import sys
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sim.scenario import Scenario


@dataclass
class FakeSeason:
    summary: dict[str, float]


def scenario(**changes: object) -> Scenario:
    bed = {
        "name": "kale",
        "crop": "kale",
        "length_m": 3.0,
        "width_m": 1.2,
        "row_spacing_m": 0.4,
        "plant_spacing_m": 0.4,
    }
    raw = {
        "name": "fake_garden",
        "title": "A garden for tests",
        "place": {"climate": "warm_humid"},
        "beds": [{**bed, "planted": "04-01", "start": "transplant", "harvest": "picking"}],
        "plans": [
            {"name": "nothing", "title": "Nothing"},
            {"name": "net", "title": "Net", "actions": [{"do": "cover", "days_after_planting": 0}]},
            {"name": "spray", "title": "Spray"},
        ],
    }
    return Scenario.model_validate({**raw, **changes})


def season(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    """Weather shared by the plans of a seed, luck of its own for each, and a real effect of nets and arrivals."""
    weather = random.Random(seed).gauss(0, 5)
    luck = random.Random(f"{plan} {seed}").gauss(0, 1)
    days_late = 0
    for entry in scenario.plans:
        if entry.name == plan and entry.actions:
            days_late = entry.actions[0].days_after_planting
    gain = {"nothing": 0.0, "net": 4.0 - days_late / 10, "spray": 0.0}[plan]
    harvest = 10 + weather + luck + gain - scenario.pests.arrivals
    nan = float("nan")
    return FakeSeason(
        {"harvest": harvest, "pests": scenario.pests.arrivals * 7 - gain, "odd": nan if seed == 2 else 0.1}
    )


def marked(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    (Path(scenario.about) / f"ran-{plan}-{seed}-{uuid.uuid4().hex}").touch()
    return season(scenario, plan, seed)


@contextmanager
def gate(folder: Path) -> Iterator[Callable[[], None]]:
    """Keep the folder's gate closed; yields what opens it, and opens it in the end.

    A lock on a file is what processes can wait for together without asking again and again.
    """
    import fcntl  # not everywhere; seasons without a gate are

    with (folder / "gate").open("wb") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        try:
            yield lambda: fcntl.flock(held, fcntl.LOCK_UN)
        finally:
            fcntl.flock(held, fcntl.LOCK_UN)  # said outright: workers begun meanwhile have the file open, too


def held_from_second_seed(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    lived = marked(scenario, plan, seed)
    if seed > 1:
        _wait_at_gate(scenario)
    return lived


def held_at_one(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    """One season waits, so that one of two workers is left for others."""
    lived = marked(scenario, plan, seed)
    if (plan, seed) == ("nothing", 4):
        _wait_at_gate(scenario)
    return lived


def _wait_at_gate(scenario: Scenario) -> None:
    import fcntl

    with (Path(scenario.about) / "gate").open("rb") as gate:
        fcntl.flock(gate, fcntl.LOCK_SH)


def kills_its_worker_once(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    gravestone = Path(scenario.about) / "died"
    if seed == 4 and not gravestone.exists():
        gravestone.touch()
        os._exit(1)
    return marked(scenario, plan, seed)


def kills_every_worker(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    os._exit(1)


def fails(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    raise ZeroDivisionError("a fault of our own")


def runs(folder: Path) -> list[tuple[str, int]]:
    marks = (path.name.split("-") for path in folder.glob("ran-*"))
    return sorted((plan, int(seed)) for _, plan, seed, _ in marks)


class Ring:
    """Something that only a look for rings finds: it holds itself."""

    alive = 0

    def __init__(self) -> None:
        Ring.alive += 1
        self.me = self

    def __del__(self) -> None:
        Ring.alive -= 1


def leaves_a_ring(_number: int) -> int:
    """Make a ring, let go of it, and return how many there are in this process."""
    Ring()
    return Ring.alive


def modules_loaded() -> str:
    """Return the names of the modules that this process has."""
    return " ".join(sorted(sys.modules))


def as_bytes(finished):
    """Return plan, seed and every measure of seasons, each number to its last bit."""
    return [(one.plan, one.seed, {name: value.hex() for name, value in one.summary.items()}) for one in finished]
