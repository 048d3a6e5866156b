"""The gregarious wasp of cabbage whites, counted as those count it who collect larvae or follow the stung ones."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np

from sim.cast import Stage
from sim.chronicle import LARVAL
from sim.garden import Garden
from sim.patterns.lives import WHITE, open_kale_place, share
from sim.practices.workday import Workday
from sim.season import Season, run_season

GENERATIONS = 5
"""As many as the source compared."""


class Collector:
    """Looks over the bed each evening: how many larvae stand there, and how many of them have wasps inside."""

    def __init__(self) -> None:
        self.larvae = 0
        self.with_wasps = 0

    def see_morning(self, garden: Garden) -> None:
        """Do nothing."""

    def see_meals(self, garden: Garden) -> None:
        """Do nothing."""

    def see_evening(self, garden: Garden, workday: Workday) -> None:
        """Count the larvae of the bed."""
        alive = garden.insects.records[: garden.insects.count]
        larvae = (alive["species"] == WHITE) & (alive["bed"] == 0)
        larvae &= (alive["stage"] >= LARVAL.start) & (alive["stage"] < LARVAL.stop)
        self.larvae += int(larvae.sum())
        self.with_wasps += int((larvae & (alive["wasp_brood"] > 0)).sum())


@cache
def _collected(seeds: tuple[int, ...]) -> list[tuple[Season, Collector]]:
    seasons = []
    for seed in seeds:
        collector = Collector()
        seasons.append((run_season(open_kale_place(), "nothing", seed, collector), collector))
    return seasons


def with_wasps_inside(seeds: Sequence[int]) -> float:
    """Return the mean over seasons of the share of larvae, of those that a collector finds, with wasps inside.

    Larvae that are reared meet no birds or beetles any more, so more of them give wasps than in the bed.
    """
    return float(np.nanmean([share(who.with_wasps, who.larvae) for _, who in _collected(tuple(seeds))]))


def stung_range(seeds: Sequence[int]) -> float:
    """Return the best less the worst of five seasons, mean of fives: larvae stung for each that hatched."""
    stung = [
        share(float(season.garden.insects.stung), float(season.garden.insects.reached[:, WHITE, Stage.INSTAR_1].sum()))
        for season, _ in _collected(tuple(seeds))
    ]
    whole = max(1, len(stung) // GENERATIONS) * GENERATIONS
    fives = [stung[first : first + GENERATIONS] for first in range(0, min(whole, len(stung)), GENERATIONS)]
    return float(np.mean([np.ptp(five) for five in fives]))
