"""What each crop is like, as one record a crop: built once from the parameters and handed to every compiled rule."""

from __future__ import annotations

from dataclasses import dataclass
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


@dataclass(frozen=True)
class Sale:
    """How a crop is sold; nothing is taken for granted, so that a new crop has to answer each.

    Attributes
    ----------
    sold_as
        What is taken from it.
    is_sold_whole
        Whether a leaf crop that is cut once is one unit, not many leaves.
    has_heart
        Whether it makes a heart or head that larvae get into. A swollen stem has none.
    """

    sold_as: SoldAs
    is_sold_whole: bool
    has_heart: bool


_LEAVES = Sale(SoldAs.LEAF, is_sold_whole=False, has_heart=False)
_ROSETTE = Sale(SoldAs.LEAF, is_sold_whole=True, has_heart=False)
_STEM = Sale(SoldAs.HEAD, is_sold_whole=False, has_heart=False)
_HEAD = Sale(SoldAs.HEAD, is_sold_whole=False, has_heart=True)
_ROOT = Sale(SoldAs.ROOT, is_sold_whole=False, has_heart=False)
_FRUIT = Sale(SoldAs.FRUIT, is_sold_whole=False, has_heart=False)
_NOTHING = Sale(SoldAs.NOTHING, is_sold_whole=False, has_heart=False)
SALES = {
    Crop.COLLARD: _LEAVES,
    Crop.KALE: _LEAVES,
    Crop.KOHLRABI: _STEM,
    Crop.CABBAGE: _HEAD,
    Crop.BROCCOLI: _HEAD,
    Crop.LETTUCE: _ROSETTE,
    Crop.RADISH: _ROOT,
    Crop.TURNIP: _ROOT,
    Crop.CUCUMBER: _FRUIT,
    Crop.MUSTARD: _NOTHING,
    Crop.WILD_HOSTS: _NOTHING,
}
"""How each crop is sold."""

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
    for crop in Crop:
        for flag, _type in FLAGS:
            table[flag][crop] = getattr(SALES[crop], flag)
    for group, names in GROUPS.items():
        for name in names:
            table[name] = parameters.numbers(f"crops.{group}.{name}")
    return table
