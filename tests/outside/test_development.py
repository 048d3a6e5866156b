"""Time from stage to stage at constant temperatures, reared in the model and counted as rearers count."""

import pytest

from sim.cast import Species, Stage
from tests.outside.insect_trials import rear, unharmed
from tests.outside.register import check

EGG, ADULT, PUPA = Stage.EGG, Stage.ADULT, Stage.PUPA
L1, L2, L3, L4, L5 = list(Stage)[1:6]
WHITE, LOOPER, DIAMONDBACK = Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH


def days(species, mean_c, first=EGG, last=ADULT, **how):
    return rear(species, mean_c, **how).days_in(first, last)


@check("cabbage white eggs at 16, 21, 26 and 30 °C", source="nc22", read="read: data", independent=True)
@pytest.mark.parametrize(
    ("mean_c", "expected_d", "within_d"), [(16.0, 6.8, 1.8), (21.0, 5.0, 0.8), (26.0, 3.0, 0.8), (30.0, 2.8, 0.8)]
)
def test_cabbage_white_eggs(mean_c, expected_d, within_d):
    assert days(WHITE, mean_c, EGG, L1) == pytest.approx(expected_d, abs=within_d)


@check(
    "cabbage white from hatch to fourth instar, means of 16 to 30 °C with swings of 5",
    source="nc22",
    read="read: data",
    independent=False,
)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(16.0, 16.3), (21.0, 10.1), (26.0, 6.6), (30.0, 5.5)])
def test_cabbage_white_to_fourth_instar(mean_c, expected_d):
    assert 0.80 <= days(WHITE, mean_c, L1, L4, swing_c=5.0) / expected_d <= 1.15


@check(
    "cabbage white from hatch to pupa: no slower and at most a third quicker than larvae reared on a slow food",
    source="nc22",
    read="read: data",
    independent=False,
)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(16.0, 35.9), (21.0, 21.8), (26.0, 12.6), (30.0, 11.0)])
def test_cabbage_white_to_pupa(mean_c, expected_d):
    assert 0.70 <= days(WHITE, mean_c, L1, PUPA, swing_c=5.0) / expected_d <= 1.10


@check("cabbage white pupae at 16 to 30 °C, within 15 %", source="nc22", read="read: data", independent=False)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(16.0, 17.9), (21.0, 11.1), (26.0, 7.3), (30.0, 6.4)])
def test_cabbage_white_pupae(mean_c, expected_d):
    assert days(WHITE, mean_c, PUPA, ADULT) == pytest.approx(expected_d, rel=0.15)


@check(
    "each instar of cabbage white at 19 °C inside its printed range, 22.7 d in all within 15 %",
    source="ufic",
    read="read",
    independent=False,
)
def test_instars_of_cabbage_white_at_nineteen_degrees():
    reared = rear(WHITE, 19.0)
    ranges = {L1: (2.5, 6.0), L2: (1.5, 5.0), L3: (2.0, 5.0), L4: (3.0, 6.5), L5: (5.0, 18.0)}
    for stage, (shortest, longest) in ranges.items():
        assert shortest <= reared.days_in(stage, Stage(stage + 1)) <= longest, stage
    assert reared.days_in(L1, PUPA) == pytest.approx(22.7, rel=0.15)


@check("larvae of cabbage white in August take about 15 d, 11 to 20", source="ufic", read="read", independent=True)
@pytest.mark.parametrize("mean_c", [21.0, 22.0, 23.0])
def test_larvae_of_cabbage_white_in_august(mean_c):
    assert 11.0 <= days(WHITE, mean_c, L1, PUPA, swing_c=6.0) <= 20.0


@check(
    "cabbage white egg to adult from stage sums with a base of their own each, within 12 % of one base for all",
    source="ji79",
    read="read: second hand",
    independent=False,
)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(15.0, 61.6), (20.0, 32.4), (25.0, 22.2), (30.0, 16.9)])
def test_cabbage_white_egg_to_adult(mean_c, expected_d):
    assert days(WHITE, mean_c) == pytest.approx(expected_d, rel=0.12)


@check("looper eggs at 32, 27, 20 and 15 °C: 2, 3, 5, nearly 10 d", source="ufcl", read="read", independent=True)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(32.0, 2.0), (27.0, 3.0), (20.0, 5.0), (15.0, 10.0)])
def test_looper_eggs(mean_c, expected_d):
    assert days(LOOPER, mean_c, EGG, L1) == pytest.approx(expected_d, abs=0.6)


@check(
    "looper egg to adult: 19.9 d at 30 and 40.4 d at 20 °C",
    source="jackson1969",
    read="read: second hand",
    independent=False,
)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(30.0, 19.9), (20.0, 40.4)])
def test_looper_egg_to_adult(mean_c, expected_d):
    assert days(LOOPER, mean_c) == pytest.approx(expected_d, abs=1.5)


@check("looper egg to adult at 32 °C: 18 d", source="ufcl", read="read", independent=True)
def test_looper_in_the_heat():
    assert days(LOOPER, 32.0) == pytest.approx(18.0, abs=2.0)


@check(
    "looper in India at 25 °C: egg 2.1 d, larva and prepupa 13.4 d, pupa 7.3 d",
    source="gaikwad1983",
    read="read: second hand",
    independent=True,
)
def test_looper_in_india():
    reared = rear(LOOPER, 25.0)
    assert reared.days_in(EGG, L1) == pytest.approx(2.1, abs=1.1)
    assert reared.days_in(L1, PUPA) == pytest.approx(13.4, rel=0.25)
    assert reared.days_in(PUPA, ADULT) == pytest.approx(7.3, rel=0.25)


@check(
    "diamondback egg to adult at 25 °C on five hosts: 13.8 to 15.1 d, 13.5 to 17 over three trials",
    source="gholizadeh2009",
    read="read: abstract",
    independent=True,
)
def test_diamondback_egg_to_adult_at_25_degrees():
    assert 13.5 <= days(DIAMONDBACK, 25.0) <= 17.0


@check(
    "diamondback larvae at 25 °C on ten canolas: 7.7 to 8.9 d",
    source="soufbaf2010",
    read="read: abstract",
    independent=True,
)
def test_diamondback_larvae_at_25_degrees():
    assert 6.7 <= days(DIAMONDBACK, 25.0, L1, PUPA) <= 9.9


@check(
    "diamondback egg to adult inside what three other groups' lines give, 15 to 28 °C, within 5 %: 283 above 7.3",
    source="harcourt1954",
    read="read: second hand",
    independent=True,
)
@check("the same: 312.5 above 6.3", source="mf11", read="read: abstract", independent=True)
@check("the same: 261.6 above 7.84", source="gol07", read="read: abstract", independent=True)
@pytest.mark.parametrize("mean_c", [15.0, 20.0, 25.0, 28.0])
def test_diamondback_inside_the_band_of_other_groups(mean_c):
    lines = [283.0 / (mean_c - 7.3), 312.5 / (mean_c - 6.3), 261.6 / (mean_c - 7.84)]
    assert 0.95 * min(lines) <= days(DIAMONDBACK, mean_c) <= 1.05 * max(lines)


@check("diamondback completes its life at 32.5 °C", source="mf11", read="read: abstract", independent=False)
def test_diamondback_completes_at_the_upper_edge():
    reared = rear(DIAMONDBACK, 32.5, parameters=unharmed(["heat_death_per_day"]))
    assert reared.entered[ADULT] > 100


@check(
    "crucifer flea beetle egg to adult in soil: 24 d at 30 and 54 d at 20 °C",
    source="kin79",
    read="read: abstract",
    independent=False,
)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(30.0, 24.0), (20.0, 54.0)])
def test_flea_beetle_egg_to_adult(mean_c, expected_d):
    assert days(Species.FLEA_BEETLE, mean_c) == pytest.approx(expected_d, abs=4.0)


@check("harlequin bug egg to adult in 30 to 50 d of summer", source="nmsu", read="read", independent=False)
@pytest.mark.parametrize("mean_c", [22.0, 24.0, 26.0])
def test_harlequin_bug_egg_to_adult(mean_c):
    assert 30.0 <= days(Species.HARLEQUIN_BUG, mean_c) <= 50.0


@check(
    "striped cucumber beetle, by proxy: 40 to 60 d at 20 to 22.5 °C, 28 to 42 d at 27 °C",
    source="vegedge",
    read="read",
    independent=False,
)
@pytest.mark.parametrize(
    ("mean_c", "shortest_d", "longest_d"), [(20.0, 40.0, 60.0), (22.5, 40.0, 60.0), (27.0, 28.0, 42.0)]
)
def test_cucumber_beetle_egg_to_adult(mean_c, shortest_d, longest_d):
    assert shortest_d <= days(Species.CUCUMBER_BEETLE, mean_c) <= longest_d


@check(
    "its relative, the Mexican corn rootworm, from hatch to adult: about 105 d at 15 and 25 d at 30 °C",
    source="eppo2001",
    read="read",
    independent=False,
)
@pytest.mark.parametrize(("mean_c", "expected_d"), [(15.0, 105.0), (30.0, 25.0)])
def test_cucumber_beetle_like_its_relative(mean_c, expected_d):
    assert days(Species.CUCUMBER_BEETLE, mean_c, L1, ADULT) == pytest.approx(expected_d, abs=5.0)
