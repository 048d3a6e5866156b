"""Every reported number: named, with a unit, and what it says it is."""

import numpy as np
import pytest

from sim.cast import Crop
from sim.measures import MEASURES, summarise
from tests.strategies import NO_PESTS, bed, garden, live

BIRDS = {"nests": [{"kind": "wren_like", "distance_m": 5.0, "count": 8}]}


@pytest.fixture(scope="module")
def lived():
    return live(garden(bed(), bed("cucumber", planted="04-21"), pests={"arrivals": 4.0}, birds=BIRDS))


@pytest.fixture(scope="module")
def summary(lived):
    return summarise(lived, {int(Crop.COLLARD): 10.0, int(Crop.CUCUMBER): 20.0})


def test_a_name_ends_in_its_unit():
    endings = {
        "kg": "_kg", "share": "_share", "min": "_minutes", "US$": "_usd", "kJ": "_kj", "MJ": "_mj", "g": "_g",
        "kg/h": "_kg_per_hour",
    }  # fmt: skip
    for name, measure in MEASURES.items():
        assert name == measure.name
        assert measure.words
        assert measure.better in ("more", "less", "neither")
        if measure.unit in endings:
            assert name.endswith(endings[measure.unit]), name


def test_a_share_of_the_potential_is_the_harvest_over_it(summary):
    assert summary["potential_share"] == pytest.approx(summary["harvest_kg"] / 30.0)
    assert summary["collard_potential_share"] == pytest.approx(summary["collard_harvest_kg"] / 10.0)
    assert summary["marketable_share"] == pytest.approx(summary["marketable_kg"] / summary["harvest_kg"])


def test_crops_that_are_not_there_are_left_out(summary):
    assert "kale_harvest_kg" not in summary
    assert "cucumber_harvest_kg" in summary


def test_a_share_of_nothing_is_left_out():
    bare = summarise(live(garden(bed(), pests=NO_PESTS)), {})
    assert "potential_share" not in bare
    assert "egg_to_adult_share" not in bare
    assert "fruit_set_share" not in bare
    assert "garden_food_share" not in bare


def test_counts_agree_with_the_books(lived, summary):
    assert summary["turned_away_count"] == lived.insects.turned_away.sum()
    assert summary["sprays_count"] == lived.beds_sprayed
    assert summary["nestlings_fledged_count"] == lived.nests.fledged
    assert summary["bees_harmed_share"] == 0
    visits = sum(lived.chronicle.column(f"{bee}_visits").sum() for bee in ("honey_bee", "bumble_bee", "small_bee"))
    assert summary["flower_visits_count"] == visits


def test_eggs_are_counted_where_they_were_laid():
    outside = garden(bed("lettuce"), pests=NO_PESTS | {"cabbage_white": 20.0}, margin={"wild_host_plants": 10})
    hosts = garden(bed("lettuce"), bed("kale"), pests=NO_PESTS | {"cabbage_white": 20.0})
    lived = live(outside)
    assert summarise(lived, {}).get("cabbage_white_eggs_count", 0) == 0  # lettuce is no host: all were laid outside
    assert summarise(live(hosts), {})["cabbage_white_eggs_count"] > 0


def test_a_peak_is_no_less_than_any_day(lived, summary):
    young = lived.chronicle.column("cabbage_white_young")
    assert summary["cabbage_white_peak_count"] == young.max()
    assert summary["pests_alive_peak_count"] >= young.max()
    assert summary["pest_days_count"] >= young.sum()


def test_work_and_money_agree_with_the_ledger(lived, summary):
    assert summary["labour_minutes"] == pytest.approx(lived.gardener.minutes.sum())
    assert summary["pest_care_minutes"] == 0
    assert summary["cost_usd"] == pytest.approx(lived.gardener.cost_usd.sum())
    paid = live(garden(bed(), gardener={"minutes_per_day": 1e6, "labour_usd_per_hour": 30.0}))
    hours = paid.gardener.minutes.sum() / 60.0
    assert summarise(paid, {})["cost_usd"] == pytest.approx(paid.gardener.cost_usd.sum() + 30.0 * hours)


def test_nestling_weeks_are_those_with_nestlings(lived, summary):
    weeks = lived.chronicle.column("nestlings") > 0
    assert weeks.any()
    assert summary["caterpillars_reachable_g"] == pytest.approx(
        np.mean(lived.chronicle.column("caterpillars_reachable_g")[weeks])
    )
