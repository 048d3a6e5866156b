"""Generalist enemies against published losses, responses and the harm of sprays."""

import mesa
import numpy as np
import pytest

from sim.cast import GENERALISTS, PRODUCTS, Predator, Product, Species, Stage
from sim.compiled import Floats
from sim.enemies.generalists import Generalists
from sim.enemies.hunting import still_hungry
from sim.parameters.table import load_parameters
from sim.surroundings import open_ground
from tests.outside.register import check

AREA_M2 = np.array([10.0])
NO_APHIDS = np.zeros(1)
NO_BIRDS = np.zeros((1, GENERALISTS))
# Cabbage white at a constant 20 °C (Jones and Ives 1979, second hand): days as egg and in each instar.
WHITE_DAYS = np.array([50.5 / 9.8, 40.4 / 9.8, 23.8 / 8.7, 23.2 / 9.5, 28.7 / 9.4])


def settled(density_factor: float, mean_c: float = 20.0) -> tuple[Generalists, Floats]:
    surroundings = open_ground(AREA_M2)
    surroundings.beds["tmin_c"], surroundings.beds["tmax_c"] = mean_c - 5.0, mean_c + 5.0
    who = Generalists(
        mesa.Model(), load_parameters(), bed_area_m2=AREA_M2, factors=np.full(GENERALISTS, density_factor)
    )
    for _ in range(120):
        who.hunt(surroundings, NO_APHIDS)
        who.live(
            surroundings,
            aphids_per_m2=NO_APHIDS,
            hedgerow_m=0.0,
            flower_strip_m2=0.0,
            enemy_kill=np.zeros((PRODUCTS, GENERALISTS)),
            bird_enemy_risk=NO_BIRDS,
        )
    return who, surroundings.risk


def loss_by_stage(density_factor: float = 1.0) -> Floats:
    """Share of cabbage whites that arthropods take in the egg and in each of the first four instars."""
    _, risk = settled(density_factor)
    hazard = risk[0, Species.CABBAGE_WHITE, : WHITE_DAYS.size, :GENERALISTS].sum(axis=1)
    loss: Floats = 1.0 - np.exp(-hazard * WHITE_DAYS)
    return loss


def together(losses: Floats) -> float:
    return 1.0 - float(np.prod(1.0 - losses))


@check(
    "extra loss of cabbage white eggs and larvae with arthropods let in: 53 % on average, so 40 to 65 %",
    source="ss99",
    read="read: abstract",
    independent=False,
)
def test_loss_of_eggs_and_larvae_to_arthropods() -> None:
    assert 0.40 <= together(loss_by_stage()) <= 0.65


@check(
    "half and one and a half times the usual number of enemies stay within the range over eight cohorts, 23 to 80 %",
    source="ss99",
    read="read: abstract",
    independent=False,
)
def test_range_of_losses_over_cohorts() -> None:
    assert 0.23 <= together(loss_by_stage(0.5)) < together(loss_by_stage(1.5)) <= 0.80


@check("egg stage alone loses 0 to 44 % to arthropods", source="ss99", read="read: abstract", independent=True)
def test_egg_loss() -> None:
    assert 0.0 < loss_by_stage()[0] <= 0.44
    assert loss_by_stage(2.0)[0] <= 0.44


@check(
    "loss falls mostly on eggs and first instars",
    source="ss99",
    read="read: abstract",
    independent=True,
)
def test_most_of_the_loss_is_early() -> None:
    killed = -np.log(1.0 - loss_by_stage())
    assert killed[:2].sum() > 0.5 * killed.sum()


@check(
    "egg to third instar in New Zealand: 55.9 % lost to ground and plant arthropods, within 8 points",
    source="nz75",
    read="read: abstract",
    independent=False,
)
def test_loss_from_egg_to_third_instar() -> None:
    assert together(loss_by_stage()[:3]) == pytest.approx(0.559, abs=0.08)


@check(
    "looper larvae put out for a day: loss falls from the first to the fourth instar (51.9, 43.5, 30.1, 25.0 %)",
    source="soybeanlooper",
    read="read: abstract",
    independent=False,
)
def test_daily_loss_falls_with_size() -> None:
    _, risk = settled(1.0)
    daily = risk[0, Species.CABBAGE_LOOPER, Stage.INSTAR_1 : Stage.INSTAR_4 + 1, :GENERALISTS].sum(axis=1)
    published = -np.log(1.0 - np.array([0.519, 0.435, 0.301, 0.250]))
    assert (np.diff(daily) < 0.0).all()
    assert daily / daily[0] == pytest.approx(published / published[0], abs=0.12)


@check(
    "type II of two lacewing instars on moth eggs: plateau 244 and 217 a day, 162 and 135 at 100 eggs",
    source="iasj93331",
    read="read: abstract",
    independent=True,
)
@pytest.mark.parametrize(
    ("search", "handling_days", "plateau", "at_hundred"), [(4.85, 0.0041, 244.0, 162.0), (3.58, 0.0046, 217.0, 135.0)]
)
def test_lacewing_response(search: float, handling_days: float, plateau: float, at_hundred: float) -> None:
    taken = [search * eggs * still_hungry(search, 1.0 / handling_days, eggs) for eggs in (1e9, 100.0)]
    assert taken == pytest.approx([plateau, at_hundred], rel=0.01)


@check(
    "the model's lacewing larva, filled by moth eggs of 0.05 mg alone, eats 217 to 244 a day",
    source="iasj93331",
    read="read: abstract",
    independent=False,
)
def test_lacewing_appetite() -> None:
    ration_mg = load_parameters().numbers("enemies.ration_mg_per_day")[Predator.LACEWING]
    search = load_parameters().numbers("enemies.search_m2_per_day")[Predator.LACEWING]
    egg_mg, eggs_per_m2 = 0.05, 1e9
    eaten = search * eggs_per_m2 * still_hungry(search, ration_mg, eggs_per_m2 * egg_mg)
    assert 215.0 <= eaten <= 246.0


@check(
    "a lacewing larva among very many aphids eats 20 to 50 a day",
    source="lacewingpages",
    read="read",
    independent=True,
)
def test_lacewing_eats_aphids() -> None:
    parameters = load_parameters()
    search = parameters.numbers("enemies.search_m2_per_day")[Predator.LACEWING]
    ration_mg = parameters.numbers("enemies.ration_mg_per_day")[Predator.LACEWING]
    weight = parameters.numbers("enemies.aphid_weight")[Predator.LACEWING]
    other_mg = parameters.numbers("enemies.other_prey_mg_per_m2")[Predator.LACEWING]
    aphid_mg = parameters.number("enemies.aphid_mass_mg")
    aphids_per_m2 = 5000.0
    hungry = still_hungry(search, ration_mg, other_mg + weight * aphids_per_m2 * aphid_mg)
    assert 20.0 <= search * weight * aphids_per_m2 * hungry <= 50.0


def share_alive_after_spray(product: Product, kill: Floats) -> Floats:
    who, _ = settled(1.0)
    before = who.density_per_m2[0].copy()
    surroundings = open_ground(AREA_M2)
    surroundings.beds["tmin_c"], surroundings.beds["tmax_c"] = 15.0, 25.0
    surroundings.contact[0, product] = load_parameters().number("sprays.coverage_share")
    surroundings.residue[0, product] = 1.0
    who.hunt(surroundings, NO_APHIDS)
    who.live(
        surroundings,
        aphids_per_m2=NO_APHIDS,
        hedgerow_m=0.0,
        flower_strip_m2=0.0,
        enemy_kill=kill,
        bird_enemy_risk=NO_BIRDS,
    )
    share: Floats = who.density_per_m2[0] / before
    return share


def enemy_kill() -> Floats:
    parameters = load_parameters()
    rows = [parameters.numbers(f"sprays.{product.name.lower()}.enemy_kill") for product in Product]
    return np.array(rows)


@check("predators the day after Bt: unchanged", source="ucf", read="read", independent=False)
def test_bt_spares_predators() -> None:
    assert share_alive_after_spray(Product.BT, enemy_kill()) == pytest.approx(1.0, abs=0.01)


@check(
    "predators the day after spinosad: a quarter lost or less",
    source="wvv03",
    read="read: abstract",
    independent=False,
)
def test_spinosad_takes_a_quarter_of_predators_at_most() -> None:
    assert (share_alive_after_spray(Product.SPINOSAD, enemy_kill()) >= 0.75).all()


@check("pyrethrins are hard on predators, spinosad is not", source="ucf", read="read", independent=False)
def test_pyrethrins_are_harder_than_spinosad() -> None:
    pyrethrins = share_alive_after_spray(Product.PYRETHRINS, enemy_kill())
    assert (pyrethrins < share_alive_after_spray(Product.SPINOSAD, enemy_kill())).all()
    assert (pyrethrins < 0.7).all()


@check(
    "predators after spinosad: recovery is under way within a week",
    source="wvv03",
    read="read: abstract",
    independent=False,
)
def test_predators_recover_within_a_week_of_spinosad() -> None:
    who, _ = settled(1.0)
    surroundings = open_ground(AREA_M2)
    surroundings.beds["tmin_c"], surroundings.beds["tmax_c"] = 15.0, 25.0
    half_life_days = load_parameters().number("sprays.spinosad.half_life_sunny_days")
    coverage = load_parameters().number("sprays.coverage_share")
    mornings = [who.density_per_m2[0].copy()]
    for day in range(8):
        surroundings.contact[0, Product.SPINOSAD] = coverage if day == 0 else 0.0
        surroundings.residue[0, Product.SPINOSAD] = coverage * 0.5 ** (day / half_life_days)
        who.hunt(surroundings, NO_APHIDS)
        who.live(
            surroundings,
            aphids_per_m2=NO_APHIDS,
            hedgerow_m=0.0,
            flower_strip_m2=0.0,
            enemy_kill=enemy_kill(),
            bird_enemy_risk=NO_BIRDS,
        )
        mornings.append(who.density_per_m2[0].copy())
    assert (mornings[1] < mornings[0]).all()
    assert (mornings[8] > mornings[7]).all()
