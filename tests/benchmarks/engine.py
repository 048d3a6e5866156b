"""How fast is the engine? Ratios of one run: python -m tests.benchmarks.engine

The plain twin and the engine live the same garden in turn, in the same process. Ratios, not seconds, are what to
compare between machines. The twin draws from Python's own generator, which is quicker from Python than the keys. Inside
the process the clock is that of the processor, so that other work on the machine counts less.

The floor is a compiled loop that only ages each insect, draws once and removes the dead. It is given three times: with
one in twenty dead a day; with as many as die or leave in the garden that it is held against, since in life those are
more; and with as many on the engine's own records, four times as long as such a loop would need.
What it never does, and the engine does inside the clock, is to bring anybody into the world.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections import Counter
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
    20_000: {"rows_of_plants": 250, "arrivals": 8.0},
    50_000: {"rows_of_plants": 800, "arrivals": 10.0},
}
"""Gardens whose fullest day holds about so many insects, cabbage whites and their wasps."""
MORE_INSECTS = {
    "as many plants": {"rows_of_plants": 30, "arrivals": 50.0},
    "ten times the plants": {"rows_of_plants": 300, "arrivals": 12.0},
}
"""Gardens with ten times the insects of the smallest crowd, or a little more. The largest has 27 times its plants."""
DEFAULT_GARDEN = "teaching_garden"
FULL_GARDEN_ARRIVALS = 10.0
"""Times the usual comers: the default garden then holds more than 20,000 insects of every species."""


class FreeTwin(TwinGarden):
    """The twin with luck of its own."""

    fortune_of = OwnFortune


@dataclass
class Cost:
    """What the fuller days of a season cost: those with at least half as many insects as the fullest."""

    peak: int
    insect_days: int
    gone: int
    days_s: float
    by_part_s: Counter

    @property
    def insects_s(self):
        return self.by_part_s.total()

    @property
    def insects_ns(self):
        return self.insects_s / self.insect_days * 1e9

    @property
    def days_ns(self):
        return self.days_s / self.insect_days * 1e9

    @property
    def gone_share(self):
        """Those who die or leave in a day, of those alive that morning."""
        return self.gone / self.insect_days


def say(what, value, unit):
    print(f"{what:<86}{value:12.3f} {unit}", flush=True)


def timed(garden):
    """Make a garden add up the seconds its insects take; return the sums by part of the day."""
    spent = Counter()

    def clocked(name, method):
        def run(*given, **named):
            started = thread_time()
            answer = method(*given, **named)
            spent[name] += thread_time() - started
            return answer

        return run

    for name in DAY_OF_INSECTS:
        setattr(garden.insects, name, clocked(name, getattr(garden.insects, name)))
    return spent


def cost_of(garden):
    """Live a season and return what its fuller days cost."""
    spent = timed(garden)
    days = []
    for _ in range(len(garden.days)):
        spent.clear()
        gone_before, started = garden.insects.exits.sum(), thread_time()
        garden.step()
        seconds = thread_time() - started
        days.append((garden.near.alive.sum(), garden.insects.exits.sum() - gone_before, seconds, Counter(spent)))
    peak = max(alive for alive, *_ in days)
    full = [day for day in days if day[0] >= peak / 2]
    alive, gone, seconds, parts = zip(*full, strict=True)
    return Cost(int(peak), int(sum(alive)), int(sum(gone)), sum(seconds), sum(parts, Counter()))


def best(plant, times):
    """Return the cheapest season of some, each in a garden planted anew."""
    return min((cost_of(plant()) for _ in range(times)), key=lambda cost: cost.insects_s)


def two_beds_of(kind, size):
    """Return a way to plant the twin's garden, for about so many insects."""
    return beds_with(kind, CROWDS[size])


def beds_with(kind, rows_and_arrivals):
    """Return a way to plant the twin's garden with so many rows of plants and comers."""
    return lambda: plant_garden(kind, two_beds(**rows_and_arrivals), "nothing", 1)


def full_garden():
    """Plant the default garden with so many comers that it holds more than 20,000 insects."""
    scenario = load_scenario(DEFAULT_GARDEN)
    pests = scenario.pests.model_copy(update={"arrivals": FULL_GARDEN_ARRIVALS})
    return plant_garden(Garden, scenario.model_copy(update={"pests": pests}), scenario.plan_names[0], 1)


def engine_over_floor(words, cost):
    floor = min(floor_ns(20_000) for _ in range(9))
    like_here = min(floor_ns(20_000, death=cost.gone_share) for _ in range(9))
    say(f"{words}: engine at {cost.peak} insects", cost.insects_ns, "ns an insect-day")
    for name in DAY_OF_INSECTS:
        say(f"{words}: of it, {name}", cost.by_part_s[name] / cost.insect_days * 1e9, "ns")
    say(f"{words}: who die or leave in a day", cost.gone_share, "of those alive")
    say(f"{words}: engine over floor with one in twenty removed ({floor:.2f} ns)", cost.insects_ns / floor, "times")
    say(f"{words}: engine over floor with as many removed ({like_here:.2f} ns)", cost.insects_ns / like_here, "times")
    whole = min(floor_ns(20_000, death=cost.gone_share, is_whole=True) for _ in range(9))
    say(f"{words}: engine over that floor on its own records ({whole:.2f} ns)", cost.insects_ns / whole, "times")


def growth_over(few, many, words):
    """Say what more insects cost, on so many plants, against a time in proportion."""
    growth = many.insect_days / few.insect_days
    slower = many.insects_s / few.insects_s
    say(f"{growth:.1f} times the insect-days on {words} cost", slower / growth, f"times {growth:.1f} times the time")


def engine_against_twin():
    costs = {size: best(two_beds_of(Garden, size), 3) for size in CROWDS}
    for size in (5_000, 50_000):
        engine, twin = costs[size], cost_of(two_beds_of(FreeTwin, size)())
        say(f"about {size} insects: most at once, engine", engine.peak, "insects")
        say(f"about {size} insects: most at once, twin", twin.peak, "insects")
        say(f"about {size} insects: engine, insects' part", engine.insects_ns, "ns an insect-day")
        say(f"about {size} insects: twin, insects' part", twin.insects_ns, "ns an insect-day")
        say(f"about {size} insects: engine, whole garden", engine.days_ns, "ns an insect-day")
        say(
            f"about {size} insects: the engine's throughput is", twin.insects_ns / engine.insects_ns, "times the twin's"
        )
        say(f"about {size} insects: with plants and birds", twin.days_ns / engine.days_ns, "times the twin's")
    for words, beds in MORE_INSECTS.items():
        growth_over(costs[5_000], best(beds_with(Garden, beds), 3), words)
    growth_over(costs[5_000], costs[50_000], "27 times the plants")
    engine_over_floor("two species", costs[20_000])
    engine_over_floor("all species", best(full_garden, 3))


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
        min(season_ms(1) for _ in range(25)),
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
    default_garden()  # first, before the twin's crowd fills the memory
    engine_against_twin()
    whole_process()
    say("memory of this process, the twin's crowd included", most_memory_mib(), "MiB")


if __name__ == "__main__":
    main()
