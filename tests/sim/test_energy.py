"""Energy from light to leaf to insect to bird."""

import pytest

from sim.energy import flows_of
from tests.strategies import NO_PESTS, bed, garden, live, open_garden

BIRDS = {"nests": [{"kind": "wren_like", "distance_m": 5.0, "count": 8}]}


def test_before_the_first_day_nothing_has_flowed():
    flows = flows_of(open_garden(garden(birds=BIRDS)))
    assert flows.light_mj == flows.grown_kj == flows.eaten_kj == flows.insects_kj == 0
    assert flows.nestlings_from_garden_kj == flows.nestlings_from_territory_kj == 0


def test_a_garden_without_pests_grows_and_is_not_eaten():
    flows = flows_of(live(garden(bed(), pests=NO_PESTS)))
    assert flows.grown_kj > 0
    assert flows.eaten_kj == flows.insects_kj == flows.to_enemies_kj == flows.to_birds_kj == 0


def test_grams_become_kilojoules_by_the_table():
    lived = live(garden(bed(), pests={"arrivals": 3.0}, birds=BIRDS))
    flows, table = flows_of(lived), lived.parameters
    leaf_kj_g = table.number("energy.leaf_kj_per_g_dry")
    assert flows.grown_kj == pytest.approx(lived.plants.flows["grown_g"][0] * leaf_kj_g)
    assert flows.eaten_kj == pytest.approx(lived.plants.flows["leaf_eaten_g"][0] * leaf_kj_g)
    assert 0 < flows.to_birds_kj < flows.insects_kj
    assert 0 < flows.to_enemies_kj < flows.insects_kj
    assert flows.nestlings_from_territory_kj > 0


def test_each_step_up_holds_less_than_the_one_below():
    flows = flows_of(live(garden(bed(), bed("kale"), pests={"arrivals": 2.0}, margin={"wild_host_plants": 0})))
    assert flows.light_mj * 1000 > flows.grown_kj > flows.eaten_kj
    assert flows.insects_kj > flows.to_enemies_kj + flows.to_birds_kj
