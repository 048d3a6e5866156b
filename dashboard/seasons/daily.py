"""What a page keeps of each day of a season: a few series, each a sum of columns of the model's day book."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from dashboard.language.saying import in_units, unit_named
from dashboard.language.tongue import mark
from sim.cast import BEETLES, BUGS, CATERPILLARS
from sim.chronicle import PREY_GROUPS, columns_on_plants

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sim.chronicle import Chronicle
    from sim.compiled import Floats

COLUMNS_OF: dict[str, tuple[str, ...]] = {
    "caterpillars": tuple(name for species in CATERPILLARS for name in columns_on_plants(species)),
    "bugs_and_beetles": tuple(name for species in (*BUGS, *BEETLES) for name in columns_on_plants(species)),
    "aphids": ("aphids",),
    "bird_food": tuple(f"{group}_reachable_g" for group in PREY_GROUPS),
    "fed": ("fed_from_garden_kj",),
    "spiders": ("spiders",),
    "ground_beetles": ("ground_beetles",),
    "aphid_eaters": ("lady_beetles", "lacewings"),
    "wasps": ("parasitoid_wasps",),
    "bee_visits": ("honey_bee_visits", "bumble_bee_visits", "small_bee_visits"),
    "fruit": ("fruit_set",),
    "covered": ("covered_beds",),
    "sprayed": ("beds_sprayed",),
}
"""Series → the columns that it adds up."""
PLACE = {name: place for place, name in enumerate(COLUMNS_OF)}
TITLES = {
    "caterpillars": mark("Caterpillars on the crops"),
    "bugs_and_beetles": mark("Bugs and beetles on the crops"),
    "aphids": mark("Aphids"),
    "bird_food": mark("Bird food in reach"),
    "fed": mark("Garden food to nestlings"),
    "spiders": mark("Spiders"),
    "ground_beetles": mark("Ground beetles"),
    "aphid_eaters": mark("Lady beetles and lacewings"),
    "wasps": mark("Wasps that grow in caterpillars"),
    "bee_visits": mark("Bees' visits to cucumber flowers"),
    "fruit": mark("Cucumbers that set"),
}
UNITS = {
    "caterpillars": mark("alive"),
    "bugs_and_beetles": mark("alive"),
    "aphids": mark("alive"),
    "bird_food": "g",
    "fed": mark("kJ a day"),
    "spiders": mark("alive"),
    "ground_beetles": mark("alive"),
    "aphid_eaters": mark("alive"),
    "wasps": mark("alive"),
    "bee_visits": mark("visits a day"),
    "fruit": mark("fruits a day"),
}
"""Series → its unit, marked, or one of ``saying.UNITS``, which is said and measured in the units of the moment."""
WEEK = 7


def days_of(book: Chronicle) -> Floats:
    """Return the series of a season that has been lived, shape (days, series), in half the room of the day book's."""
    columns = [sum((book.column(name) for name in names), np.zeros(len(book.rows))) for names in COLUMNS_OF.values()]
    kept: Floats = np.stack(columns, axis=1).astype(np.float32)
    return kept


def has_any(days: Mapping[str, Floats], series: str) -> bool:
    """Return whether there is any of a series on some day; ``days`` is plan → shape (seasons, days, series)."""
    return any(bool((one[:, :, PLACE[series]] > 0).any()) for one in days.values())


def unit_of(series: str) -> str:
    """Return the unit of a series in words."""
    return unit_named(UNITS[series])


def as_measured(values: Floats, series: str) -> Floats:
    """Return the values of a series in the unit that :func:`unit_of` names."""
    return values * in_units(1.0, UNITS[series])


def smooth(values: Floats) -> Floats:
    """Return the mean of the week that ends on each day, along the last axis; at the start of what there is of it.

    A week around each day would show an effect before its cause.
    """
    days = values.shape[-1]
    window = np.ones(WEEK)
    had = np.convolve(np.ones(days), window)[:days]
    smoothed: Floats = np.apply_along_axis(lambda row: np.convolve(row, window)[:days] / had, -1, values)
    return smoothed
