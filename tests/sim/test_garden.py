"""A garden's day: its order, and what passes between those who live in it."""

import numpy as np
import pytest

from sim.cast import Species, Stage
from sim.garden import Garden
from sim.insects import population
from tests.strategies import NO_PESTS, bed, garden, live, open_garden


def test_a_day_goes_in_its_order(monkeypatch):
    morning = open_garden(garden(bed(), bed("cucumber")))
    seen = []

    def note(actor, deed, name):
        real = getattr(actor, deed)

        def told(*args, **kwargs):
            seen.append(name)
            return real(*args, **kwargs)

        monkeypatch.setattr(actor, deed, told)

    for actor, deed, name in (
        (morning.plants, "open_flowers", "flowers open"),
        (morning.gardener, "work", "the gardener works"),
        (morning.nets, "write", "nets"),
        (morning.sprays, "write", "sprays"),
        (morning.pollinators, "visit", "bees visit"),
        (morning.plants, "grow", "plants grow"),
        (morning.insects, "arrive", "insects arrive"),
        (morning.insects, "count_up", "the living are counted"),
        (morning.generalists, "hunt", "enemies hunt"),
        (morning.nests, "forage", "birds hunt"),
        (morning.insects, "live", "insects live"),
        (morning.insects, "eat", "insects eat"),
        (morning.plants, "lose_eaten", "plants lose what was eaten"),
        (morning.plants, "set_fruit", "fruit sets"),
        (morning.nests, "feed", "birds feed"),
        (morning.insects, "fly", "adults fly"),
        (morning.aphids, "live", "aphids live"),
        (morning.insects, "bury", "the dead are booked"),
    ):
        note(actor, deed, name)
    morning.step()
    assert seen == [
        "flowers open", "the gardener works", "nets", "sprays", "bees visit", "plants grow", "insects arrive",
        "the living are counted", "enemies hunt", "birds hunt", "insects live", "insects eat",
        "plants lose what was eaten", "fruit sets", "birds feed", "adults fly", "aphids live", "the dead are booked",
    ]  # fmt: skip


def test_a_garden_opens_on_its_first_day_with_nothing_planted():
    morning = open_garden(garden(bed(planted="05-01")))
    assert isinstance(morning, Garden)
    assert morning.day == 0
    assert morning.days["day_of_year"][0] == 110  # 20 April
    assert (morning.plants.plants["planted_day"][:8] == -1).all()
    assert morning.insects.count == 0


def test_a_bed_is_planted_on_its_day():
    morning = open_garden(garden(bed(planted="04-25")))
    for _ in range(5):
        morning.step()
    assert (morning.plants.plants["planted_day"][:8] == -1).all()
    morning.step()
    assert (morning.plants.plants["planted_day"][:8] == 5).all()
    assert morning.plants.plants["is_growing"][:8].all()


def test_days_are_numbered_and_written_down():
    lived = live(garden())
    assert lived.day == len(lived.days) == len(lived.chronicle.rows) == 92
    frame = lived.chronicle.frame(lived.first_date.isoformat())
    assert frame["date"].iloc[0] == "2025-04-20"
    assert frame["date"].iloc[-1] == "2025-07-20"
    np.testing.assert_allclose(frame["tmin_c"], lived.days["tmin_c"])


def test_what_insects_eat_is_missing_on_plants():
    lived = live(garden(bed(harvest="none"), pests={"arrivals": 3.0}))
    eaten_cm2 = lived.insects.eaten_cm2.sum()
    flows = lived.plants.flows
    assert eaten_cm2 > 0
    bitten_cm2 = flows["leaf_eaten_cm2"].sum() + flows["head_eaten_cm2"].sum() + flows["flower_eaten_cm2"].sum()
    assert eaten_cm2 == pytest.approx(bitten_cm2, rel=1e-9)


def test_what_birds_catch_is_what_insects_lose():
    nests = {"nests": [{"kind": "wren_like", "distance_m": 5.0, "count": 8}]}
    lived = open_garden(garden(bed(), pests={"arrivals": 5.0}, birds=nests))
    caught = 0.0
    for _ in range(len(lived.days)):
        lived.step()
        caught += lived.insects.caught_count.sum()
    assert caught == lived.insects.exits[..., 4:7].sum() > 0


def test_more_insects_than_there_was_room_for_find_room(monkeypatch):
    crowd = garden(bed("kale", length_m=10.0), pests={"arrivals": 100.0})
    roomy = live(crowd)
    for room in ("_FIRST_CAPACITY", "_FIRST_CLUTCHES"):
        monkeypatch.setattr(population, room, 64)
    tight = live(crowd)
    assert len(roomy.insects.records) >= len(tight.insects.records) > 64
    here, there = (each.insects.records[: each.insects.count] for each in (roomy, tight))
    assert here.tobytes() == there.tobytes()
    assert not tight.insects.balance().any()


def test_beetles_annoy_bees_only_where_cucumbers_bloom():
    lived = open_garden(
        garden(
            bed(),
            bed("cucumber", planted="04-21"),
            season={"first_day": "04-20", "last_day": "08-20", "calendar_year": 2025},
            pests=NO_PESTS | {"cucumber_beetle": 10.0},
        )
    )
    annoyed = np.zeros(3)
    for _ in range(len(lived.days)):
        lived.step()
        annoyed = np.maximum(annoyed, lived.beetles_per_flower())
    assert annoyed[1] > 0
    assert annoyed[0] == 0


def test_those_at_winter_rest_wake_by_the_warmth_of_the_year():
    spring = {"first_day": "03-01", "last_day": "06-10", "calendar_year": 2025}
    scenario = garden(bed(old_stalks=True, planted="03-01"), season=spring, pests=NO_PESTS | {"cabbage_white": 20.0})
    lived = open_garden(scenario)
    resting = int((lived.insects.records["is_resting"][: lived.insects.count] == 1).sum())
    assert resting > 0
    assert lived.insects.season_dd[Species.CABBAGE_WHITE] > 0  # January and February count
    for _ in range(len(lived.days)):
        lived.step()
    woke = lived.insects.exits[:, 1, Species.CABBAGE_WHITE, Stage.ADULT].sum()
    assert 0 < woke <= resting
