"""Where a bed stands: what a gardener can see of it and act upon.

| | |
|---|---|
| takes | the plants, bed by bed |
| keeps | nothing |
| changes | nothing |
"""

from __future__ import annotations

from enum import IntFlag
from typing import Any

from sim.compiled import Ints, Records, loop, rule
from sim.crops.flowers import GROWING
from sim.crops.harvest import ripe_units
from sim.crops.table import SoldAs


class CropEvent(IntFlag):
    """What has happened in a bed; several may hold."""

    UP = 1
    FIRST_BLOOM = 2
    BLOOM_HALF = 4
    HEADING = 8
    FIRST_PICKING = 16
    FINISHED = 32
    CLEARED = 64


UP, FIRST_BLOOM, BLOOM_HALF, HEADING, FIRST_PICKING, FINISHED, CLEARED = (int(event) for event in CropEvent)
FRUIT_CROP, LEAF_CROP, HEAD_CROP = int(SoldAs.FRUIT), int(SoldAs.LEAF), int(SoldAs.HEAD)


@rule
def is_past_use(plant: Any, fruits: Records, crop: Any) -> bool:
    """Return whether nothing more is to be had from a plant."""
    if plant.is_gone or plant.is_dead:
        return True
    if crop.sold_as == LEAF_CROP:
        return bool(plant.is_bolting)
    if crop.sold_as != FRUIT_CROP or plant.warmth_dd <= crop.last_leaf_dd:
        return False
    growing = 0
    for j in range(fruits.size):
        growing += 1 if fruits[j].state == GROWING else 0
    return growing == 0


@rule
def has_headed(plant: Any, crop: Any) -> bool:
    """Return whether a head, a swollen stem or a root has begun to fill."""
    return bool(crop.sold_as != LEAF_CROP and crop.sold_as != FRUIT_CROP and plant.warmth_dd >= crop.filling_dd)


@rule
def events_in(rows: Ints, plants: Records, fruits: Records, crops: Records) -> int:
    """Return the ``CropEvent`` flags of these plants; "half" counts all that were put in and still stand or stood."""
    planted, up, flowered, headed, ready, over, lost = 0, 0, 0, 0, 0, 0, 0
    for i in rows:
        plant = plants[i]
        if plant.planted_day < 0:
            continue
        crop = crops[plant.crop]
        planted += 1
        up += plant.is_growing
        flowered += plant.has_flowered
        headed += 1 if has_headed(plant, crop) else 0
        ready += 1 if plant.warmth_dd >= crop.harvest_dd else 0
        over += 1 if is_past_use(plant, fruits[i, : plant.fruit_slots], crop) else 0
        lost += 1 if plant.is_gone or plant.is_dead else 0
    events = 0
    if planted == 0:
        return events
    events |= UP if up > 0 else 0
    events |= FIRST_BLOOM if flowered > 0 else 0
    events |= BLOOM_HALF if 2 * flowered >= planted else 0
    events |= HEADING if 2 * headed >= planted else 0
    events |= FIRST_PICKING if 2 * ready >= planted else 0
    events |= FINISHED if over == planted else 0
    events |= CLEARED if lost == planted else 0
    return events


@loop
def look_over(
    by_bed: Ints, begins: Ints, plants: Records, fruits: Records, crops: Records, events: Ints, ripe: Ints
) -> None:
    """Set the ``CropEvent`` flags of every bed and how many units of it are ready, both (B,): one call a morning.

    ``by_bed`` [P] holds the plants' places, one bed after the other; ``begins`` [B + 1] where each bed begins in it.
    """
    for b in range(events.size):
        rows = by_bed[begins[b] : begins[b + 1]]
        events[b] = events_in(rows, plants, fruits, crops)
        ripe[b] = 0
        for i in rows:
            ripe[b] += ripe_units(plants[i], crops[plants[i].crop])
