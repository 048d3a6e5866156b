"""Cabbage aphids against published development, spray effect and what covers do."""

import mesa
import numpy as np
import pytest

from sim.cast import GENERALISTS, PRODUCTS, Crop, Product, Visitor
from sim.compiled import Records, records
from sim.crops.plant import PLANT
from sim.enemies.generalists import Generalists
from sim.insects.aphid_colony import ADULT, AGES, FLOWS, LIFE, grow_colony, spray_hazard
from sim.insects.aphids import Aphids
from sim.parameters.table import Parameters, load_parameters
from sim.surroundings import TODAY, Surroundings, open_ground
from sim.weather.warmth import degree_days
from tests.outside.register import check

PLANTS = 20


def living(parameters: Parameters) -> Records:
    life = records(np.zeros(1, LIFE))
    for name in LIFE.names or ():
        life[name] = parameters.number(f"aphids.{name}")
    return life


def mean_days_to_adult(mean_c: float) -> float:
    """Mean days from birth to adult of a cohort of nymphs at a constant temperature, nobody dying or bearing."""
    parameters = load_parameters()
    life, instar_dd = living(parameters), parameters.numbers("aphids.instar_dd")
    life["young_per_female"] = 0.0
    life["adult_dd"] = 1e12
    dd = degree_days(mean_c, mean_c, float(life["base_c"][0]), float(life["upper_c"][0]))
    colony, flows = np.zeros(AGES), np.zeros(len(FLOWS))
    colony[0] = 1.0
    days, adults = 0.0, 0.0
    for day in range(1, 400):
        grow_colony(colony, dd, 0.0, life[0], instar_dd, flows)
        days += day * (colony[ADULT] - adults)
        adults = colony[ADULT]
    assert adults == pytest.approx(1.0)
    return days


@check("birth to adult at 20 °C takes 9.5 d", source="buck17", read="read: second hand", independent=False)
def test_birth_to_adult_at_twenty_degrees() -> None:
    assert mean_days_to_adult(20.0) == pytest.approx(9.5, abs=1.5)


@check(
    "birth to adult at 15 and 25 °C within the sums of four places, 127 to 182 degree-days above 4.7 to 7.1 °C",
    source="buck17",
    read="read: second hand",
    independent=True,
)
@pytest.mark.parametrize("mean_c", [12.0, 15.0, 25.0])
def test_birth_to_adult_inside_the_band_of_four_places(mean_c: float) -> None:
    quickest, slowest = 127.0 / (mean_c - 4.7), 182.0 / (mean_c - 7.1)
    assert 0.95 * quickest <= mean_days_to_adult(mean_c) <= 1.05 * slowest


@check(
    "soap that wets 85 % and kills 95 % of those cuts aphids by 81 %",
    source="soapw",
    read="read: second hand",
    independent=False,
)
def test_soap_cut() -> None:
    contact, kill = np.zeros(PRODUCTS), np.zeros(PRODUCTS)
    contact[Product.SOAP] = load_parameters().number("sprays.coverage_share")
    kill[Product.SOAP] = load_parameters().number("sprays.soap.aphid_kill")
    residue_share = load_parameters().numbers("aphids.residue_share")
    cut = 1.0 - np.exp(-spray_hazard(contact, np.zeros(PRODUCTS), residue_share, kill))
    assert cut == pytest.approx(0.81, abs=0.02)


@check("dry soap kills none", source="soapw", read="read: second hand", independent=False)
def test_dry_soap_kills_none() -> None:
    residue, kill = np.zeros(PRODUCTS), np.zeros(PRODUCTS)
    residue[Product.SOAP], kill[Product.SOAP] = 1.0, load_parameters().number("sprays.soap.aphid_kill")
    residue_share = load_parameters().numbers("aphids.residue_share")
    assert spray_hazard(np.zeros(PRODUCTS), residue, residue_share, kill) == 0.0


def summer(gets_in: dict[Visitor, float], seed: int, days_open_a_week: int = 0) -> float:
    """Return aphid-days per plant of kale over 120 warm days, with enemies and nets as given."""
    area_m2 = np.array([10.0])
    surroundings: Surroundings = open_ground(area_m2)
    plants = records(np.zeros(PLANTS, PLANT))
    plants["crop"], plants["is_growing"], plants["leaf_area_cm2"] = int(Crop.KALE), 1, 2000.0
    parameters, garden, today = load_parameters(), mesa.Model(), records(np.zeros(1, TODAY))
    enemies = Generalists(garden, parameters, bed_area_m2=area_m2, factors=np.ones(GENERALISTS))
    aphids = Aphids(garden, parameters, plant_count=PLANTS, bed_count=1, factor=1.0, seed=seed)
    total = 0.0
    for day in range(120):
        mean_c = 19.0 + 2.0 * np.sin(day / 9.0)
        today["day"], today["day_of_year"], today["tmin_c"], today["tmax_c"] = day, 130 + day, mean_c - 6, mean_c + 6
        surroundings.beds["tmin_c"], surroundings.beds["tmax_c"] = mean_c - 6.0, mean_c + 6.0
        is_open = day % 7 < days_open_a_week
        for visitor, share in gets_in.items():
            surroundings.gets_in[0, visitor] = 1.0 if is_open else share
        enemies.hunt(surroundings, aphids.per_m2)
        aphids.live(
            today, surroundings, np.arange(PLANTS), plants, aphid_risk=enemies.aphid_risk, aphid_kill=np.zeros(PRODUCTS)
        )
        enemies.live(
            surroundings,
            aphids_per_m2=aphids.per_m2,
            hedgerow_m=0.0,
            flower_strip_m2=0.0,
            enemy_kill=np.zeros((PRODUCTS, GENERALISTS)),
            bird_enemy_risk=np.zeros((1, GENERALISTS)),
        )
        total += float(plants["aphids"].mean())
    return total


COARSE_NET = {
    Visitor.WINGED_APHID: 0.5,
    Visitor.GROUND_BEETLE: 0.05,
    Visitor.SPIDER: 0.05,
    Visitor.LADY_BEETLE: 0.02,
    Visitor.LACEWING: 0.02,
    Visitor.SMALL_PARASITOID: 0.5,
}
TIGHT_VEIL = dict.fromkeys(COARSE_NET, 0.005)


@check(
    "nets that winged aphids pass and their enemies do not: aphids can rise under them",
    source="ach15",
    read="read: abstract",
    independent=True,
)
def test_aphids_can_rise_under_a_net() -> None:
    bare = np.array([summer({}, seed) for seed in range(6)])
    netted = np.array([summer(COARSE_NET, seed) for seed in range(6)])
    assert netted.mean() > 2.0 * bare.mean()


@check(
    "a net opened three days a week has fewer aphids than one that stays shut: enemies get in",
    source="sim14",
    read="read: abstract",
    independent=True,
)
def test_a_net_opened_three_days_a_week_has_fewer_aphids() -> None:
    shut = np.array([summer(COARSE_NET, seed) for seed in range(6)])
    opened = np.array([summer(COARSE_NET, seed, days_open_a_week=3) for seed in range(6)])
    assert opened.mean() < shut.mean()


@check(
    "under fine nets aphids can fall as well: few get in",
    source="sai17",
    read="read: abstract",
    independent=True,
)
def test_aphids_can_fall_under_a_fine_net() -> None:
    bare = np.array([summer({}, seed) for seed in range(6)])
    veiled = np.array([summer(TIGHT_VEIL, seed) for seed in range(6)])
    assert np.median(veiled) < 0.5 * np.median(bare)


@check(
    "in warm weather a colony that nobody eats grows by a fifth to a third a day",
    source="none",
    read="memory",
    independent=False,
)
def test_growth_of_an_unharmed_colony() -> None:
    parameters = load_parameters()
    life, instar_dd = living(parameters), parameters.numbers("aphids.instar_dd")
    dd = degree_days(15.0, 25.0, float(life["base_c"][0]), float(life["upper_c"][0]))
    colony, flows = np.zeros(AGES), np.zeros(len(FLOWS))
    colony[ADULT] = 1.0
    totals = []
    for _ in range(60):
        grow_colony(colony, dd, 0.0, life[0], instar_dd, flows)
        totals.append(colony.sum())
    daily = (totals[-1] / totals[-11]) ** 0.1
    assert 1.20 <= daily <= 1.36
