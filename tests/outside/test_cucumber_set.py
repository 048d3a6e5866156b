"""Flowers, visits, fruit and wilt of cucumber against printed figures."""

import numpy as np
import pytest

from sim.cast import Crop
from sim.compiled import records
from sim.crops.flowers import chance_to_set
from sim.crops.plant import FRUIT, FruitState
from sim.crops.table import crop_table
from sim.parameters.table import load_parameters
from tests.outside.crop_rows import grow_row, row_of, steady
from tests.outside.register import check

WARM = steady(21.5, 21.0)


def set_chance(*, honey=0, bumble=0, hand=0):
    fruit = records(np.zeros(1, FRUIT))
    fruit["honey_visits"], fruit["bumble_visits"], fruit["hand_visits"] = honey, bumble, hand
    crop = crop_table(load_parameters())[Crop.CUCUMBER]
    return chance_to_set(fruit[0], crop, False), float(fruit["well_shaped"][0])


def row(visits, **options):
    return grow_row(row_of(Crop.CUCUMBER, count=80, **options), WARM, days=110, every=2, visits=visits)


@check("bagged flowers of a cultivar that needs bees all abort", source="stanghellini1998", read="read: abstract",
       independent=False)  # fmt: skip
def test_bagged_flowers_set_nothing():
    bagged = row(0)
    assert bagged.plants.flows["flowers_opened"][0] > 100
    assert bagged.plants.flows["fruits_set"][0] == 0
    assert bagged.units == 0


@check("a self-fruitful cultivar under a net yields within 10 % of open flowers", source="none",
       read="common practice, no source", independent=True)  # fmt: skip
def test_self_fruitful_needs_no_visit():
    assert row(0, self_fruitful=1).kg == pytest.approx(row(12).kg, rel=0.10)


@pytest.mark.parametrize(("visits", "share"), [(1, 0.160), (4, 0.469), (8, 0.656), (12, 0.731)])
@check("set after 1, 4, 8, 12 honey bee visits", source="stanghellini1998", read="read: second hand",
       independent=False)  # fmt: skip
def test_honey_bee_visits_raise_set_along_the_curve(visits, share):
    assert set_chance(honey=visits)[0] == pytest.approx(share, abs=0.001)


@pytest.mark.parametrize(("visits", "share"), [(1, 0.230), (4, 0.588), (8, 0.733), (12, 0.768)])
@check("set after 1, 4, 8, 12 bumble bee visits", source="stanghellini1998", read="read: second hand",
       independent=False)  # fmt: skip
def test_bumble_bee_visits_raise_set_along_the_curve(visits, share):
    assert set_chance(bumble=visits)[0] == pytest.approx(share, abs=0.001)


@check("bumble bees set more than honey bees at 1, 6, 12 and 18 visits", source="stanghellini1998",
       read="read: abstract", independent=False)  # fmt: skip
def test_bumble_bees_beat_honey_bees_visit_for_visit():
    for visits in (1, 6, 12, 18):
        assert set_chance(bumble=visits)[0] > set_chance(honey=visits)[0]


@check("8 to 12 visits make a well-shaped fruit, few do not", source="co_pollination", read="read", independent=False)
def test_shape_needs_eight_to_twelve_visits():
    assert set_chance(honey=8)[1] > 0.8
    assert set_chance(honey=12)[1] > 0.9
    assert set_chance(honey=3)[1] < 0.6


@check("set of 0.76 by hand", source="stanghellini1998", read="read: second hand", independent=False)
def test_one_careful_hand_sets_most_flowers():
    assert set_chance(hand=1)[0] == pytest.approx(0.76, abs=0.02)


@check("home gardens without insects lose about 75 %, mixed local cultivars", source="motzke2015",
       read="read: abstract", independent=False)  # fmt: skip
def test_mixed_local_cultivars_lose_three_quarters_without_bees():
    local = load_parameters().with_changes({"crops.fruit.set_without_visit": 0.18})
    lost_share = 1.0 - row(0, parameters=local).kg / row(12, parameters=local).kg
    assert 0.60 <= lost_share <= 0.90


@check("flower to slicing fruit in 8 to 12 days", source="cucumber_garden_pages", read="read", independent=False)
def test_a_fruit_swells_in_its_time():
    ages: list[int] = []

    def look(now, day):
        is_ripe = (now.fruits["state"] == FruitState.GROWING) & (now.fruits["fresh_g"] >= 200.0)
        ages.extend((day - now.fruits["opened_day"][is_ripe]).tolist())

    grow_row(row_of(Crop.CUCUMBER, count=20), steady(24.0, 21.0), days=90, every=1, event=look)
    assert 7 <= float(np.median(ages)) <= 14


@check("a fruit can about double in a day, not more", source="cucumber_garden_pages", read="read", independent=False)
def test_a_fruit_about_doubles_in_a_day_at_best():
    ratios = []
    before: list[np.ndarray] = []

    def look(now, _day):
        mass = np.where(now.fruits["state"] == FruitState.GROWING, now.fruits["fresh_g"], 0.0)
        if before:
            growing = (before[-1] > 0.0) & (mass >= before[-1])
            ratios.extend((mass[growing] / before[-1][growing]).tolist())
        before.append(mass)

    grow_row(row_of(Crop.CUCUMBER), steady(26.0, 22.0), days=80, every=1, event=look)
    assert 1.4 <= max(ratios) <= 2.2


@check("picking lasts 3 to 6 weeks", source="tsu_anr3", read="read", independent=False)
def test_cucumbers_are_picked_for_three_to_six_weeks():
    days: list[int] = []

    def look(now, day):
        if now.ripe(0):
            days.append(day)

    grow_row(row_of(Crop.CUCUMBER), WARM, days=140, every=1, event=look)
    assert 21 <= max(days) - min(days) <= 56


@check("first wilting 7 to 21 days after infection, mostly 12 to 14", source="yao1996", read="read: abstract",
       independent=False)  # fmt: skip
def test_wilt_shows_after_two_weeks_and_kills_within_two_more():
    wilted, died = wilt_course()
    assert ((wilted >= 7) & (wilted <= 21)).all()
    assert 12 <= float(np.median(wilted)) <= 14
    assert ((died - wilted) <= 14).all()


@check("wilted plants die within two weeks", source="iowa2017", read="read", independent=False)
def test_wilted_plants_die_within_two_weeks():
    wilted, died = wilt_course()
    assert (died > wilted).all()
    assert ((died - wilted) <= 14).all()


def wilt_course():
    count = 40
    wilted, died = np.zeros(count), np.zeros(count)

    def look(now, day):
        if day == 20:
            now.plants["infected_day"] = day
        wilted[(now.plants["is_wilting"] == 1) & (wilted == 0)] = day - 20
        died[(now.plants["is_dead"] == 1) & (died == 0)] = day - 20

    grow_row(row_of(Crop.CUCUMBER, count=count), WARM, days=60, event=look)
    return wilted, died
