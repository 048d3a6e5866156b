"""Does a large garden cost in proportion? Ratios of one run: python -m tests.benchmarks.scale

The market garden at a quarter, half and whole of its hundred beds, each in a process of its own, against the default
garden. Its plants carry a tenth of the insects that those of the default garden do, for arrivals rise more slowly than
area, so that it is also lived with about as many insects a plant. The clock is that of the processor, so that other
work on the machine counts less.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

PLAN = "nothing"
REPEATS = (5, 10, 20)
"""Beds of each of the market garden's five crops."""
CROWDED_ARRIVALS = 10
"""Arrivals with which a plant of the market garden carries about as many insects as one of the default garden."""
SEASONS_TIMED = 3
"""The cheapest counts."""


def most_memory_mib() -> float:
    """Return the most memory that this process has held."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    found = re.search(r"VmHWM:\s+(\d+) kB", status)
    assert found
    return int(found[1]) / 1024


def garden_of(name: str, repeat: int, arrivals: float) -> Any:
    from sim.scenario import load_scenario

    scenario = load_scenario(name)
    if repeat:
        scenario = scenario.with_changes({f"beds.{bed.name}.repeat": repeat for bed in scenario.beds})
    return scenario.with_changes({"pests.arrivals": arrivals})


def cost_of(name: str, repeat: int, arrivals: float) -> dict[str, float]:
    """Live seasons of a garden and return what the cheapest cost."""
    from sim.season import run_season

    scenario = garden_of(name, repeat, arrivals)
    run_season(scenario, PLAN, 1)  # loads the rules, and makes the weather and the harvest without pests
    costs = []
    for _ in range(SEASONS_TIMED):
        started = time.process_time()
        season = run_season(scenario, PLAN, 1)
        costs.append(time.process_time() - started)
    memory_mib = most_memory_mib()
    return {
        "beds": len(season.garden.layout.names) - 1,
        "plants": season.garden.crop_plants,
        "seconds": min(costs),
        "insect_days": insect_days_of(scenario),
        "memory_mib": memory_mib,
    }


def insect_days_of(scenario: Any) -> float:
    """Return the insects alive each morning, added up over the days."""
    from sim.garden import Garden

    total = [0.0]
    lived = Garden.step

    def counted(garden: Garden) -> None:
        lived(garden)
        total[0] += float(garden.near.alive.sum())

    from sim.season import run_season

    Garden.step = counted  # type: ignore[method-assign]
    run_season(scenario, PLAN, 1)
    return total[0]


def in_a_process(name: str, repeat: int = 0, arrivals: float = 1.0) -> dict[str, float]:
    command = [sys.executable, "-m", "tests.benchmarks.scale", name, str(repeat), str(arrivals)]
    found = subprocess.run(command, capture_output=True, text=True, check=True)
    result: dict[str, float] = json.loads(found.stdout)
    return result


def say(what: str, cost: dict[str, float], usual: dict[str, float]) -> None:
    ns, usual_ns = (each["seconds"] / each["insect_days"] * 1e9 for each in (cost, usual))
    print(
        f"{what:<24}{cost['beds']:4.0f} beds {cost['plants']:6.0f} plants {cost['insect_days'] / 1e6:7.3f} million "
        f"insect-days {cost['seconds']:7.3f} s {cost['seconds'] / cost['beds'] * 1e3:6.2f} ms a bed "
        f"{ns:5.0f} ns an insect-day ({ns / usual_ns:4.2f} times) {cost['memory_mib']:5.0f} MiB",
        flush=True,
    )


def main() -> None:
    usual = in_a_process("teaching_garden")
    say("default garden", usual, usual)
    for repeat in REPEATS:
        say("market garden", in_a_process("market_garden", repeat), usual)
    for repeat in REPEATS:
        say("market garden, crowded", in_a_process("market_garden", repeat, CROWDED_ARRIVALS), usual)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(json.dumps(cost_of(sys.argv[1], int(sys.argv[2]), float(sys.argv[3]))))
    else:
        main()
