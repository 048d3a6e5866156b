"""A plant's day: warmth, light, dry matter, and where it goes.

| | |
|---|---|
| takes | the day's radiation; each bed's temperatures and the light its net lets through |
| keeps | development, reserve, the mass of each part |
| changes | ``PLANT``, ``LEAF`` and ``FRUIT`` records; the bed's running totals ``FLOWS`` |
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sim.compiled import Floats, Ints, Records, loop, rule
from sim.crops.flowers import fruit_wish_g, grow_fruits
from sim.crops.leaves import age_leaves, expand_leaves, leaf_wish_g, measure_leaves, unfold_leaves
from sim.crops.planting import emerge, stands
from sim.crops.table import SoldAs
from sim.crops.wilt import bear_wilt
from sim.weather.warmth import degree_days

HEAD, ROOT, FRUIT = int(SoldAs.HEAD), int(SoldAs.ROOT), int(SoldAs.FRUIT)

FLOWS = np.dtype(
    [
        ("light_mj", "f8"),  # photosynthetic light caught
        ("grown_g", "f8"),  # dry matter made
        ("leaf_eaten_cm2", "f8"),
        ("leaf_eaten_g", "f8"),
        ("head_eaten_cm2", "f8"),
        ("head_eaten_g", "f8"),
        ("flower_eaten_cm2", "f8"),
        ("flowers_opened", "f8"),
        ("flowers_visited", "f8"),
        ("fruits_set", "f8"),
        ("flowers_aborted", "f8"),
    ],
    align=True,
)
"""Running totals of one bed since the season's first day."""


@rule
def temperature_response(mean_c: float, base_c: float, best_c: float, stop_c: float) -> float:
    """Return growth at a day's mean temperature as a share of the best, 0 to 1.

    The beta function of Yan & Hunt 1999 (``yan1999``): 0 at the base and at the stop, 1 at the best temperature.
    """
    if mean_c <= base_c or mean_c >= stop_c:
        return 0.0
    rise = (best_c - base_c) / (stop_c - best_c)
    return (stop_c - mean_c) / (stop_c - best_c) * math.pow((mean_c - base_c) / (best_c - base_c), rise)


@rule
def intercepted_share(leaf_m2: float, ground_m2: float, extinction: float) -> float:
    """Return the share of light on the ground area that leaves catch: Beer's law, 1 - exp(-k LAI)."""
    return 1.0 - math.exp(-extinction * leaf_m2 / ground_m2)


@rule
def light_use_g_mj(par_mj_m2: float, crop: Any) -> float:
    """Return dry matter made per MJ of light caught; it falls as days get brighter (``kage2001``)."""
    return float(
        crop.use_efficiency_g_mj
        * (crop.half_bright_mj_m2 + crop.reference_mj_m2)
        / (crop.half_bright_mj_m2 + par_mj_m2)
    )


@rule
def standing_m2(plant: Any) -> float:
    """Return leaf that is there to catch light [m²]: outline without holes."""
    return float(plant.leaf_area_cm2) / 10000.0


@rule
def slowed_by_aphids(plant: Any, crop: Any) -> float:
    """Return growth as a share of that of a clean plant; half of it at a set number of aphids a cm² of leaf."""
    if plant.aphids <= 0.0 or plant.leaf_area_cm2 <= 0.0:
        return 1.0
    return float(1.0 / (1.0 + plant.aphids / plant.leaf_area_cm2 / crop.aphids_halve_per_cm2))


@rule
def missing_share(plant: Any) -> float:
    """Return the share of its leaf that a plant has lost to feeding and not yet made good, 0 to 1."""
    if plant.missing_g <= 0.0:
        return 0.0
    return float(plant.missing_g / (plant.missing_g + plant.leaf_g))


@rule
def assimilate_g(
    plant: Any, crop: Any, par_mj_m2: float, use_g_mj: float, warm: float, bed_cover: float, flow: Any
) -> float:
    """Return the dry matter a plant makes today [g] and book the light it caught.

    ``use_g_mj`` and ``warm`` are the bed's light use efficiency and temperature response of the day.

    A plant whose neighbours are small or gone spreads over part of the ground that they leave open. Leaf that is left
    works harder where much is missing (``boogaard2001``).
    """
    ground_m2 = plant.ground_area_m2 * (1.0 + crop.spread_share * (1.0 - bed_cover))
    caught_mj = par_mj_m2 * ground_m2 * intercepted_share(standing_m2(plant), ground_m2, crop.extinction)
    made_g = (
        caught_mj
        * use_g_mj
        * warm
        * plant.vigour
        * plant.own_growth
        * slowed_by_aphids(plant, crop)
        * (1.0 + crop.livelier_share * missing_share(plant))
    )
    if plant.is_wilting:
        made_g = 0.0
    flow.light_mj += caught_mj
    flow.grown_g += made_g
    return float(made_g)


@rule
def product_share(plant: Any, crop: Any) -> float:
    """Return the share of today's growth meant for head, root or fruit; it is full halfway from filling to harvest."""
    if crop.product_share <= 0.0 or plant.warmth_dd <= crop.filling_dd:
        return 0.0
    ripened = 2.0 * (plant.warmth_dd - crop.filling_dd) / max(crop.harvest_dd - crop.filling_dd, 1.0)
    return float(crop.product_share * min(1.0, ripened))


@rule
def fill_product(plant: Any, crop: Any, product_g: float) -> None:
    """Put dry matter into the part that is eaten: root, or head and swollen stem with its outside."""
    if crop.sold_as == ROOT:
        plant.root_g += product_g
    elif crop.sold_as == HEAD:
        plant.head_g += product_g
        volume_cm3 = plant.head_g / crop.dry_share / crop.density_g_cm3
        plant.head_area_cm2 = max(plant.head_area_cm2, math.pow(36.0 * math.pi * volume_cm3 * volume_cm3, 1.0 / 3.0))


@rule
def share_growth(
    plant: Any, leaves: Records, fruits: Records, crop: Any, made_g: float, warmth_dd: float, shade: float
) -> None:
    """Share a day's dry matter among product, leaves, reserve, stem and root.

    In shade more of the growth goes to leaves, less to stem and root. Missing leaf draws growth and reserve to the
    leaves, as far as young leaves can still expand, until the loss is made good or the lost leaves would have fallen;
    what leaves cannot use fills the reserve, and beyond that the product or the stem.
    """
    product_g = made_g * product_share(plant, crop)
    fruit_g = 0.0
    if crop.sold_as == FRUIT:
        plant.fruit_supply_g = product_g
        plant.fruit_wish_g = fruit_wish_g(fruits, crop, warmth_dd)
        fruit_g = min(product_g, plant.fruit_wish_g)
        filled_share = fruit_g / plant.fruit_wish_g if plant.fruit_wish_g > 0.0 else 0.0
        plant.ripe_fruits = grow_fruits(fruits, crop, warmth_dd, filled_share)
        product_g = fruit_g
    rest_g = made_g - product_g
    missing = missing_share(plant)
    usual_share = crop.leaf_share + (1.0 - crop.leaf_share) * min(1.0, crop.shade_shift * shade)
    leaf_share = usual_share + (1.0 - usual_share) * crop.regrow_share * missing
    wish_g = leaf_wish_g(leaves, crop, warmth_dd)
    from_growth_g = rest_g * leaf_share
    release_g = min(plant.reserve_g * crop.release_per_day * missing, max(0.0, wish_g - from_growth_g))
    plant.reserve_g -= release_g
    to_leaf_g = min(from_growth_g + release_g, wish_g)
    expand_leaves(leaves, crop, warmth_dd, to_leaf_g, wish_g)
    made_good_g = max(0.0, to_leaf_g - rest_g * usual_share)
    plant.missing_g = max(0.0, plant.missing_g * (1.0 - min(1.0, warmth_dd / crop.life_dd)) - made_good_g)
    stem_g = (rest_g - from_growth_g) * crop.stem_share
    spare_g = from_growth_g + release_g - to_leaf_g
    room_g = max(0.0, crop.reserve_share * plant.vigour * (plant.leaf_g + plant.stem_g) - plant.reserve_g)
    stored_g = min(room_g, spare_g + stem_g)
    plant.reserve_g += stored_g
    spare_g += stem_g - stored_g
    fine_root_g = rest_g - from_growth_g - stem_g
    if crop.sold_as == ROOT:  # root_g is the root that is eaten
        plant.stem_g += fine_root_g
    else:
        plant.root_g += fine_root_g
    if product_g > 0.0 and crop.sold_as != FRUIT:
        product_g += max(0.0, spare_g - stem_g)
        spare_g = min(spare_g, stem_g)
    plant.stem_g += spare_g
    if crop.sold_as != FRUIT:
        fill_product(plant, crop, product_g)


@rule
def bear_season(plant: Any, crop: Any, tmin_c: float, mean_c: float) -> None:
    """Let frost kill what it kills, and a long warm spell or age send a crop to seed."""
    if tmin_c < crop.killed_below_c:
        plant.is_dead = 1
        plant.is_growing = 0
        return
    if crop.bolt_heat_dd > 0.0:
        plant.heat_load_dd = max(0.0, plant.heat_load_dd + mean_c - crop.bolt_above_c)
        if plant.heat_load_dd > crop.bolt_heat_dd:
            plant.is_bolting = 1
    if plant.warmth_dd > crop.harvest_dd + crop.keeps_dd:
        plant.is_bolting = 1


@loop
def cover_of_beds(standing: Ints, plants: Records, crops: Records, ground_m2: Floats, cover: Floats) -> None:
    """Work out what share of each bed's ``ground_m2`` lies under leaves this morning; both have shape (B,)."""
    cover[:] = 0.0
    for i in standing:
        plant = plants[i]
        if plant.is_growing:
            extinction = crops[plant.crop].extinction
            cover[plant.bed] += plant.ground_area_m2 * intercepted_share(
                standing_m2(plant), plant.ground_area_m2, extinction
            )
    for b in range(cover.size):
        if ground_m2[b] > 0.0:
            cover[b] /= ground_m2[b]


@rule
def grow_plant(
    plant: Any, leaves: Records, fruits: Records, crop: Any, bed: Any, warmth_dd: float, par_mj_m2: float,
    use_g_mj: float, warm: float, cover: float, flow: Any, day: int,
) -> None:  # fmt: skip
    """Live one day of one plant that is up."""
    bear_season(plant, crop, bed.tmin_c, (bed.tmin_c + bed.tmax_c) / 2.0)
    bear_wilt(plant, crop, day)
    if not plant.is_growing:
        return
    age_leaves(leaves[: plant.leaf_slots], crop, warmth_dd)
    unfold_leaves(plant, leaves, crop, warmth_dd)
    made_g = assimilate_g(plant, crop, par_mj_m2, use_g_mj, warm, cover, flow)
    share_growth(plant, leaves[: plant.leaf_slots], fruits, crop, made_g, warmth_dd, 1.0 - bed.light_share)
    measure_leaves(plant, leaves, crop)
    if (plant.leaf_area_cm2 + plant.reserve_g * crop.sla_cm2_g) < crop.unfolding_cm2:
        plant.is_dead = 1  # neither leaf nor enough reserve for a new one
        plant.is_growing = 0


@loop
def grow_all(
    standing: Ints, plants: Records, leaves: Records, fruits: Records, crops: Records, beds: Records, cover: Floats,
    ground_m2: Floats, flows: Records, day: int, radiation_mj_m2: float,
) -> int:  # fmt: skip
    """Live one day of every plant that stands: it ages by the day's warmth, catches light and grows.

    Those that are gone are struck from ``standing``; returns how many were left this morning, and so stay listed today.
    What a bed's plants of one crop share is worked out once for them: a power costs as much as a leaf's whole day.
    """
    cover_of_beds(standing, plants, crops, ground_m2, cover)
    last_bed, last_crop = -1, -1
    warmth_dd, par_mj_m2, use_g_mj, warm = 0.0, 0.0, 0.0, 0.0
    listed = 0
    for i in standing:
        plant = plants[i]
        if not stands(plant):
            continue
        standing[listed] = i
        listed += 1
        crop = crops[plant.crop]
        bed = beds[plant.bed]
        if plant.bed != last_bed or plant.crop != last_crop:
            last_bed, last_crop = plant.bed, plant.crop
            warmth_dd = degree_days(bed.tmin_c, bed.tmax_c, crop.base_c, crop.upper_c)
            par_mj_m2 = radiation_mj_m2 * bed.light_share * crop.par_share
            use_g_mj = light_use_g_mj(par_mj_m2, crop)
            mean_c = (bed.tmin_c + bed.tmax_c) / 2.0
            warm = temperature_response(mean_c, crop.base_c, crop.best_c, crop.stop_c)
        plant.warmth_today_dd = warmth_dd
        plant.warmth_dd += warmth_dd
        if not plant.is_growing:
            emerge(plant, leaves[i], crop)
            continue
        grow_plant(
            plant, leaves[i], fruits[i, : plant.fruit_slots], crop, bed, warmth_dd, par_mj_m2, use_g_mj, warm,
            cover[plant.bed], flows[plant.bed], day,
        )  # fmt: skip
    return listed
