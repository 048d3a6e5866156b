"""Seasons as others get them: a summary, tables, and what is needed to run one again."""

import gc
import weakref

import pytest

from sim import load_scenario, run_season
from sim.cast import Entry
from sim.errors import LeafnestError
from sim.measures import MEASURES
from sim.parameters import load_parameters
from sim.season import parameters_of, second_year_alone
from tests.strategies import NO_PESTS, bed, garden

NET = {"net": [{"do": "cover", "days_after_planting": 0}]}
LABOUR = load_parameters()
BOX_USD = LABOUR.number("labour.nest_box_price_usd") / LABOUR.number("labour.nest_box_life_years")
HEDGE_USD_PER_M = LABOUR.number("labour.hedgerow_price_usd_per_m") / LABOUR.number("labour.hedgerow_life_years")
"""A season's share of a box and of a metre of hedge."""


@pytest.fixture(scope="module")
def season():
    return run_season(garden(bed(), bed("cucumber"), plans=NET, pests={"arrivals": 3.0}), "nothing", 2)


def test_an_unknown_plan_is_answered_with_the_near_one():
    with pytest.raises(LeafnestError, match=r"no plan 'nett'.*allowed: nothing, net\. Did you mean 'net'"):
        run_season(garden(plans=NET), "nett")


def test_fates_add_up_to_all_that_entered(season):
    assert season.fates["count"].sum() == season.entries["count"].sum() == season.garden.insects.entries.sum()
    by_species = season.fates.groupby("species")["count"].sum()
    entered = season.entries.groupby("species")["count"].sum()
    for species, count in by_species.items():
        assert entered[species] == count


def test_words_are_used_in_tables_and_not_numbers(season):
    assert set(season.fates["place"]) <= {"beds", "margin"}
    assert "cabbage_white" in set(season.fates["species"])
    assert "alive" in set(season.fates["fate"])
    assert set(season.entries["entry"]) == {"arrived", "overwintered", "born"}


def test_a_day_is_a_row(season):
    assert len(season.daily) == 92
    assert season.daily["harvest_kg"].sum() == pytest.approx(season.summary["harvest_kg"])
    assert not season.daily.isna().any().any()


def test_provenance_names_what_is_needed_to_run_it_again(season):
    said = season.provenance
    assert (said["plan"], said["seed"], said["program"]) == ("nothing", 2, "leafnest")
    assert said["simulated"] is True
    assert said["scenario_fingerprint"] == season.garden.its_scenario.fingerprint


def test_a_garden_without_pests_gives_its_potential():
    lived = run_season(garden(bed(), bed("cucumber"), pests=NO_PESTS), "nothing", 3)
    assert lived.summary["potential_share"] == pytest.approx(1.0)
    assert lived.summary["leaf_eaten_share"] == 0.0


def test_numbers_of_nature_can_be_set_in_a_scenario():
    changed = garden(numbers={"moths.cabbage_white.leaf_total_cm2": 50.0})
    assert parameters_of(changed).number("moths.cabbage_white.leaf_total_cm2") == 50.0
    assert parameters_of(garden()).number("moths.cabbage_white.leaf_total_cm2") != 50.0


def test_shares_of_behaviour_are_set_for_all_plant_eaters_at_once():
    table = parameters_of(garden(pests={"stay_share": 0.9, "try_bare_share": 0.1}))
    for key in ("moths.cabbage_white", "bugs_and_beetles.flea_beetle"):
        assert table.number(f"{key}.stay_share") == 0.9
        assert table.number(f"{key}.try_bare_share") == 0.1
    assert table.number("parasitoid.parasitoid_wasp.stay_share") != 0.9


def test_two_years_in_a_row_report_the_second():
    dates = {"first_day": "04-01", "last_day": "11-01", "calendar_year": 2025, "years": 2}
    second = run_season(garden(bed(), season=dates, pests={"arrivals": 5.0}), "nothing", 1)
    assert second.daily["date"].iloc[0] == "2026-04-01"
    assert second.garden.insects.entries[Entry.OVERWINTERED].sum() > 0


def test_a_second_year_by_itself_differs_only_by_what_the_first_left_behind():
    dates = {"first_day": "04-01", "last_day": "11-01", "calendar_year": 2025, "years": 2}
    two = garden(bed(), season=dates, pests={"arrivals": 5.0})
    second = run_season(two, "nothing", 1)
    by_itself, seed = second_year_alone(two, 1)
    alone = run_season(by_itself, "nothing", seed)
    assert alone.daily["date"].tolist() == second.daily["date"].tolist()
    assert alone.daily["tmax_c"].tolist() == second.daily["tmax_c"].tolist()
    assert (alone.garden.insects.entries[Entry.ARRIVED] == second.garden.insects.entries[Entry.ARRIVED]).all()
    assert (alone.garden.insects.entries[Entry.OVERWINTERED] != second.garden.insects.entries[Entry.OVERWINTERED]).any()


def test_boxes_put_up_in_the_first_year_hang_and_are_paid_for_in_the_second():
    dates = {"first_day": "03-01", "last_day": "07-31", "calendar_year": 2025}
    boxes = [{"do": "put_up_nest_box", "kind": "tit_like", "count": 2, "distance_m": 30.0}]
    habitat = {"habitat": [*boxes, {"do": "plant_hedgerow", "length_m": 20.0, "age_years": 8}]}
    for years in (1, 2):
        place = garden(bed(), plans=habitat, birds={"nests": []}, season=dates | {"years": years})
        lived, without = (run_season(place, plan, 1) for plan in ("habitat", "nothing"))
        assert len(lived.garden.nests.nests) == 2
        assert lived.summary["caterpillars_fed_count"] > 0
        more_usd = lived.summary["cost_usd"] - without.summary["cost_usd"]
        assert more_usd == pytest.approx(2 * BOX_USD + 20 * HEDGE_USD_PER_M)


def test_an_hour_of_work_has_its_price_in_the_day_the_season_and_in_pest_care():
    def lived(wage):
        net = [*NET["net"], {"do": "hand_pick", "every_days": 7}]
        return run_season(garden(bed(), plans={"net": net}, gardener={"labour_usd_per_hour": wage}), "net", 1)

    free, paid = lived(0.0), lived(15.0)
    assert paid.daily["cost_usd"].sum() == pytest.approx(paid.summary["cost_usd"])
    for usd, minutes in (("cost_usd", "labour_minutes"), ("pest_care_usd", "pest_care_minutes")):
        assert paid.summary[usd] - free.summary[usd] == pytest.approx(15.0 * paid.summary[minutes] / 60.0)


@pytest.mark.parametrize("name", ["leaf_bed", "cucumber_bed", "teaching_garden"])
def test_a_shipped_garden_runs_under_its_first_plan(name):
    scenario = load_scenario(name)
    lived = run_season(scenario, scenario.plan_names[0], 1)
    assert set(lived.summary) <= set(MEASURES)
    assert lived.summary["harvest_kg"] > 0
    assert not lived.garden.insects.balance().any()


def test_a_season_that_nobody_holds_leaves_memory():
    """A class runs thousands of seasons in one process; each one kept would be 2 MB."""
    held = run_season(garden(bed(), plans=NET), "nothing", 1)
    lived = weakref.ref(held.garden)
    del held
    gc.collect()
    assert lived() is None
