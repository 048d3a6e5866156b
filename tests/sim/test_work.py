"""The gardener's deeds done to the garden."""

import numpy as np
import pytest

from sim.cast import Fate, Species
from sim.practices.fabrics import Edges, Material
from sim.practices.workday import Covering, Workday
from sim.work import carry_out, clean_up, improve_habitat, lose_aphids, pick, plant
from tests.strategies import NO_PESTS, bed, garden, open_garden


def after(days, scenario=None, plan="nothing"):
    lived = open_garden(scenario or garden(bed(harvest="none"), pests={"arrivals": 5.0}), plan)
    for _ in range(days):
        lived.step()
    return lived


def test_planting_brings_the_eggs_of_the_transplants_to_hosts_only():
    scenario = garden(
        bed(transplant_eggs_per_plant=3.0, planted="05-20"),
        bed("lettuce", transplant_eggs_per_plant=3.0, planted="05-20"),
        pests=NO_PESTS | {"cabbage_white": 1.0},
    )
    morning = open_garden(scenario)
    plant(morning, 0)
    on_collards = morning.insects.count
    plant(morning, 1)
    assert morning.insects.count == on_collards > 0
    assert (morning.insects.records["species"][:on_collards] == Species.CABBAGE_WHITE).all()


def test_nets_go_on_and_come_off():
    morning = after(3)
    cover = Covering(0, int(Material.INSECT_MESH), int(Edges.BURIED), 0.0, None)
    carry_out(morning, Workday(covered=[cover]))
    assert morning.nets.is_covered(0)
    carry_out(morning, Workday(uncovered=[0]))
    assert not morning.nets.is_covered(0)


def test_a_walk_along_the_edge_closes_it():
    morning = after(3)
    carry_out(morning, Workday(covered=[Covering(0, int(Material.INSECT_MESH), int(Edges.BURIED), 0.0, None)]))
    morning.nets.covers["is_badly_closed"][0] = 1
    carry_out(morning, Workday(net_checks=[0]))
    assert morning.nets.covers["is_badly_closed"][0] == 0


def test_a_picked_bed_gives_weight_once():
    lived = after(60, garden(bed(), pests=NO_PESTS, gardener={"minutes_per_day": 0.0}))
    plant(lived, 0)  # a gardener without minutes has not planted
    for _ in range(30):
        lived.step()
    pick(lived, [0])
    kg = lived.picked_kg
    pick(lived, [0])
    assert lived.picked_kg == kg
    assert lived.harvests[0][0] == pytest.approx(kg)


def test_beds_picked_together_lose_what_they_would_lose_one_after_the_other():
    def morning():
        return after(75, garden(bed(), bed("kale"), pests={"arrivals": 5.0}, gardener={"minutes_per_day": 40.0}))

    together, apart = morning(), morning()
    pick(together, [0, 1])
    pick(apart, [0])
    pick(apart, [1])
    here, there = (each.insects.records[: each.insects.count] for each in (together, apart))
    assert (here["fate"] == Fate.HARVESTED).any()
    assert here.tobytes() == there.tobytes()
    assert together.plants.plants.tobytes() == apart.plants.plants.tobytes()
    assert together.harvests == apart.harvests


def test_clean_up_pulls_the_plants_and_takes_those_on_them():
    lived = after(60)
    before = lived.insects.count
    clean_up(lived, 0)
    assert not lived.plants.plants["is_growing"][:8].any()
    assert lived.aphids.per_m2[0] == 0 or lived.plants.plants["aphids"][:8].sum() == 0
    gone = lived.insects.records["fate"][:before] == Fate.CLEANED_UP
    assert gone.any()
    assert (lived.insects.records["bed"][:before][gone] == 0).all()


def test_habitat_is_added_up():
    lived = after(1)
    improve_habitat(lived, Workday(flower_strip_m2=4.0, hedgerows=[(10.0, 100.0)], nest_boxes=[("wren_like", 2, 5.0)]))
    assert lived.flower_strip_m2 == 4.0
    assert lived.hedgerow_m == 10.0
    assert len(lived.nests.nests) == 2
    improve_habitat(lived, Workday(hedgerows=[(10.0, 0.0)]))
    assert 10.0 < lived.hedgerow_m < 20.0  # a young hedgerow counts for less


def test_a_day_without_work_changes_nothing():
    lived = after(40)
    before = lived.insects.records[: lived.insects.count].copy(), lived.plants.plants.copy()
    carry_out(lived, Workday())
    for name in before[0].dtype.names:
        np.testing.assert_array_equal(before[0][name], lived.insects.records[name][: lived.insects.count])
    for name in before[1].dtype.names:
        np.testing.assert_array_equal(before[1][name], lived.plants.plants[name])


def test_a_search_that_was_cut_short_goes_on_where_it_stopped():
    lived = after(60)
    for share, searched_to in ((0.4, 0.4), (0.4, 0.8), (0.2, 0.0), (0.3, 0.3)):
        carry_out(lived, Workday(hand_picked=[(0, share, 20.0)]))
        assert lived.searched_to[0] == pytest.approx(searched_to)


def test_water_takes_its_share_of_the_aphids_on_the_plants_that_were_washed():
    lived = after(60, garden(bed(harvest="none"), pests=NO_PESTS | {"cabbage_aphid": 30.0}))
    share, before = lived.parameters.number("labour.wash_off_share"), lived.plants.plants["aphids"][:8].copy()
    carry_out(lived, Workday(washed=[(0, 0.5)]))
    assert before.sum() > 0
    assert lived.plants.plants["aphids"][:8] == pytest.approx(before * (1.0 - 0.5 * share))


def test_aphids_go_with_the_share_of_leaf_that_was_picked():
    lived = after(30, garden(bed(harvest="none"), pests=NO_PESTS | {"cabbage_aphid": 30.0}))
    plants, rows = lived.plants.plants, lived.plants.rows(0)
    before = plants["aphids"][rows].copy()
    lose_aphids(lived, rows, plants["leaf_area_cm2"][rows] / 0.75)  # a quarter of the leaf is gone
    assert before.sum() > 0
    assert plants["aphids"][rows] == pytest.approx(0.75 * before)


def test_birds_find_the_whole_hedgerow_and_flowers_add_up():
    lived = after(1)
    work = Workday(flower_strip_m2=4.0, hedgerows=[(10.0, 100.0), (6.0, 100.0)])
    improve_habitat(lived, work)
    improve_habitat(lived, Workday(flower_strip_m2=3.0))
    assert lived.flower_strip_m2 == 7.0
    assert lived.nests.hedgerow_area_m2 == pytest.approx(16.0 * lived.parameters.number("habitat.hedgerow_width_m"))
