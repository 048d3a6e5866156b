"""Two gardens that differ in one mechanism, and what to look at in them."""

from __future__ import annotations

from sim.cast import Fate
from sim.chronicle import PLACE
from tests.strategies import live

BIRDS_EAT = (Fate.EATEN_BY_TIT_LIKE_BIRD, Fate.EATEN_BY_WREN_LIKE_BIRD, Fate.EATEN_BY_WOODPECKER_LIKE_BIRD)
KEYS = {
    "cabbage_white": "moths.cabbage_white",
    "cabbage_looper": "moths.cabbage_looper",
    "diamondback_moth": "moths.diamondback_moth",
    "harlequin_bug": "bugs_and_beetles.harlequin_bug",
    "flea_beetle": "bugs_and_beetles.flea_beetle",
    "cucumber_beetle": "bugs_and_beetles.cucumber_beetle",
}
"""Where the numbers of each plant-eater stand."""


def for_all(name, value, *, wasp=False):
    """Return the change of one number in every plant-eater, and in the parasitoid wasp if wanted."""
    keys = [*KEYS.values(), *(["parasitoid.parasitoid_wasp"] if wasp else [])]
    return {f"{key}.{name}": value for key in keys}


def ended_by(lived, *fates):
    """Return how many insects met one of these fates, in the beds and the margin."""
    return int(lived.insects.exits[..., [int(fate) for fate in fates]].sum())


def total(lived, column):
    """Return a column of the chronicle added up over the season."""
    return float(lived.chronicle.column(column).sum())


def on_and_off(scenario, changes, plan="nothing", seed=1):
    """Return the garden as it is, and with these keys of its scenario changed."""
    return live(scenario, plan, seed), live(scenario.with_changes(changes), plan, seed)


def with_numbers(scenario, changes):
    """Return the scenario with other numbers of nature."""
    return scenario.with_changes({f"numbers.{key}": value for key, value in changes.items()})


def numbers(scenario, changes, plan="nothing", seed=1):
    """Return the garden as it is, and with these numbers of nature changed."""
    return live(scenario, plan, seed), live(with_numbers(scenario, changes), plan, seed)


def is_same_season(one, other):
    """Return whether two gardens lived the same days, work and money aside."""
    kept = [place for name, place in PLACE.items() if name not in ("labour_minutes", "cost_usd")]
    return one.chronicle.rows[:, kept].tobytes() == other.chronicle.rows[:, kept].tobytes()
