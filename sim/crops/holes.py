"""Holes in leaves as they show: whether somebody who walks past sees that a plant has been eaten.

| | |
|---|---|
| takes | one plant and its leaves |
| keeps | nothing |
| changes | nothing |
"""

from __future__ import annotations

from typing import Any

from sim.compiled import Ints, Records, loop, rule

SEEN_SHARE = 0.01
"""Holes of so much of a plant's leaf can be seen from the path: a choice of how a season is told, not of nature."""


@rule
def has_holes_to_be_seen(plant: Any, leaves: Records) -> bool:
    """Return whether so much of a plant's leaf is holes, or of 1 cm² if it has less, that it can be seen."""
    if plant.eaten_cm2 <= 0.0:
        return False
    outline_cm2, holes_cm2 = 0.0, 0.0
    for slot in range(plant.leaf_slots):
        outline_cm2 += leaves[slot].area_cm2
        holes_cm2 += leaves[slot].eaten_cm2
    return bool(holes_cm2 >= SEEN_SHARE * max(outline_cm2, 1.0))


@loop
def count_holed(plants: Records, leaves: Records, holed: Ints) -> None:
    """Count the plants with holes to be seen into their beds, ``holed`` of shape (beds,)."""
    for p in range(plants.size):
        if has_holes_to_be_seen(plants[p], leaves[p]):
            holed[plants[p].bed] += 1
