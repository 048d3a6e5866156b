"""Female flowers and fruits: they open, are visited, set or fall, and swell.

| | |
|---|---|
| takes | the day's warmth, dry matter on offer, and the visits that bees and hands have written on each open flower |
| keeps | flower and fruit slots |
| changes | ``FRUIT`` records, the plant's count of open flowers, the bed's running totals |
"""

from __future__ import annotations

import math
from typing import Any

from sim.compiled import Ints, Records, loop, rule
from sim.crops.plant import FruitState
from sim.randomness import chance, child_key

SETS = 44
NONE, OPEN, GROWING, ABORTED = (
    int(FruitState.NONE),
    int(FruitState.OPEN),
    int(FruitState.GROWING),
    int(FruitState.ABORTED),
)


@rule
def shortfall_kept(crop: Any, warmth_dd: float) -> float:
    """Return what a day's warmth leaves of a fruit's shortfall, its full mass over its own less 1: logistic growth."""
    return math.exp(-crop.rate_per_dd * warmth_dd)


@rule
def fruit_gain_g(fruit: Any, full_g: float, kept: float) -> float:
    """Return the fresh mass a fruit could gain today [g], keeping this part of its shortfall."""
    if fruit.state != GROWING:
        return 0.0
    ratio = full_g / fruit.fresh_g - 1.0
    grown_g = full_g / (1.0 + ratio * kept)
    return float(max(0.0, grown_g - fruit.fresh_g))


@rule
def fruit_wish_g(fruits: Records, crop: Any, warmth_dd: float) -> float:
    """Return the dry matter that all growing fruits of a plant could use today [g]."""
    full_g, kept = crop.full_g, shortfall_kept(crop, warmth_dd)
    wish_g = 0.0
    for j in range(fruits.size):
        wish_g += fruit_gain_g(fruits[j], full_g, kept)
    return float(wish_g * crop.dry_share)


@rule
def is_ripe_fruit(fruit: Any, crop: Any) -> bool:
    """Return whether a fruit has reached its picking size."""
    return bool(fruit.state == GROWING and fruit.fresh_g >= crop.least_fresh_g)


@rule
def grow_fruits(fruits: Records, crop: Any, warmth_dd: float, filled_share: float) -> int:
    """Swell each fruit by the share of its wish that the plant can fill; return how many are ripe."""
    full_g, kept = crop.full_g, shortfall_kept(crop, warmth_dd)
    ripe = 0
    for j in range(fruits.size):
        fruit = fruits[j]
        if fruit.state == GROWING:
            fruit.fresh_g += filled_share * fruit_gain_g(fruit, full_g, kept)
            fruit.warmth_dd += warmth_dd
        if is_ripe_fruit(fruit, crop):
            ripe += 1
    return ripe


@rule
def open_one(plant: Any, fruits: Records, crop: Any, day: int) -> bool:
    """Open one female flower in a free slot; return False when there is none."""
    for j in range(fruits.size):
        fruit = fruits[j]
        if fruit.state == OPEN or fruit.state == GROWING:
            continue
        plant.fruit_slots = max(int(plant.fruit_slots), j + 1)
        fruit.state = OPEN
        fruit.key = child_key(plant.key, plant.flowers_made)
        plant.flowers_made += 1
        fruit.opened_day = day
        fruit.honey_visits = 0
        fruit.bumble_visits = 0
        fruit.small_visits = 0
        fruit.hand_visits = 0
        fruit.warmth_dd = 0.0
        fruit.fresh_g = crop.start_g
        fruit.well_shaped = 0.0
        fruit.eaten_cm2 = 0.0
        return True
    return False


@rule
def need_of_one_fruit_g(crop: Any, warmth_dd: float) -> float:
    """Return what one more fruit would take up today [g dry matter], as a mean over its way to picking size."""
    start = crop.start_g / (crop.full_g - crop.start_g)
    ripe = crop.least_fresh_g / (crop.full_g - crop.least_fresh_g)
    life_dd = math.log(ripe / start) / crop.rate_per_dd
    return float(crop.least_fresh_g * crop.dry_share * warmth_dd / life_dd)


@rule
def carrying_share(plant: Any, crop: Any) -> float:
    """Return the share of a full flush of flowers that a plant carries: dry matter on offer over what one more asks."""
    wish_g = plant.fruit_wish_g + need_of_one_fruit_g(crop, plant.warmth_today_dd)
    if wish_g <= plant.fruit_supply_g:
        return 1.0
    return float(plant.fruit_supply_g / wish_g)


@loop
def open_flowers_of_all(
    standing: Ints, plants: Records, fruits: Records, crops: Records, flows: Records, day: int
) -> int:
    """Open today's female flowers and return how many."""
    opened = 0
    for i in standing:
        plant = plants[i]
        plant.open_flowers = 0
        crop = crops[plant.crop]
        if crop.flowers_per_dd <= 0.0 or not plant.is_growing or plant.warmth_dd < crop.filling_dd:
            continue
        if plant.is_wilting or plant.warmth_dd > crop.last_leaf_dd:
            continue
        plant.flowers_due += crop.flowers_per_dd * plant.warmth_today_dd * carrying_share(plant, crop)
        while plant.flowers_due >= 1.0:
            plant.flowers_due -= 1.0
            if open_one(plant, fruits[i], crop, day):
                plant.open_flowers += 1
                plant.has_flowered = 1
                flows[plant.bed].flowers_opened += 1.0
                opened += 1
    return opened


@rule
def chance_to_set(fruit: Any, crop: Any, self_fruitful: bool) -> float:
    """Return the chance that a flower sets: P = Smax (1 - exp(-sum of k visits)); its shape quality goes on the record.

    A self-fruitful cultivar sets with a chance of its own. Any other flower without a visit has the crop's chance to
    set without visits, which is 0 for a cultivar that depends on bees.
    """
    if self_fruitful:
        fruit.well_shaped = crop.self_fruitful_shape
        return float(crop.self_fruitful_set)
    work = (
        crop.set_per_honey_visit * fruit.honey_visits
        + crop.set_per_bumble_visit * fruit.bumble_visits
        + crop.set_per_small_visit * fruit.small_visits
        + crop.set_per_hand_visit * fruit.hand_visits
    )
    honey_bee_visits = work / crop.set_per_honey_visit
    fruit.well_shaped = 1.0 - math.exp(-crop.shape_per_visit * honey_bee_visits)
    if work <= 0.0:
        fruit.well_shaped = crop.self_fruitful_shape
        return float(crop.set_without_visit)
    floor = crop.set_without_visit
    return float(floor + (crop.set_at_most - floor) * (1.0 - math.exp(-work)))


@loop
def set_fruit_of_all(standing: Ints, plants: Records, fruits: Records, crops: Records, flows: Records, day: int) -> int:
    """Decide for each flower open today whether it sets; return how many do. Eaten flowers set less often."""
    count = 0
    for i in standing:
        plant = plants[i]
        if plant.open_flowers <= 0:
            continue
        crop = crops[plant.crop]
        flow = flows[plant.bed]
        for j in range(plant.fruit_slots):
            fruit = fruits[i, j]
            if fruit.state != OPEN:
                continue
            whole_share = max(0.0, 1.0 - fruit.eaten_cm2 / crop.flower_cm2)
            if fruit.honey_visits + fruit.bumble_visits + fruit.small_visits + fruit.hand_visits > 0:
                flow.flowers_visited += 1.0
            if chance(fruit.key, 0, SETS) < whole_share * chance_to_set(fruit, crop, plant.self_fruitful == 1):
                fruit.state = GROWING
                fruit.eaten_cm2 = 0.0
                flow.fruits_set += 1.0
                count += 1
            else:
                fruit.state = ABORTED
                flow.flowers_aborted += 1.0
    return count
