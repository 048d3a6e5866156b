"""The gardener: days of actions, minutes that run out, thresholds on what was scouted, waits before picking, money."""

import math
from datetime import date, timedelta
from typing import Any

import mesa
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.cast import Crop, Product
from sim.compiled import records
from sim.parameters import load_parameters
from sim.practices.fabrics import Edges, Material
from sim.practices.gardener import Gardener
from sim.practices.orders import TASK_OF, days_of_year
from sim.practices.workday import BedFacts, Seen, Task
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
    SkipBed,
    Spray,
    SprayAtThreshold,
    Till,
    Uncover,
    WashOff,
    Weed,
)
from sim.surroundings import TODAY

FIRST = date(2025, 3, 1)
DAYS = 120
PLANTED = "03-11"  # day 10
BED = BedFacts(Crop.COLLARD, 4.8, 20, PLANTED, "picking", False)


class Walk:
    """What the beds look like by day of the season; each answer can be set."""

    def __init__(self, **answers: Any) -> None:
        self.day = 0
        self.bloom_day = answers.get("bloom_day", 40)
        self.ripe_from_day = answers.get("ripe_from_day", 60)
        self.finished_day = answers.get("finished_day", 1000)
        self.sheet = answers.get("sheet", Seen())
        self.is_fine = answers.get("is_fine", lambda day: True)
        self.looks = 0

    def crop_event(self, bed, event):
        return self.day >= (self.ripe_from_day if event == "first_picking" else self.bloom_day)

    def is_finished(self, bed):
        return self.day >= self.finished_day

    def ripe(self, bed):
        return 40 if self.day >= self.ripe_from_day else 0

    def flowers_open(self, bed):
        return 6 if self.day >= self.bloom_day else 0

    def seen(self, bed, plants, day):
        self.looks += plants
        return self.sheet(day) if callable(self.sheet) else self.sheet

    def is_fit_to_spray(self, hour):
        return self.is_fine(self.day)


def hire(*actions, beds=(BED,), minutes_per_day=math.inf, **more):
    def positions(names):
        return tuple(int(name.removeprefix("bed")) for name in names) or tuple(range(len(beds)))

    return Gardener(
        mesa.Model(),
        load_parameters(),
        beds=beds,
        actions=actions,
        bed_positions=positions,
        first_date=FIRST,
        day_count=DAYS,
        minutes_per_day=minutes_per_day,
        **more,
    )


def season(gardener, walk=None, days=DAYS):
    walk = walk or Walk()
    today = records(np.zeros(days, TODAY))
    today["day"] = np.arange(days)
    workdays = []
    for day in range(days):
        walk.day = day
        workdays.append(gardener.work(today[day], FIRST + timedelta(days=day), walk))
    return workdays


def days_with(workdays, what):
    return [day for day, workday in enumerate(workdays) if getattr(workday, what)]


def test_beds_are_planted_on_their_date():
    beds = (BED, BedFacts(Crop.KALE, 4.8, 20, None, "picking", False))
    workdays = season(hire(beds=beds))
    assert days_with(workdays, "planted") == [10]
    assert workdays[10].planted == [0]


def test_planting_and_covering_fall_on_one_day():
    workdays = season(hire(Cover(do="cover", days_after_planting=0)))
    assert days_with(workdays, "covered") == [10]
    cover = workdays[10].covered[0]
    assert (cover.material, cover.edges, cover.open_hours) == (Material.INSECT_MESH, Edges.BURIED, None)


def test_a_late_cover_waits_its_days():
    assert days_with(season(hire(Cover(do="cover", days_after_planting=14))), "covered") == [24]
    assert days_with(season(hire(Cover(do="cover", at="planting", delay_days=3))), "covered") == [13]
    assert days_with(season(hire(Cover(do="cover", on="03-05"))), "covered") == [4]


def test_uncovering_waits_for_bloom():
    gardener = hire(Cover(do="cover", days_after_planting=0), Uncover(do="uncover", at="first_bloom", delay_days=2))
    workdays = season(gardener)
    assert days_with(workdays, "uncovered") == [42]
    assert gardener.is_covered == [False]


def test_nets_are_checked_weekly_while_they_are_on():
    gardener = hire(Cover(do="cover", days_after_planting=0), Uncover(do="uncover", on="04-02"))
    assert days_with(season(gardener), "net_checks") == [17, 24, 31]


def test_a_net_taken_off_and_put_on_again_is_checked_once_a_week():
    gardener = hire(
        Cover(do="cover", days_after_planting=0), Uncover(do="uncover", on="03-20"), Cover(do="cover", on="03-22")
    )
    assert days_with(season(gardener, days=40), "net_checks") == [17, 24, 31, 38]
    apart = hire(
        Cover(do="cover", days_after_planting=0), Uncover(do="uncover", on="03-18"), Cover(do="cover", on="03-22")
    )
    assert days_with(season(apart, days=40), "net_checks") == [28, 35]


def test_a_net_is_taken_off_once():
    uncover = Uncover(do="uncover", at="first_bloom")
    workdays = season(hire(Cover(do="cover", days_after_planting=0), uncover, uncover))
    assert days_with(workdays, "uncovered") == [40]
    assert workdays[40].uncovered == [0]


def test_calendar_sprays_keep_their_rhythm_and_number():
    spray = Spray(do="spray", product="bt", every_days=7, since="04-01", until="05-01", hour="noon")
    workdays = season(hire(spray))
    assert days_with(workdays, "sprayed") == [31, 38, 45, 52, 59]
    assert workdays[31].sprayed == [(0, Product.BT, 1)]
    assert len(days_with(season(hire(spray.model_copy(update={"times": 2}))), "sprayed")) == 2


def test_wind_and_rain_put_a_spray_off():
    spray = Spray(do="spray", product="bt", every_days=7, since="04-01", times=1)
    gardener = hire(spray)
    assert days_with(season(gardener, Walk(is_fine=lambda day: day > 33)), "sprayed") == [34]
    assert gardener.days_lost_to_weather == 3


def test_repeated_work_ends_when_the_bed_is_finished():
    workdays = season(hire(HandPick(do="hand_pick", every_days=5)), Walk(finished_day=30))
    assert days_with(workdays, "hand_picked") == [10, 15, 20, 25]


def test_picking_waits_until_something_is_ripe():
    workdays = season(hire(Pick(do="pick", every_days=7)), Walk(ripe_from_day=50))
    assert days_with(workdays, "picked")[:3] == [50, 57, 64]


def test_a_bed_cut_at_once_is_cut_when_half_is_ready_then_gone_over_again():
    bed = BedFacts(Crop.CABBAGE, 4.8, 12, PLANTED, "once", False)
    assert days_with(season(hire(beds=(bed,)), Walk(ripe_from_day=80, finished_day=90)), "picked") == [80, 87]


def test_a_trap_strip_is_never_picked():
    bed = BedFacts(Crop.MUSTARD, 4.8, 12, PLANTED, "none", True)
    assert days_with(season(hire(beds=(bed,))), "picked") == []


def test_picking_waits_after_a_spray():
    turnips = BedFacts(Crop.TURNIP, 4.8, 20, PLANTED, "picking", True)
    spray = Spray(do="spray", product="spinosad", every_days=7, since="04-30", times=1)  # day 60
    workdays = season(hire(Pick(do="pick", every_days=1), spray, beds=(turnips,)), Walk(ripe_from_day=55))
    picked = days_with(workdays, "picked")
    assert days_with(workdays, "sprayed") == [60]
    assert [day for day in picked if 58 <= day <= 65] == [58, 59, 60, 63, 64, 65]


def test_a_threshold_acts_on_the_last_scouting_only():
    rising = Walk(sheet=lambda day: Seen(caterpillar_infested_share=0.3 if day >= 38 else 0.1))
    actions = (
        Scout(do="scout", every_days=7, plants=10),
        SprayAtThreshold(do="spray_at_threshold", product="bt", caterpillar_infested_share=0.2),
    )
    gardener = hire(*actions)
    workdays = season(gardener, rising, days=60)
    assert days_with(workdays, "scouted") == [10, 17, 24, 31, 38, 45, 52, 59]
    assert days_with(workdays, "sprayed") == [39, 46, 53]
    assert rising.looks == 80


def test_without_scouting_no_threshold_is_ever_reached():
    action = SprayAtThreshold(do="spray_at_threshold", product="bt", caterpillar_infested_share=0.0)
    assert days_with(season(hire(action), Walk(sheet=Seen(1.0))), "sprayed") == []


def test_a_threshold_spray_rests():
    walk = Walk(sheet=Seen(flea_beetles_per_plant=3.0))
    rest = SprayAtThreshold(do="spray_at_threshold", product="spinosad", rest_days=20, flea_beetles_per_plant=1.0)
    workdays = season(hire(Scout(do="scout", every_days=1), rest), walk, days=60)
    assert days_with(workdays, "sprayed") == [11, 31, 51]


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


def test_a_season_may_begin_on_a_later_day_of_the_record():
    gardener = hire(first_day=300)
    today = records(np.zeros(1, TODAY))
    planted = []
    for day in range(300, 320):
        today["day"] = day
        planted += [day] if gardener.work(today[0], FIRST, Walk()).planted else []
    assert planted == [310]


def test_days_of_the_year_are_days_of_the_season():
    days = days_of_year(FIRST, DAYS)
    assert days["03-01"] == 0
    assert days["04-01"] == 31
    assert len(days) == DAYS


def test_every_action_that_is_work_has_a_task():
    assert set(TASK_OF.values()) | {Task.PLANT, Task.CHECK_NET} == set(Task)
    assert SkipBed not in TASK_OF


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
