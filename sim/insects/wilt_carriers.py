"""Bacterial wilt: passed on by cucumber beetles that carry it, more easily to young plants.

Takes how many carriers fed on each plant today; changes the plants that catch it.
"""

from __future__ import annotations

from sim.cast import Crop
from sim.compiled import Floats, Record, Records, loop, rule
from sim.randomness import chance

_CUCUMBER = int(Crop.CUCUMBER)
_CATCH = 7
"""Question asked of a plant's own chance."""


@rule
def infection_share(carriers: float, leaf_area_cm2: float, habits: Record) -> float:
    """Return the chance that a plant catches wilt today from so many carriers feeding on it."""
    each = habits.infection_per_beetle_day
    if leaf_area_cm2 >= habits.vining_leaf_cm2:
        each = each * habits.vining_factor
    return float(1.0 - (1.0 - each) ** carriers)


@loop
def pass_on_wilt(plants: Records, carriers_on_plant: Floats, habits_of_all: Records, day: int) -> int:
    """Let cucumbers catch wilt from the carriers on them; return how many did."""
    caught = 0
    for p in range(plants.size):
        plant = plants[p]
        carriers = carriers_on_plant[p]
        if carriers <= 0.0 or plant.crop != _CUCUMBER or plant.infected_day >= 0 or not plant.is_growing:
            continue
        if chance(plant.key, day, _CATCH) < infection_share(carriers, plant.leaf_area_cm2, habits_of_all[0]):
            plant.infected_day = day
            caught += 1
    return caught
