"""The nest and its nestlings: growth, sharing, starving, fledging, timetable."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.birds.menu import build_menu
from sim.birds.nest import BROOD, NestStage
from sim.birds.nestlings import curve_g, full_gain_g, grow_nestling, nestling_need_kj, share_food
from sim.cast import Bird
from sim.parameters.table import load_parameters
from tests.sim.bird_year import live_year, pairs

MENU = build_menu(load_parameters())
TIT, SHARED = MENU.kinds[Bird.TIT_LIKE], MENU.shared[0]


def test_a_well_fed_nestling_follows_its_curve():
    mass_g = curve_g(0.0, TIT)
    for age in range(1, 18):
        mass_g = grow_nestling(mass_g, 1000.0, TIT, SHARED)
        assert mass_g == pytest.approx(curve_g(float(age), TIT))


def test_food_for_upkeep_alone_keeps_the_mass():
    need_kj = nestling_need_kj(6.0, TIT, SHARED)
    upkeep_kj = need_kj - SHARED["growth_cost_kj_per_g"] * full_gain_g(6.0, TIT)
    assert grow_nestling(6.0, upkeep_kj, TIT, SHARED) == pytest.approx(6.0)
    assert grow_nestling(6.0, upkeep_kj / 2.0, TIT, SHARED) < 6.0


@given(
    st.lists(st.floats(0.5, 11.0), min_size=1, max_size=BROOD),
    st.floats(0.0, 400.0),
)
def test_food_is_shared_without_loss_and_nobody_gets_too_much(masses, food_kj):
    brood = np.zeros(BROOD)
    brood[: len(masses)] = masses
    portions = np.zeros(BROOD)
    left_kj = share_food(brood, food_kj, TIT, SHARED, portions)
    needs = np.array([nestling_need_kj(mass, TIT, SHARED) for mass in masses])
    assert portions.sum() + left_kj == pytest.approx(food_kj, abs=1e-9)
    assert np.all(portions[: len(masses)] <= needs + 1e-9)
    assert np.all(portions[len(masses) :] == 0.0)
    assert portions.sum() == pytest.approx(min(food_kj, needs.sum()), abs=1e-6)


def test_the_lightest_gets_least_when_food_is_short():
    brood = np.zeros(BROOD)
    brood[:3] = 6.0, 5.0, 3.0
    portions = np.zeros(BROOD)
    share_food(brood, 20.0, TIT, SHARED, portions)
    assert portions[0] > portions[1] > portions[2] > 0.0


def test_every_egg_and_nestling_is_accounted_for():
    for seed in range(12):
        nests = live_year(pairs(*Bird, seed=seed)).nests.nests
        assert np.all(nests["nestlings"] == 0)
        assert np.all(nests["hatched"] == nests["fledged"] + nests["starved"] + nests["lost"])
        assert np.all(nests["hatched"] <= nests["eggs_laid"])


def test_dates_follow_clutch_incubation_and_nestling_days():
    certain = load_parameters().with_changes(
        {
            "birds.tit_like.first_egg_spread_days": 0,
            "birds.tit_like.clutch_spread_eggs": 0,
            "birds.tit_like.failure_per_nest": 0,
            "birds.tit_like.second_brood_share": 0,
        }
    )
    stages = live_year(
        pairs(Bird.TIT_LIKE, parameters=certain), watch=lambda nests, here, day: int(nests.nests["stage"][0])
    ).seen
    hatch = 60 + stages.index(NestStage.NESTLINGS)
    assert hatch == 115 + 7 - 1 + 13
    assert stages.count(NestStage.NESTLINGS) in range(17, 22)
    assert stages[-1] == NestStage.DONE


def test_an_earlier_spring_moves_nests():
    def first_eggs(shift: float) -> int:
        stages = live_year(
            pairs(Bird.TIT_LIKE, spring_shift_days=shift), watch=lambda nests, here, day: int(nests.nests["stage"][0])
        ).seen
        return stages.index(NestStage.LAYING)

    assert first_eggs(-10.0) == first_eggs(0.0) - 10


def test_hungry_broods_starve_and_leave_late():
    rich = [live_year(pairs(Bird.TIT_LIKE, seed=seed)).nests for seed in range(8)]
    poor = [live_year(pairs(Bird.TIT_LIKE, seed=seed, territory_food=0.6)).nests for seed in range(8)]
    assert sum(nests.starved for nests in poor) > sum(nests.starved for nests in rich)
    assert sum(nests.fledged for nests in poor) < sum(nests.fledged for nests in rich)


def test_second_broods_can_be_switched_off():
    none = load_parameters().with_changes(
        {"birds.wren_like.second_brood_share": 0, "birds.wren_like.replacement_share": 0}
    )
    one = [live_year(pairs(Bird.WREN_LIKE, seed=seed, parameters=none)).nests.nests["clutches"][0] for seed in range(5)]
    two = [live_year(pairs(Bird.WREN_LIKE, seed=seed)).nests.nests["clutches"][0] for seed in range(5)]
    assert one == [1] * 5
    assert sum(two) > 5


def test_a_box_put_up_late_is_used_in_season_only():
    nests = pairs()

    def hang_in_september(here, day):
        if day == 250:
            nests.settle(Bird.TIT_LIKE, 10.0)

    live_year(nests, hang_in_september)
    assert nests.nests["eggs_laid"][0] == 0
    assert nests.nests["stage"][0] == NestStage.DONE
