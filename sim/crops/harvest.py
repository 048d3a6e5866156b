"""Harvest: what is ready, and what comes off when it is picked.

| | |
|---|---|
| takes | the plants of one bed; how many larvae sit in each head |
| keeps | nothing of its own |
| changes | leaves, heads, roots and fruits leave their records; ``picked`` says which places of which plants went |
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sim.compiled import Bytes, Floats, Ints, Records, loop, rule
from sim.crops.flowers import is_ripe_fruit
from sim.crops.grades import is_saleable_fruit, is_saleable_head, is_saleable_leaf, is_saleable_root
from sim.crops.leaves import (
    clear_leaf,
    is_pickable_leaf,
    least_to_pick_cm2,
    measure_leaves,
    youngest_to_pick_dd,
)
from sim.crops.plant import FruitState
from sim.crops.planting import take_away
from sim.crops.table import SoldAs

LEAF, HEAD_CROP, ROOT, FRUIT = int(SoldAs.LEAF), int(SoldAs.HEAD), int(SoldAs.ROOT), int(SoldAs.FRUIT)
TAKEN = int(FruitState.PICKED)
KG, MARKETABLE_KG, UNITS, MARKETABLE_UNITS = range(4)
"""Places of a tally, in the order of ``Picking``."""


@dataclass(frozen=True, slots=True)
class Picking:
    """What one picking of one bed brought in; a unit is a leaf, a head, a root or a fruit."""

    kg: float
    marketable_kg: float
    units: int
    marketable_units: int


@rule
def note(tally: Floats, fresh_g: float, is_saleable: bool) -> None:
    """Add one unit to a tally of kg, marketable kg, units and marketable units."""
    tally[KG] += fresh_g / 1000.0
    tally[UNITS] += 1.0
    if is_saleable:
        tally[MARKETABLE_KG] += fresh_g / 1000.0
        tally[MARKETABLE_UNITS] += 1.0


@rule
def is_ready_whole(plant: Any, crop: Any) -> bool:
    """Return whether a plant that is cut once is ready: in its time, and large enough or with no time left to wait."""
    if plant.warmth_dd < crop.harvest_dd:
        return False
    if crop.sold_as == LEAF or plant.warmth_dd > crop.harvest_dd + crop.keeps_dd / 2.0:
        return True
    part_g = plant.root_g if crop.sold_as == ROOT else plant.head_g
    return bool(float(part_g / crop.dry_share) >= crop.least_fresh_g)


@rule
def is_cut_whole(plant: Any, crop: Any) -> bool:
    """Return whether harvest takes the plant as a whole."""
    return bool(crop.sold_as == HEAD_CROP or crop.sold_as == ROOT or (crop.sold_as == LEAF and plant.once_over == 1))


@rule
def ripe_units(plant: Any, crop: Any) -> int:
    """Return how many leaves, heads, roots or fruits of a plant are ready."""
    if not plant.is_growing or crop.sold_as == 0:
        return 0
    if is_cut_whole(plant, crop):
        return 1 if is_ready_whole(plant, crop) else 0
    if crop.sold_as == FRUIT:
        return int(plant.ripe_fruits)
    return int(plant.ripe_leaves) if plant.warmth_dd >= crop.harvest_dd else 0


@rule
def pick_leaves(plant: Any, leaves: Records, crop: Any, picked: Bytes, tally: Floats, takes_all: bool) -> None:
    """Pick the old full leaves, or all of them; each is sold or not by its own holes."""
    youngest_dd, least_cm2 = youngest_to_pick_dd(crop), least_to_pick_cm2(crop)
    for j in range(plant.leaf_slots):
        leaf = leaves[j]
        if leaf.area_cm2 > 0.0 and (takes_all or is_pickable_leaf(leaf, youngest_dd, least_cm2)):
            fresh_g = (leaf.area_cm2 - leaf.eaten_cm2) / crop.sla_cm2_g / crop.dry_share
            note(tally, fresh_g, is_saleable_leaf(leaf, plant, crop))
            picked[j] = 1
            clear_leaf(leaf)
    measure_leaves(plant, leaves, crop)


@rule
def pick_fruits(plant: Any, fruits: Records, crop: Any, tally: Floats) -> None:
    """Pick every fruit of picking size."""
    plant.ripe_fruits = 0
    for j in range(plant.fruit_slots):
        if is_ripe_fruit(fruits[j], crop):
            note(tally, fruits[j].fresh_g, is_saleable_fruit(fruits[j], crop))
            fruits[j].state = TAKEN


@rule
def cut_rosette(plant: Any, leaves: Records, crop: Any, tally: Floats) -> None:
    """Cut all leaves of a plant as one unit, sold by what is missing of them together."""
    outline_cm2 = 0.0
    eaten_cm2 = 0.0
    for j in range(leaves.size):
        outline_cm2 += leaves[j].area_cm2
        eaten_cm2 += leaves[j].eaten_cm2
    fresh_g = (outline_cm2 - eaten_cm2) / crop.sla_cm2_g / crop.dry_share
    is_whole = eaten_cm2 <= crop.leaf_limit_share * outline_cm2
    note(tally, fresh_g, is_whole and plant.is_bolting == 0)


@rule
def cut_plant(
    plant: Any, leaves: Records, fruits: Records, crop: Any, inside: int, picked: Bytes, tally: Floats
) -> None:
    """Cut or pull a whole plant and keep what is sold of it."""
    if crop.sold_as == HEAD_CROP:
        note(tally, plant.head_g / crop.dry_share, is_saleable_head(plant, crop, inside))
    elif crop.sold_as == ROOT:
        note(tally, plant.root_g / crop.dry_share, is_saleable_root(plant, crop))
    elif crop.is_sold_whole:
        cut_rosette(plant, leaves[: plant.leaf_slots], crop, tally)
    elif crop.sold_as == LEAF:
        pick_leaves(plant, leaves, crop, picked, tally, True)
    else:
        pick_fruits(plant, fruits, crop, tally)
    picked[:] = 1
    take_away(plant, leaves, fruits)


@loop
def pick_all(
    rows: Ints, plants: Records, leaves: Records, fruits: Records, crops: Records, inside: Ints, picked: Bytes,
    tally: Floats,
) -> None:  # fmt: skip
    """Pick what is ready on these plants; ``tally`` gets kg, marketable kg, units and marketable units."""
    tally[:] = 0.0
    for i in rows:
        plant = plants[i]
        crop = crops[plant.crop]
        if ripe_units(plant, crop) == 0:
            continue
        if is_cut_whole(plant, crop) or plant.once_over == 1:
            cut_plant(plant, leaves[i], fruits[i], crop, inside[i], picked[i], tally)
        elif crop.sold_as == LEAF:
            pick_leaves(plant, leaves[i], crop, picked[i], tally, False)
        else:
            pick_fruits(plant, fruits[i], crop, tally)
