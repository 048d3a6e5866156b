"""With luck of its own, the plain twin ends in the same fates on average as the engine.

A hundred pairs of seasons a plan: a pair shares weather, birds and the year's pressure, and differs in every draw that
belongs to an insect. If twin and engine are the same model, the sign of each pair's difference is a coin toss, and so
the largest |t| over all fates has a distribution that sign flips show exactly, however fates hang together (Westfall
and Young 1993, source from memory). One false alarm in a hundred changes of the model is accepted, for all comparisons
together.
"""

import numpy as np
import pytest

from sim.cast import Fate, Species, Stage, word
from sim.garden import Garden
from tests.benchmarks.twin.garden import TwinGarden, live_season, two_beds
from tests.benchmarks.twin.luck import OwnFortune

pytestmark = [pytest.mark.statistical, pytest.mark.slow]

PAIRS = 100
PAIRS_OF_WRONG_TWIN = 50
PLANS = ("nothing", "net", "spray")
FALSE_ALARM = 0.01
FLIPS = 20_000
FEWEST_SEASONS = 20  # a fate rarer than this has no mean to speak of


class FreeTwin(TwinGarden):
    """The twin with luck of its own."""

    fortune_of = OwnFortune


class TwinWithKeenerWasps(FreeTwin):
    """A wrong twin: its wasps find half as many hosts again."""

    def insect_parameters(self):
        finds = self.parameters.number("parasitoid.search.find_per_visit")
        return self.parameters.with_changes({"parasitoid.search.find_per_visit": 1.5 * finds})


def told(garden):
    """Return what is compared of a season, by name: every fate of both species, stages reached, leaf eaten."""
    insects = garden.insects
    exits = insects.exits.sum(axis=(0, 1, 3))
    numbers = {f"{word(s)} {word(f)}": exits[s, f] for s in Species for f in Fate if f != Fate.ALIVE}
    alive = insects.still_alive().sum(axis=(0, 1, 3, 4))
    reached = insects.reached.sum(axis=0)
    numbers |= {f"{word(s)} alive": alive[s] for s in Species}
    numbers |= {f"{word(s)} reached {word(t)}": reached[s, t] for s in Species for t in Stage}
    numbers |= {f"{word(s)} entered": insects.entries[:, s].sum() for s in Species}
    numbers["leaf eaten"] = insects.eaten_cm2.sum()
    numbers["turned away"] = insects.turned_away.sum()
    numbers["stung"] = insects.stung
    return {name: float(number) for name, number in numbers.items()}


def seasons_of(kind, plan, count=PAIRS):
    return [told(live_season(kind, two_beds(), plan, seed)) for seed in range(1, count + 1)]


def differences(kind, plan, engine):
    """Return names and paired differences, shape (PAIRS, names), of what happens often enough."""
    twin = seasons_of(kind, plan, len(engine))
    names = [
        name for name in engine[0]
        if sum(a[name] > 0 or b[name] > 0 for a, b in zip(engine, twin, strict=True)) >= FEWEST_SEASONS
    ]  # fmt: skip
    pairs = zip(engine, twin, strict=True)
    return [f"{plan}: {name}" for name in names], np.array([[b[n] - a[n] for n in names] for a, b in pairs])


def largest_t(gaps, signs):
    """Return the largest |t| over all columns for each row of signs, shape (rows,)."""
    mean = signs @ gaps / len(gaps)
    spread = np.sqrt(((gaps**2).sum(axis=0) / len(gaps) - mean**2) / (len(gaps) - 1))
    return np.abs(mean / spread).max(axis=1)


def family_chance(gaps):
    """Return how often sign flips alone give as large a |t| anywhere as was seen, 0 to 1, and each column's t."""
    rng = np.random.default_rng(20)
    seen = gaps.mean(axis=0) / (gaps.std(axis=0, ddof=1) / np.sqrt(len(gaps)))
    by_luck = largest_t(gaps, rng.choice([-1.0, 1.0], size=(FLIPS, len(gaps))))
    return float((by_luck >= np.abs(seen).max()).mean()), seen


@pytest.fixture(scope="module")
def engine():
    return {plan: seasons_of(Garden, plan) for plan in PLANS}


def test_every_fate_has_the_same_mean(engine):
    found = [differences(FreeTwin, plan, engine[plan]) for plan in PLANS]
    names, gaps = [n for part, _ in found for n in part], np.hstack([g for _, g in found])
    chance, t = family_chance(gaps)
    worst = np.argsort(-np.abs(t))[:5]
    told_worst = "; ".join(f"{names[i]} t {t[i]:.2f}" for i in worst)
    print(f"{len(names)} comparisons, family-wise chance {chance:.3f}; largest: {told_worst}")
    assert len(names) >= 60
    assert chance >= FALSE_ALARM, told_worst


def test_a_twin_with_keener_wasps_would_be_found_out(engine):
    _, gaps = differences(TwinWithKeenerWasps, "nothing", engine["nothing"][:PAIRS_OF_WRONG_TWIN])
    assert family_chance(gaps)[0] < FALSE_ALARM
