"""Where birds hunt and what they take: rules, reach, nets, enemies, one rule at a time."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.birds.foraging import caught_per_minute, feeding_minutes, nearness, prey_activity, wanted_share
from sim.birds.menu import Place, PreyGroup, build_menu
from sim.cast import Bird, Predator, Species, Stage, Visitor
from sim.parameters.table import load_parameters
from tests.sim.bird_year import BEDS, day_of, enemies, open_garden, pairs, put, white_larvae

MENU = build_menu(load_parameters())
SHARED = MENU.shared[0]
MAY = 150
ROUNDED_DOWN = 1.0 - 1e-12  # what floating point may take from an order
BIRDS_HERE = slice(int(Predator.TIT_LIKE_BIRD), int(Predator.WOODPECKER_LIKE_BIRD) + 1)


def risks(here, *kinds, **site):
    nests = pairs(*kinds, **site)
    nests.forage(day_of(MAY), here, enemies())
    return here.risk[..., BIRDS_HERE].copy(), nests


@given(st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.01, 5.0))
def test_more_prey_gives_more_but_never_more_than_handling_allows(met, more, handling):
    few = caught_per_minute(met, met, handling)
    many = caught_per_minute(met + more, met + more, handling)
    assert many >= few * ROUNDED_DOWN
    assert many * ROUNDED_DOWN <= 1.0 / handling


@given(st.floats(0.001, 2000.0))
def test_prey_of_middle_size_is_wanted_most(prey_mg):
    assert 0.0 < wanted_share(prey_mg, SHARED) <= wanted_share(100.0, SHARED) == 1.0


@given(st.floats(0.0, 100.0), st.floats(0.0, 100.0))
def test_rain_takes_feeding_time(rain_mm, more_mm):
    dry, wet = day_of(MAY, rain_mm=rain_mm), day_of(MAY, rain_mm=rain_mm + more_mm)
    assert 0.0 < feeding_minutes(wet[0], SHARED) * ROUNDED_DOWN <= feeding_minutes(dry[0], SHARED)


@given(st.floats(-20.0, 35.0), st.floats(0.0, 10.0))
def test_prey_hides_in_the_cold(mean_c, warmer_c):
    cold = prey_activity(day_of(MAY, mean_c=mean_c)[0], SHARED)
    warm = prey_activity(day_of(MAY, mean_c=mean_c + warmer_c)[0], SHARED)
    assert 0.0 < cold * ROUNDED_DOWN <= warm <= 1.0


def test_a_nearer_nest_uses_the_garden_more():
    assert nearness(0.0, 15000.0) == 1.0
    assert nearness(20.0, 15000.0) > nearness(60.0, 15000.0) > 0.0


def test_each_kind_writes_only_its_own_risk():
    here = open_garden()
    white_larvae(here, MAY)
    here.risk[:] = 9.0
    got, _ = risks(here, Bird.WREN_LIKE)
    assert np.all(got[..., Bird.TIT_LIKE] == 0.0)
    assert np.all(got[..., Bird.WOODPECKER_LIKE] == 0.0)
    assert got[0, Species.CABBAGE_WHITE, Stage.INSTAR_5, Bird.WREN_LIKE] > 0.0
    assert np.all(here.risk[..., : Predator.TIT_LIKE_BIRD] == 9.0)


def test_no_pairs_no_risk():
    here = open_garden()
    white_larvae(here, MAY)
    got, nests = risks(here)
    assert np.all(got == 0.0)
    assert np.all(nests.book.enemy_risk == 0.0)


def test_nothing_is_taken_under_a_closed_net():
    here = open_garden()
    white_larvae(here, MAY)
    here.gets_in[:4, Visitor.BIRD] = 0.0
    got, nests = risks(here, *Bird)
    assert np.all(got[:4] == 0.0)
    assert np.all(nests.book.enemy_risk[:4] == 0.0)
    assert np.all(got[4:BEDS, Species.CABBAGE_WHITE, Stage.INSTAR_5, : Bird.WOODPECKER_LIKE] > 0.0)


def test_birds_come_to_the_bed_that_pays():
    here = open_garden()
    white_larvae(here, MAY)
    here.alive[0] *= 4.0
    here.mass_mg[0] *= 4.0
    _, nests = risks(here, Bird.TIT_LIKE)
    rich, plain = nests.book.shares[0, 0], nests.book.shares[0, 1]
    assert rich > plain > nests.book.shares[0, BEDS] * 4.0 / 60.0  # a square metre of margin without larvae


def test_without_matching_time_goes_by_area_and_use_alone():
    blind = load_parameters().with_changes({"birds.shared.matching_exponent": 0})
    here = open_garden()
    white_larvae(here, MAY)
    here.alive[0] *= 4.0
    here.mass_mg[0] *= 4.0
    _, nests = risks(here, Bird.TIT_LIKE, parameters=blind)
    assert nests.book.shares[0, 0] == pytest.approx(nests.book.shares[0, 1])


def test_eggs_and_hatchlings_are_overlooked_and_big_larvae_taken():
    here = open_garden()
    for stage, mg_each in ((0, 0.1), (1, 0.3), (2, 1.5), (3, 6.0), (4, 28.0), (5, 150.0)):
        put(here, Species.CABBAGE_WHITE, Stage(stage), 10.0, mg_each)
    got, _ = risks(here, Bird.TIT_LIKE)
    by_stage = got[0, Species.CABBAGE_WHITE, :6, Bird.TIT_LIKE]
    assert by_stage[0] == by_stage[1] == 0.0
    assert by_stage[2] < by_stage[3] < by_stage[4] < by_stage[5]


def test_a_hidden_young_beetle_is_safe():
    here = open_garden()
    put(here, Species.CUCUMBER_BEETLE, Stage.INSTAR_3, 50.0, 20.0)
    got, _ = risks(here, *Bird)
    assert np.all(got == 0.0)


def test_spiders_are_taken_and_lady_beetles_hardly_per_one_found():
    here = open_garden()
    _, nests = risks(here, Bird.WREN_LIKE)
    exposure = load_parameters().numbers("birds.enemies.exposure")
    found = nests.book.enemy_risk[0] / exposure
    assert found[1] > found[2] > 0.0


def test_a_hedgerow_is_used_and_gives_food():
    here = open_garden()
    _, without = risks(here, Bird.TIT_LIKE)
    _, beside = risks(here, Bird.TIT_LIKE, hedgerow_area_m2=200.0)
    assert without.book.carried[:, :, Place.HEDGEROW].sum() == 0.0
    assert beside.book.carried[:, :, Place.HEDGEROW].sum() > 0.0


def test_seeds_are_for_grown_birds_only():
    here = open_garden()
    nests = pairs(Bird.TIT_LIKE)
    fed = 0.0
    for day in range(60, 200):
        nests.forage(day_of(day), here, enemies())
        fed += nests.book.carried[0, 1, :, PreyGroup.SEED].sum()
        nests.feed(day_of(day), np.zeros((3, BEDS + 1, 7, 8)), np.zeros((3, BEDS + 1, 7, 8)))
    assert fed == 0.0
    assert nests.fledged + nests.starved + int(nests.nests["lost"][0]) > 0


def test_the_days_minutes_are_never_overspent():
    here = open_garden()
    white_larvae(here, MAY)
    nests = pairs(*Bird)
    for day in range(60, 319):
        today = day_of(day, rain_mm=float(day % 7))
        nests.forage(today, here, enemies())
        spent = nests.nests["parent_minutes"] + nests.nests["young_minutes"]
        assert np.all(spent <= nests.nests["parents_free"] * feeding_minutes(today[0], SHARED) + 1e-9)
        nests.feed(today, np.zeros((3, BEDS + 1, 7, 8)), np.zeros((3, BEDS + 1, 7, 8)))


def test_a_closed_net_offers_a_bird_neither_insects_nor_spiders():
    here = open_garden()
    white_larvae(here, MAY)
    here.gets_in[:4, Visitor.BIRD] = 0.0
    _, nests = risks(here, *Bird)
    assert not nests.book.offer[:, :4].any()
    assert not nests.book.shares[:, :4].any()
    assert nests.book.offer[:, 4:BEDS].any()
