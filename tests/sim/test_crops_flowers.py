"""Female flowers and fruits, a rule at a time: they open, set or fall, swell, and share out what the plant offers."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cast import Crop
from sim.compiled import Records, records
from sim.crops.flowers import (
    carrying_share,
    chance_to_set,
    fruit_gain_g,
    fruit_wish_g,
    grow_fruits,
    is_ripe_fruit,
    need_of_one_fruit_g,
    open_flowers_of_all,
    open_one,
    set_fruit_of_all,
    shortfall_kept,
)
from sim.crops.growth import FLOWS
from sim.crops.plant import FRUIT, FRUITS, PLANT, FruitState
from sim.crops.table import crop_table
from sim.parameters.table import load_parameters

DAY = 90
TABLE = crop_table(load_parameters())
CROP = TABLE[Crop.CUCUMBER]
FULL_G, RIPE_G = float(CROP["full_g"]), float(CROP["least_fresh_g"])


def fruits_of(*fresh_g: float, state: FruitState = FruitState.GROWING) -> Records:
    fruits = records(np.zeros(FRUITS, FRUIT))
    fruits["state"][: len(fresh_g)], fruits["fresh_g"][: len(fresh_g)] = int(state), fresh_g
    return fruits


def cucumbers(count: int = 1) -> tuple[Records, Records]:
    """Return plants in the middle of flowering that have more on offer than fruits can take."""
    plants = records(np.zeros(count, PLANT))
    plants["crop"], plants["is_growing"] = int(Crop.CUCUMBER), 1
    plants["warmth_dd"] = (float(CROP["filling_dd"]) + float(CROP["last_leaf_dd"])) / 2.0
    plants["warmth_today_dd"], plants["fruit_supply_g"] = 10.0, 1e6
    plants["key"] = np.arange(count, dtype=np.uint64) + np.uint64(3)
    return plants, records(np.zeros((count, FRUITS), FRUIT))


def open_today(plants: Records, fruits: Records) -> tuple[int, Records]:
    flows = records(np.zeros(1, FLOWS))
    return open_flowers_of_all(np.arange(len(plants)), plants, fruits, TABLE, flows, DAY), flows[0]


def set_today(plants: Records, fruits: Records) -> tuple[int, Records]:
    flows = records(np.zeros(1, FLOWS))
    return set_fruit_of_all(np.arange(len(plants)), plants, fruits, TABLE, flows, DAY), flows[0]


# -- swelling


@given(fresh_g=st.floats(1.0, 0.99 * FULL_G), morning_dd=st.floats(0.0, 20.0), evening_dd=st.floats(0.0, 20.0))
def test_a_day_in_two_halves_swells_a_fruit_as_much_as_the_whole(
    fresh_g: float, morning_dd: float, evening_dd: float
) -> None:
    fruit = fruits_of(fresh_g)[0]
    whole_g = fresh_g + fruit_gain_g(fruit, FULL_G, shortfall_kept(CROP, morning_dd + evening_dd))
    for warmth_dd in (morning_dd, evening_dd):
        fruit["fresh_g"] += fruit_gain_g(fruit, FULL_G, shortfall_kept(CROP, warmth_dd))
    assert fruit["fresh_g"] == pytest.approx(whole_g)
    assert fresh_g * (1.0 - 1e-12) <= whole_g <= FULL_G * (1.0 + 1e-12)


def test_only_growing_fruits_wish_and_what_they_wish_is_dry_matter() -> None:
    fruits = fruits_of(50.0, 120.0)
    gains_g = [fruit_gain_g(fruits[j], FULL_G, shortfall_kept(CROP, 8.0)) for j in range(2)]
    assert min(gains_g) > 0.0
    fruits["state"][2:6] = [FruitState.NONE, FruitState.OPEN, FruitState.ABORTED, FruitState.PICKED]
    fruits["fresh_g"][2:6] = 50.0
    assert fruit_wish_g(fruits, CROP, 8.0) == pytest.approx(sum(gains_g) * float(CROP["dry_share"]))


def test_fruits_gain_the_share_of_their_wish_that_is_filled_and_are_ripe_from_their_picking_size_on() -> None:
    fruits = fruits_of(50.0, RIPE_G, 0.99 * RIPE_G)
    wanted_g = fruit_gain_g(fruits[0], FULL_G, shortfall_kept(CROP, 8.0))
    assert grow_fruits(fruits, CROP, 8.0, 0.0) == 1
    assert fruits["fresh_g"][:3] == pytest.approx([50.0, RIPE_G, 0.99 * RIPE_G])
    assert grow_fruits(fruits, CROP, 8.0, 0.25) == 2
    assert fruits["fresh_g"][0] == pytest.approx(50.0 + 0.25 * wanted_g)
    assert fruits["warmth_dd"][:4] == pytest.approx([16.0, 16.0, 16.0, 0.0])
    assert not is_ripe_fruit(fruits_of(2.0 * RIPE_G, state=FruitState.PICKED)[0], CROP)


# -- opening


def test_a_flower_opens_in_the_first_free_slot_with_nothing_left_of_the_one_before() -> None:
    plants, fruits = cucumbers()
    slots = fruits[0]
    slots["state"][:2] = FruitState.GROWING, FruitState.PICKED
    for name in ("honey_visits", "bumble_visits", "small_visits", "hand_visits"):
        slots[name][1] = 9
    for name in ("warmth_dd", "fresh_g", "well_shaped", "eaten_cm2"):
        slots[name][1] = 0.7
    assert open_one(plants[0], slots, CROP, DAY)
    flower = slots[1]
    assert (flower["state"], flower["opened_day"], flower["fresh_g"]) == (FruitState.OPEN, DAY, float(CROP["start_g"]))
    emptied = ("honey_visits", "bumble_visits", "small_visits", "hand_visits", "warmth_dd", "well_shaped", "eaten_cm2")
    assert not any(flower[name] for name in emptied)
    assert plants["fruit_slots"][0] == 2


def test_each_flower_has_its_own_luck_also_in_the_slot_of_an_earlier_one() -> None:
    plants, fruits = cucumbers()
    keys = []
    for _ in range(5):
        assert open_one(plants[0], fruits[0], CROP, DAY)
        keys.append(int(fruits["key"][0, 0]))
        fruits["state"][0, 0] = FruitState.ABORTED
    assert len(set(keys)) == 5
    assert plants["flowers_made"][0] == 5
    assert plants["fruit_slots"][0] == 1


def test_a_plant_full_of_fruit_opens_no_flower() -> None:
    plants, fruits = cucumbers()
    fruits["state"] = FruitState.GROWING
    assert not open_one(plants[0], fruits[0], CROP, DAY)
    plants["flowers_due"] = 3.5
    opened, flow = open_today(plants, fruits)
    assert opened == flow["flowers_opened"] == plants["open_flowers"][0] == plants["has_flowered"][0] == 0


def test_all_flowers_due_open_and_the_rest_of_one_waits() -> None:
    plants, fruits = cucumbers(2)
    plants["flowers_due"], plants["open_flowers"] = 2.6, 7  # of yesterday
    plants["warmth_today_dd"] = 0.0
    opened, flow = open_today(plants, fruits)
    assert opened == flow["flowers_opened"] == 4
    assert (plants["open_flowers"] == 2).all()
    assert plants["flowers_due"] == pytest.approx(0.6)
    assert (plants["has_flowered"] == 1).all()


def test_flowers_come_with_the_days_warmth_in_the_time_of_flowering_alone() -> None:
    first_dd, last_dd = float(CROP["filling_dd"]), float(CROP["last_leaf_dd"])
    plants, fruits = cucumbers(6)
    plants["warmth_dd"] = first_dd - 1.0, first_dd, last_dd, last_dd + 1.0, last_dd, last_dd
    plants["is_wilting"][4], plants["is_growing"][5] = 1, 0
    plants["open_flowers"] = 1  # of yesterday
    plants["warmth_today_dd"] = 0.5 / float(CROP["flowers_per_dd"])
    open_today(plants, fruits)
    assert plants["flowers_due"] == pytest.approx([0.0, 0.5, 0.5, 0.0, 0.0, 0.0])
    assert not plants["open_flowers"].any()


# -- sharing out


@given(warmth_dd=st.floats(0.5, 30.0))
def test_one_more_fruit_asks_what_it_takes_up_on_its_way_to_picking_size(warmth_dd: float) -> None:
    life_dd = RIPE_G * float(CROP["dry_share"]) * warmth_dd / need_of_one_fruit_g(CROP, warmth_dd)
    fruit = fruits_of(float(CROP["start_g"]))[0]
    grown_g = float(CROP["start_g"]) + fruit_gain_g(fruit, FULL_G, shortfall_kept(CROP, life_dd))
    assert grown_g == pytest.approx(RIPE_G)


@given(wish_g=st.floats(0.0, 50.0), supply_g=st.floats(0.0, 50.0))
def test_a_plant_carries_the_share_of_its_flowers_for_which_there_is_dry_matter(wish_g: float, supply_g: float) -> None:
    plants, _ = cucumbers()
    plants["fruit_wish_g"], plants["fruit_supply_g"] = wish_g, supply_g
    asked_g = wish_g + need_of_one_fruit_g(CROP, 10.0)
    assert carrying_share(plants[0], CROP) == pytest.approx(min(1.0, supply_g / asked_g))


# -- setting


def chance_of(crop: Records, **visits: int) -> tuple[float, float]:
    flower = records(np.zeros(1, FRUIT))
    for name, count in visits.items():
        flower[f"{name}_visits"] = count
    return chance_to_set(flower[0], crop, False), float(flower["well_shaped"][0])


@given(st.integers(0, 30), st.integers(0, 30), st.integers(0, 30), st.integers(0, 3))
def test_every_kind_of_visit_counts_by_its_own_worth(honey: int, bumble: int, small: int, hand: int) -> None:
    local = crop_table(load_parameters().with_changes({"crops.fruit.set_without_visit": 0.18}))[Crop.CUCUMBER]
    counts = {"honey": honey, "bumble": bumble, "small": small, "hand": hand}
    work = sum(count * float(local[f"set_per_{name}_visit"]) for name, count in counts.items())
    sets, well_shaped = chance_of(local, **counts)
    assert sets == pytest.approx(0.18 + (float(local["set_at_most"]) - 0.18) * (1.0 - math.exp(-work)))
    if work > 0.0:
        honey_bee_visits = work / float(local["set_per_honey_visit"])
        assert well_shaped == pytest.approx(1.0 - math.exp(-float(local["shape_per_visit"]) * honey_bee_visits))


def test_flowers_of_today_set_or_fall_and_are_counted() -> None:
    count = 3000
    plants, fruits = cucumbers(count)
    plants["open_flowers"], plants["fruit_slots"] = 1, 2
    fruits["state"][:, 1] = FruitState.OPEN
    fruits["state"][:, 0] = FruitState.GROWING  # set before; not asked again
    fruits["key"] = np.random.default_rng(3).integers(0, 2**63, fruits.shape)
    fruits["honey_visits"][: count // 2, 1] = 6
    fruits["eaten_cm2"][:, 1] = 0.5 * float(CROP["flower_cm2"])
    set_count, flow = set_today(plants, fruits)
    assert flow["flowers_visited"] == count // 2
    assert set_count == flow["fruits_set"] == count - flow["flowers_aborted"]
    assert flow["flowers_aborted"] == np.count_nonzero(fruits["state"][:, 1] == FruitState.ABORTED)
    is_set = fruits["state"][:, 1] == FruitState.GROWING
    assert not is_set[count // 2 :].any()  # without a visit none sets
    assert not fruits["eaten_cm2"][is_set, 1].any()
    assert (fruits["state"][:, 0] == FruitState.GROWING).all()
    share = 0.5 * chance_of(CROP, honey=6)[0]  # half of each flower is eaten
    error = math.sqrt(share * (1.0 - share) / (count // 2))
    assert abs(set_count / (count // 2) - share) < 4.0 * error


def test_a_flower_that_is_eaten_whole_never_sets() -> None:
    plants, fruits = cucumbers(50)
    plants["open_flowers"], plants["fruit_slots"], plants["self_fruitful"] = 1, 1, 1
    fruits["state"][:, 0], fruits["eaten_cm2"][:, 0] = FruitState.OPEN, 1.5 * float(CROP["flower_cm2"])
    fruits["key"] = np.arange(fruits.size, dtype=np.uint64).reshape(fruits.shape)
    assert set_today(plants, fruits)[0] == 0
