"""The gardener's minutes and money: lifted nets, days that are too short, jobs that go on, what is paid once."""

import math
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.parameters import load_parameters
from sim.practices.workday import Seen, Task
from sim.scenario.actions import (
    CleanUp,
    Cover,
    HandPick,
    HandPollinate,
    Pick,
    PlantFlowerStrip,
    PlantHedgerow,
    PutUpNestBox,
    Scout,
    Spray,
    SprayAtThreshold,
    Till,
    Uncover,
    WashOff,
    Weed,
)
from tests.sim.gardener_walk import BED, FIRST, Walk, days_with, hire, season


def test_work_under_a_net_opens_it_for_as_long_as_it_takes():
    gardener = hire(Cover(do="cover", days_after_planting=0), Weed(do="weed", every_days=50, days_after_planting=3))
    workdays = season(gardener)
    lift, weeding = 2.0 + 0.5 * 4.8, 0.8 * 4.8
    assert workdays[13].openings == [(0, pytest.approx(lift + weeding))]
    assert gardener.minutes[13, Task.WEED] == pytest.approx(lift + weeding)
    bare = season(hire(Weed(do="weed", every_days=50, days_after_planting=3)))
    assert not days_with(bare, "openings")


def test_two_jobs_in_a_day_lift_the_net_once():
    jobs = (Weed(do="weed", every_days=99, since="04-02"), HandPick(do="hand_pick", every_days=99, since="04-02"))
    gardener = hire(Cover(do="cover", days_after_planting=0), *jobs)
    season(gardener)
    assert gardener.minutes[32].sum() == pytest.approx(4.4 + 0.8 * 4.8 + 20 * 20 / 60)


def test_mixing_a_spray_is_paid_once_a_day_and_opens_no_net():
    beds = (BED, BED)
    gardener = hire(
        Cover(do="cover", beds=("bed0",), days_after_planting=0),
        Spray(do="spray", product="bt", every_days=99, since="04-01"),
        beds=beds,
    )
    workdays = season(gardener)
    assert gardener.minutes[31, Task.SPRAY] == pytest.approx(12.0 + 2 * 0.15 * 4.8 + 4.4)
    assert workdays[31].openings == [(0, pytest.approx(0.15 * 4.8 + 4.4))]


def test_unlimited_minutes_put_nothing_off():
    gardener = hire(*EVERYTHING, beds=(BED, BED, BED))
    season(gardener)
    assert gardener.put_off.sum() == 0


def test_the_day_is_no_longer_than_it_is():
    gardener = hire(*EVERYTHING, beds=(BED, BED, BED), minutes_per_day=15.0)
    season(gardener)
    assert gardener.minutes[1:].sum(axis=1).max() <= 15.0 + 1e-9
    assert gardener.put_off.sum() > 0


def test_a_job_longer_than_a_day_goes_on_the_next():
    gardener = hire(Cover(do="cover", days_after_planting=0), minutes_per_day=6.0)
    workdays = season(gardener)  # planting takes 10 minutes, covering 14.4
    assert days_with(workdays, "planted") == [11]
    assert days_with(workdays, "covered") == [14]
    assert gardener.minutes[:, Task.COVER].sum() == pytest.approx(14.4)
    assert gardener.put_off[:, Task.PLANT].tolist()[10:12] == [1, 0]


def test_a_search_cut_short_does_a_share_and_the_rest_tomorrow():
    gardener = hire(HandPick(do="hand_pick", every_days=30, since="04-01"), minutes_per_day=4.0)
    workdays = season(gardener)
    assert workdays[31].hand_picked == [(0, pytest.approx(0.6), 20.0)]
    assert workdays[32].hand_picked == [(0, pytest.approx(0.4), 20.0)]


def test_flowers_missed_today_are_not_made_up_for():
    actions = (HandPollinate(do="hand_pollinate", every_days=1, visits=5),)
    gardener = hire(*actions, minutes_per_day=3.0)  # 6 flowers of 5 touches take 6 minutes
    workdays = season(gardener, Walk(bloom_day=40))
    assert workdays[39].pollinated == []
    assert all(workdays[day].pollinated == [(0, 5, pytest.approx(0.5))] for day in range(40, 50))


def test_the_pressing_task_comes_first():
    jobs = (Weed(do="weed", every_days=99, since="04-01"), Scout(do="scout", every_days=99, since="04-01"))
    workdays = season(hire(*jobs, minutes_per_day=5.0))
    assert days_with(workdays, "scouted") == [31]
    assert days_with(workdays, "weeded") == [32]


def test_no_work_on_days_off():
    gardener = hire(HandPick(do="hand_pick", every_days=1), works_on=(5,))  # Saturdays; 1 March 2025 is one
    workdays = season(gardener)
    assert all((FIRST + timedelta(days=day)).weekday() == 5 for day in days_with(workdays, "hand_picked"))
    assert len(days_with(workdays, "hand_picked")) == 16
    assert days_with(workdays, "planted") == [14]


def test_what_stands_from_the_start_is_there_on_the_first_day():
    gardener = hire(
        PlantHedgerow(do="plant_hedgerow", length_m=10.0, age_years=5.0),
        PlantFlowerStrip(do="plant_flower_strip", area_m2=6.0),
        PutUpNestBox(do="put_up_nest_box", kind="wren_like", count=2),
        PlantFlowerStrip(do="plant_flower_strip", area_m2=3.0, on="03-20"),
        minutes_per_day=60.0,
    )
    workdays = season(gardener)
    assert workdays[0].hedgerows == [(10.0, 5.0)]
    assert workdays[0].flower_strip_m2 == 6.0
    assert workdays[0].nest_boxes == [("wren_like", 2, 15.0)]
    assert workdays[19].flower_strip_m2 == 3.0
    assert gardener.minutes[0].sum() == pytest.approx(150.0 + 24.0 + 90.0)
    again = season(hire(PlantHedgerow(do="plant_hedgerow", length_m=10.0), is_first_season=False))
    assert not days_with(again, "hedgerows")


def test_a_net_is_paid_once_a_season_as_a_share_of_its_life():
    gardener = hire(
        Cover(do="cover", days_after_planting=0),
        Uncover(do="uncover", on="04-01"),
        Cover(do="cover", on="04-20"),
    )
    season(gardener)
    assert gardener.cost_usd[:, Task.COVER].sum() == pytest.approx(4.8 * (2.1 / 5 * 1.7 + 1.5 / 8))


def test_the_sprayer_is_paid_once():
    gardener = hire(Spray(do="spray", product="spinosad", every_days=10, since="04-01", times=3))
    season(gardener)
    assert gardener.cost_usd[:, Task.SPRAY].sum() == pytest.approx(3 * 0.08 * 4.8 + 30 / 5)


EVERYTHING = (
    Cover(do="cover", days_after_planting=0),
    Uncover(do="uncover", at="first_bloom"),
    Spray(do="spray", product="spinosad", every_days=7),
    Scout(do="scout", every_days=7),
    SprayAtThreshold(do="spray_at_threshold", product="bt", caterpillar_infested_share=0.1),
    HandPick(do="hand_pick", every_days=4),
    WashOff(do="wash_off", every_days=9),
    HandPollinate(do="hand_pollinate", visits=2),
    Weed(do="weed", every_days=10),
    Pick(do="pick", every_days=3),
    CleanUp(do="clean_up", at="last_picking"),
    Till(do="till", on="06-20"),
)


@given(
    actions=st.lists(st.sampled_from(EVERYTHING), max_size=8),
    minutes=st.one_of(st.floats(0.0, 90.0), st.just(math.inf)),
    finished=st.integers(20, 130),
    sheet=st.floats(0.0, 1.0),
)
@settings(max_examples=25, deadline=None)
def test_any_plan_keeps_within_the_day_and_twice_gives_the_same(actions, minutes, finished, sheet):
    def live():
        gardener = hire(*actions, beds=(BED, BED), minutes_per_day=minutes)
        workdays = season(gardener, Walk(finished_day=finished, sheet=Seen(sheet)))
        return gardener, workdays

    (gardener, workdays), (again, workdays_again) = live(), live()
    assert workdays == workdays_again
    assert np.array_equal(gardener.minutes, again.minutes)
    assert np.all(gardener.minutes >= 0.0)
    assert np.all(gardener.minutes.sum(axis=1) <= minutes + 1e-9)
    covered = set()
    for workday in workdays:
        for bed in workday.uncovered:
            covered.remove(bed)
        covered |= {covering.bed for covering in workday.covered}
        assert {bed for bed, _ in workday.openings} <= covered


def test_a_hedgerow_is_paid_over_the_years_that_it_lives():
    price, years = (load_parameters().number(f"labour.hedgerow_{name}") for name in ("price_usd_per_m", "life_years"))
    gardener = hire(PlantHedgerow(do="plant_hedgerow", length_m=10.0))
    season(gardener)
    assert years > 1
    assert gardener.cost_usd[:, Task.PLANT_HEDGEROW].sum() == pytest.approx(10.0 * price / years)


def test_a_net_of_another_cloth_is_paid_by_itself():
    one = Cover(do="cover", days_after_planting=0), Uncover(do="uncover", on="04-01")
    again = Cover(do="cover", on="04-20"), Cover(do="cover", on="04-20", material="veil")
    spent = []
    for second in again:
        gardener = hire(*one, second)
        season(gardener)
        spent.append(gardener.cost_usd[:, Task.COVER].sum())
    assert spent[1] > spent[0]
