"""Flowers, events and harvest."""

import numpy as np
import pytest

from sim.cast import Crop
from sim.crops.events import CropEvent
from sim.crops.plant import HEAD, LEAVES, PLACES, FruitState
from sim.crops.table import SoldAs
from tests.sim.test_crops_growth import bed_of, live

WARM = (16.0, 27.0, 21.0)


def nothing_picked(plants):
    return np.zeros((len(plants.plants), PLACES), np.uint8)


def ready(crop, days, **options):
    plants = bed_of(crop, **options)
    plants.put_in(0, 0)
    live(plants, days)
    return plants


def test_repeated_picking_takes_old_full_leaves_and_the_plant_grows_on():
    plants = ready(Crop.KALE, 65)
    area_before = plants.leaves["area_cm2"].copy()
    ages = plants.leaves["age_dd"].copy()
    count = plants.ripe(0)
    picked = nothing_picked(plants)
    picking = plants.pick(0, 65, picked)
    assert picking.units == picked.sum() == count > 0
    assert picking.units == picking.marketable_units
    assert picking.marketable_kg == pytest.approx(picking.kg)
    is_picked = picked[:, :LEAVES] == 1
    for i in range(len(plants.plants)):
        left = ages[i][~is_picked[i] & (area_before[i] > 10.0)]
        assert ages[i][is_picked[i]].min() >= left.max() - 1e-9 or left.size == 0 or left.max() <= ages[i].max()
        assert (plants.leaves["area_cm2"][i][is_picked[i]] == 0.0).all()
    assert plants.plants["is_growing"].all()
    assert plants.plants["leaf_area_cm2"].sum() == pytest.approx(plants.leaves["area_cm2"].sum())
    assert plants.ripe(0) == 0


def test_each_leaf_is_sold_by_its_own_holes():
    plants = ready(Crop.COLLARD, 75)
    limit = plants.crops["leaf_limit_share"][Crop.COLLARD]
    plants.leaves["eaten_cm2"][0] = (limit + 0.02) * plants.leaves["area_cm2"][0]
    plants.leaves["eaten_cm2"][1] = (limit - 0.02) * plants.leaves["area_cm2"][1]
    picked = nothing_picked(plants)
    picking = plants.pick(0, 75, picked)
    assert picking.units - picking.marketable_units == picked[0].sum() > 0
    assert 0 < picking.marketable_kg < picking.kg


def test_a_bed_can_keep_its_weight_and_lose_its_market():
    clean, marked = ready(Crop.CABBAGE, 75), ready(Crop.CABBAGE, 75)
    marked.demand_cm2[:, HEAD] = 0.1 * marked.plants["head_area_cm2"]
    marked.mark_asked()
    marked.share_out()
    marked.lose_eaten()
    picking = [plants.pick(0, 75, nothing_picked(plants)) for plants in (clean, marked)]
    assert picking[1].kg > 0.97 * picking[0].kg
    assert picking[0].marketable_units == 6
    assert picking[1].marketable_units == 0


def test_a_larva_inside_spoils_a_head():
    plants = ready(Crop.CABBAGE, 75)
    inside = np.zeros(6, np.int64)
    inside[2] = 1
    picking = plants.pick(0, 75, nothing_picked(plants), inside)
    assert (picking.units, picking.marketable_units) == (6, 5)


@pytest.mark.parametrize(("crop", "days"), [(Crop.CABBAGE, 75), (Crop.TURNIP, 60), (Crop.LETTUCE, 50)])
def test_once_over_takes_the_whole_plant(crop, days):
    plants = ready(crop, days, once_over=1, from_seed=int(crop != Crop.CABBAGE))
    picked = nothing_picked(plants)
    picking = plants.pick(0, days, picked)
    assert picking.units == 6
    assert picked.all()
    assert not plants.plants["is_growing"].any()
    assert plants.crop_event(0) & CropEvent.FINISHED
    live(plants, 3, first=days)
    assert plants.plants["leaf_area_cm2"].sum() == 0.0


def test_mustard_and_wild_hosts_are_never_picked():
    for crop in (Crop.MUSTARD, Crop.WILD_HOSTS):
        plants = ready(crop, 90)
        assert plants.crops["sold_as"][crop] == SoldAs.NOTHING
        assert plants.ripe(0) == 0
        assert plants.pick(0, 90, nothing_picked(plants)).kg == 0.0


def test_bolted_lettuce_weighs_and_does_not_sell():
    plants = ready(Crop.LETTUCE, 50, from_seed=1)
    plants.plants["is_bolting"] = 1
    picking = plants.pick(0, 50, nothing_picked(plants))
    assert picking.kg > 0.0
    assert picking.marketable_units == 0


def flowering(days, *, visits=12, self_fruitful=0, first=0, plants=None):
    plants = plants or bed_of(Crop.CUCUMBER, from_seed=1, ground_m2=0.36, self_fruitful=self_fruitful)
    plants.put_in(0, 0)
    for day in range(first, first + days):
        live(plants, 1, first=day, weather=WARM)
        plants.open_flowers(day)
        is_open = plants.fruits["state"] == FruitState.OPEN
        assert (plants.fruits["opened_day"][is_open] == day).all()
        assert is_open.sum() == plants.plants["open_flowers"].sum()
        plants.fruits["honey_visits"][is_open] = visits
        plants.set_fruit(day)
        assert not (plants.fruits["state"] == FruitState.OPEN).any()
    return plants


def test_every_flower_sets_or_falls():
    plants = flowering(80)
    flow = plants.flows[0]
    assert flow["flowers_opened"] > 10
    assert flow["fruits_set"] + flow["flowers_aborted"] == flow["flowers_opened"] == flow["flowers_visited"]


def test_unvisited_flowers_set_nothing_unless_self_fruitful():
    assert flowering(80, visits=0).flows["fruits_set"][0] == 0
    assert flowering(80, visits=0, self_fruitful=1).flows["fruits_set"][0] > 0


def test_self_fruitful_flowers_do_not_ask_for_bees():
    without, with_bees = (flowering(80, visits=visits, self_fruitful=1) for visits in (0, 20))
    assert without.flows["fruits_set"][0] == with_bees.flows["fruits_set"][0]


def test_fruits_are_picked_when_large_and_the_plant_goes_on():
    plants = flowering(70)
    picking = plants.pick(0, 70, nothing_picked(plants))
    assert picking.units > 0
    assert picking.kg / picking.units >= 0.2
    assert plants.plants["is_growing"].all()
    assert plants.ripe(0) == 0


def test_a_small_plant_opens_fewer_flowers():
    strong, weak = (bed_of(Crop.CUCUMBER, from_seed=1, ground_m2=0.36, vigour=vigour) for vigour in (1.0, 0.5))
    assert (
        flowering(70, plants=weak).flows["flowers_opened"][0] < flowering(70, plants=strong).flows["flowers_opened"][0]
    )


def test_events_come_in_their_order():
    plants = bed_of(Crop.CUCUMBER, from_seed=1, ground_m2=0.36)
    seen = {}
    for day in range(160):
        flowering(1, first=day, plants=plants)
        for event in plants.crop_event(0):
            seen.setdefault(event, day)
        if plants.ripe(0):
            plants.pick(0, day, nothing_picked(plants))
    assert CropEvent.HEADING not in seen
    order = [seen[event] for event in (CropEvent.UP, CropEvent.FIRST_BLOOM, CropEvent.BLOOM_HALF, CropEvent.FINISHED)]
    assert order == sorted(order)
    assert order[0] < order[1] < order[3]


def test_a_bed_that_was_never_planted_has_no_events():
    assert bed_of(Crop.KALE).crop_event(0) == CropEvent(0)
    assert bed_of(Crop.KALE).crop_event(7) == CropEvent(0)


def test_heading_is_told_of_heads_and_not_of_leaf_crops():
    cabbage, kale = ready(Crop.CABBAGE, 70), ready(Crop.KALE, 70)
    assert cabbage.crop_event(0) & CropEvent.HEADING
    assert not kale.crop_event(0) & CropEvent.HEADING


def test_pulling_clears_a_bed():
    plants = ready(Crop.KALE, 40)
    plants.pull(0)
    assert plants.plants["is_gone"].all()
    assert not plants.leaves["area_cm2"].any()
    assert plants.crop_event(0) & CropEvent.FINISHED
