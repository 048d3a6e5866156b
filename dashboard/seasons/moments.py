"""Moments of a season that a class stops at, such as the first egg: on which day each came, and how things stood then.

A moment is read from the rows that a season writes down each evening, so a plan that keeps the moths out may never see
the first egg: then there is no day, and whoever stops there says so and stops on a day of the lesson instead.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from dashboard.language.tongue import mark
from sim.cast import BUGS, CATERPILLARS, PLANT_EATERS, Bee, word
from sim.chronicle import PREY_GROUPS, columns_on_plants

if TYPE_CHECKING:
    from sim.chronicle import Chronicle
    from sim.compiled import Floats


@dataclass(frozen=True)
class Moment:
    """One moment: its words, and what is looked at each evening; the first evening above 0 is its day."""

    words: str
    look: Callable[[Chronicle], Floats]


def _sum_of(*columns: str) -> Callable[[Chronicle], Floats]:
    def look(book: Chronicle) -> Floats:
        return np.asarray(np.sum([book.column(name) for name in columns], axis=0), dtype=np.float64)

    return look


_ON_LEAVES = [f"{word(species)}_eggs" for species in (*CATERPILLARS, *BUGS)]
"""Beetles lay in the soil, where no gardener sees an egg."""
_FOUND = [column for species in PLANT_EATERS for column in columns_on_plants(species)]
MOMENTS: dict[str, Moment] = {
    "first_egg": Moment(mark("the first egg on a leaf"), _sum_of(*_ON_LEAVES)),
    "first_damage": Moment(mark("the first holes to be seen in a leaf"), _sum_of("plants_with_holes")),
    "hatch": Moment(mark("the first young birds hatch"), _sum_of("nestlings")),
    "first_picking": Moment(mark("the first picking"), _sum_of("harvest_kg")),
    "first_bloom": Moment(mark("the first cucumber flowers"), _sum_of("open_flowers")),
    "first_bee": Moment(mark("the first bee at a flower"), _sum_of(*(f"{word(bee)}_visits" for bee in Bee))),
    "first_spray": Moment(mark("the first spray"), _sum_of("beds_sprayed")),
    "turned_away": Moment(mark("the net ends the first try to get in"), _sum_of("turned_away")),
    "fledging": Moment(mark("the first young bird leaves its nest"), _sum_of("fledged")),
}
"""What a lesson may stop at, by the word that its file uses."""


@dataclass(frozen=True)
class Standing:
    """One thing that is looked at on an evening.

    Parameters
    ----------
    words
        Heading over its figures, marked; ``{short}`` stands for the unit.
    unit
        A unit of ``saying.UNITS``, or an empty text for counts.
    look
        Its figure of every day.
    adds_up
        Whether it is added up since the season began.
    """

    words: str
    unit: str
    look: Callable[[Chronicle], Floats]
    adds_up: bool = False


_BIRD_FOOD = _sum_of(*(f"{group}_reachable_g" for group in PREY_GROUPS))
STANDING = {
    "pests": Standing(mark("Pests on the plants"), "", _sum_of(*_FOUND)),
    "eggs": Standing(mark("Eggs on leaves"), "", _sum_of(*_ON_LEAVES)),
    "bird_food_g": Standing(mark("Bird food in reach, {short}"), "g", _BIRD_FOOD),
    "picked_kg": Standing(mark("Picked so far, {short}"), "kg", _sum_of("harvest_kg"), adds_up=True),
    "flowers": Standing(mark("Open flowers"), "", _sum_of("open_flowers")),
    "minutes": Standing(mark("Minutes of work so far"), "", _sum_of("labour_minutes"), adds_up=True),
}
"""How things stand on an evening, by the words that a lesson file uses."""


def day_of(event: str, book: Chronicle) -> int | None:
    """Return the day of the season, from 0, on which a moment came, or None if it never did."""
    seen = np.flatnonzero(MOMENTS[event].look(book) > 0)
    return int(seen[0]) if len(seen) else None


def standing_on(day: int, book: Chronicle) -> dict[str, float]:
    """Return how things stood on the evening of a day of the season."""
    return {
        name: float(values[: day + 1].sum() if one.adds_up else values[day])
        for name, one in STANDING.items()
        for values in [one.look(book)]
    }
