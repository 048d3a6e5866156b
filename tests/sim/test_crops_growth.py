"""Warmth, light and sharing: single rules, and whole plants where a rule cannot be seen alone."""

import mesa
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cast import CROPS, Crop
from sim.compiled import records
from sim.crops.growth import intercepted_share, slowed_by_aphids, temperature_response
from sim.crops.leaves import expand_leaves, leaf_wish_g, unfold_leaves
from sim.crops.plant import LEAF, LEAVES, PLANT
from sim.crops.plants import Plants
from sim.crops.table import CROP, SALES, crop_table
from sim.parameters.table import load_parameters
from sim.surroundings import TODAY, open_ground

TEMPERATE = (12.0, 22.0, 17.0)


def bed_of(crop, count=6, *, vigour=1.0, from_seed=0, once_over=0, self_fruitful=0, ground_m2=0.2):
    zero = np.zeros(count)
    return Plants(
        mesa.Model(), load_parameters(), crop=np.full(count, int(crop)), bed=np.zeros(count, np.int64), x_m=zero,
        y_m=zero, edge_share=zero, keys=np.arange(count, dtype=np.uint64) + np.uint64(5),
        vigour=np.full(count, vigour), self_fruitful=np.full(count, self_fruitful, np.uint8),
        from_seed=np.full(count, from_seed, np.uint8), once_over=np.full(count, once_over, np.uint8),
        ground_area_m2=np.full(count, ground_m2),
    )  # fmt: skip


def live(plants, days, *, first=0, weather=TEMPERATE, light_share=1.0):
    beds = open_ground(np.array([2.0])).beds
    beds["tmin_c"], beds["tmax_c"] = weather[:2]
    beds["light_share"] = light_share
    today = records(np.zeros(1, TODAY))
    today["radiation_mj_m2"] = weather[2]
    for day in range(first, first + days):
        today["day"] = day
        plants.grow(today[0], beds)


def test_every_crop_has_a_record_and_a_use():
    table = crop_table(load_parameters())
    assert len(table) == CROPS == len(SALES)
    for name in CROP.names:
        assert np.isfinite(table[name]).all()
    assert (table["base_c"] < table["best_c"]).all()
    assert (table["best_c"] < table["stop_c"]).all()


def test_temperature_response_has_its_three_points():
    assert temperature_response(4.0, 4.0, 18.0, 30.0) == 0.0
    assert temperature_response(18.0, 4.0, 18.0, 30.0) == pytest.approx(1.0)
    assert temperature_response(30.0, 4.0, 18.0, 30.0) == 0.0


@given(mean_c=st.floats(-20.0, 50.0))
def test_temperature_response_is_a_share(mean_c):
    assert 0.0 <= temperature_response(mean_c, 4.0, 18.0, 30.0) <= 1.0 + 1e-9


@given(leaf_m2=st.floats(0.0, 5.0), more_m2=st.floats(0.0, 5.0))
def test_more_leaf_never_catches_less_light(leaf_m2, more_m2):
    assert intercepted_share(leaf_m2, 0.2, 0.65) <= intercepted_share(leaf_m2 + more_m2, 0.2, 0.65) <= 1.0


def test_aphids_slow_growth_to_half_at_their_number():
    plant = records(np.zeros(1, PLANT))
    crop = crop_table(load_parameters())[Crop.CABBAGE]
    plant["leaf_area_cm2"] = 100.0
    assert slowed_by_aphids(plant[0], crop) == 1.0
    plant["aphids"] = 100.0 * crop["aphids_halve_per_cm2"]
    assert slowed_by_aphids(plant[0], crop) == pytest.approx(0.5)


def test_a_leaf_unfolds_each_phyllochron_and_none_after_the_last():
    crop = crop_table(load_parameters())[Crop.KALE]
    plant, leaves = records(np.zeros(1, PLANT)), records(np.zeros(LEAVES, LEAF))
    unfold_leaves(plant[0], leaves, crop, 3.01 * crop["phyllochron_dd"])
    assert (leaves["area_cm2"] > 0).sum() == 0  # no reserve to make them from
    plant["reserve_g"] = 1.0
    unfold_leaves(plant[0], leaves, crop, 0.0)
    assert (leaves["area_cm2"] > 0).sum() == 3
    plant["warmth_dd"] = crop["last_leaf_dd"] + 1.0
    unfold_leaves(plant[0], leaves, crop, 3.01 * crop["phyllochron_dd"])
    assert (leaves["area_cm2"] > 0).sum() == 3


def test_leaves_use_exactly_the_dry_matter_on_offer_and_holes_grow_along():
    crop = crop_table(load_parameters())[Crop.KALE]
    leaves = records(np.zeros(LEAVES, LEAF))
    leaves["area_cm2"][:3], leaves["eaten_cm2"][0] = 20.0, 5.0
    before = float((leaves["area_cm2"] - leaves["eaten_cm2"]).sum())
    wish_g = leaf_wish_g(leaves, crop, 13.0)
    expand_leaves(leaves, crop, 13.0, 0.5 * wish_g, wish_g)
    gained = float((leaves["area_cm2"] - leaves["eaten_cm2"]).sum()) - before
    assert gained / crop["sla_cm2_g"] == pytest.approx(0.5 * wish_g)
    assert leaves["eaten_cm2"][0] / leaves["area_cm2"][0] == pytest.approx(0.25)


def test_a_seed_comes_up_after_its_warmth_and_a_transplant_stands_at_once():
    sown, planted = bed_of(Crop.TURNIP, from_seed=1), bed_of(Crop.TURNIP)
    for plants in (sown, planted):
        plants.put_in(0, 0)
    assert not sown.plants["is_growing"].any()
    assert planted.plants["is_growing"].all()
    live(sown, 10)
    assert sown.plants["is_growing"].all()
    assert sown.plants["warmth_dd"][0] < planted.plants["warmth_dd"][0] + 10 * 13.0


def test_nothing_grows_before_it_is_planted():
    collards = bed_of(Crop.COLLARD)
    live(collards, 5)
    assert collards.plants["leaf_area_cm2"].sum() == 0.0
    assert collards.standing.size == 0


def test_plants_are_listed_from_the_day_they_are_put_in_to_the_day_after_they_are_gone():
    plants = bed_of(Crop.KALE)
    plants.put_in(0, 0)
    assert plants.standing.tolist() == list(range(len(plants.plants)))
    live(plants, 2, weather=(4.0, 16.0, 15.0))
    plants.plants["is_dead"][1], plants.plants["is_growing"][1] = 1, 0
    assert 1 in plants.standing  # until the next morning's growth
    live(plants, 1, first=2)
    assert plants.standing.tolist() == [i for i in range(len(plants.plants)) if i != 1]
    plants.pull(0)
    live(plants, 1, first=3)
    assert plants.standing.size == 0


def test_dry_matter_made_is_found_again_in_the_plant():
    """Nothing falls or is picked in these days, so that all growth must still be there."""
    for crop in (Crop.COLLARD, Crop.CABBAGE, Crop.KOHLRABI, Crop.TURNIP):
        plants = bed_of(crop)
        plants.put_in(0, 0)
        names = ("leaf_g", "stem_g", "root_g", "head_g", "reserve_g")
        before = sum(float(plants.plants[name].sum()) for name in names)
        live(plants, 20)
        after = sum(float(plants.plants[name].sum()) for name in names)
        assert after - before == pytest.approx(float(plants.flows["grown_g"][0]), rel=1e-9)


def test_more_vigour_and_more_light_grow_more():
    def leaf_cm2(vigour, light_share):
        plants = bed_of(Crop.KALE, vigour=vigour)
        plants.put_in(0, 0)
        live(plants, 30, light_share=light_share)
        return float(plants.plants["leaf_area_cm2"].sum())

    assert leaf_cm2(0.7, 1.0) < leaf_cm2(1.0, 1.0) < leaf_cm2(1.3, 1.0)
    assert leaf_cm2(1.0, 0.5) < leaf_cm2(1.0, 0.88) < leaf_cm2(1.0, 1.0)


def test_a_plant_with_gone_neighbours_catches_more_light():
    def light_mj(crowded):
        plants = bed_of(Crop.KALE)
        plants.put_in(0, 0)
        live(plants, 40)
        before = float(plants.flows["light_mj"][0])
        if not crowded:
            plants.plants["is_growing"][1:] = 0
            plants.plants["is_dead"][1:] = 1
        live(plants, 1, first=40)
        return (float(plants.flows["light_mj"][0]) - before) / (len(plants.plants) if crowded else 1)

    assert light_mj(crowded=False) > light_mj(crowded=True)


def test_frost_kills_the_tender_and_spares_the_hardy():
    cucumbers, kale = bed_of(Crop.CUCUMBER), bed_of(Crop.KALE)
    for plants in (cucumbers, kale):
        plants.put_in(0, 0)
        live(plants, 1, weather=(-3.0, 8.0, 8.0))
    assert cucumbers.plants["is_dead"].all()
    assert not kale.plants["is_dead"].any()


def test_same_inputs_give_the_same_bytes():
    def grown():
        plants = bed_of(Crop.CABBAGE)
        plants.put_in(0, 0)
        live(plants, 40)
        return plants.plants.tobytes() + plants.leaves.tobytes()

    assert grown() == grown()
