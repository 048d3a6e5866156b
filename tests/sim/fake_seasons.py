"""Seasons that cost nothing, for tests of who runs them: small, importable by workers, and different for every key.

A scenario's ``about`` may name a folder; there each season run leaves a mark, so that a test can count them.
"""

from __future__ import annotations

import os
import random
import sys
import time
import uuid
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


def slow(scenario: Scenario, plan: str, seed: int) -> FakeSeason:
    time.sleep(0.02)
    return marked(scenario, plan, seed)


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
