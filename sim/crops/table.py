"""What each crop is like, as one record a crop: built once from the parameters and handed to every compiled rule."""

from __future__ import annotations

from enum import IntEnum
from functools import lru_cache

import numpy as np

from sim.cast import CROPS, Crop
from sim.compiled import Records, records
from sim.parameters.table import Parameters


class SoldAs(IntEnum):
    """What is taken from a crop: the kind of thing that is grown for, not how much of it there is."""

    NOTHING = 0
    LEAF = 1
    HEAD = 2
    ROOT = 3
    FRUIT = 4


SOLD_AS = {
    Crop.COLLARD: SoldAs.LEAF,
    Crop.KALE: SoldAs.LEAF,
    Crop.KOHLRABI: SoldAs.HEAD,
    Crop.CABBAGE: SoldAs.HEAD,
    Crop.BROCCOLI: SoldAs.HEAD,
    Crop.LETTUCE: SoldAs.LEAF,
    Crop.RADISH: SoldAs.ROOT,
    Crop.TURNIP: SoldAs.ROOT,
    Crop.CUCUMBER: SoldAs.FRUIT,
    Crop.MUSTARD: SoldAs.NOTHING,
    Crop.WILD_HOSTS: SoldAs.NOTHING,
}
HEARTED = (Crop.CABBAGE, Crop.BROCCOLI)
"""Crops with a heart or head that larvae get into. Kohlrabi is sold for a swollen stem, which has none."""
SOLD_WHOLE = (Crop.LETTUCE,)
"""Leaf crops that are one unit, not many leaves, when they are cut once."""

GROUPS = {
    "warmth": (
        "base_c",
        "upper_c",
        "emerge_dd",
        "transplant_dd",
        "filling_dd",
        "harvest_dd",
        "keeps_dd",
        "last_leaf_dd",
        "killed_below_c",
        "bolt_above_c",
        "bolt_heat_dd",
    ),
    "light": (
        "use_efficiency_g_mj",
        "extinction",
        "best_c",
        "stop_c",
        "par_share",
        "half_bright_mj_m2",
        "reference_mj_m2",
        "spread_share",
    ),
    "leaves": (
        "phyllochron_dd",
        "full_cm2",
        "expansion_dd",
        "life_dd",
        "sla_cm2_g",
        "transplant_count",
        "transplant_leaf_cm2",
        "seed_leaf_cm2",
        "unfolding_cm2",
    ),
    "sharing": (
        "leaf_share",
        "stem_share",
        "product_share",
        "shade_shift",
        "regrow_share",
        "livelier_share",
        "reserve_share",
        "release_per_day",
        "aphids_halve_per_cm2",
        "spread_of_growth",
    ),
    "product": ("dry_share", "density_g_cm3", "least_fresh_g", "kept_leaves"),
    "fruit": (
        "flowers_per_dd",
        "flower_cm2",
        "start_g",
        "full_g",
        "rate_per_dd",
        "length_per_diameter",
        "set_at_most",
        "set_per_honey_visit",
        "set_per_bumble_visit",
        "set_per_small_visit",
        "set_per_hand_visit",
        "set_without_visit",
        "self_fruitful_set",
        "self_fruitful_shape",
        "shape_per_visit",
    ),
    "grades": (
        "leaf_limit_share",
        "head_limit_share",
        "root_limit_share",
        "scar_limit_share",
        "least_length_cm",
        "greatest_diameter_cm",
        "small_least_diameter_cm",
        "small_greatest_diameter_cm",
        "large_least_diameter_cm",
        "large_greatest_diameter_cm",
    ),
    "wilt": ("latent_days", "latent_spread_days", "dying_days"),
}
"""Fields of ``CROP`` by the table of ``crops.toml`` that they come from."""

FLAGS = [("sold_as", "i8"), ("is_sold_whole", "u1"), ("has_heart", "u1")]
CROP = np.dtype([*FLAGS, *[(name, "f8") for names in GROUPS.values() for name in names]], align=True)
"""One record a crop."""


@lru_cache(maxsize=8)
def crop_table(parameters: Parameters) -> Records:
    """Return ``CROP`` records, shape (CROPS,); a single number in the parameters holds for every crop."""
    table = records(np.zeros(CROPS, CROP))
    for crop, sold_as in SOLD_AS.items():
        table["sold_as"][crop] = sold_as
    table["is_sold_whole"][list(SOLD_WHOLE)] = 1
    table["has_heart"][list(HEARTED)] = 1
    for group, names in GROUPS.items():
        for name in names:
            table[name] = parameters.numbers(f"crops.{group}.{name}")
    return table
