"""What the gardener can see, which is less than the truth."""

import numpy as np

from sim.cast import Species
from sim.practices.workday import Seen
from tests.strategies import NO_PESTS, bed, garden, live, open_garden


def test_nothing_is_seen_in_an_empty_bed():
    morning = open_garden(garden(bed(planted="05-01")))
    assert morning.sight.seen(0, 8, 0) == Seen()
    assert morning.sight.ripe(0) == 0
    assert morning.sight.flowers_open(0) == 0
    assert not morning.sight.crop_event(0, "first_picking")
    assert not morning.sight.is_finished(0)


def test_a_clean_bed_has_a_clean_sheet():
    lived = live(garden(bed(harvest="none"), pests=NO_PESTS))
    assert lived.sight.seen(0, 8, lived.day) == Seen()


def test_scouting_sees_some_of_what_is_there_and_looking_again_the_same_day_the_same():
    lived = open_garden(garden(bed(harvest="none"), pests={"arrivals": 5.0}))
    for _ in range(60):
        lived.step()
    seen = lived.sight.seen(0, 8, lived.day)
    assert seen == lived.sight.seen(0, 8, lived.day)
    alive = lived.insects.records[: lived.insects.count]
    beetles = np.sum((alive["species"] == Species.FLEA_BEETLE) & (alive["bed"] == 0) & (alive["stage"] == 7))
    assert 0 < seen.flea_beetles_per_plant * 8 <= beetles
    assert 0 <= seen.caterpillar_infested_share <= 1


def test_moments_of_a_crop_are_seen_in_their_order():
    morning = open_garden(garden(bed("cucumber", planted="04-21"), pests=NO_PESTS))
    days = {}
    for day in range(len(morning.days)):
        morning.step()
        for event in ("first_bloom", "bloom_half", "first_picking"):
            if morning.sight.crop_event(0, event):
                days.setdefault(event, day)
    assert days["first_bloom"] <= days["bloom_half"]
    assert days["first_bloom"] < days["first_picking"]


def test_a_pulled_bed_is_finished():
    scenario = garden(bed(), plans={"pull": [{"do": "clean_up", "on": "06-01"}]})
    assert live(scenario, "pull").sight.is_finished(0)
    assert not live(scenario, "nothing").sight.is_finished(0)


def test_only_a_bed_in_which_nothing_stands_is_cleared():
    scenario = garden(bed("lettuce", harvest="none"), plans={"pull": [{"do": "clean_up", "on": "07-10"}]})
    assert live(scenario, "pull").sight.is_cleared(0)
    bolted = live(scenario, "nothing").sight
    assert bolted.is_finished(0)
    assert not bolted.is_cleared(0)


def test_wind_and_rain_decide_when_to_spray():
    morning = open_garden(garden(numbers={"sprays.rain_limit_mm": 0.0}))
    fit = []
    for _ in range(len(morning.days)):
        fit.append((float(morning.days["rain_mm"][morning.day]), morning.sight.is_fit_to_spray(0)))
        morning.step()
    assert any(is_fit for _, is_fit in fit)
    assert not any(is_fit for rain_mm, is_fit in fit if rain_mm > 0)
