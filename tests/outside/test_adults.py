"""How long adults live, how many eggs they lay and when, on plants in a roomy cage; and a rate of increase."""

import numpy as np
import pytest

from sim.cast import Species, Stage
from sim.parameters import load_parameters
from tests.outside.insect_trials import BIG_LEAF_CM2, Box, day_of, life_of_adults, rear, roomy, unharmed
from tests.outside.register import check

WHITE, LOOPER, DIAMONDBACK = Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH
HARLEQUIN = Species.HARLEQUIN_BUG
NUMBER = 200


def clear_days(mean_c, number, **weather):
    return [day_of(mean_c, swing_c=5.0, **weather) for _ in range(number)]


@check(
    "cabbage white adults at 20 °C live 15.6 d on average, some over 22 d",
    source="gj77",
    read="read: abstract",
    independent=False,
)
def test_life_of_cabbage_white():
    _, alive = life_of_adults(WHITE, clear_days(20.0, 45), number=NUMBER)
    assert alive.sum() / NUMBER + 0.5 == pytest.approx(15.6, abs=2.0)
    assert alive[22] > 0


@check(
    "cabbage whites lay most eggs at the age of 6 d at 20 °C", source="gj77", read="read: abstract", independent=False
)
def test_peak_of_laying():
    eggs, alive = life_of_adults(WHITE, clear_days(20.0, 45), number=NUMBER)
    each = eggs[:15] * NUMBER / np.maximum(1, alive[:15])
    assert np.argmax(each) + 0.5 == pytest.approx(6.0, abs=1.5)


@check(
    "after dull days with few eggs, a sunny day brings more eggs than one among sunny days",
    source="gj77",
    read="read: abstract",
    independent=True,
)
def test_a_sunny_day_after_dull_ones():
    dull, sunny = clear_days(22.0, 6, clear_share=0.25), clear_days(22.0, 1, clear_share=0.9)
    after_dull, _ = life_of_adults(WHITE, dull + sunny, number=NUMBER)
    after_sun, _ = life_of_adults(WHITE, sunny * 7, number=NUMBER)
    assert after_dull[1:6].mean() < 0.5 * after_sun[1:6].mean()
    assert after_dull[6] > 1.1 * after_sun[6]


@check(
    "daily eggs of cabbage white rise with the day's temperature",
    source="gj77",
    read="read: abstract",
    independent=False,
)
def test_eggs_rise_with_temperature():
    first_days = [life_of_adults(WHITE, clear_days(mean_c, 6), number=NUMBER)[0].sum() for mean_c in (13.0, 17.0, 21.0)]
    assert first_days == sorted(first_days)
    assert first_days[2] > 2.0 * first_days[0]


@check("eggs of a looper in her life: 200 to 600", source="idtools", read="read", independent=False)
def test_eggs_of_a_looper():
    eggs, _ = life_of_adults(LOOPER, clear_days(22.0, 45), number=NUMBER)
    assert 200.0 <= eggs.sum() <= 600.0


@check("loopers live 10 to 12 d as adults, 7 to 16 over sources", source="idtools", read="read", independent=False)
def test_life_of_a_looper():
    _, alive = life_of_adults(LOOPER, clear_days(22.0, 45), number=NUMBER)
    assert 7.0 <= alive.sum() / NUMBER + 0.5 <= 16.0


@check("a diamondback moth at 20 °C lays 104 eggs", source="ahmad2008", read="read: abstract", independent=False)
def test_eggs_of_a_diamondback_moth():
    eggs, _ = life_of_adults(DIAMONDBACK, clear_days(20.0, 30), number=NUMBER)
    assert eggs.sum() == pytest.approx(104.0, rel=0.15)


@check(
    "diamondback rate of increase at 25 °C with laboratory deaths alone: 0.12 to 0.25 a day over crops",
    source="two_sex_tables",
    read="read: abstract",
    independent=True,
)
def test_rate_of_increase_of_diamondback():
    parameters = unharmed(["failed_share"])
    reared = rear(DIAMONDBACK, 25.0, parameters=parameters, number=400)
    eggs, _ = life_of_adults(DIAMONDBACK, clear_days(25.0, 40), number=NUMBER)
    daughters = eggs * reared.entered[Stage.ADULT] / 400.0 / 2.0
    ages = reared.days_to[Stage.ADULT] + np.arange(len(eggs)) + 0.5
    rates = np.linspace(0.05, 0.40, 351)
    excess = [(daughters * np.exp(-rate * ages)).sum() - 1.0 for rate in rates]  # the equation of Euler and Lotka
    rate = rates[int(np.argmin(np.abs(excess)))]
    assert 0.12 <= rate <= 0.25


@check("a harlequin bug lays at most 164 eggs, and 60 or more", source="nmsu", read="read", independent=False)
@check("her life is often 48 d, up to 80", source="nmsu", read="read", independent=False)
def test_eggs_and_life_of_a_harlequin_bug():
    eggs, alive = life_of_adults(HARLEQUIN, clear_days(25.0, 110), number=NUMBER)
    assert 60.0 <= eggs.sum() <= 164.0
    assert 35.0 <= alive.sum() / NUMBER + 0.5 <= 60.0


@check("a harlequin bug lays a mass of twelve every 3 to 5 d", source="nmsu", read="read", independent=False)
def test_masses_of_a_harlequin_bug():
    eggs, alive = life_of_adults(HARLEQUIN, clear_days(26.0, 40), number=NUMBER)
    a_day = eggs[15:30].sum() * NUMBER / alive[15:30].sum()
    assert 3.0 <= 12.0 / a_day <= 5.0
    assert all((eggs * NUMBER).round().astype(int) % 12 == 0)


@check(
    "cabbage whites in a cage without nectar laid about 30 eggs, 28 and 33 in two trials",
    source="sea24",
    read="read: data",
    independent=False,
)
def test_eggs_of_caged_cabbage_whites():
    eggs, _ = life_of_adults(WHITE, clear_days(20.0, 45), number=NUMBER, parameters=unharmed())
    assert 15.0 <= eggs.sum() <= 45.0


@check(
    "eggs fall at random on equal plants: their variance is like their mean (plain collards)",
    source="ce1983",
    read="read: abstract",
    independent=True,
)
def test_eggs_fall_at_random_on_equal_plants():
    box = Box(WHITE, roomy(WHITE), plants=60)
    box.shut()
    box.put(Stage.ADULT, 5, inside=0, warmth_dd=40.0)
    box.live(day_of(20.0, swing_c=5.0), flies=True)
    eggs = np.bincount(box.alive["plant"][box.alive["stage"] == Stage.EGG], minlength=60)
    assert eggs.sum() > 60
    assert 0.6 <= eggs.var(ddof=1) / eggs.mean() <= 1.5


@check(
    "larger plants get more cabbage white eggs",
    source="ee1979",
    read="read: abstract",
    independent=False,
)
def test_larger_plants_get_more_eggs():
    box = Box(WHITE, roomy(WHITE), plants=2)
    box.plants["leaf_area_cm2"] = [BIG_LEAF_CM2, BIG_LEAF_CM2 / 4.0]
    box.shut()
    box.put(Stage.ADULT, 100, inside=0, warmth_dd=40.0)
    box.live(day_of(20.0, swing_c=5.0), flies=True)
    large, small = np.bincount(box.alive["plant"][box.alive["stage"] == Stage.EGG], minlength=2)
    assert large > 1.3 * small


@check(
    "rim plants may get more eggs than those inside, 1.2 to 2.5 times",
    source="pnw",
    read="read",
    independent=False,
)
def test_rim_plants_get_more_eggs():
    assert 1.2 <= load_parameters().number("moths.cabbage_white.edge_factor") <= 2.5
    box = Box(WHITE, roomy(WHITE), plants=2)
    box.plants["edge_share"] = [1.0, 0.0]
    box.shut()
    box.put(Stage.ADULT, 100, inside=0, warmth_dd=40.0)
    box.live(day_of(20.0, swing_c=5.0), flies=True)
    rim, inside = np.bincount(box.alive["plant"][box.alive["stage"] == Stage.EGG], minlength=2)
    assert 1.2 <= rim / inside <= 2.5
