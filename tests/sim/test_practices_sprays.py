"""Sprays: contact on the day, residue that fades and washes off, drift, flowers, weather, and nulls to the bit."""

import math

import mesa
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cast import PRODUCTS, Product, Species, Stage
from sim.compiled import records
from sim.parameters import load_parameters
from sim.practices.kills import aphid_kill, bee_kill, eaten_share, enemy_kill, kill_table, wait_days, wasp_kill
from sim.practices.sprays import Hour, Sprays, drift_share, left_after, together
from sim.practices.workday import Workday
from sim.surroundings import TODAY, open_ground

BEDS = 4
shares = st.floats(0.0, 1.0)


def a_day(day=0, rain_mm=0.0, clear_share=1.0):
    days = records(np.zeros(1, TODAY))
    days["day"], days["rain_mm"], days["clear_share"], days["day_length_h"] = day, rain_mm, clear_share, 13.0
    return days[0]


def new_sprays(seed=1, numbers=None, spacing_m=1.5, **neighbour):
    parameters = load_parameters().with_changes({f"sprays.{key}": value for key, value in (numbers or {}).items()})
    places = np.arange(BEDS) * spacing_m
    distance_m = np.abs(np.subtract.outer(places, places))
    return Sprays(mesa.Model(), parameters, distance_m=distance_m, seed=seed, **neighbour)


def lived(sprays, days=1, first=0, rain_mm=0.0, clear_share=1.0, near=None):
    near = near or open_ground(np.ones(BEDS))
    for day in range(first, first + days):
        near.beds["rain_mm"] = rain_mm
        sprays.write(a_day(day, rain_mm, clear_share), near)
    return near


def test_nothing_sprayed_leaves_everything_at_zero():
    near = lived(new_sprays(), 30)
    assert not near.contact.any()
    assert not near.residue.any()
    assert not near.bee_harm.any()


def test_contact_lasts_one_day_and_residue_stays():
    sprays = new_sprays()
    sprays.spray(0, Product.SPINOSAD, Hour.DAWN)
    near = lived(sprays)
    assert near.contact[0, Product.SPINOSAD] == pytest.approx(0.85)
    assert near.residue[0, Product.SPINOSAD] == pytest.approx(0.85)
    lived(sprays, first=1, near=near)
    assert near.contact[0, Product.SPINOSAD] == 0.0
    assert near.residue[0, Product.SPINOSAD] == pytest.approx(0.85 * 0.5 ** (1 / 3))
    assert not near.contact[:, Product.BT].any()


def test_a_spray_at_dusk_is_eaten_from_tomorrow():
    sprays = new_sprays()
    sprays.spray(0, Product.BT, Hour.DUSK)
    near = lived(sprays)
    assert near.contact[0, Product.BT] == pytest.approx(0.85)
    assert near.residue[0, Product.BT] == 0.0
    lived(sprays, first=1, near=near)
    assert near.residue[0, Product.BT] == pytest.approx(0.85)


def test_soap_leaves_no_residue():
    sprays = new_sprays()
    sprays.spray(0, Product.SOAP, Hour.DAWN)
    near = lived(sprays)
    assert near.contact[0, Product.SOAP] == pytest.approx(0.85)
    assert near.residue[0, Product.SOAP] == 0.0
    assert lived(sprays, 5, first=1, near=near).residue[0, Product.SOAP] == 0.0


def residue_two_days_after(**weather):
    sprays = new_sprays()
    sprays.spray(0, Product.BT, Hour.DAWN)
    return lived(sprays, 3, **weather).residue[0, Product.BT]


def test_rain_and_sun_shorten_a_residue():
    assert residue_two_days_after(rain_mm=10.0) < residue_two_days_after()
    assert residue_two_days_after(clear_share=0.0) > residue_two_days_after(clear_share=1.0)


def test_rain_that_a_net_breaks_washes_less():
    sprays, near = new_sprays(), open_ground(np.ones(BEDS))
    for bed in (0, 2):
        sprays.spray(bed, Product.BT, Hour.DAWN)
    near.beds["rain_mm"] = [8.0, 0.0, 20.0, 20.0]
    for day in range(2):
        sprays.write(a_day(day, 20.0), near)
    assert near.residue[0, Product.BT] > near.residue[2, Product.BT] > 0.0


@given(days=st.floats(0, 30), half=st.floats(0.1, 7), rain=st.floats(0, 80), loss=st.floats(0, 1))
def test_what_is_left_is_a_share_and_less_after_more_rain(days, half, rain, loss):
    left = left_after(days, half, rain, loss)
    assert 0.0 <= left <= 1.0
    assert left_after(days, half, rain + 1.0, loss) <= left


@given(first=shares, second=shares)
def test_two_shares_together_are_a_share_and_no_less_than_either(first, second):
    both = together(first, second)
    assert max(first, second) - 1e-12 <= both <= 1.0 + 1e-12


def test_drift_falls_with_distance_and_rises_with_wind():
    sprays = new_sprays(spacing_m=3.0)
    sprays.spray(0, Product.PYRETHRINS, Hour.NOON)
    contact = lived(sprays).contact[:, Product.PYRETHRINS]
    assert contact[0] > contact[1] > contact[2] > contact[3] > 0.0
    assert contact[1] / contact[2] == pytest.approx(2.0**3)
    assert drift_share(0.05, 0.2, 1.5, 1.0) == 0.05
    calm = [sprays.wind.drift_at(day, Hour.DAWN) for day in range(200)]
    windy = [sprays.wind.drift_at(day, Hour.NOON) for day in range(200)]
    assert np.all(np.array(windy) >= np.array(calm))


def test_no_drift_when_drift_is_zero():
    sprays = new_sprays(numbers={"drift_share": [0.0, 0.0, 0.0]})
    sprays.spray(0, Product.SPINOSAD, Hour.NOON)
    near = lived(sprays)
    assert near.contact[0].any()
    assert not near.contact[1:].any()
    assert not near.residue[1:].any()
    assert not near.bee_harm[1:].any()


def test_a_neighbour_drifts_over_every_bed_on_his_days():
    sprays = new_sprays(neighbour_share=0.1, neighbour_every_days=3, neighbour_product=Product.PYRETHRINS)
    touched = []
    near = open_ground(np.ones(BEDS))
    for day in range(7):
        sprays.write(a_day(day), near)
        touched.append(bool(np.all(near.contact[:, Product.PYRETHRINS] > 0.0)))
    assert touched == [False, False, True, False, False, True, False]


def test_flowers_harm_bees_most_at_noon_and_least_after_dusk():
    harm = {}
    for hour in Hour:
        sprays = new_sprays()
        sprays.spray(0, Product.SPINOSAD, hour)
        near = lived(sprays)
        today = near.bee_harm[0, Product.SPINOSAD]
        lived(sprays, first=1, near=near)
        harm[hour] = max(today, near.bee_harm[0, Product.SPINOSAD])
    assert harm[Hour.NOON] == 1.0
    assert harm[Hour.NOON] > harm[Hour.DAWN] > harm[Hour.DUSK] > 0.0
    assert harm[Hour.DUSK] == pytest.approx(0.1, abs=0.01)


def test_no_spraying_in_wind_or_rain():
    sprays = new_sprays()
    assert not any(sprays.is_fit(a_day(day, rain_mm=15.0), Hour.DUSK) for day in range(50))
    fit = [sprays.is_fit(a_day(day), Hour.DUSK) for day in range(2000)]
    still = [sprays.wind.at(day, Hour.DUSK) <= 4.5 for day in range(2000)]
    assert fit == still
    assert 0.8 < np.mean(fit) < 1.0


def test_the_wind_keeps_its_mean_and_is_the_same_for_every_plan():
    sprays, other = new_sprays(), new_sprays()
    winds = [sprays.wind.at(day, Hour.NOON) for day in range(20_000)]
    assert np.mean(winds) == pytest.approx(2.0 * 1.2, rel=0.02)
    # Rayleigh: the standard deviation is sqrt(4/pi - 1) of the mean
    assert np.std(winds) == pytest.approx(2.4 * math.sqrt(4 / math.pi - 1), rel=0.03)
    other.spray(0, Product.BT, Hour.DAWN)
    lived(other, 5)
    assert winds[:50] == [other.wind.at(day, Hour.NOON) for day in range(50)]


def test_sprays_follow_the_workday():
    sprays = new_sprays()
    sprays.follow(Workday(sprayed=[(2, Product.BT, Hour.DAWN)]))
    assert lived(sprays).contact[2, Product.BT] == pytest.approx(0.85)


def test_tables_have_the_shapes_that_guilds_expect():
    parameters = load_parameters()
    assert kill_table(parameters).shape == (PRODUCTS, len(Species), len(Stage))
    assert not kill_table(parameters)[:, Species.PARASITOID_WASP].any()
    assert eaten_share(parameters).shape == (PRODUCTS, len(Species))
    for row in (wasp_kill, aphid_kill, bee_kill):
        values = row(parameters)
        assert values.shape == (PRODUCTS,)
        assert np.all((values >= 0.0) & (values <= 1.0))
    assert enemy_kill(parameters).shape == (PRODUCTS, 4)
    assert wait_days(parameters).shape == (PRODUCTS, 11)


def test_what_lies_on_a_leaf_reaches_those_that_suck_by_a_share_of_its_own():
    parameters = load_parameters()
    by_eating = eaten_share(parameters)
    assert np.all(by_eating[:, Species.HARLEQUIN_BUG] == 0.0)
    assert by_eating[Product.SPINOSAD, Species.FLEA_BEETLE] == by_eating[Product.SPINOSAD, Species.CABBAGE_WHITE] > 0.5
    alike = eaten_share(parameters.with_changes({"sprays.eaten_by_sap_feeders_share": 1.0}))
    assert np.all(alike == alike[:, [Species.CABBAGE_WHITE]])


def test_beetle_larvae_in_the_soil_and_unfed_stages_are_spared_by_what_must_be_eaten():
    table = kill_table(load_parameters())
    assert not table[Product.BT][:, [Stage.EGG, Stage.PUPA, Stage.ADULT]].any()
    assert not table[:, Species.CUCUMBER_BEETLE, : Stage.ADULT].any()


def test_under_a_net_that_shades_a_deposit_that_light_breaks_down_lasts_longer():
    sprays, near = new_sprays(spacing_m=1000.0), open_ground(np.ones(BEDS))
    near.beds["light_share"][1] = 0.3
    for bed in (0, 1):
        sprays.spray(bed, Product.SPINOSAD, Hour.DAWN)
    lived(sprays, days=4, near=near)
    assert near.residue[1, Product.SPINOSAD] > near.residue[0, Product.SPINOSAD] > 0.0


def test_flowers_sprayed_once_harm_bees_less_each_day_until_they_harm_none():
    sprays = new_sprays()
    sprays.spray(0, Product.PYRETHRINS, Hour.NOON)
    harm = [float(lived(sprays, first=day).bee_harm[0, Product.PYRETHRINS]) for day in range(4)]
    assert harm[0] > harm[1] > harm[2] >= harm[3] >= 0.0
    assert harm[3] < 0.01


def test_rain_that_fell_before_a_spray_washes_none_of_it_off():
    tomorrow = {}
    for hour in Hour:
        sprays = new_sprays()
        sprays.spray(0, Product.BT, hour)
        lived(sprays, rain_mm=20.0, clear_share=0.0)
        tomorrow[hour] = float(lived(sprays, first=1).residue[0, Product.BT])
    assert tomorrow[Hour.DUSK] == pytest.approx(0.85)
    assert tomorrow[Hour.DUSK] > tomorrow[Hour.NOON] > tomorrow[Hour.DAWN] > 0.0
