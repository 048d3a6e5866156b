"""The gardener's calendar: dates, moments of a crop, rhythms, thresholds on what was scouted, waits before picking."""

import numpy as np

from sim.cast import Crop, Product
from sim.compiled import records
from sim.practices.fabrics import Edges, Material
from sim.practices.orders import TASK_OF, days_of_year
from sim.practices.workday import BedFacts, Seen, Task
from sim.scenario.actions import Cover, HandPick, Pick, Scout, SkipBed, Spray, SprayAtThreshold, Uncover
from sim.surroundings import TODAY
from tests.sim.gardener_walk import BED, DAYS, FIRST, PLANTED, Walk, days_with, hire, season


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


def test_a_net_comes_off_at_the_first_look_at_a_bed_that_is_finished():
    """As weeding and spraying stop there: a net over nothing would be walked along until winter."""
    workdays = season(hire(Cover(do="cover", days_after_planting=0)), Walk(finished_day=33))
    assert days_with(workdays, "net_checks") == [17, 24, 31]
    assert days_with(workdays, "uncovered") == [38]


def test_a_net_that_a_plan_takes_off_with_the_last_picking_comes_off_once():
    net = (Cover(do="cover", days_after_planting=0), Uncover(do="uncover", at="last_picking"))
    workdays = season(hire(*net), Walk(finished_day=38))
    assert days_with(workdays, "uncovered") == [38]
    assert workdays[38].uncovered == [0]


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
    assert len(gardener.days_lost_to_weather) == 3


def test_a_day_too_windy_to_spray_is_one_day_lost_however_many_beds_wait():
    spray = Spray(do="spray", product="bt", every_days=7, since="04-01", times=1)
    gardener = hire(spray, beds=(BED, BED))
    season(gardener, Walk(is_fine=lambda day: day > 33))
    assert gardener.days_lost_to_weather == {31, 32, 33}


def test_repeated_work_ends_when_the_bed_is_finished():
    workdays = season(hire(HandPick(do="hand_pick", every_days=5)), Walk(finished_day=30))
    assert days_with(workdays, "hand_picked") == [10, 15, 20, 25]


def test_picking_waits_until_something_is_ripe():
    workdays = season(hire(Pick(do="pick", every_days=7)), Walk(ripe_from_day=50))
    assert days_with(workdays, "picked")[:3] == [50, 57, 64]


def test_a_bed_cut_at_once_is_cut_when_half_is_ready_then_gone_over_again():
    bed = BedFacts(Crop.CABBAGE, 4.8, 12, PLANTED, "once", False)
    assert days_with(season(hire(beds=(bed,)), Walk(ripe_from_day=80, finished_day=90)), "picked") == [80, 87]


def test_nobody_looks_for_something_ripe_before_planting_or_in_a_cleared_bed():
    walk = Walk(ripe_from_day=60, finished_day=70, cleared_day=70)
    workdays = season(hire(Pick(do="pick", every_days=3)), walk)
    assert days_with(workdays, "picked") == [60, 63, 66, 69]
    assert set(walk.days_looked_for_ripe) == {*range(10, 61), 63, 66, 69, 72}


def test_a_bed_that_is_only_past_its_best_is_still_looked_at():
    walk = Walk(ripe_from_day=60, finished_day=70)
    season(hire(Pick(do="pick", every_days=3)), walk)
    assert walk.days_looked_for_ripe[-1] == DAYS - 1


def test_work_that_waits_for_planting_waits_on_when_planting_is_put_off():
    workdays = season(hire(Cover(do="cover", days_after_planting=0), works_on=(4,)))  # Fridays; 11 March is a Tuesday
    assert days_with(workdays, "planted") == days_with(workdays, "covered") == [13]


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


def test_repeated_work_is_still_done_on_its_last_day():
    assert days_with(season(hire(HandPick(do="hand_pick", every_days=5, until="03-21"))), "hand_picked") == [10, 15, 20]


def test_a_short_wait_does_not_cut_a_longer_one_short():
    gardener = hire()
    gardener.wait_days = gardener.wait_days.copy()
    gardener.wait_days[Product.SPINOSAD], gardener.wait_days[Product.BT] = 30, 0
    gardener.note_spray(0, Product.SPINOSAD, 42)
    gardener.note_spray(0, Product.BT, 43)
    assert gardener.pick_from_day[0] == 72


def test_what_was_seen_before_a_spray_calls_for_no_second_one():
    walk = Walk(sheet=Seen(caterpillar_infested_share=0.5))
    act = SprayAtThreshold(do="spray_at_threshold", product="bt", caterpillar_infested_share=0.2, rest_days=3)
    workdays = season(hire(Scout(do="scout", every_days=20), act), walk, days=60)
    assert days_with(workdays, "scouted") == [10, 30, 50]
    assert days_with(workdays, "sprayed") == [11, 31, 51]  # not again each third day until somebody looks anew
