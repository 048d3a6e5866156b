"""What a scenario holds, how beds are counted and named, and what must hold between its parts."""

from __future__ import annotations

from typing import Any, get_args

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from sim.cast import Bird, Crop, Product, word
from sim.errors import ScenarioError
from sim.insects.record import INSECT
from sim.scenario.actions import Pick, SprayKind
from sim.scenario.limits import MAX_BEDS, MAX_EGGS, MAX_PAIRS, MAX_PLANTS
from sim.scenario.model import Bed, CropName, NestKind, Scenario


def bed(**changes: Any) -> dict[str, Any]:
    values = {
        "name": "kale",
        "crop": "kale",
        "length_m": 3.0,
        "width_m": 1.2,
        "row_spacing_m": 0.4,
        "plant_spacing_m": 0.3,
        "planted": "04-01",
        "start": "transplant",
        "harvest": "picking",
    }
    return values | changes


def garden(*actions: dict[str, Any], beds: list[dict[str, Any]] | None = None, **parts: Any) -> Scenario:
    raw = {
        "name": "test",
        "title": "Test",
        "place": {"climate": "warm_humid"},
        "beds": beds or [bed()],
        "plans": [{"name": "plan", "title": "Plan", "actions": list(actions)}],
    }
    return Scenario.model_validate(raw | parts)


def test_names_are_those_of_the_cast() -> None:
    assert set(get_args(CropName)) == {word(crop) for crop in Crop} - {"wild_hosts"}
    assert set(get_args(SprayKind)) == {word(product) for product in Product}
    assert set(get_args(NestKind)) == {word(bird) for bird in Bird}


@pytest.mark.parametrize(
    ("changes", "count"),
    [
        ({}, 3 * 10),
        ({"plants": 7}, 7),
        ({"width_m": 0.2}, 10),
        ({"length_m": 0.2}, 3),
        ({"length_m": 2.4, "plant_spacing_m": 0.48}, 3 * 5),
    ],
)
def test_plants_fill_rows(changes: dict[str, Any], count: int) -> None:
    assert Bed.model_validate(bed(**changes)).plant_count == count


@given(st.integers(1, 40), st.integers(1, 40), st.floats(0.05, 1), st.floats(0.05, 1))
def test_a_bed_made_for_so_many_plants_holds_them(rows: int, in_row: int, row_m: float, plant_m: float) -> None:
    sizes = {"width_m": rows * row_m, "length_m": in_row * plant_m, "row_spacing_m": row_m, "plant_spacing_m": plant_m}
    assert Bed.model_validate(bed(**sizes)).plant_count == rows * in_row


def test_repeated_beds_can_be_named_alone_or_together() -> None:
    scenario = garden(beds=[bed(name="a", repeat=2), bed(name="b"), bed(name="c", repeat=3)])
    assert [single.name for single in scenario.single_beds] == ["a-1", "a-2", "b", "c-1", "c-2", "c-3"]
    assert scenario.bed_positions() == (0, 1, 2, 3, 4, 5)
    assert scenario.bed_positions(["c", "a-2"]) == (1, 3, 4, 5)
    ten = garden(beds=[bed(name="a", repeat=10)])
    assert ten.bed_positions(["a-9", "a-2", "a-9"]) == (1, 8)  # in the order of the file, each once
    with pytest.raises(ScenarioError, match="There is no bed 'c-4'"):
        scenario.bed_positions(["c-4"])


def test_a_repeated_bed_may_not_take_the_name_of_another() -> None:
    with pytest.raises(ValidationError, match="a name that no other bed has"):
        garden(beds=[bed(name="a", repeat=2), bed(name="a-1")])


def test_the_limit_of_plants_is_the_stated_one() -> None:
    assert MAX_PLANTS >= 20_000
    none_wild = {"wild_host_plants": 0}
    garden(beds=[bed(plants=MAX_PLANTS)], margin=none_wild)
    with pytest.raises(ValidationError, match="at most 200,000 plants"):
        garden(beds=[bed(plants=MAX_PLANTS), bed(name="one_more", plants=1)], margin=none_wild)
    with pytest.raises(ValidationError, match="at most 200,000 plants"):
        garden(beds=[bed(plants=MAX_PLANTS)], margin={"wild_host_plants": 1})
    garden(beds=[bed(plants=MAX_PLANTS // 2, repeat=2)], margin=none_wild)
    with pytest.raises(ValidationError, match="at most 200,000 plants"):
        garden(beds=[bed(plants=MAX_PLANTS // 2 + 1, repeat=2)], margin=none_wild)


def test_the_limit_of_beds_leaves_room_for_the_distances_between_each_two() -> None:
    assert np.iinfo(INSECT["bed"]).max > MAX_BEDS  # the margin comes on top
    some = [bed(name=f"b{n}", plants=1, repeat=MAX_BEDS // 2) for n in range(2)]
    assert len(garden(beds=some).single_beds) == MAX_BEDS
    with pytest.raises(ValidationError, match="at most 2,000 beds, repeated ones counted one by one"):
        garden(beds=[*some, bed(name="one_more", plants=1)])


def test_the_limit_of_pairs_counts_nests_and_the_boxes_of_one_plan() -> None:
    nests = {"nests": [{"kind": "tit_like", "distance_m": 5.0, "count": MAX_PAIRS // 2}] * 2}
    box = {"do": "put_up_nest_box", "kind": "tit_like"}
    garden(birds=nests)
    garden(box | {"count": MAX_PAIRS})
    with pytest.raises(ValidationError, match="at most 500 pairs of birds"):
        garden(box, birds=nests)
    with pytest.raises(ValidationError, match="at most 500 pairs of birds"):
        garden(box | {"count": MAX_PAIRS}, box)


def test_the_limit_of_eggs_on_transplants_goes_by_how_many_come() -> None:
    loaded = [bed(plants=MAX_EGGS // 1000, transplant_eggs_per_plant=1000.0)]
    garden(beds=loaded)
    with pytest.raises(ValidationError, match="at most 1,000,000 on all transplants"):
        garden(beds=loaded, pests={"cabbage_white": 1.1})
    with pytest.raises(ValidationError, match="at most 1,000,000 on all transplants"):
        garden(beds=[loaded[0] | {"repeat": 2}])


ENORMOUS = [
    ("margin.wild_host_plants", 10**11, "a whole number from 0 to 200000"),
    ("margin.neighbour_spray_every_days", 10**10, "a whole number from 0 to 730"),
    ("beds.kale.transplant_eggs_per_plant", 1e9, "a number from 0 to 1000"),
    ("margin.hedgerow_m", 1e30, "a number from 0 to 999999"),
    ("margin.area_m2", 1e30, "a number above 0 and up to 999999"),
    ("gardener.labour_usd_per_hour", 1e30, "a number from 0 to 999999"),
    ("beds.kale.plants", 10**30, "a whole number from 1 to 999999"),
    ("beds.kale.repeat", 10_000, "a whole number from 1 to 2000"),
    ("birds.nests.0.count", 99999999999999999999, "a whole number from 0 to 500"),
    ("gardener.pick_fruit_every_days", 10**10, "a whole number from 1 to 730"),
    ("plans.plan.actions.0.days_after_planting", 10**10, "a whole number from 0 to 730"),
    ("plans.plan.actions.1.days_after_planting", 10**10, "a whole number from 0 to 730"),
    ("plans.plan.actions.2.every_days", 10**10, "a whole number from 1 to 730"),
    ("plans.plan.actions.2.times", 10**10, "a whole number from 1 to 999999"),
    ("plans.plan.actions.3.count", 10**10, "a whole number from 1 to 500"),
]


@pytest.mark.parametrize(("key", "value", "allowed"), ENORMOUS)
def test_a_number_that_no_garden_holds_is_refused_in_one_sentence(key: str, value: float, allowed: str) -> None:
    """Each of these passed the check and then filled the memory, ran for ever or ran out of the calendar."""
    whole = garden(
        COVER,
        {"do": "uncover", "days_after_planting": 60},
        {"do": "spray", "product": "bt", "every_days": 7},
        {"do": "put_up_nest_box", "kind": "tit_like"},
        birds={"nests": [{"kind": "tit_like", "distance_m": 5.0}]},
    )
    with pytest.raises(ScenarioError) as error:
        whole.with_changes({key: value})
    assert str(error.value) == f"Scenario 'test': '{key}' is {value}; allowed: {allowed}."


def test_a_long_number_is_cut_short_without_a_quote_that_nobody_opened() -> None:
    with pytest.raises(ScenarioError, match=r"'pests\.arrivals' is 9{60}…; allowed: a number from 0 to 1000"):
        garden().with_changes({"pests.arrivals": 10**70 - 1})


@pytest.mark.parametrize("latitude", [-35.0, -0.1, 0.0, 6.2, 23.4, 66.5, float("nan"), float("-inf")])
def test_a_place_with_other_seasons_is_refused(latitude: float) -> None:
    with pytest.raises(ValidationError, match="the tropics and the southern half of the earth are left out"):
        garden(place={"weather_file": "a.csv", "latitude_deg": latitude})


@pytest.mark.parametrize("latitude", [23.5, 66.0])
def test_a_place_of_the_north_is_allowed(latitude: float) -> None:
    assert garden(place={"weather_file": "a.csv", "latitude_deg": latitude}).place.latitude_deg == latitude


@pytest.mark.parametrize(("key", "value"), [("warmer_c", 2.0), ("wetter", 0.5)])
def test_weather_that_a_file_would_not_give_is_refused_beside_it(key: str, value: float) -> None:
    with pytest.raises(ValidationError, match="beside a weather file, whose days are taken as they are"):
        garden(place={"weather_file": "a.csv", "latitude_deg": 40.0, key: value})


def test_picking_is_added_where_a_plan_is_silent() -> None:
    beds = [bed(name="cut", harvest="once"), bed(name="leaf"), bed(name="own"), bed(name="fruit", crop="cucumber")]
    own = {"do": "pick", "beds": ["own"], "every_days": 2}
    picks = [action for action in garden(own, beds=beds).actions_of("plan") if isinstance(action, Pick)]
    assert {pick.beds: pick.every_days for pick in picks} == {("own",): 2, ("fruit",): 3, ("leaf",): 7}


def test_skipped_beds_are_those_left_unplanted() -> None:
    scenario = garden({"do": "skip_bed", "beds": ["b"]}, beds=[bed(name="a"), bed(name="b", repeat=2)])
    assert scenario.skipped_beds("plan") == {1, 2}


def test_an_unknown_plan_is_answered_with_the_known_ones() -> None:
    with pytest.raises(ScenarioError, match="There is no plan 'nett' in 'test'; allowed: plan"):
        garden().plan("nett")


def test_minutes_without_a_limit_are_allowed() -> None:
    assert garden(gardener={"minutes_per_day": float("inf")}).gardener.minutes_per_day == float("inf")


COVER = {"do": "cover", "days_after_planting": 14}


@pytest.mark.parametrize(
    "actions",
    [
        [COVER, {"do": "uncover", "on": "04-15"}],
        [COVER, {"do": "uncover", "at": "first_bloom"}],
        [COVER, {"do": "uncover", "days_after_planting": 14}],
        [{"do": "cover", "at": "first_bloom"}, {"do": "uncover", "on": "04-02"}],
        [{"do": "cover", "at": "first_bloom"}, {"do": "uncover", "on": "05-01"}, {"do": "cover", "on": "06-01"}],
        [{"do": "cover", "at": "planting"}, {"do": "uncover", "on": "05-01"}, {"do": "cover", "on": "06-01"}],
    ],
)
def test_nets_come_off_after_they_went_on(actions: list[dict[str, Any]]) -> None:
    assert garden(*actions).plan("plan").actions


@pytest.mark.parametrize(
    ("actions", "sentence"),
    [
        ([COVER, {"do": "uncover", "on": "04-14"}], "a day after 'kale' is covered, which this plan does on 04-15"),
        ([COVER, {"do": "uncover", "days_after_planting": 13}], "a day after 'kale' is covered"),
        ([COVER | {"delay_days": 3}, {"do": "uncover", "on": "04-16"}], "which this plan does on 04-18"),
        ([{"do": "uncover", "on": "04-14"}], "it never covers 'kale'"),
        ([COVER | {"beds": ["b"]}, {"do": "uncover", "beds": ["kale"], "on": "06-14"}], "it never covers 'kale'"),
        ([{"do": "cover"}], "exactly one of 'on', 'days_after_planting' and 'at'"),
        ([COVER | {"on": "05-01"}], "exactly one of"),
        ([COVER | {"open_from_hour": 6}], "'open_from_hour' and 'open_to_hour' together"),
        ([COVER | {"open_from_hour": 6, "open_to_hour": 6}], "an hour after 6"),
        ([{"do": "weed", "every_days": 7, "since": "06-01", "until": "05-01"}], "a day from 06-01 on"),
        ([{"do": "weed", "every_days": 7, "since": "06-01", "days_after_planting": 3}], "one of 'since' and"),
        ([{"do": "spray_at_threshold", "product": "bt"}], "at least one of caterpillar_infested_share"),
        ([{"do": "weed", "every_days": 7, "beds": ["kohl"]}], "the beds of this scenario, kale, b"),
        ([{"do": "till", "on": "12-24"}], "a day of the season, 03-01 to 11-15"),
        ([{"do": "till", "on": "11-16"}], "a day of the season, 03-01 to 11-15"),
        ([{"do": "weed", "every_days": 7, "since": "02-28"}], "a day of the season, 03-01 to 11-15"),
        ([{"do": "weed", "every_days": 7, "until": "11-16"}], "a day of the season, 03-01 to 11-15"),
    ],
)
def test_a_plan_that_cannot_be_done_is_refused(actions: list[dict[str, Any]], sentence: str) -> None:
    with pytest.raises(ValidationError, match=sentence):
        garden(*actions, beds=[bed(), bed(name="b")])


def test_uncovering_all_means_all_that_are_covered() -> None:
    actions = [COVER | {"beds": ["b"]}, {"do": "uncover", "on": "06-14"}]
    assert garden(*actions, beds=[bed(), bed(name="b")]).plan("plan").actions


def test_the_first_and_the_last_day_are_days_of_the_season() -> None:
    actions = [{"do": "till", "on": "11-15"}, {"do": "weed", "every_days": 7, "since": "03-01", "until": "11-15"}]
    assert garden(*actions, beds=[bed(planted="03-01"), bed(name="b", planted="11-15")]).plan("plan").actions


@pytest.mark.parametrize(
    ("parts", "sentence"),
    [
        ({"season": {"first_day": "05-01", "last_day": "05-01"}}, "a day after 05-01"),
        ({"season": {"first_day": "05-01", "last_day": "04-01"}}, "a day after 05-01"),
        ({"season": {"first_day": "10-01", "last_day": "03-31"}}, "no season runs across the new year"),
        ({"season": {"first_day": "05-01", "last_day": "09-01"}}, "a day of the season, 05-01 to 09-01"),
        ({"place": {}}, "either 'climate' or 'weather_file'"),
        ({"place": {"climate": "warm_humid", "weather_file": "a.csv"}}, "either 'climate' or 'weather_file'"),
        ({"place": {"weather_file": "a.csv"}}, "the latitude of the weather file's station"),
        ({"plans": [{"name": "a", "title": "A"}, {"name": "a", "title": "B"}]}, "a name that no other plan has"),
        ({"plans": [{"name": "a", "title": "A net"}, {"name": "b", "title": "a  Net "}]}, "a title that no other plan"),
        ({"plans": []}, "at least 1 item"),
    ],
)
def test_parts_that_do_not_fit_together_are_refused(parts: dict[str, Any], sentence: str) -> None:
    with pytest.raises(ValidationError, match=sentence):
        garden(**parts)


@given(st.integers(1, 12), st.integers(1, 31))
def test_every_day_of_every_year_is_a_day_and_no_other(month: int, day: int) -> None:
    lengths = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    season = {"first_day": "01-01", "last_day": "12-31"}
    text = f"{month:02}-{day:02}"
    if day <= lengths[month - 1]:
        assert garden(season=season, beds=[bed(planted=text)]).beds[0].planted == text
    else:
        with pytest.raises(ValidationError, match="a day that every year has"):
            garden(season=season, beds=[bed(planted=text)])
