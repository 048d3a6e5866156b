"""How fast is the engine? Ratios of one run: python -m tests.benchmarks.engine

The plain twin and the engine live the same garden in turn, in the same process. Ratios, not seconds, are what to
compare between machines. The twin draws from Python's own generator, which is quicker from Python than the keys. Inside
the process the clock is that of the processor, so that other work on the machine counts less.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from time import thread_time

from sim.garden import Garden
from sim.scenario import load_scenario
from sim.season import run_season
from tests.benchmarks.floor import floor_ns
from tests.benchmarks.twin.garden import TwinGarden, plant_garden, two_beds
from tests.benchmarks.twin.luck import OwnFortune

DAY_OF_INSECTS = ("arrive", "count_up", "weigh", "live", "eat", "fly", "bury")
CROWDS = {
    5_000: {"rows_of_plants": 30, "arrivals": 5.0},
    20_000: {"rows_of_plants": 250, "arrivals": 6.5},
    50_000: {"rows_of_plants": 800, "arrivals": 8.5},
}
"""Gardens whose fullest day holds about so many insects."""
DEFAULT_GARDEN = "teaching_garden"


class FreeTwin(TwinGarden):
    """The twin with luck of its own."""

    fortune_of = OwnFortune


@dataclass
class Cost:
    """What the fuller days of a season cost: those with at least half as many insects as the fullest."""

    peak: int
    insect_days: int
    insects_s: float
    days_s: float

    @property
    def insects_ns(self):
        return self.insects_s / self.insect_days * 1e9

    @property
    def days_ns(self):
        return self.days_s / self.insect_days * 1e9


def say(what, value, unit):
    print(f"{what:<86}{value:12.3f} {unit}", flush=True)


def timed(garden):
    """Make a garden add up the seconds its insects take; return the list that holds the sum."""
    spent = [0.0]

    def clocked(method):
        def run(*given, **named):
            started = thread_time()
            answer = method(*given, **named)
            spent[0] += thread_time() - started
            return answer

        return run

    for name in DAY_OF_INSECTS:
        setattr(garden.insects, name, clocked(getattr(garden.insects, name)))
    return spent


def cost_of(kind, scenario):
    """Live a season and return what its fuller days cost."""
    garden = plant_garden(kind, scenario, "nothing", 1)
    spent = timed(garden)
    days = []
    for _ in range(len(garden.days)):
        before, started = spent[0], thread_time()
        garden.step()
        days.append((garden.near.alive.sum(), spent[0] - before, thread_time() - started))
    peak = max(alive for alive, _, _ in days)
    full = [day for day in days if day[0] >= peak / 2]
    return Cost(int(peak), *(sum(column) for column in zip(*full, strict=True)))


def best(kind, scenario, times):
    """Return the cheapest of some runs."""
    return min((cost_of(kind, scenario) for _ in range(times)), key=lambda cost: cost.insects_s)


def engine_against_twin():
    costs = {size: best(Garden, two_beds(**garden), 3) for size, garden in CROWDS.items()}
    for size in (5_000, 50_000):
        engine, twin = costs[size], cost_of(FreeTwin, two_beds(**CROWDS[size]))
        say(f"about {size} insects: most at once, engine", engine.peak, "insects")
        say(f"about {size} insects: most at once, twin", twin.peak, "insects")
        say(f"about {size} insects: engine, insects' part", engine.insects_ns, "ns an insect-day")
        say(f"about {size} insects: twin, insects' part", twin.insects_ns, "ns an insect-day")
        say(f"about {size} insects: engine, whole garden", engine.days_ns, "ns an insect-day")
        say(
            f"about {size} insects: the engine's throughput is", twin.insects_ns / engine.insects_ns, "times the twin's"
        )
        say(f"about {size} insects: with plants and birds", twin.days_ns / engine.days_ns, "times the twin's")
    growth = costs[50_000].insect_days / costs[5_000].insect_days
    slower = costs[50_000].insects_s / costs[5_000].insects_s
    say(f"{growth:.1f} times the insect-days cost", slower / growth, f"times {growth:.1f} times the time")
    floor = min(floor_ns(20_000) for _ in range(5))
    say("floor: age, draw once, remove, 20000 insects", floor, "ns an insect-day")
    say(f"engine at {costs[20_000].peak} insects", costs[20_000].insects_ns, "ns an insect-day")
    say("engine over floor", costs[20_000].insects_ns / floor, "times")


def default_garden():
    scenario = load_scenario(DEFAULT_GARDEN)
    plan = scenario.plan_names[0]
    run_season(scenario, plan, 1)

    def season_ms(seed):
        started = thread_time()
        run_season(scenario, plan, seed)
        return (thread_time() - started) * 1000

    say(
        "default garden, a season whose weather and pest-free harvest are known",
        min(season_ms(1) for _ in range(9)),
        "ms",
    )
    say(
        "default garden, a season of a new seed, its pest-free harvest too",
        min(season_ms(s) for s in range(2, 9)),
        "ms",
    )


def most_memory_mib():
    """Return the most memory that this process has held; getrusage would count its parent's, too."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(re.search(r"VmHWM:\s+(\d+) kB", status)[1]) / 1024


def whole_process():
    code = (
        "from sim import load_scenario, run_season; from tests.benchmarks.engine import most_memory_mib;"
        f"s = load_scenario('{DEFAULT_GARDEN}'); run_season(s, s.plan_names[0], 1);"
        "print(most_memory_mib())"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    say("memory of a process that lived a season of the default garden", float(done.stdout), "MiB")
    seconds = []
    for _ in range(5):
        started = time.perf_counter()
        subprocess.run(
            [sys.executable, "-c", "from dashboard.command import main; main(['--help'])"], stdout=subprocess.DEVNULL,
            check=True,
        )  # fmt: skip
        seconds.append(time.perf_counter() - started)
    say("leafnest --help", min(seconds), "s")


def main():
    print(f"{os.cpu_count()} processors, load {os.getloadavg()[0]:.1f}, Python {sys.version.split()[0]}")
    engine_against_twin()
    default_garden()
    whole_process()
    say("memory of this process, the twin's crowd included", most_memory_mib(), "MiB")


if __name__ == "__main__":
    main()
