"""The actor: books that close, the same luck twice, nets that catch, whole years."""

import numpy as np
import pytest

from sim.birds.daybook import FED_COUNT, FED_KJ, TAKEN_COUNT
from sim.birds.menu import Place, PreyGroup
from sim.birds.nest import NestStage
from sim.cast import Bird
from sim.parameters.table import load_parameters
from tests.sim.bird_year import BEDS, day_of, enemies, live_year, open_garden, pairs, white_larvae


def test_the_same_seed_gives_the_same_bytes():
    first, second = (live_year(pairs(*Bird, seed=5), white_larvae).nests for _ in range(2))
    assert np.asarray(first.nests).tobytes() == np.asarray(second.nests).tobytes()
    assert first.book.season.tobytes() == second.book.season.tobytes()


def test_another_seed_gives_other_luck():
    laid = {tuple(live_year(pairs(*Bird, seed=seed)).nests.nests["eggs_laid"]) for seed in range(6)}
    assert len(laid) > 1


def test_a_pairs_luck_does_not_hang_on_its_neighbours():
    alone = live_year(pairs(Bird.TIT_LIKE, seed=3)).nests.nests
    with_others = live_year(pairs(Bird.TIT_LIKE, Bird.WREN_LIKE, seed=3)).nests.nests
    assert alone["egg_day_of_year"][0] == with_others["egg_day_of_year"][0]
    assert alone["fledged"][0] == with_others["fledged"][0]


def test_what_is_caught_in_beds_is_what_comes_home():
    nests = pairs(Bird.TIT_LIKE, Bird.TIT_LIKE, Bird.WREN_LIKE)
    here = open_garden()
    white_larvae(here, 150)
    today = day_of(150)
    nests.forage(today, here, enemies())
    before = nests.book.carried[:, :, Place.GARDEN].sum()
    caught = np.zeros((3, BEDS + 1, 7, 8))
    caught[Bird.TIT_LIKE, 2, 0, 5] = 7.0
    caught[Bird.WREN_LIKE, 3, 0, 4] = 4.0
    nests.feed(today, caught, caught * 100.0)
    assert nests.book.carried[:, :, Place.GARDEN].sum() == pytest.approx(before + 11.0)
    assert nests.book.today[TAKEN_COUNT, Bird.TIT_LIKE, Place.GARDEN, PreyGroup.CATERPILLAR] == pytest.approx(7.0)
    assert nests.book.today[TAKEN_COUNT, Bird.WREN_LIKE, Place.GARDEN, PreyGroup.CATERPILLAR] == pytest.approx(4.0)


def test_days_add_up_to_the_season_and_to_the_nests():
    def fed(nests, here, day):
        return nests.book.today.copy()

    year = live_year(pairs(*Bird), white_larvae, fed)
    assert np.sum(year.seen, axis=0) == pytest.approx(year.nests.book.season)
    total_kj = year.nests.book.season[FED_KJ].sum()
    assert year.nests.nests["fed_so_far_kj"].sum() == pytest.approx(total_kj)
    assert sum(year.nests.delivered_kj(place) for place in Place) == pytest.approx(total_kj)
    garden_kj = year.nests.nests["garden_so_far_kj"].sum()
    assert year.nests.garden_share == pytest.approx(garden_kj / total_kj)
    assert year.nests.fed_count(Place.GARDEN) == pytest.approx(year.nests.book.season[FED_COUNT, :, 0].sum())
    assert year.nests.fed_g(Place.GARDEN, PreyGroup.CATERPILLAR) > 0.0
    assert year.nests.brood_days_fed > 0.0


def test_days_of_food_for_a_brood_are_of_the_garden_alone():
    nests = live_year(pairs(*Bird), white_larvae).nests
    of_garden, of_all = nests.nests["garden_so_far_kj"], nests.nests["fed_so_far_kj"]
    days = nests.nests["brood_days_fed"]
    fed = of_garden > 0.0
    assert fed.any()
    need_kj = of_garden[fed] / days[fed]
    on_a_day = nests.nests["need_so_far_kj"][fed] / nests.nests["nest_days"][fed]
    assert (of_garden < of_all)[fed].all()
    assert (need_kj > 0.4 * on_a_day).all()
    assert (need_kj < 2.5 * on_a_day).all()  # an ordinary brood's day, be this one small or large


def test_nestlings_are_never_fed_beyond_their_need():
    nests = live_year(pairs(*Bird), white_larvae).nests.nests
    assert np.all(nests["fed_so_far_kj"] <= nests["need_so_far_kj"] + 1e-6)


def test_no_nests_is_a_year_like_any_other():
    nests = live_year(pairs(), white_larvae).nests
    assert nests.fledged == nests.starved == nests.nestlings == nests.entangled == 0
    assert nests.garden_share == 0.0


def test_a_safe_net_catches_no_bird_and_a_dangerous_one_some():
    safe = live_year(pairs(*Bird), entangle_per_contact=np.zeros(BEDS + 1)).nests
    assert safe.entangled == 0
    assert safe.entangled_expected == 0.0
    dangerous = [live_year(pairs(*Bird, seed=s), entangle_per_contact=np.full(BEDS + 1, 0.05)).nests for s in range(10)]
    caught, expected = sum(n.entangled for n in dangerous), sum(n.entangled_expected for n in dangerous)
    assert caught > 0
    assert abs(caught - expected) <= 4.0 * np.sqrt(expected)  # a Poisson count, four standard deviations


def test_a_nest_without_parents_is_lost():
    deadly = load_parameters().with_changes({"birds.shared.entangled_death_share": 1})
    nests = live_year(
        pairs(Bird.WREN_LIKE, parameters=deadly), entangle_per_contact=np.full(BEDS + 1, 50.0)
    ).nests.nests
    assert nests["parents"][0] == 0
    assert nests["stage"][0] == NestStage.LOST
    assert nests["fledged"][0] == 0


def test_a_summer_visitor_is_away_in_winter():
    def risk(nests, here, day):
        return day, here.risk[..., 5].sum()

    year = live_year(pairs(Bird.WREN_LIKE), lambda here, day: white_larvae(here, 150), risk)
    assert all(total == 0.0 for day, total in year.seen if day < 121 or day > 265)
    assert all(total > 0.0 for day, total in year.seen if 125 < day < 260)


def test_birds_without_a_nest_forage_too():
    def risk(nests, here, day):
        return here.risk[..., 4].sum()

    year = live_year(pairs(Bird.TIT_LIKE), lambda here, day: white_larvae(here, 150), risk)
    assert min(year.seen) > 0.0
