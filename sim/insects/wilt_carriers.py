"""Cucumber beetles on flowers, and the wilt that some of them pass on, more easily to young plants.

Takes how many carriers fed on each plant today; changes the plants that catch it.
"""

from __future__ import annotations

from sim.cast import Crop, Species, Stage
from sim.compiled import Floats, Ints, Record, Records, loop, rule
from sim.randomness import chance

_CUCUMBER = int(Crop.CUCUMBER)
_BEETLE, _ADULT = int(Species.CUCUMBER_BEETLE), int(Stage.ADULT)
_CATCH = 7
"""Question asked of a plant's own chance."""


@loop
def count_beetles_per_flower(
    standing: Ints, plants: Records, alive: Floats, flower_share: float, males_per_female: float, per_flower: Floats
) -> None:
    """Set the beetles for each open flower, male ones counted, of every bed, shape (B,)."""
    per_flower[:] = 0.0
    for p in standing:
        per_flower[plants[p].bed] += plants[p].open_flowers
    for b in range(per_flower.size):
        flowers = per_flower[b] * (1.0 + males_per_female)
        per_flower[b] = flower_share * alive[b, _BEETLE, _ADULT] / max(1.0, flowers)


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
