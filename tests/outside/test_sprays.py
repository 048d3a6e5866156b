"""What sprays kill, how long they last and whom they harm, against reviews, trials and safety tables."""

import mesa
import numpy as np
import pytest

from sim.cast import Crop, Product, Species, Stage
from sim.compiled import records
from sim.parameters import load_parameters
from sim.practices.kills import aphid_kill, bee_kill, eaten_share, enemy_kill, kill_table, wait_days, wasp_kill
from sim.practices.nets import Edges, Material, Nets
from sim.practices.sprays import Hour, Sprays, left_after
from sim.surroundings import TODAY, open_ground
from tests.outside.register import check

P = load_parameters()
MOTHS = (Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH)
LARVAE = [Stage.INSTAR_1, Stage.INSTAR_2, Stage.INSTAR_3, Stage.INSTAR_4, Stage.INSTAR_5]
NYMPHS = [Stage.INSTAR_2, Stage.INSTAR_3, Stage.INSTAR_4]


def met(product, days, parameters=P):
    """Return contact and residue of each day after one spray at dawn in dry sun, shape (days, 2)."""
    sprays = Sprays(mesa.Model(), parameters, distance_m=np.zeros((2, 2)), seed=1)
    near = open_ground(np.ones(2))
    today = records(np.zeros(1, TODAY))
    today["clear_share"] = 1.0
    sprays.spray(0, product, Hour.DAWN)
    rows = []
    for day in range(days):
        today["day"] = day
        sprays.write(today, near)
        rows.append((near.contact[0, product], near.residue[0, product]))
    return np.array(rows)


def cut(product, species, stages, days=7):
    """Return the share dead some days after one spray, of insects that stay and feed on the sprayed leaf."""
    kill = kill_table(P)[product, species, stages]
    by_eating = eaten_share(P)[product, species]
    alive = np.ones(len(stages))
    for contact, residue in met(product, days):
        alive *= (1.0 - kill * (1.0 - by_eating) * contact) * (1.0 - kill) ** (by_eating * residue)
    return float(1.0 - alive.mean())


def aphid_cut(product):
    return float(aphid_kill(P)[product] * met(product, 1)[0, 0])


def mixed_cuts(product):
    """Return the cut of caterpillars, flea beetles, cucumber beetles, true bugs and aphids."""
    return np.array(
        [
            np.mean([cut(product, moth, LARVAE) for moth in MOTHS]),
            cut(product, Species.FLEA_BEETLE, [Stage.ADULT]),
            cut(product, Species.CUCUMBER_BEETLE, [Stage.ADULT]),
            cut(product, Species.HARLEQUIN_BUG, [*NYMPHS, Stage.ADULT]),
            aphid_cut(product),
        ]
    )


@check(
    "Bt left after 1, 3, 7 days at half-lives of 1.5 and 4.3 d", source="behle1997", read="derived", independent=False
)
@pytest.mark.parametrize(("half_life", "expected"), [(1.5, [0.63, 0.25, 0.04]), (4.3, [0.85, 0.62, 0.32])])
def test_decay_of_bt(half_life, expected):
    residue = met(Product.BT, 8, P.with_changes({"sprays.bt.half_life_sunny_days": half_life}))[:, 1]
    assert residue[[1, 3, 7]] / residue[0] == pytest.approx(expected, abs=0.01)


@check("rain halves what is left at 10 or at 25 mm", source="wct", read="read", independent=False)
def test_rain_that_halves_bt_lies_between_the_two_rules():
    loss = P.number("sprays.bt.rain_loss_per_mm")
    assert left_after(0.0, 1.5, 10.0, loss) > 0.5 > left_after(0.0, 1.5, 25.0, loss)
    assert P.number("sprays.spinosad.rain_loss_per_mm") < loss  # it enters the leaf


@check("spinosad is of little effect after 3 to 7 days", source="wvv03", read="read: abstract", independent=False)
def test_spinosad_is_mostly_gone_in_a_week():
    residue = met(Product.SPINOSAD, 8)[:, 1]
    assert residue[7] / residue[0] < 0.25


@check("half of pyrethrins gone within hours of sun", source="pyr", read="read", independent=False)
def test_pyrethrins_do_not_see_the_next_evening():
    hours_of_sun = P.number("sprays.pyrethrins.half_life_sunny_days") * 13.0
    assert 1.7 <= hours_of_sun <= 16.0
    residue = met(Product.PYRETHRINS, 2)[:, 1]
    assert residue[1] / residue[0] < 0.15


@check("azadirachtin half-life 1 to 2.5 d", source="neem2", read="read: second hand", independent=False)
def test_azadirachtin_lasts_one_to_two_and_a_half_days():
    residue = met(Product.AZADIRACHTIN, 2)[:, 1]
    assert 0.5 <= residue[1] / residue[0] <= 0.5 ** (1 / 2.5)


@check("mean cut of mixed pests by product, 153 trials", source="div20", read="read: abstract", independent=False)
def test_mean_cut_of_mixed_pests():
    spinosad, pyrethrins = mixed_cuts(Product.SPINOSAD), mixed_cuts(Product.PYRETHRINS)
    azadirachtin = mixed_cuts(Product.AZADIRACHTIN)
    both = 1.0 - (1.0 - pyrethrins) * (1.0 - azadirachtin)
    assert spinosad.mean() > both.mean() > pyrethrins.mean() >= azadirachtin.mean()
    assert spinosad.mean() == pytest.approx(0.739, abs=0.10)
    assert both.mean() == pytest.approx(0.617, abs=0.10)
    assert pyrethrins.mean() == pytest.approx(0.486, abs=0.10)
    assert azadirachtin.mean() == pytest.approx(0.461, abs=0.10)


@check("beetles and stink bugs are the hard ones", source="div20", read="read: abstract", independent=False)
@pytest.mark.parametrize("product", [Product.SPINOSAD, Product.AZADIRACHTIN])
def test_caterpillars_are_cut_more_than_beetles_and_bugs(product):
    caterpillars, _, cucumber_beetles, bugs, _ = mixed_cuts(product)
    assert caterpillars > cucumber_beetles
    assert caterpillars > bugs


@check("half of the adult harlequin bugs gone: 61 % in a field, poor (under 50 %) in a guide", source="overall2007",
       read="read: abstract", independent=False)  # fmt: skip
def test_spinosad_takes_about_half_of_the_harlequin_bugs():
    assert 0.4 <= cut(Product.SPINOSAD, Species.HARLEQUIN_BUG, [Stage.ADULT]) <= 0.61


@check("a wetted stink bug dies, a deposit days old does not kill it", source="joseph2018", read="read: abstract",
       independent=False)  # fmt: skip
def test_a_deposit_of_spinosad_spares_those_that_suck():
    nymphs = [Stage.INSTAR_3]
    assert cut(Product.SPINOSAD, Species.HARLEQUIN_BUG, nymphs, days=1) > 0.0
    assert cut(Product.SPINOSAD, Species.HARLEQUIN_BUG, nymphs, days=7) == cut(
        Product.SPINOSAD, Species.HARLEQUIN_BUG, nymphs, days=1
    )


@check("Bt by instar: the first most, then the second", source="jz95", read="read: abstract", independent=False)
def test_bt_kills_small_larvae_best():
    kill = kill_table(P)[Product.BT, Species.CABBAGE_WHITE, LARVAE]
    assert np.all(np.diff(kill) <= 0.0)
    assert 1.6 <= kill[:2].mean() / kill[4] <= 4.0


@check("spinosad is good on all instars, Bt alone is not", source="pbl", read="read: abstract", independent=False)
def test_spinosad_falls_less_with_size():
    small, large = kill_table(P)[:, Species.CABBAGE_WHITE, [Stage.INSTAR_1, Stage.INSTAR_5]].T
    assert large[Product.SPINOSAD] / small[Product.SPINOSAD] > large[Product.BT] / small[Product.BT]


@check("one Bt spray on susceptible diamondback: 90 to 100 % dead", source="bt_resistance", read="read: abstract",
       independent=True)  # fmt: skip
def test_bt_on_mixed_diamondback_larvae():
    assert 0.80 <= cut(Product.BT, Species.DIAMONDBACK_MOTH, LARVAE[:4], days=5) <= 1.0


@check("Bt cuts diamondback damage by 85.7 to 94.6 %", source="leg15", read="read: abstract", independent=True)
def test_bt_on_young_diamondback_larvae():
    assert cut(Product.BT, Species.DIAMONDBACK_MOTH, LARVAE[:4], days=4) == pytest.approx(0.90, abs=0.08)


@check("Bt saves cabbage from caterpillars, pyrethrum and soap do not", source="alt_cabbage", read="read: abstract",
       independent=True)  # fmt: skip
def test_bt_beats_pyrethrins_and_soap_on_caterpillars():
    left = {product: 1.0 - cut(product, Species.CABBAGE_WHITE, LARVAE) for product in Product}
    assert left[Product.BT] < 0.5 * left[Product.PYRETHRINS]
    assert left[Product.BT] < 0.5 * left[Product.SOAP]


@check("covers beat organic sprays on flea beetles in greens", source="ky20", read="read: abstract", independent=False)
def test_a_cover_keeps_out_more_flea_beetles_than_a_spray_kills():
    nets = Nets(mesa.Model(), P, bed_count=2, seed=1)
    nets.put_on(0, Material.ROW_COVER, Edges.BURIED)
    near, today = open_ground(np.ones(2)), records(np.zeros(1, TODAY))
    today["day_length_h"] = 12.0
    nets.write(today, near)
    left_by_cover = near.gets_in[0, Species.FLEA_BEETLE]
    left_by_best_spray = min(1.0 - cut(product, Species.FLEA_BEETLE, [Stage.ADULT]) for product in Product)
    assert left_by_cover < left_by_best_spray


@check("parasitoids and predators after Bt and spinosad", source="wvv03", read="read: abstract", independent=False)
def test_spinosad_is_hard_on_wasps_and_soft_on_predators():
    reached = met(Product.SPINOSAD, 1)[0, 0]
    assert wasp_kill(P)[Product.SPINOSAD] * reached >= 0.50
    assert np.all(enemy_kill(P)[Product.SPINOSAD] * reached <= 0.25)
    assert wasp_kill(P)[Product.BT] == 0.0
    assert not enemy_kill(P)[Product.BT].any()


@check("Bt needs no special care for bees", source="ucf", read="read", independent=False)
def test_bt_spares_bees_and_spinosad_does_not():
    assert bee_kill(P)[Product.BT] == 0.0
    assert bee_kill(P)[Product.SPINOSAD] > bee_kill(P)[Product.AZADIRACHTIN]


@check("soap: 0.85 wetted, 0.95 of them die", source="soapw", read="read: second hand", independent=False)
def test_soap_on_aphids():
    assert aphid_cut(Product.SOAP) == pytest.approx(0.81, abs=0.02)
    assert met(Product.SOAP, 3)[1:].sum() == 0.0


@check("eaten spinosad is 5 to 10 times as deadly as touched", source="npic", read="read: second hand",
       independent=False)  # fmt: skip
def test_spinosad_works_by_eating():
    by_eating = eaten_share(P)[Product.SPINOSAD, Species.CABBAGE_WHITE]
    assert 5.0 <= by_eating / (1.0 - by_eating) <= 10.0


@check("days between spray and harvest", source="msx", read="read", independent=False)
def test_waiting_days():
    wait = wait_days(P)
    assert wait[Product.SPINOSAD, Crop.CUCUMBER] == 1
    assert wait[Product.SPINOSAD, Crop.TURNIP] == 3
    assert not wait[[Product.BT, Product.PYRETHRINS, Product.AZADIRACHTIN]].any()


@check("no spraying above 10 mph of wind", source="vtx", read="read", independent=False)
def test_wind_limit():
    assert Sprays(mesa.Model(), P, distance_m=np.zeros((2, 2)), seed=1).wind.limit_m_s == pytest.approx(
        10 * 0.44704, abs=0.05
    )
