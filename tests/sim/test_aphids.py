"""Cabbage aphids: where they land, how colonies grow, how they end, and that the ledger closes."""

import mesa
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.cast import GENERALISTS, PRODUCTS, Crop, Product, Visitor
from sim.compiled import Floats, Records, records
from sim.crops.plant import PLANT
from sim.insects.aphid_colony import FLOWS, LIFE, flight_level, rain_hazard, spray_hazard, weather_hazard
from sim.insects.aphids import Aphids
from sim.parameters.table import load_parameters
from sim.surroundings import TODAY, Surroundings, open_ground

BEDS = 3
IN_BED = 8
NO_KILL = np.zeros(PRODUCTS)
NO_RISK = np.zeros((BEDS, GENERALISTS))
LIVING = records(np.zeros(1, LIFE))
for _name in LIFE.names or ():
    LIVING[_name] = load_parameters().number(f"aphids.{_name}")


def day_at(day: int, mean_c: float = 20.0, rain_mm: float = 0.0) -> Records:
    today = records(np.zeros(1, TODAY))
    today["day"], today["day_of_year"], today["day_length_h"] = day, 150 + day, 15.0
    today["tmin_c"], today["tmax_c"], today["rain_mm"] = mean_c - 5.0, mean_c + 5.0, rain_mm
    return today


def garden_at(mean_c: float = 20.0, rain_mm: float = 0.0) -> Surroundings:
    surroundings = open_ground(np.full(BEDS, 8.0))
    surroundings.beds["tmin_c"], surroundings.beds["tmax_c"] = mean_c - 5.0, mean_c + 5.0
    surroundings.beds["rain_mm"] = rain_mm
    return surroundings


def kale(leaf_area_cm2: float = 2500.0) -> Records:
    plants = records(np.zeros(BEDS * IN_BED, PLANT))
    plants["bed"] = np.arange(plants.size) // IN_BED
    plants["crop"], plants["is_growing"], plants["leaf_area_cm2"] = int(Crop.KALE), 1, leaf_area_cm2
    return plants


def aphids(factor: float = 5.0, seed: int = 1) -> Aphids:
    return Aphids(mesa.Model(), load_parameters(), plant_count=BEDS * IN_BED, bed_count=BEDS, factor=factor, seed=seed)


def spend(
    who: Aphids,
    plants: Records,
    surroundings: Surroundings,
    days: int,
    risk: Floats = NO_RISK,
    kill: Floats = NO_KILL,
    first: int = 0,
) -> None:
    mean_c = float(surroundings.beds["tmin_c"][0] + 5.0)
    for day in range(first, first + days):
        today = day_at(day, mean_c, float(surroundings.beds["rain_mm"][0]))
        who.live(today, surroundings, np.arange(plants.size), plants, aphid_risk=risk, aphid_kill=kill)


def test_no_winged_ones_no_aphids() -> None:
    who, plants = aphids(factor=0.0), kale()
    spend(who, plants, garden_at(), 60)
    assert not plants["aphids"].any()
    assert who.alive() == 0.0


def test_they_settle_on_hosts_only() -> None:
    who, plants = aphids(factor=50.0), kale()
    plants["crop"][::2] = int(Crop.CUCUMBER)
    spend(who, plants, garden_at(), 20)
    assert not plants["aphids"][::2].any()
    assert plants["aphids"][1::2].sum() > 0.0


def test_plants_and_beds_carry_what_is_alive() -> None:
    who, plants = aphids(), kale()
    spend(who, plants, garden_at(), 30)
    assert plants["aphids"].sum() == pytest.approx(who.alive(), rel=0.2)
    assert (who.per_m2 * 8.0).sum() == pytest.approx(plants["aphids"].sum())


def test_a_net_that_nothing_passes_keeps_the_bed_clean() -> None:
    who, plants, surroundings = aphids(), kale(), garden_at()
    surroundings.gets_in[1] = 0.0
    spend(who, plants, surroundings, 60)
    assert not plants["aphids"][plants["bed"] == 1].any()
    assert plants["aphids"][plants["bed"] == 0].any()


def test_other_beds_have_the_same_luck_whatever_covers_this_one() -> None:
    covered, plain = kale(), kale()
    surroundings = garden_at()
    surroundings.gets_in[1] = 0.2
    spend(aphids(), covered, surroundings, 40)
    spend(aphids(), plain, garden_at(), 40)
    elsewhere = plain["bed"] != 1
    assert covered["aphids"][elsewhere].tobytes() == plain["aphids"][elsewhere].tobytes()


def test_out_of_their_enemies_reach_they_thrive() -> None:
    reached, free = kale(), kale()
    eaten = np.full((BEDS, GENERALISTS), 0.06)
    spend(aphids(), reached, garden_at(), 60, risk=eaten)
    shut = garden_at()
    shut.gets_in[:, Visitor.WINGED_APHID] = 0.3
    shut.gets_in[:, Visitor.SMALL_PARASITOID] = 0.02
    spend(aphids(), free, shut, 60, risk=0.05 * eaten)
    assert free["aphids"].sum() > 3.0 * reached["aphids"].sum()


def test_a_crowded_plant_stops_bearing_and_sends_off_winged_ones() -> None:
    who, plants = aphids(factor=50.0), kale(leaf_area_cm2=50.0)
    spend(who, plants, garden_at(), 90)
    room = load_parameters().number("aphids.crowd_per_cm2") * 50.0
    assert plants["aphids"].max() < 2.0 * room
    assert who.ledger()["flew_off"] > 0.0


def test_winged_ones_that_find_no_way_out_settle_inside() -> None:
    who, plants = aphids(factor=50.0), kale(leaf_area_cm2=50.0)
    surroundings = garden_at()
    spend(who, plants, surroundings, 60)
    flown = who.ledger()["flew_off"]
    surroundings.gets_in[:, Visitor.WINGED_APHID] = 0.0
    spend(who, plants, surroundings, 20, first=60)
    assert who.ledger()["flew_off"] == flown
    assert who.imbalance() < 1e-9


def test_soap_kills_only_while_wet() -> None:
    who, plants, surroundings = aphids(factor=50.0), kale(), garden_at()
    spend(who, plants, surroundings, 40)
    kill = NO_KILL.copy()
    kill[Product.SOAP] = 0.95
    surroundings.residue[:, Product.SOAP] = 1.0
    spend(who, plants, surroundings, 1, kill=kill, first=40)
    assert who.ledger()["sprayed"] == 0.0
    surroundings.contact[:, Product.SOAP] = 0.85
    before = plants["aphids"].sum()
    spend(who, plants, surroundings, 1, kill=kill, first=41)
    assert who.ledger()["sprayed"] > 0.6 * before


def test_a_spray_that_kills_nobody_changes_not_a_byte() -> None:
    sprayed, plain, surroundings = kale(), kale(), garden_at()
    surroundings.contact[:], surroundings.residue[:] = 1.0, 1.0
    spend(aphids(), sprayed, surroundings, 50)
    spend(aphids(), plain, garden_at(), 50)
    assert sprayed.tobytes() == plain.tobytes()


def test_a_jet_of_water_and_the_harvest_take_their_share() -> None:
    who, plants = aphids(factor=50.0), kale()
    spend(who, plants, garden_at(), 40)
    before = plants["aphids"].copy()
    who.wash(plants, bed=0, share=0.6)
    who.harvested(plants, np.array([IN_BED]), np.array([1.0]))
    assert plants["aphids"][:IN_BED] == pytest.approx(0.4 * before[:IN_BED])
    assert plants["aphids"][IN_BED] == 0.0
    assert who.ledger()["washed_off"] == pytest.approx(0.6 * before[:IN_BED].sum())
    assert who.ledger()["harvested"] == pytest.approx(before[IN_BED])
    assert who.imbalance() < 1e-9


def test_a_plant_that_is_gone_takes_its_colony_along() -> None:
    who, plants = aphids(factor=50.0), kale()
    spend(who, plants, garden_at(), 30)
    lost = plants["aphids"][0]
    plants["is_growing"][0] = 0
    spend(who, plants, garden_at(), 1, first=30)
    assert plants["aphids"][0] == 0.0
    assert who.ledger()["lost_host"] == pytest.approx(lost)


def test_enemies_fill_their_own_lines_of_the_ledger() -> None:
    who, plants = aphids(), kale()
    risk = NO_RISK.copy()
    risk[:, 2] = 0.1
    spend(who, plants, garden_at(), 40, risk=risk)
    assert who.ledger()["eaten_by_lady_beetle"] > 0.0
    assert who.ledger()["eaten_by_spider"] == 0.0


@settings(max_examples=30, deadline=None)
@given(
    mean_c=st.floats(-15.0, 38.0),
    rain_mm=st.floats(0.0, 60.0),
    gets_in=st.floats(0.0, 1.0),
    contact=st.floats(0.0, 1.0),
    kill=st.floats(0.0, 1.0),
    risk=st.floats(0.0, 2.0),
    leaf_cm2=st.floats(0.0, 4000.0),
    seed=st.integers(0, 1000),
)
def test_entries_equal_exits_and_alive(
    mean_c: float,
    rain_mm: float,
    gets_in: float,
    contact: float,
    kill: float,
    risk: float,
    leaf_cm2: float,
    seed: int,
) -> None:
    who, plants, surroundings = aphids(factor=50.0, seed=seed), kale(), garden_at()
    spend(who, plants, surroundings, 25)
    surroundings = garden_at(mean_c, rain_mm)
    surroundings.gets_in[:], surroundings.contact[:] = gets_in, contact
    plants["leaf_area_cm2"][::3] = leaf_cm2
    spend(who, plants, surroundings, 25, risk=NO_RISK + risk, kill=NO_KILL + kill, first=25)
    assert who.imbalance() < 1e-9
    assert (plants["aphids"] >= 0.0).all()
    assert set(who.ledger()) == {*FLOWS, "alive"}


def test_small_rules() -> None:
    living = LIVING[0]
    assert weather_hazard(15.0, 25.0, living) == 0.0
    assert weather_hazard(28.0, 38.0, living) > 0.0
    assert weather_hazard(-12.0, 0.0, living) > 0.0
    assert rain_hazard(2.0, living) == 0.0
    assert rain_hazard(15.0, living) < rain_hazard(25.0, living) == rain_hazard(80.0, living)
    assert flight_level(165, 10.0, 0.0, living) == 0.0
    assert flight_level(165, 22.0, 20.0, living) == 0.0
    assert flight_level(165, 22.0, 0.0, living) == pytest.approx(1.0)
    assert flight_level(60, 22.0, 0.0, living) < 0.3
    hazard = spray_hazard(np.array([0.5]), np.array([1.0]), np.array([0.2]), np.array([0.8]))
    assert hazard == pytest.approx(-np.log(1.0 - 0.4))


def test_small_wasps_take_aphids_only_where_the_net_lets_them_in() -> None:
    who, plants, surroundings = aphids(50.0), kale(), garden_at()
    surroundings.gets_in[:, Visitor.SMALL_PARASITOID] = 0.0
    spend(who, plants, surroundings, 30)
    assert who.alive() > 0.0
    assert who.ledger()["parasitised"] == 0.0
    surroundings.gets_in[:, Visitor.SMALL_PARASITOID] = 1.0
    spend(who, plants, surroundings, 5, first=30)
    assert who.ledger()["parasitised"] > 0.0


def test_those_who_come_on_one_day_do_not_all_land_on_one_plant() -> None:
    who, plants = aphids(200.0), kale()
    spend(who, plants, garden_at(), 1)
    came = who.ledger()["arrived"]
    assert came >= 10 * BEDS
    assert (plants["aphids"].reshape(BEDS, IN_BED) > 0.0).sum(axis=1).min() > IN_BED / 2
