"""What can be sold: each leaf, head, root or fruit by what shows on it.

| | |
|---|---|
| takes | one leaf, plant or fruit and the limits of its crop |
| keeps | nothing |
| changes | nothing |
"""

from __future__ import annotations

import math
from enum import IntEnum
from typing import Any

from sim.compiled import rule
from sim.crops.damage import fruit_diameter_cm
from sim.randomness import chance

SHAPE = 45


class CucumberSize(IntEnum):
    """Sizes of the United States standard for table cucumbers (``usda_cucumber``)."""

    NONE = 0
    NUMBER_1 = 1
    NUMBER_1_SMALL = 2
    NUMBER_1_LARGE = 3


NO_SIZE, NUMBER_1, SMALL, LARGE = (int(size) for size in CucumberSize)


@rule
def cucumber_size(length_cm: float, diameter_cm: float, crop: Any) -> int:
    """Return the ``CucumberSize`` of a fruit by its length and diameter (``usda_cucumber``)."""
    is_long = length_cm >= crop.least_length_cm
    if is_long and crop.small_least_diameter_cm <= diameter_cm <= crop.greatest_diameter_cm:
        return NUMBER_1
    if is_long and crop.large_least_diameter_cm <= diameter_cm <= crop.large_greatest_diameter_cm:
        return LARGE
    if crop.small_least_diameter_cm <= diameter_cm <= crop.small_greatest_diameter_cm:
        return SMALL
    return NO_SIZE


@rule
def is_saleable_fruit(fruit: Any, crop: Any) -> bool:
    """Return whether a fruit has a market size, a good shape and few scars."""
    diameter_cm = fruit_diameter_cm(fruit.fresh_g, crop)
    length_cm = diameter_cm * crop.length_per_diameter
    scar_share = fruit.eaten_cm2 / (math.pi * diameter_cm * length_cm)
    if cucumber_size(length_cm, diameter_cm, crop) == NO_SIZE or scar_share > crop.scar_limit_share:
        return False
    return bool(chance(fruit.key, 0, SHAPE) < fruit.well_shaped)


@rule
def is_saleable_leaf(leaf: Any, plant: Any, crop: Any) -> bool:
    """Return whether a leaf misses no more than the limit, on a plant that does not bolt."""
    return bool(plant.is_bolting == 0 and leaf.eaten_cm2 <= crop.leaf_limit_share * leaf.area_cm2)


@rule
def is_saleable_head(plant: Any, crop: Any, larvae_inside: int) -> bool:
    """Return whether a head is large enough, in its time, little marked on its outside, and free of larvae."""
    is_large = plant.head_g / crop.dry_share >= crop.least_fresh_g
    is_clean = plant.head_eaten_cm2 <= crop.head_limit_share * plant.head_area_cm2
    return is_large and is_clean and larvae_inside == 0 and plant.is_bolting == 0


@rule
def root_surface_cm2(plant: Any, crop: Any) -> float:
    """Return the outside of a root taken as a ball [cm²]."""
    volume_cm3 = plant.root_g / crop.dry_share / crop.density_g_cm3
    return float(math.pow(36.0 * math.pi * volume_cm3 * volume_cm3, 1.0 / 3.0))


@rule
def is_saleable_root(plant: Any, crop: Any) -> bool:
    """Return whether a root is large enough, in its time and little marked; holes in its leaves do not matter."""
    is_large = plant.root_g / crop.dry_share >= crop.least_fresh_g
    is_clean = plant.root_eaten_cm2 <= crop.root_limit_share * root_surface_cm2(plant, crop)
    return bool(is_large and is_clean and plant.is_bolting == 0)
