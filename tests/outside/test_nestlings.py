"""Nestlings against published growth, energy and survival."""

import math
from itertools import pairwise

import numpy as np
import pytest

from sim.birds.menu import KIND, build_menu
from sim.birds.nest import BROOD, NEST, NestStage, turn_page
from sim.birds.nestlings import curve_g, full_gain_g, grow_nestling, nestling_need_kj, upkeep_kj
from sim.cast import Bird
from sim.compiled import records
from sim.parameters.table import load_parameters
from tests.outside.register import check
from tests.sim.bird_year import live_year, pairs

MENU = build_menu(load_parameters())
TIT, SHARED = MENU.kinds[Bird.TIT_LIKE], MENU.shared[0]


def whole_need_kj() -> float:
    mass_g, total_kj = curve_g(0.0, TIT), 0.0
    for _ in range(17):
        total_kj += nestling_need_kj(mass_g, TIT, SHARED)
        mass_g += full_gain_g(mass_g, TIT)
    return total_kj


@check("daily expenditure of nestlings by mass", source="mh98", read="read: abstract", independent=False)
@pytest.mark.parametrize(("mass_g", "kj"), [(10, 26.4), (11, 28.3), (12, 30.3), (17, 39.4), (22, 48.0)])
def test_upkeep(mass_g, kj):
    assert upkeep_kj(float(mass_g), SHARED) == pytest.approx(kj, abs=0.1)


@check("energy of one tit-like nestling over 17 days, 382 kJ", source="mh98", read="derived", independent=False)
def test_energy_of_one_nestling():
    assert whole_need_kj() == pytest.approx(382.0, rel=0.02)


@check("the same by another published allometry, 6.65 A^0.852 t^0.71", source="none", read="memory", independent=True)
def test_energy_of_one_nestling_by_another_line():
    assert whole_need_kj() == pytest.approx(6.65 * 11.0**0.852 * 17.0**0.71, rel=0.05)


@check("tree swallow curve: fastest gain, days from 10 to 90 %", source="tsw", read="read: abstract", independent=True)
def test_the_logistic_has_the_swallows_pace():
    swallow = records(np.zeros(1, KIND))
    swallow["growth_top_g"], swallow["growth_rate_per_day"], swallow["growth_middle_day"] = 22.4, 0.51, 6.0
    ages = np.linspace(0.0, 20.0, 4001)
    masses = np.array([curve_g(age, swallow[0]) for age in ages])
    assert np.gradient(masses, ages).max() == pytest.approx(2.86, rel=0.01)
    days = ages[np.searchsorted(masses, 0.9 * 22.4)] - ages[np.searchsorted(masses, 0.1 * 22.4)]
    assert days == pytest.approx(8.6, rel=0.01)


@check("chickadee hatchlings weigh about a gram", source="pug", read="read", independent=True)
def test_mass_at_hatching():
    assert 0.7 <= curve_g(0.0, TIT) <= 1.2


@check("tits reach their top mass at day 13 to 14", source="ore83", read="read: abstract", independent=True)
def test_top_mass_at_two_weeks():
    mass_g = curve_g(0.0, TIT)
    for _ in range(14):
        mass_g = grow_nestling(mass_g, 1000.0, TIT, SHARED)
    assert mass_g > 0.93 * TIT["growth_top_g"]


@check("no nestling below 70 % of adult mass lives on", source="vt89", read="read: abstract", independent=False)
@pytest.mark.parametrize(("share", "fledged"), [(0.65, 0), (1.0, 1)])
def test_light_young_do_not_leave(share, fledged):
    nests, masses = records(np.zeros(1, NEST)), np.zeros((1, BROOD))
    nests["stage"], nests["nestlings"], nests["is_here"], nests["parents"] = NestStage.NESTLINGS, 1, 1, 2
    nests["age_days"] = TIT["nestling_days"] + SHARED["fledging_wait_days"]
    masses[0, 0] = share * TIT["growth_top_g"]
    safe = build_menu(load_parameters().with_changes({"birds.tit_like.failure_per_nest": 0}))
    turn_page(nests, masses, safe.kinds, safe.shared, 0, 160, 0.0)
    assert nests["fledged"][0] == fledged
    assert nests["starved"][0] == 1 - fledged


@check(
    "of young out of the nest 66 to 81 % live on day 4, 53 % on day 20",
    source="ndw01",
    read="read: abstract",
    independent=False,
)
def test_survival_out_of_the_nest():
    nests, masses = records(np.zeros(1, NEST)), np.zeros((1, BROOD))
    nests["stage"], nests["fledglings"] = NestStage.DONE, 1.0
    alive = []
    for day in range(20):
        turn_page(nests, masses, MENU.kinds, MENU.shared, day, 160 + day, 0.0)
        alive.append(float(nests["fledglings"][0]))
    assert 0.66 <= alive[3] <= 0.81
    assert alive[19] == pytest.approx(0.53, abs=0.01)


def gains(rainy: bool) -> tuple[list[float], list[float]]:
    """Mean daily gain of a tit-like nestling of 3 to 11 days, on dry and on wet days of the same years."""
    dry, wet = [], []

    for seed in range(40):

        def rain_mm(day: int, seed: int = seed) -> float:  # other days are wet in each year, so age and rain do not mix
            return 8.0 if rainy and ((day + 3 * seed) * 7919) % 10 < 3 else 0.0

        def weigh(nests, here, day, rain_mm=rain_mm):
            nest = nests.nests[0]
            return int(nest["nestlings"]), int(nest["age_days"]), nests.nestling_g[0].sum(), rain_mm(day)

        seen = live_year(pairs(Bird.TIT_LIKE, seed=seed), watch=weigh, rain_mm=rain_mm).seen
        for (count, age, before_g, _), (count_after, age_after, after_g, rain) in pairwise(seen):
            if count == count_after > 0 and age_after == age + 1 and 3 <= age_after <= 11:
                (wet if rain else dry).append((after_g - before_g) / count)
    return dry, wet


@check("nestlings gain 10 to 20 % less on wet days", source="kn94", read="read: abstract", independent=False)
def test_rain_slows_growth():
    dry, wet = gains(rainy=True)
    assert min(len(dry), len(wet)) > 50
    assert 0.77 <= float(np.mean(wet)) / float(np.mean(dry)) <= 0.93


@check(
    "a late chick weighs 38 to 60 % of the heaviest at hatching", source="hwg", read="read: abstract", independent=False
)
def test_the_last_chick_is_behind():
    assert 0.38 <= SHARED["late_chick_share"] <= 0.70  # house wrens stagger their hatching more than tits
    behind_g, ahead_g = curve_g(0.0, TIT) * SHARED["late_chick_share"], curve_g(0.0, TIT)
    assert behind_g / ahead_g == pytest.approx(math.exp(-TIT["growth_rate_per_day"]), abs=0.03)


@check(
    "in poor years late, light chicks are the ones that die", source="ore83", read="read: abstract", independent=True
)
def test_the_light_chick_dies_first():
    lost_first = {True: 0, False: 0}

    def weigh(nests, here, day):
        return nests.nestling_g[0].copy(), int(nests.nests["starved"][0])

    for seed in range(30):
        seen = live_year(pairs(Bird.TIT_LIKE, seed=seed, territory_food=0.7), watch=weigh).seen
        for (before_g, starved), (after_g, starved_after) in pairwise(seen):
            if starved_after == starved + 1 and after_g.any():
                died = np.flatnonzero((before_g > 0.0) & (after_g == 0.0))
                lost_first[bool(before_g[died[0]] == before_g[before_g > 0.0].min())] += 1
    assert lost_first[True] > 5
    assert lost_first[False] == 0
