"""Behind a number: one season run again with somebody who notes who died when, and keeps a few as examples.

The season is the same to the last bit; looking on changes nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from dashboard.seasons.wishes import Lived, Wish
from sim.cast import FATES, SPECIES, STAGES, Entry, Fate
from sim.compiled import Ints

if TYPE_CHECKING:
    from sim.garden import Garden
    from sim.practices.workday import Workday
    from sim.scenario import Scenario

WEEK = 7
EXAMPLES_OF_EACH = 3
"""So many of each species and fate are kept: those with the smallest keys, which no plan can change."""
_ALIVE, _BORN = int(Fate.ALIVE), int(Entry.BORN)


@dataclass(frozen=True)
class Example:
    """One insect that was laid or born in a bed, as it was on its last day."""

    key: int
    species: int
    stage: int
    fate: int
    day: int
    bed: str
    mass_mg: float
    offspring: int


@dataclass(frozen=True)
class Traced(Lived):
    """A season whose numbers can be followed.

    Parameters
    ----------
    weeks
        Shape (n, 5): week, species, stage, fate and how many of those born in the beds ended so in that week.
    examples
        Some of them.
    """

    weeks: Ints = field(default_factory=lambda: np.zeros((0, 5), np.int64))
    examples: tuple[Example, ...] = ()


class Tracer:
    """Looks on each evening, before the dead are booked."""

    def __init__(self) -> None:
        self._counts: dict[int, Ints] = {}
        self._kept: dict[tuple[int, int], list[Example]] = {}

    def see_morning(self, garden: Garden) -> None:
        """Nothing to note."""

    def see_meals(self, garden: Garden) -> None:
        """Nothing to note."""

    def see_evening(self, garden: Garden, workday: Workday) -> None:
        """Note those that died or left today."""
        records = garden.insects.records[: garden.insects.count]
        is_out = (records["fate"] != _ALIVE) & (records["entry"] == _BORN) & (records["bed"] != garden.insects.margin)
        gone = records[is_out]
        if not len(gone):
            return
        week = self._counts.setdefault(garden.day // WEEK, np.zeros((SPECIES, STAGES, FATES), np.int64))
        np.add.at(week, (gone["species"], gone["stage"], gone["fate"]), 1)
        for one in gone[np.argsort(gone["key"])]:
            kept = self._kept.setdefault((int(one["species"]), int(one["fate"])), [])
            if len(kept) < EXAMPLES_OF_EACH or int(one["key"]) < kept[-1].key:
                kept.append(_example(one, garden))
                kept.sort(key=lambda example: example.key)
                del kept[EXAMPLES_OF_EACH:]

    def weeks(self, garden: Garden) -> Ints:
        """Return the rows of a trace, those still alive on the last evening among them."""
        last = (len(garden.days) - 1) // WEEK
        alive = garden.insects.still_alive()[0, Entry.BORN]
        counts = {week: count.copy() for week, count in self._counts.items()}
        counts[last] = counts.get(last, np.zeros_like(alive)) + alive
        rows: list[tuple[int, ...]] = []
        for week, count in sorted(counts.items()):
            rows += [(week, *place, count[tuple(place)]) for place in np.argwhere(count)]
        return np.array(rows, dtype=np.int64).reshape(-1, 5)

    @property
    def examples(self) -> tuple[Example, ...]:
        """Those that were kept, by day."""
        every = [one for kept in self._kept.values() for one in kept]
        return tuple(sorted(every, key=lambda one: (one.day, one.key)))


def live_traced(scenario: Scenario, plan: str, season: int) -> Traced:
    """Run one season here with a tracer; this is what the processes do."""
    from dashboard.seasons.wishes import kept
    from sim.season import run_season

    tracer = Tracer()
    lived = run_season(scenario, plan, season, tracer)
    numbers = kept(lived)
    weeks = tracer.weeks(lived.garden)
    return Traced(numbers.summary, numbers.ends, numbers.days, numbers.wintered, weeks, tracer.examples)


def traced_wishes(scenario: Scenario, plans: Sequence[str], season: int) -> dict[str, list[Wish]]:
    """Return plan → its one season, to be traced."""
    from sim.jobs import season_fingerprint
    from sim.store import SeasonKey

    def wish(plan: str) -> Wish:
        key = SeasonKey(f"trace {season_fingerprint(scenario, plan)}", plan, season)
        return Wish(scenario, plan, season, key, live_traced)

    return {plan: [wish(plan)] for plan in plans}


def _example(record: np.void, garden: Garden) -> Example:
    bed = garden.layout.names[int(record["bed"])]
    return Example(
        int(record["key"]), int(record["species"]), int(record["stage"]), int(record["fate"]), garden.day, bed,
        float(record["mass_mg"]), int(record["offspring"]),
    )  # fmt: skip
