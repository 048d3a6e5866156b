"""The rules of one colony of cabbage aphids: warmth, hazards, births and departures. Only ``aphids.py`` calls them."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sim.cast import GENERALISTS, Predator, word
from sim.compiled import Floats, rule

NYMPHS = 4
AGES = NYMPHS + 1
ADULT = NYMPHS

LIFE = np.dtype(
    [
        (name, "f8")
        for name in (
            "base_c",
            "adult_dd",
            "young_per_female",
            "upper_c",
            "hot_c",
            "heat_per_day_c",
            "cold_c",
            "cold_per_day_c",
            "rain_spared_mm",
            "rain_full_mm",
            "rain_hazard_per_day",
            "crowd_per_cm2",
            "dies_out_below",
            "settles_again_share",
            "arrivals_per_m2",
            "flight_peak_day_of_year",
            "flight_spread_days",
            "flight_floor_share",
            "flight_c",
            "flight_rain_mm",
            "parasitoid_hazard_per_day",
            "parasitoid_half_per_m2",
            "parasitoid_idle_c",
            "parasitoid_active_c",
            "fungus_per_day",
            "fungus_half_per_cm2",
            "fungus_wet_mm",
            "fungus_wet_share",
            "fungus_memory_days",
        )
    ],
    align=True,
)
"""What cabbage aphids are like; each field is an entry of ``aphids.toml``."""

EATERS = tuple(f"eaten_by_{word(Predator(enemy))}" for enemy in range(GENERALISTS))
HAZARDS = (*EATERS, "parasitised", "sprayed", "rained_off", "heat_or_cold", "fungus")
"""Causes of death whose hazards are summed."""
FLOWS = (*HAZARDS, "aged", "flew_off", "washed_off", "harvested", "lost_host", "died_out", "arrived", "born")
PARASITISED, SPRAYED, RAINED_OFF, WEATHER, FUNGUS = range(GENERALISTS, len(HAZARDS))
AGED, FLEW_OFF, WASHED_OFF, HARVESTED, LOST_HOST, DIED_OUT, ARRIVED, BORN = range(len(HAZARDS), len(FLOWS))

LEAST_SURVIVAL = 1e-12  # keeps the hazard of a certain death finite


@rule
def flight_level(day_of_year: int, tmax_c: float, rain_mm: float, life: Any) -> float:
    """Return how many winged females are about, 0 to 1 of the height of the flight on a fine day."""
    if tmax_c < life.flight_c or rain_mm >= life.flight_rain_mm:
        return 0.0
    away = (day_of_year - life.flight_peak_day_of_year) / life.flight_spread_days
    return float(life.flight_floor_share + (1.0 - life.flight_floor_share) * math.exp(-away * away / 2.0))


@rule
def weather_hazard(tmin_c: float, tmax_c: float, life: Any) -> float:
    """Return the hazard (1/d) of heat or frost."""
    heat = max(0.0, (tmin_c + tmax_c) / 2.0 - life.hot_c) * life.heat_per_day_c
    return float(heat + max(0.0, life.cold_c - tmin_c) * life.cold_per_day_c)


@rule
def rain_hazard(rain_mm: float, life: Any) -> float:
    """Return the hazard (1/d) of being washed off by rain."""
    strength = (rain_mm - life.rain_spared_mm) / (life.rain_full_mm - life.rain_spared_mm)
    return float(life.rain_hazard_per_day * min(1.0, max(0.0, strength)))


@rule
def spray_hazard(contact: Floats, residue: Floats, residue_share: Floats, kill: Floats) -> float:
    """Return the hazard (1/d) of today's wetting or, where that is worse, of the deposit."""
    spared = 1.0
    for product in range(kill.size):
        dose = max(contact[product], residue[product] * residue_share[product])
        spared *= 1.0 - min(1.0, dose * kill[product])
    return -math.log(max(spared, LEAST_SURVIVAL))


@rule
def parasitoid_hazard(mean_c: float, aphids_per_m2: float, gets_in: float, spared: float, life: Any) -> float:
    """Return the hazard (1/d) from small wasps that gather where aphids are."""
    pace = (mean_c - life.parasitoid_idle_c) / (life.parasitoid_active_c - life.parasitoid_idle_c)
    gathered = aphids_per_m2 / (aphids_per_m2 + life.parasitoid_half_per_m2)
    return float(life.parasitoid_hazard_per_day * min(1.0, max(0.0, pace)) * gathered * gets_in * spared)


@rule
def damper(dampness: float, rain_mm: float, life: Any) -> float:
    """Return the share of the last days that were wet, today's rain told in; older days fade from it."""
    is_wet = 1.0 if rain_mm >= life.fungus_wet_mm else 0.0
    return float(dampness + (is_wet - dampness) / life.fungus_memory_days)


@rule
def fungus_hazard(aphids_per_cm2: float, dampness: float, life: Any) -> float:
    """Return the hazard (1/d) from fungi that spread from aphid to aphid: where they are thick and days are damp."""
    if aphids_per_cm2 <= 0.0:
        return 0.0
    thin = life.fungus_half_per_cm2 / aphids_per_cm2
    catching = 1.0 / (1.0 + thin * thin)
    return float(life.fungus_per_day * catching * min(1.0, dampness / life.fungus_wet_share))


@rule
def take_hazards(colony: Floats, hazards: Floats, flows: Floats) -> None:
    """Let the day's hazards act on a colony and write the dead to their causes in proportion."""
    total_hazard = 0.0
    for cause in range(hazards.size):
        total_hazard += hazards[cause]
    if total_hazard <= 0.0:
        return
    share = 1.0 - math.exp(-total_hazard)
    dead = 0.0
    for age in range(colony.size):
        dead += colony[age] * share
        colony[age] -= colony[age] * share
    for cause in range(hazards.size):
        flows[cause] += dead * hazards[cause] / total_hazard


@rule
def grow_colony(colony: Floats, dd: float, crowding: float, life: Any, instar_dd: Floats, flows: Floats) -> float:
    """Let a colony age and bear young, by this morning's numbers; return the winged females that take off.

    ``crowding`` is 0 on an empty plant and 1 on a full one; births fall and departures rise in step with it.
    """
    born = colony[ADULT] * life.young_per_female * dd / life.adult_dd * (1.0 - crowding)
    aged = colony[ADULT] * min(1.0, dd / life.adult_dd)
    moving_up = born
    for instar in range(NYMPHS):
        leaving = colony[instar] * min(1.0, dd / instar_dd[instar])
        colony[instar] += moving_up - leaving
        moving_up = leaving
    winged = moving_up * crowding
    colony[ADULT] += moving_up - winged - aged
    flows[BORN] += born
    flows[AGED] += aged
    return float(winged)


@rule
def size_of(colony: Floats) -> float:
    """Return how many live in a colony, young and old."""
    alive = 0.0
    for age in range(colony.size):
        alive += colony[age]
    return alive


@rule
def remove_share(colony: Floats, share: float) -> float:
    """Take a share off a colony, whatever the age; return how many."""
    taken = 0.0
    for age in range(colony.size):
        taken += colony[age] * share
        colony[age] -= colony[age] * share
    return taken
