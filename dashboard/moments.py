"""Moments of a season that a class stops at, such as the first egg: on which day each came, and how things stood then.

A moment is read from the rows that a season writes down each evening, so a plan that keeps the moths out may never see
the first egg: then there is no day, and whoever stops there says so and stops on a day of the lesson instead.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from dashboard.tongue import mark
from sim.cast import Bee, word
from sim.chronicle import PLANT_EATERS

if TYPE_CHECKING:
    from sim.chronicle import Chronicle
    from sim.compiled import Floats

SEEN = "moment"
"""Begins the name of every figure of a moment: ``moment first_egg day``."""


@dataclass(frozen=True)
class Moment:
    """One moment: its words, and what is looked at each evening; the first evening above 0 is its day."""

    words: str
    look: Callable[[Chronicle], Floats]


def _sum_of(*columns: str) -> Callable[[Chronicle], Floats]:
    def look(book: Chronicle) -> Floats:
        return np.asarray(np.sum([book.column(name) for name in columns], axis=0), dtype=np.float64)

    return look


_EATERS = [word(species) for species in PLANT_EATERS]
MOMENTS: dict[str, Moment] = {
    "first_egg": Moment(mark("the first egg on a crop"), _sum_of(*(f"{name}_eggs" for name in _EATERS))),
    "first_damage": Moment(mark("the first leaf eaten"), _sum_of("leaf_eaten_m2")),
    "hatch": Moment(mark("the first young birds hatch"), _sum_of("nestlings")),
    "first_picking": Moment(mark("the first picking"), _sum_of("harvest_kg")),
    "first_bloom": Moment(mark("the first cucumber flowers"), _sum_of("open_flowers")),
    "first_bee": Moment(mark("the first bee at a flower"), _sum_of(*(f"{word(bee)}_visits" for bee in Bee))),
    "first_spray": Moment(mark("the first spray"), _sum_of("beds_sprayed")),
    "turned_away": Moment(mark("the net ends the first try to get in"), _sum_of("turned_away")),
    "fledging": Moment(mark("the first young bird leaves its nest"), _sum_of("fledged")),
}
"""What a lesson may stop at, by the word that its file uses."""

STANDING: dict[str, tuple[Callable[[Chronicle], Floats], bool]] = {
    "pests": (_sum_of(*(f"{name}_{stage}" for name in _EATERS for stage in ("young", "adults"))), False),
    "eggs": (_sum_of(*(f"{name}_eggs" for name in _EATERS)), False),
    "bird_food_g": (
        _sum_of(
            *(f"{group}_reachable_g" for group in ("caterpillars", "moths", "bugs", "beetles", "wasps", "spiders"))
        ),
        False,
    ),
    "picked_kg": (_sum_of("harvest_kg"), True),
    "flowers": (_sum_of("open_flowers"), False),
    "minutes": (_sum_of("labour_minutes"), True),
}
"""How things stand on an evening: what is looked at, and whether it is added up since the season began."""


def day_of(event: str, book: Chronicle) -> int | None:
    """Return the day of the season, from 0, on which a moment came, or None if it never did."""
    seen = np.flatnonzero(MOMENTS[event].look(book) > 0)
    return int(seen[0]) if len(seen) else None


def standing_on(day: int, book: Chronicle) -> dict[str, float]:
    """Return how things stood on the evening of a day of the season."""
    return {
        name: float(values[: day + 1].sum() if adds_up else values[day])
        for name, (look, adds_up) in STANDING.items()
        for values in [look(book)]
    }
