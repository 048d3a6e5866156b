"""How a plant comes into its bed and leaves it: planted out, sown, up, pulled.

| | |
|---|---|
| takes | the bed and the day |
| keeps | nothing of its own |
| changes | ``PLANT``, ``LEAF`` and ``FRUIT`` records |
"""

from __future__ import annotations

from typing import Any

from sim.compiled import Ints, Records, loop, rule
from sim.crops.leaves import clear_leaf, measure_leaves, open_leaf
from sim.crops.plant import LEAVES
from sim.randomness import chance, normal

OWN_GROWTH = 42
FIRST_FLOWER = 43


@rule
def unfold_first_leaves(plant: Any, leaves: Records, crop: Any, count: int, leaf_cm2: float) -> None:
    """Give a plant its first leaves, each a little older than the next, and its own pace of growth."""
    plant.own_growth = max(0.0, 1.0 + crop.spread_of_growth * normal(plant.key, 0, OWN_GROWTH))
    plant.flowers_due = chance(plant.key, 0, FIRST_FLOWER)
    for number in range(min(count, LEAVES)):
        open_leaf(plant, leaves, leaf_cm2 * plant.own_growth)
        leaves[number].age_dd = (count - 1 - number) * crop.phyllochron_dd
    plant.is_growing = 1
    measure_leaves(plant, leaves, crop)


@rule
def emerge(plant: Any, leaves: Records, crop: Any) -> None:
    """Let a seed come up when it has had its warmth, with its two seed leaves."""
    if plant.warmth_dd >= crop.emerge_dd:
        unfold_first_leaves(plant, leaves, crop, 2, crop.seed_leaf_cm2)


@rule
def plant_out(plant: Any, leaves: Records, crop: Any, day: int) -> None:
    """Set a young plant into its bed."""
    plant.planted_day = day
    plant.warmth_dd = crop.transplant_dd
    unfold_first_leaves(plant, leaves, crop, int(crop.transplant_count), crop.transplant_leaf_cm2)


@rule
def stands(plant: Any) -> bool:
    """Return whether a plant is in its bed, as seed or above ground: put in, not gone and not dead."""
    return bool(plant.planted_day >= 0 and not plant.is_gone and not plant.is_dead)


@loop
def list_standing(plants: Records, standing: Ints) -> int:
    """List the places of the plants that stand, in their order; return how many. ``standing`` [P] is written to."""
    listed = 0
    for i in range(plants.size):
        if stands(plants[i]):
            standing[listed] = i
            listed += 1
    return listed


@loop
def put_in_all(rows: Ints, plants: Records, leaves: Records, crops: Records, day: int) -> None:
    """Plant or sow these plants today, unless they already stand."""
    for i in rows:
        plant = plants[i]
        if plant.planted_day >= 0:
            continue
        if plant.from_seed:
            plant.planted_day = day
            plant.warmth_dd = 0.0
        else:
            plant_out(plant, leaves[i], crops[plant.crop], day)


@rule
def take_away(plant: Any, leaves: Records, fruits: Records) -> None:
    """Take a whole plant off its bed."""
    plant.is_gone = 1
    plant.is_growing = 0
    plant.leaf_area_cm2 = 0.0
    plant.leaf_g = 0.0
    plant.head_g = 0.0
    plant.head_area_cm2 = 0.0
    plant.open_flowers = 0
    plant.shows_holes = 0
    plant.leaf_slots, plant.ripe_leaves, plant.fruit_slots, plant.ripe_fruits = 0, 0, 0, 0
    for j in range(leaves.size):
        clear_leaf(leaves[j])
    for j in range(fruits.size):
        fruits[j].state = 0


@loop
def pull_all(rows: Ints, plants: Records, leaves: Records, fruits: Records) -> None:
    """Pull these plants, stalks and all."""
    for i in rows:
        if plants[i].planted_day >= 0:
            take_away(plants[i], leaves[i], fruits[i])
