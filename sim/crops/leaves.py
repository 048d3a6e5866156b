"""Leaves one by one: they unfold, expand, age and fall.

| | |
|---|---|
| takes | the day's warmth and the dry matter on offer to leaves |
| keeps | each leaf's outline, holes and age; an empty slot has an outline of 0 |
| changes | ``LEAF`` records of one plant, and the plant's leaf area and leaf mass |
"""

from __future__ import annotations

from typing import Any

from sim.compiled import Records, rule

SEEN_SHARE = 0.01
"""Holes of so much of a plant's leaf can be seen from the path: a choice of how a season is told, not of nature."""


@rule
def clear_leaf(leaf: Any) -> None:
    """Empty a slot: the leaf has fallen or was picked."""
    leaf.area_cm2 = 0.0
    leaf.eaten_cm2 = 0.0
    leaf.age_dd = 0.0


@rule
def age_leaves(leaves: Records, crop: Any, warmth_dd: float) -> None:
    """Let every leaf grow older; the oldest yellow and fall."""
    life_dd = crop.life_dd
    for j in range(leaves.size):
        leaf = leaves[j]
        if leaf.area_cm2 > 0.0:
            leaf.age_dd += warmth_dd
            if leaf.age_dd > life_dd:
                clear_leaf(leaf)


@rule
def free_slot(leaves: Records) -> int:
    """Return an empty slot, or that of the oldest leaf, which then makes room."""
    oldest = 0
    for j in range(leaves.size):
        if leaves[j].area_cm2 <= 0.0:
            return j
        if leaves[j].age_dd > leaves[oldest].age_dd:
            oldest = j
    return oldest


@rule
def open_leaf(plant: Any, leaves: Records, area_cm2: float) -> None:
    """Put a new leaf of this outline on the plant."""
    slot = free_slot(leaves)
    clear_leaf(leaves[slot])
    leaves[slot].area_cm2 = area_cm2
    plant.leaf_slots = max(int(plant.leaf_slots), slot + 1)


@rule
def unfold_leaves(plant: Any, leaves: Records, crop: Any, warmth_dd: float) -> None:
    """Unfold a leaf each phyllochron from the reserve, until the plant has made its last; without reserve it waits."""
    if plant.warmth_dd > crop.last_leaf_dd or plant.is_wilting:
        return
    cost_g = crop.unfolding_cm2 / crop.sla_cm2_g
    plant.leaves_due += warmth_dd / crop.phyllochron_dd
    while plant.leaves_due >= 1.0 and plant.reserve_g >= cost_g:
        plant.leaves_due -= 1.0
        plant.reserve_g -= cost_g
        open_leaf(plant, leaves, crop.unfolding_cm2)


@rule
def gain_a_day_cm2(crop: Any, warmth_dd: float) -> float:
    """Return how much outline a young leaf could gain on a day: a fixed share of its full size."""
    return float(crop.full_cm2 * warmth_dd / crop.expansion_dd)


@rule
def leaf_room_cm2(leaf: Any, gain_cm2: float, full_cm2: float, expansion_dd: float) -> float:
    """Return how much outline a leaf could gain today, young leaves gaining so much a day up to their full size."""
    if leaf.area_cm2 <= 0.0 or leaf.age_dd > expansion_dd:
        return 0.0
    return float(min(gain_cm2, max(0.0, full_cm2 - leaf.area_cm2)))


@rule
def whole_share(leaf: Any) -> float:
    """Return the share of a leaf's outline that is there, 0 to 1."""
    if leaf.area_cm2 <= 0.0:
        return 0.0
    return float(1.0 - leaf.eaten_cm2 / leaf.area_cm2) if leaf.eaten_cm2 > 0.0 else 1.0  # most: a division spared


@rule
def leaf_wish_g(leaves: Records, crop: Any, warmth_dd: float) -> float:
    """Return the dry matter that all young leaves together could use today [g]."""
    gain_cm2, full_cm2, expansion_dd = gain_a_day_cm2(crop, warmth_dd), crop.full_cm2, crop.expansion_dd
    room_cm2 = 0.0
    for j in range(leaves.size):
        leaf_cm2 = leaf_room_cm2(leaves[j], gain_cm2, full_cm2, expansion_dd)
        if leaf_cm2 > 0.0:
            room_cm2 += leaf_cm2 * whole_share(leaves[j])
    return float(room_cm2 / crop.sla_cm2_g)


@rule
def expand_leaves(leaves: Records, crop: Any, warmth_dd: float, offered_g: float, wish_g: float) -> None:
    """Expand the young leaves by the dry matter on offer; a hole grows with its leaf and costs nothing."""
    if wish_g <= 0.0:
        return
    full_a_day_cm2, full_cm2, expansion_dd = gain_a_day_cm2(crop, warmth_dd), crop.full_cm2, crop.expansion_dd
    filled_share = offered_g / wish_g
    for j in range(leaves.size):
        leaf = leaves[j]
        gain_cm2 = filled_share * leaf_room_cm2(leaf, full_a_day_cm2, full_cm2, expansion_dd)
        if gain_cm2 > 0.0:
            if leaf.eaten_cm2 > 0.0:
                leaf.eaten_cm2 += gain_cm2 * (1.0 - whole_share(leaf))
            leaf.area_cm2 += gain_cm2


@rule
def youngest_to_pick_dd(crop: Any) -> float:
    """Return the age from which a leaf may be picked [°C·d]: the youngest stay on the plant."""
    return float(crop.kept_leaves * crop.phyllochron_dd)


@rule
def least_to_pick_cm2(crop: Any) -> float:
    """Return the outline from which a leaf is worth picking [cm²]."""
    return float(crop.least_fresh_g * crop.dry_share * crop.sla_cm2_g)


@rule
def is_pickable_leaf(leaf: Any, youngest_dd: float, least_cm2: float) -> bool:
    """Return whether a leaf is worth picking and not among the youngest."""
    return bool(leaf.area_cm2 > 0.0 and leaf.age_dd >= youngest_dd and leaf.area_cm2 >= least_cm2)


@rule
def measure_leaves(plant: Any, leaves: Records, crop: Any) -> None:
    """Write the plant's leaf area without holes, its leaf mass, which slots are in use and how many could be picked."""
    youngest_dd, least_cm2 = youngest_to_pick_dd(crop), least_to_pick_cm2(crop)
    outline_cm2 = 0.0
    eaten_cm2 = 0.0
    slots, ripe = 0, 0
    for j in range(plant.leaf_slots):
        leaf = leaves[j]
        outline_cm2 += leaf.area_cm2
        eaten_cm2 += leaf.eaten_cm2
        if leaf.area_cm2 > 0.0:
            slots = j + 1
        if is_pickable_leaf(leaf, youngest_dd, least_cm2):
            ripe += 1
    plant.leaf_slots, plant.ripe_leaves = slots, ripe
    plant.shows_holes = 1 if eaten_cm2 >= SEEN_SHARE * max(1.0, outline_cm2) else 0  # of 1 cm² if there is less leaf
    plant.leaf_area_cm2 = max(0.0, outline_cm2 - eaten_cm2)
    plant.leaf_g = plant.leaf_area_cm2 / crop.sla_cm2_g
