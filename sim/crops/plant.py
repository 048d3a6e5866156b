"""The record of a plant, of a leaf and of a fruit; where on a plant things can be eaten.

A plant is one record; its leaves are a row of ``LEAVES`` leaf records, its fruits a row of ``FRUITS`` fruit records.
An empty slot has ``area_cm2 == 0`` (leaf) or ``state == FruitState.NONE`` (fruit). Slots beyond ``leaf_slots`` and
``fruit_slots`` are empty and are not looked at: in a large garden, fetching them would take longer than all else.
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np

LEAVES = 32
"""Leaf slots of a plant: more living leaves than any crop here carries at once."""
FRUITS = 24
"""Flower and fruit slots of a plant."""
HEAD = LEAVES
"""Place on a plant: heart, head or swollen stem."""
FLOWER = LEAVES + 1
"""Place on a plant: flowers and young fruits."""
PLACES = LEAVES + 2
"""Places of a plant on which something can be eaten: each leaf slot, head, flowers."""


class FruitState(IntEnum):
    """A female flower and what becomes of it."""

    NONE = 0
    OPEN = 1
    GROWING = 2
    ABORTED = 3
    PICKED = 4


PLANT = np.dtype(
    [
        ("key", "u8"),
        ("bed", "i4"),
        ("crop", "i2"),  # Crop
        ("open_flowers", "i2"),  # female flowers open today
        ("is_growing", "u1"),  # up and alive: can be eaten, laid on, picked
        ("is_dead", "u1"),
        ("is_gone", "u1"),  # cut whole, pulled, or never there any more
        ("is_bolting", "u1"),
        ("is_wilting", "u1"),
        ("has_flowered", "u1"),
        ("from_seed", "u1"),  # sown where it stands, not planted out
        ("once_over", "u1"),  # taken whole, not picked again and again
        ("self_fruitful", "u1"),  # sets fruit without a visit
        ("has_heart", "u1"),  # what is sold of it is a heart or head that larvae get into
        ("is_asked", "u1"),  # somebody would eat of it today; written with the demand
        ("shows_holes", "u1"),  # its leaves have holes that can be seen from the path
        ("leaf_slots", "u1"),  # leaf slots up to the last one in use
        ("ripe_leaves", "u1"),  # leaves that could be picked by their age and size
        ("fruit_slots", "u1"),  # fruit slots up to the last one that was ever in use
        ("ripe_fruits", "u1"),  # fruits that have reached their picking size
        ("leaf_area_cm2", "f8"),  # living leaf without its holes
        ("head_area_cm2", "f8"),  # its outside
        ("eaten_cm2", "f8"),  # leaf lost to feeding so far
        ("aphids", "f8"),  # cabbage aphids on it; written by the aphids
        ("x_m", "f8"),
        ("y_m", "f8"),
        ("edge_share", "f8"),  # 1 on the rim of its bed, 0 inside
        ("planted_day", "i8"),  # day of season; -1 before
        ("ground_area_m2", "f8"),  # its share of the bed
        ("vigour", "f8"),  # growth factor from soil and care; 1 = ordinary
        ("own_growth", "f8"),  # how much better or worse than its neighbours it happens to grow
        ("warmth_dd", "f8"),  # development since sowing; a transplant starts ahead
        ("warmth_today_dd", "f8"),
        ("missing_g", "f8"),  # leaf lost to feeding that it has not yet made good
        ("reserve_g", "f8"),  # dry matter on hand for regrowth
        ("leaf_g", "f8"),  # dry matter of living leaf
        ("stem_g", "f8"),
        ("root_g", "f8"),
        ("head_g", "f8"),  # heart, head or swollen stem that is eaten
        ("head_eaten_cm2", "f8"),  # feeding marks on it
        ("root_eaten_cm2", "f8"),
        ("infected_day", "i8"),  # bacterial wilt caught; -1 never
        ("leaves_due", "f8"),  # new leaves not yet unfolded; one unfolds at 1
        ("flowers_due", "f8"),  # female flowers not yet open; one opens at 1
        ("flowers_made", "i8"),  # female flowers so far; each has its own luck by its number
        ("heat_load_dd", "f8"),  # warm spell so far, counted towards bolting
        ("fruit_supply_g", "f8"),  # dry matter on offer to fruits today
        ("fruit_wish_g", "f8"),  # dry matter that its fruits could take up today
    ],
    align=True,
)

"""One record a plant; the first 64 bytes are what others look at, since the processor fetches as many at once."""

LEAF = np.dtype(
    [
        ("area_cm2", "f8"),  # grown outline, holes included; 0 = empty slot
        ("eaten_cm2", "f8"),  # holes; they grow with the leaf
        ("age_dd", "f8"),
    ],
    align=True,
)

"""One record a leaf slot."""

FRUIT = np.dtype(
    [
        ("state", "i8"),  # FruitState
        ("key", "u8"),
        ("opened_day", "i8"),
        ("honey_visits", "i8"),
        ("bumble_visits", "i8"),
        ("small_visits", "i8"),
        ("hand_visits", "i8"),
        ("warmth_dd", "f8"),
        ("fresh_g", "f8"),
        ("well_shaped", "f8"),  # 0 to 1; not called "shape", which NumPy keeps for itself
        ("eaten_cm2", "f8"),
    ],
    align=True,
)
"""One record a flower or fruit slot."""
