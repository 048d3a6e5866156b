"""What is eaten: never more than is there, kept where it fell, and missed where it was."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.cast import Crop
from sim.crops.plant import FLOWER, HEAD, LEAVES, PLACES, FruitState
from tests.sim.test_crops_growth import bed_of, live


def grown(crop, days=30, **options):
    plants = bed_of(crop, **options)
    plants.put_in(0, 0)
    live(plants, days)
    return plants


def eat(plants):
    """Let what was asked for be eaten."""
    plants.mark_asked()
    plants.share_out()
    plants.lose_eaten()


@settings(max_examples=30, deadline=None)
@given(wanted_cm2=st.lists(st.floats(0.0, 500.0), min_size=PLACES, max_size=PLACES))
def test_eaten_is_the_ration_of_the_demand_and_never_more_than_stands(wanted_cm2):
    plants = grown(Crop.CABBAGE, 45, count=2)
    plants.demand_cm2[:] = wanted_cm2
    demand = plants.demand_cm2.copy()
    standing = plants.leaves["area_cm2"] - plants.leaves["eaten_cm2"]
    holes = plants.leaves["eaten_cm2"].copy()
    eat(plants)
    assert ((plants.ration >= 0.0) & (plants.ration <= 1.0)).all()
    eaten = plants.leaves["eaten_cm2"] - holes
    np.testing.assert_allclose(eaten, demand[:, :LEAVES] * plants.ration[:, :LEAVES], rtol=1e-9, atol=1e-9)
    assert (eaten <= standing + 1e-9).all()
    assert plants.flows["leaf_eaten_cm2"][0] == pytest.approx(float(eaten.sum()))
    assert plants.plants["head_eaten_cm2"] == pytest.approx(demand[:, HEAD] * plants.ration[:, HEAD])
    assert not plants.demand_cm2.any()


def test_a_seed_feeds_nobody():
    plants = bed_of(Crop.RADISH, from_seed=1)
    plants.put_in(0, 0)
    plants.demand_cm2[:] = 1.0
    eat(plants)
    assert not plants.ration.any()
    assert plants.flows["leaf_eaten_cm2"][0] == 0.0


def test_damage_stays_on_its_leaf():
    plants = grown(Crop.KALE)
    plants.demand_cm2[0, 4] = 5.0
    eat(plants)
    assert plants.leaves["eaten_cm2"][0, 4] == pytest.approx(5.0)
    assert plants.leaves["eaten_cm2"].sum() == pytest.approx(5.0)
    assert plants.plants["eaten_cm2"][0] == pytest.approx(5.0)


def test_no_demand_changes_nothing():
    plants = grown(Crop.CABBAGE, 45)
    before = plants.plants.tobytes() + plants.leaves.tobytes()
    eat(plants)
    assert plants.plants.tobytes() + plants.leaves.tobytes() == before


def test_lost_leaf_is_lost_light():
    whole, eaten = grown(Crop.KALE), grown(Crop.KALE)
    eaten.demand_cm2[:, :LEAVES] = 0.5 * eaten.leaves["area_cm2"]
    eat(eaten)
    for plants in (whole, eaten):
        plants.flows["light_mj"] = 0.0
        live(plants, 1, first=30)
    assert eaten.flows["light_mj"][0] < whole.flows["light_mj"][0]


def test_a_seedling_eaten_to_the_ground_dies_and_a_large_plant_comes_back():
    seedling = bed_of(Crop.RADISH, from_seed=1)
    seedling.put_in(0, 0)
    live(seedling, 5)
    large = grown(Crop.COLLARD, 60)
    for plants in (seedling, large):
        assert plants.plants["is_growing"].all()
        plants.demand_cm2[:, :LEAVES] = 1e6
        eat(plants)
        live(plants, 25, first=60)
    assert seedling.plants["is_dead"].all()
    assert not large.plants["is_dead"].any()
    assert large.plants["leaf_area_cm2"].min() > 50.0


def test_feeding_on_flowers_scars_fruits_and_keeps_flowers_from_setting():
    plants = grown(Crop.CUCUMBER, 10, self_fruitful=1)
    plants.fruits["state"][0, 0], plants.fruits["fresh_g"][0, 0] = FruitState.GROWING, 100.0
    plants.fruits["state"][1, 0] = FruitState.OPEN
    plants.plants["open_flowers"][1], plants.plants["fruit_slots"] = 1, 1
    plants.demand_cm2[:2, FLOWER] = (3.0, 1e6)
    eat(plants)
    assert plants.fruits["eaten_cm2"][0, 0] == pytest.approx(3.0)
    assert plants.flows["flower_eaten_cm2"][0] == pytest.approx(3.0 + plants.crops["flower_cm2"][Crop.CUCUMBER])
    plants.set_fruit(10)
    assert plants.fruits["state"][1, 0] == FruitState.ABORTED


def test_wilt_shows_late_and_stops_growth():
    plants = grown(Crop.CUCUMBER, 10)
    plants.plants["infected_day"][0] = 10
    live(plants, 8, first=10)
    assert not plants.plants["is_wilting"].any()
    live(plants, 9, first=18)
    assert plants.plants["is_wilting"][0] == 1
    assert plants.plants["is_wilting"][1:].sum() == 0
    live(plants, 15, first=27)
    assert plants.plants["is_dead"][0] == 1
    assert plants.plants["is_dead"][1:].sum() == 0
