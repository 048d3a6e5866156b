"""What is eaten: shared out when there is not enough, and kept where it falls.

| | |
|---|---|
| takes | ``demand_cm2``: what insects would eat today on each place of each plant |
| keeps | holes in each leaf, marks on the head, scars on each fruit |
| changes | ``LEAF``, ``PLANT`` and ``FRUIT`` records; ``ration``: the share of each demand that is met |
"""

from __future__ import annotations

import math
from typing import Any

from sim.compiled import Floats, Ints, Records, loop, rule
from sim.crops.flowers import GROWING, OPEN
from sim.crops.leaves import measure_leaves
from sim.crops.plant import FLOWER, HEAD, PLACES


@rule
def fruit_diameter_cm(fresh_g: float, crop: Any) -> float:
    """Return the diameter of a fruit taken as a cylinder of a fixed length per diameter."""
    volume_cm3 = fresh_g / crop.density_g_cm3
    return float(math.pow(volume_cm3 * 2.0 * 2.0 / (math.pi * crop.length_per_diameter), 1.0 / 3.0))


@rule
def fruit_surface_cm2(fruit: Any, crop: Any) -> float:
    """Return what can be eaten of a flower or the skin of a fruit [cm²]."""
    if fruit.state == OPEN:
        return float(max(0.0, crop.flower_cm2 - fruit.eaten_cm2))
    if fruit.state == GROWING:
        diameter_cm = fruit_diameter_cm(fruit.fresh_g, crop)
        return float(math.pi * diameter_cm * diameter_cm * crop.length_per_diameter)
    return 0.0


@rule
def flower_surface_cm2(fruits: Records, crop: Any) -> float:
    """Return what can be eaten of a plant's flowers and fruits together [cm²]."""
    surface_cm2 = 0.0
    for j in range(fruits.size):
        surface_cm2 += fruit_surface_cm2(fruits[j], crop)
    return surface_cm2


@rule
def ration_of(available_cm2: float, wanted_cm2: float) -> float:
    """Return the share of a demand that can be met, 0 to 1."""
    if wanted_cm2 <= available_cm2:
        return 1.0
    return max(0.0, available_cm2) / wanted_cm2


@rule
def food_at(place: int, plant: Any, leaves: Records, fruits: Records, crop: Any) -> float:
    """Return what can be eaten at one place of a plant [cm²]; nothing of a plant that is not up."""
    if not plant.is_growing:
        return 0.0
    if place == HEAD:
        return float(plant.head_area_cm2)
    if place == FLOWER:
        return flower_surface_cm2(fruits, crop)
    return float(leaves[place].area_cm2 - leaves[place].eaten_cm2)


@loop
def share_out_all(
    standing: Ints, plants: Records, leaves: Records, fruits: Records, crops: Records, demand_cm2: Floats,
    ration: Floats,
) -> None:  # fmt: skip
    """Work out for each place that is asked of what share of the demand its leaf, head or flowers can meet.

    Where nobody asks, the ration stays as it was: nobody reads it, and in a large garden most plants are such.
    """
    for i in standing:
        plant = plants[i]
        if not plant.is_asked:
            continue
        for j in range(PLACES):
            if demand_cm2[i, j] > 0.0:
                ration[i, j] = ration_of(
                    food_at(j, plant, leaves[i], fruits[i, : plant.fruit_slots], crops[plant.crop]), demand_cm2[i, j]
                )


@rule
def bite_leaves(plant: Any, leaves: Records, crop: Any, demand_cm2: Floats, ration: Floats, flow: Any) -> None:
    """Take what was eaten out of each leaf."""
    eaten_cm2 = 0.0
    for j in range(plant.leaf_slots):
        if demand_cm2[j] > 0.0:
            leaf = leaves[j]
            left_cm2 = leaf.area_cm2 - leaf.eaten_cm2
            is_finished = ration[j] < 1.0  # exactly: a crumb left by rounding would be a place to sit
            bite_cm2 = left_cm2 if is_finished else min(demand_cm2[j], left_cm2)
            leaf.eaten_cm2 = leaf.area_cm2 if is_finished else leaf.eaten_cm2 + bite_cm2
            eaten_cm2 += bite_cm2
    if eaten_cm2 > 0.0:
        plant.eaten_cm2 += eaten_cm2
        plant.missing_g += eaten_cm2 / crop.sla_cm2_g
        flow.leaf_eaten_cm2 += eaten_cm2
        flow.leaf_eaten_g += eaten_cm2 / crop.sla_cm2_g
        measure_leaves(plant, leaves, crop)


@rule
def bite_head(plant: Any, crop: Any, bite_cm2: float, flow: Any) -> None:
    """Take what was eaten out of the head, which is as thick as leaf, and leave a mark on its outside."""
    bite_g = min(plant.head_g, bite_cm2 / crop.sla_cm2_g)
    plant.head_g -= bite_g
    plant.head_eaten_cm2 += bite_cm2
    flow.head_eaten_cm2 += bite_cm2
    flow.head_eaten_g += bite_g


@rule
def bite_flowers(fruits: Records, crop: Any, bite_cm2: float, flow: Any) -> None:
    """Spread what was eaten over flowers and fruits by their surface."""
    surface_cm2 = flower_surface_cm2(fruits, crop)
    if surface_cm2 <= 0.0:
        return
    share = bite_cm2 / surface_cm2
    for j in range(fruits.size):
        fruits[j].eaten_cm2 += share * fruit_surface_cm2(fruits[j], crop)
    flow.flower_eaten_cm2 += bite_cm2


@loop
def lose_eaten_all(
    standing: Ints, plants: Records, leaves: Records, fruits: Records, crops: Records, demand_cm2: Floats,
    ration: Floats, flows: Records,
) -> None:  # fmt: skip
    """Take the day's meals out of the plants that were asked, and clear the demand for tomorrow."""
    for i in standing:
        plant = plants[i]
        if not plant.is_asked:
            continue
        plant.is_asked = 0
        if plant.is_growing:
            crop = crops[plant.crop]
            flow = flows[plant.bed]
            bite_leaves(plant, leaves[i], crop, demand_cm2[i], ration[i], flow)
            if demand_cm2[i, HEAD] > 0.0:
                bite_head(plant, crop, demand_cm2[i, HEAD] * ration[i, HEAD], flow)
            if demand_cm2[i, FLOWER] > 0.0:
                bite_flowers(fruits[i, : plant.fruit_slots], crop, demand_cm2[i, FLOWER] * ration[i, FLOWER], flow)
        for j in range(PLACES):
            demand_cm2[i, j] = 0.0
