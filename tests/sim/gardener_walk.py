"""A gardener for tests, and beds whose looks can be set by the day."""

import math
from datetime import date, timedelta
from typing import Any

import mesa
import numpy as np

from sim.cast import Crop
from sim.compiled import records
from sim.parameters import load_parameters
from sim.practices.gardener import Gardener
from sim.practices.workday import BedFacts, Seen
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
        self.cleared_day = answers.get("cleared_day", 1000)
        self.sheet = answers.get("sheet", Seen())
        self.is_fine = answers.get("is_fine", lambda day: True)
        self.looks = 0
        self.days_looked_for_ripe = []

    def crop_event(self, bed, event):
        return self.day >= (self.ripe_from_day if event == "first_picking" else self.bloom_day)

    def is_finished(self, bed):
        return self.day >= self.finished_day

    def is_cleared(self, bed):
        return self.day >= self.cleared_day

    def ripe(self, bed):
        self.days_looked_for_ripe.append(self.day)
        return 40 if self.ripe_from_day <= self.day < self.finished_day else 0

    def flowers_open(self, bed):
        return 6 if self.bloom_day <= self.day < self.finished_day else 0

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
