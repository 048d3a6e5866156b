"""What birds can eat, where they look for it, and what it is worth: parameters laid out for compiled loops.

Takes: the parameter table. Keeps: one ``KIND`` record a kind of bird, one ``GROUP`` record a prey group, and tables by
insect species and stage. Changes: nothing after it is made.
"""

from __future__ import annotations

from enum import IntEnum
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim.cast import BEETLES, BIRDS, CATERPILLARS, GENERALISTS, SPECIES, STAGES, Bird, Predator, Species, Stage, word
from sim.compiled import Floats, Records, records
from sim.parameters.table import Parameters


class PreyGroup(IntEnum):
    """What birds' food is reported by."""

    CATERPILLAR = 0
    MOTH = 1
    SPIDER = 2
    BEETLE = 3
    BUG_OR_FLY = 4
    BARK_PREY = 5
    SEED = 6


class Place(IntEnum):
    """Where food was found."""

    GARDEN = 0
    HEDGEROW = 1
    TERRITORY = 2


class Mouth(IntEnum):
    """For whom it was caught: the bird itself, or the young it feeds."""

    OWN = 0
    YOUNG = 1


GROUPS = len(PreyGroup)
PLACES = len(Place)
MOUTHS = len(Mouth)

KIND_FIELDS = (
    "adult_g",
    "clutch_eggs",
    "clutch_spread_eggs",
    "incubation_days",
    "nestling_days",
    "care_days",
    "arrival_day_of_year",
    "departure_day_of_year",
    "first_egg_day_of_year",
    "first_egg_spread_days",
    "last_egg_day_of_year",
    "next_clutch_gap_days",
    "second_brood_share",
    "replacement_share",
    "failure_per_nest",
    "growth_top_g",
    "growth_rate_per_day",
    "growth_middle_day",
    "territory_m2",
    "use_of_garden",
    "reach_in_beds",
    "search_m2_per_minute",
    "handling_minutes",
)
"""Parameters that each kind of bird has; the same names in ``birds.toml`` and in the record."""

SHARED_FIELDS = (
    "hatching_share",
    "late_chick_share",
    "starving_share",
    "starving_from_age_days",
    "fledging_share",
    "fledging_wait_days",
    "brooding_days",
    "brooding_parent_share",
    "incubating_parent_share",
    "rank_exponent",
    "nestling_energy_factor",
    "nestling_energy_exponent",
    "growth_cost_kj_per_g",
    "adult_energy_factor",
    "adult_energy_exponent",
    "own_meal_minutes",
    "items_per_trip",
    "feeding_share_of_daylight",
    "wet_hours_share",
    "wet_full_rain_mm",
    "cold_from_c",
    "cold_to_c",
    "cold_search_share",
    "matching_exponent",
    "hedgerow_use",
    "small_prey_mg",
    "wanted_prey_mg",
    "large_prey_mg",
    "small_prey_share",
    "large_prey_share",
    "early_death_per_day",
    "early_days",
    "late_death_per_day",
    "dispersal_per_day",
    "visit_minutes",
    "entangled_death_share",
)
"""Parameters that all kinds of bird share."""

GROUP_FIELDS = (
    "lasting_per_m2",
    "flush_per_m2",
    "flush_day_of_year",
    "flush_width_days",
    "young_mg",
    "grown_mg",
    "half_grown_day_of_year",
    "growing_days",
    "palatability",
    "energy_kj_per_g",
    "hedgerow_factor",
    "is_for_young",
)
"""Parameters that each prey group of the wider country has."""

KIND = np.dtype([(name, "f8") for name in KIND_FIELDS], align=True)
SHARED = np.dtype([(name, "f8") for name in SHARED_FIELDS], align=True)
GROUP = np.dtype([(name, "f8") for name in GROUP_FIELDS], align=True)
MEAL = np.dtype([("appeal", "f8"), ("group", "i8")], align=True)
"""An insect in a bed as food: visibility times palatability, and its ``PreyGroup``."""
ENEMY = np.dtype([("appeal", "f8"), ("mg", "f8"), ("group", "i8")], align=True)
"""A generalist enemy as food: exposure by day times palatability, fresh mass [mg], and its ``PreyGroup``."""


class Menu(NamedTuple):
    """Every number of birds in the form that loops read.

    Attributes
    ----------
    kinds, shared, groups
        ``KIND`` records (BIRDS,), one ``SHARED`` record (1,), ``GROUP`` records (GROUPS,).
    reach
        Share of a prey group that lives where a kind of bird looks, shape (BIRDS, GROUPS).
    meals
        ``MEAL`` records (SPECIES, STAGES).
    enemies
        ``ENEMY`` records (GENERALISTS,).
    """

    kinds: Records
    shared: Records
    groups: Records
    reach: Floats
    meals: Records
    enemies: Records


@lru_cache(maxsize=8)
def build_menu(parameters: Parameters) -> Menu:
    """Return the birds' numbers laid out for compiled loops."""
    return Menu(
        kinds=_rows(parameters, KIND, [f"birds.{word(kind)}" for kind in Bird]),
        shared=_rows(parameters, SHARED, ["birds.shared"]),
        groups=_rows(parameters, GROUP, [f"birds.prey.{word(group)}" for group in PreyGroup]),
        reach=_table(parameters, [f"birds.{word(kind)}.reach" for kind in Bird], (BIRDS, GROUPS)),
        meals=_meals(parameters),
        enemies=_enemies(parameters),
    )


def _rows(parameters: Parameters, dtype: np.dtype[np.void], prefixes: list[str]) -> Records:
    rows = records(np.zeros(len(prefixes), dtype))
    for place, prefix in enumerate(prefixes):
        for name in dtype.names or ():
            rows[name][place] = parameters.number(f"{prefix}.{name}")
    return rows


def _table(parameters: Parameters, keys: list[str], shape: tuple[int, int]) -> Floats:
    table = np.zeros(shape)
    for place, key in enumerate(keys):
        table[place] = parameters.numbers(key)
    return table


def _meals(parameters: Parameters) -> Records:
    meals = records(np.zeros((SPECIES, STAGES), MEAL))
    visible = _table(parameters, [f"birds.visibility.{word(insect)}" for insect in Species], (SPECIES, STAGES))
    for insect in Species:
        young, adult = parameters.numbers(f"birds.palatability.{word(insect)}")
        meals["appeal"][insect] = visible[insect] * young
        meals["appeal"][insect, Stage.ADULT] = visible[insect, Stage.ADULT] * adult
    meals["group"] = PreyGroup.BUG_OR_FLY
    for moth in CATERPILLARS:
        meals["group"][moth] = PreyGroup.CATERPILLAR
        meals["group"][moth, Stage.ADULT] = PreyGroup.MOTH
    for beetle in BEETLES:
        meals["group"][beetle] = PreyGroup.BEETLE
    return meals


def _enemies(parameters: Parameters) -> Records:
    enemies = records(np.zeros(GENERALISTS, ENEMY))
    exposure = parameters.numbers("birds.enemies.exposure")
    enemies["appeal"] = exposure * parameters.numbers("birds.enemies.palatability")
    enemies["mg"] = parameters.numbers("birds.enemies.mass_mg")
    enemies["group"] = PreyGroup.BEETLE
    enemies["group"][Predator.SPIDER] = PreyGroup.SPIDER
    enemies["group"][Predator.LACEWING] = PreyGroup.BUG_OR_FLY
    return enemies
