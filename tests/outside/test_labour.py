"""Minutes and money against a printed price, a walking pace and what growers say."""

import math
from datetime import date, timedelta

import mesa
import numpy as np
import pytest

from sim.cast import Crop
from sim.compiled import records
from sim.parameters import load_parameters
from sim.practices.fabrics import Material
from sim.practices.gardener import Gardener
from sim.practices.labour import Labour
from sim.practices.workday import BedFacts, Seen, Task
from sim.scenario.actions import Cover, Pick, Spray, Uncover
from sim.surroundings import TODAY
from tests.outside.register import check

P = load_parameters()
METRES_PER_FOOT = 0.3048
BED = BedFacts(Crop.COLLARD, 4.8, 20, "04-10", "picking", False)
DAYS = 245


class CollardBed:
    """A bed that is picked from ten weeks after planting on, in calm dry weather."""

    day = 0

    def crop_event(self, bed, event):
        return self.day > 110

    def is_finished(self, bed):
        return False

    def ripe(self, bed):
        return 60 if self.day > 110 else 0

    def flowers_open(self, bed):
        return 0

    def seen(self, bed, plants, day):
        return Seen()

    def is_fit_to_spray(self, hour):
        return True


def season_minutes(*actions):
    """Return the minutes of a season by task."""
    gardener = Gardener(
        mesa.Model(), P, beds=(BED,), actions=(*actions, Pick(do="pick", every_days=7)),
        bed_positions=lambda names: (0,), first_date=date(2025, 3, 1), day_count=DAYS, minutes_per_day=math.inf,
    )  # fmt: skip
    look, today = CollardBed(), records(np.zeros(DAYS, TODAY))
    today["day"] = np.arange(DAYS)
    for day in range(DAYS):
        look.day = day
        gardener.work(today[day], date(2025, 3, 1) + timedelta(days=day), look)
    return gardener.minutes.sum(axis=0)


@check("a roll of 6.9 by 328 ft for 450 US$", source="att", read="read", independent=False)
def test_price_of_a_roll():
    roll_m2 = 6.9 * 328 * METRES_PER_FOOT**2
    assert roll_m2 == pytest.approx(210.3, abs=0.1)
    assert P.number("nets.insect_mesh.price_usd_per_m2") == pytest.approx(450 / roll_m2, rel=0.03)


@check("a farm roll is far too much for one bed", source="none", read="common practice, no source", independent=True)
def test_a_roll_covers_many_beds():
    roll_m2 = 6.9 * 328 * METRES_PER_FOOT**2
    assert roll_m2 / (BED.area_m2 * P.number("labour.net_area_ratio")) > 20


@check("veil fabric costs less for one bed", source="none", read="common practice, no source", independent=False)
def test_veil_costs_less_than_mesh_to_buy_and_by_year():
    labour = Labour(P)
    assert labour.net_usd(BED, Material.VEIL) < labour.net_usd(BED, Material.INSECT_MESH)
    assert P.number("nets.veil.price_usd_per_m2") < P.number("nets.insect_mesh.price_usd_per_m2")


@check("a metre-wide swath at 3 km/h", source="spray_farm_page", read="read", independent=False)
def test_spraying_is_slower_than_walking():
    walking_minutes_per_m2 = 60 / 3000
    per_m2 = Labour(P).spray_minutes(BED) / BED.area_m2
    assert walking_minutes_per_m2 < per_m2 < 25 * walking_minutes_per_m2


@check("20 s a plant, twice a week", source="none", read="common practice, no source", independent=False)
def test_hand_picking_a_small_bed_takes_minutes_not_hours():
    assert Labour(P).hand_pick_minutes(BED, 20.0) == pytest.approx(6.67, abs=0.01)


@check("netting saves evenings spent spraying", source="none", read="common practice, no source", independent=True)
def test_a_net_all_season_takes_less_time_than_a_spray_a_week():
    net = season_minutes(Cover(do="cover", days_after_planting=0), Uncover(do="uncover", on="10-25"))
    sprays = season_minutes(Spray(do="spray", product="bt", every_days=7))
    nothing = season_minutes()
    assert net[Task.SPRAY] == 0.0
    assert nothing.sum() < net.sum() < sprays.sum()


@check("covered leaf crops are picked all season", source="none", read="common practice, no source", independent=True)
def test_a_covered_bed_is_picked_as_often_as_a_bare_one():
    net = season_minutes(Cover(do="cover", days_after_planting=0))
    nothing = season_minutes()
    lifts = (net - nothing)[Task.PICK] / Labour(P).lift_minutes(BED)
    assert lifts == pytest.approx(20, abs=1)  # once a week from day 111 to day 244
