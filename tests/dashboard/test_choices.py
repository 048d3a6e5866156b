"""Every choice stands for keys that the scenario has, and can be moved over its whole range."""

import pytest

from dashboard.language.tongue import speaking
from dashboard.plans.choices import GARDENER, WORLD, choices, day_after, describe, without_control
from dashboard.plans.curves import values_along
from dashboard.plans.deeds import DEEDS, difference_sentence, say_deed, say_plan
from dashboard.plans.setting_words import with_words
from sim.scenario import load_scenario, scenario_names
from sim.scenario.actions import PlantHedgerow
from sim.scenario.changes import settings
from sim.settings import Setting

EVERY_PLAN = [(garden, plan) for garden in scenario_names() for plan in load_scenario(garden).plan_names]


def ends_of(choice):
    if choice.kind == "switch":
        return [not choice.now]
    if choice.kind == "list":
        return list(choice.options)
    if choice.kind == "date":
        return [day_after(choice.now, int(days)) for days in (choice.low, choice.high)]
    return [choice.low, choice.high]


@pytest.mark.parametrize(("garden", "plan"), EVERY_PLAN)
def test_a_choice_shows_what_the_scenario_holds_and_moves_to_its_ends(garden, plan):
    scenario = load_scenario(garden)
    held = settings(scenario)
    offered = choices(scenario, plan)
    assert len({choice.words for choice in offered}) == len(offered)
    for choice in offered:
        assert choice.value_in({}) == choice.now
        assert choice.written or {held[key] for key in choice.keys} == {choice.now}
        for value in ends_of(choice):
            changes = choice.changes(value)
            moved = settings(scenario.with_changes(changes))
            assert all(moved[key] == (tuple(said) if isinstance(said, list) else said) for key, said in changes.items())
            assert choice.value_in(changes) == value
            if value != choice.now:
                assert describe(changes, offered)[0].startswith(choice.words)


def test_both_the_gardener_and_the_world_can_be_moved():
    groups = {choice.group for choice in choices(load_scenario("teaching_garden"), "net")}
    assert groups == {GARDENER, WORLD}


def test_the_days_of_a_weather_file_cannot_be_made_warmer_or_wetter():
    garden = load_scenario("leaf_bed")
    place = garden.place.model_copy(update={"climate": None, "weather_file": "days.csv", "latitude_deg": 40.0})
    of_file = garden.model_copy(update={"place": place})
    moved = [{key for one in choices(each, "net") for key in one.keys} for each in (garden, of_file)]
    assert moved[0] - moved[1] == {"place.climate", "place.warmer_c", "place.wetter"}


def test_a_bed_left_bare_is_taken_off_every_net_and_nothing_else_is():
    scenario = load_scenario("teaching_garden")
    offered = choices(scenario, "net")
    bare = next(choice for choice in offered if choice.words == "Net: bed left bare beside it")
    assert "cucumbers" not in bare.options  # its own uncovering would be left without a bed, and that means all beds
    moved = scenario.with_changes(bare.changes("broccoli"))
    for action in moved.plan("net").actions:
        if action.do == "cover":
            assert set(action.beds) == {bed.name for bed in scenario.beds} - {"broccoli"}
    assert bare.value_in(bare.changes("broccoli")) == "broccoli"


def test_no_nest_at_all_can_be_tried():
    from sim.season import run_season

    scenario = load_scenario("leaf_bed")
    none = {choice.keys[0]: 0 for choice in choices(scenario, "net") if choice.keys[0].startswith("birds.nests.")}
    assert none
    lived = run_season(scenario.with_changes(none), "net").summary
    assert lived["nestlings_fledged_count"] == 0
    assert lived["marketable_kg"] > 0


def test_sprays_of_a_plan_move_together():
    offered = choices(load_scenario("teaching_garden"), "spray_weekly")
    assert len(next(choice for choice in offered if choice.words == "Spray: kind").keys) == 4


def by_words(garden, plan):
    return {choice.words: choice for choice in choices(load_scenario(garden), plan)}


def test_sprays_at_different_rhythms_have_a_slider_each_named_by_their_beds():
    offered = by_words("teaching_garden", "spray_weekly")
    rhythms = {words: choice.now for words, choice in offered.items() if words.endswith("days from one to the next")}
    assert rhythms == {
        "Spray (all but cucumbers): days from one to the next": 14,
        "Spray (cucumbers): days from one to the next": 7,
        "Weeding: days from one to the next": 21,
    }
    moved = load_scenario("teaching_garden").with_changes(
        offered["Spray (cucumbers): days from one to the next"].changes(42)
    )
    assert [one.every_days for one in moved.plan("spray_weekly").actions if one.do == "spray"] == [14, 14, 14, 42]


def test_sprays_on_the_same_beds_are_told_apart_by_their_product():
    begins = [words for words in by_words("leaf_bed", "spray_weekly") if words.endswith("that it begins")]
    assert begins == [
        "Spray (a Bt spray, all beds): days after planting that it begins",
        "Spray (a pyrethrins spray, all beds): days after planting that it begins",
    ]


def test_what_beds_and_product_do_not_tell_apart_is_numbered():
    scenario = load_scenario("leaf_bed")
    actions = [{"do": "plant_hedgerow", "length_m": length, "age_years": 3.0} for length in (5.0, 9.0)]
    actions += [{"do": "hand_pick", "every_days": days} for days in (3, 4)]
    plans = [{"name": "two", "title": "Two", "about": "Two.", "actions": actions}]
    twice = type(scenario).model_validate({**scenario.model_dump(mode="json"), "plans": plans})
    words = [choice.words for choice in choices(twice, "two")]
    assert [one for one in words if one.startswith(("Hedgerow (", "Hedgerow:"))] == [
        "Hedgerow (1): m",
        "Hedgerow (2): m",
        "Hedgerow: its age in years",
    ]
    assert "Picking by hand (all beds, 2): days from one to the next" in words


def test_pests_that_differ_are_moved_apart_and_named():
    scenario = load_scenario("leaf_bed").with_changes({"pests.cabbage_looper": 2.0})
    moths = {choice.words: choice.now for choice in choices(scenario, "net") if choice.words.startswith("Butterflies")}
    assert moths == {
        "Butterflies and moths that come (cabbage white and diamondback moth), times a usual year": 1.0,
        "Butterflies and moths that come (cabbage looper), times a usual year": 2.0,
    }


def test_a_link_from_when_all_sprays_had_one_slider_still_opens_and_tells_each():
    offered = choices(load_scenario("teaching_garden"), "spray_weekly")
    old = {f"plans.spray_weekly.actions.{place}.every_days": 21 for place in (1, 2, 3, 4)}
    assert without_control(old, offered) == []
    assert describe(old, offered) == [
        "Spray (all but cucumbers): days from one to the next: 14 → 21",
        "Spray (cucumbers): days from one to the next: 7 → 21",
    ]


def test_a_link_that_moves_part_of_a_group_is_told_and_not_widened_to_all_of_it():
    offered = choices(load_scenario("teaching_garden"), "spray_weekly")
    part = {"plans.spray_weekly.actions.1.every_days": 7}
    assert without_control(part, offered) == ["plans.spray_weekly.actions.1.every_days = 7"]
    assert describe(part, offered) == ["plans.spray_weekly.actions.1.every_days = 7"]


def test_kinds_of_spray_that_take_turns_are_told_as_they_stand():
    kind = by_words("teaching_garden", "spray_weekly")["Spray: kind"]
    assert kind.say(kind.now) == "a spinosad spray, a Bt spray and a pyrethrins spray"
    assert kind.changes(kind.now) == {}
    assert describe(kind.changes("bt"), [kind]) == [
        "Spray: kind: a spinosad spray, a Bt spray and a pyrethrins spray → a Bt spray"
    ]


def test_a_gardener_without_a_limit_is_given_no_slider_of_minutes():
    endless = load_scenario("leaf_bed").with_changes({"gardener.minutes_per_day": float("inf")})
    assert not [choice for choice in choices(endless, "net") if choice.keys[0].startswith("gardener.")]


def test_what_no_control_stands_for_is_named_and_nothing_else_is():
    offered = choices(load_scenario("teaching_garden"), "net")
    held = {"pests.arrivals": 1.0, "plans.net.actions.1.open_from_hour": 6.0, "plans.net.actions.1.open_to_hour": 8.0}
    assert without_control(held, offered) == []
    assert without_control({**held, "season.years": 2}, offered) == ["season.years = 2"]
    between = {**held, "plans.net.actions.1.open_to_hour": 9.0}
    assert without_control(between, offered) == [f"{key} = {between[key]}" for key in list(held)[1:]]


def test_a_curve_goes_through_what_a_link_brings():
    offered = {choice.keys[0]: choice for choice in choices(load_scenario("teaching_garden"), "net")}
    crop = offered["beds.collards.crop"].holding("cabbage")
    assert values_along(crop, "cabbage") == ["collard", "kale", "cabbage"]
    assert offered["beds.collards.crop"].holding("kale") is offered["beds.collards.crop"]
    assert values_along(offered["pests.arrivals"].holding(900), 900)[-1] == 900.0


def test_a_change_that_no_choice_holds_is_told_by_its_key():
    assert describe({"season.years": 2}, []) == ["season.years = 2"]


@pytest.mark.parametrize(("garden", "plan"), EVERY_PLAN)
def test_every_plan_is_said_in_words(garden, plan):
    scenario = load_scenario(garden)
    said = say_plan(scenario.plan(plan))
    assert len(said) == len(scenario.plan(plan).actions)
    assert not any("_" in words or "None" in words for words in said)


def test_every_action_has_its_word():
    from typing import get_args

    from sim.scenario.actions import Action

    kinds = get_args(get_args(Action)[0])
    assert {kind.model_fields["do"].annotation.__args__[0] for kind in kinds} == set(DEEDS)


@pytest.mark.parametrize(
    ("first", "other", "told"),
    [
        ("nothing", "net", "in one kind of thing: the net."),
        ("net", "net_and_hedgerow", "in one kind of thing: plant a hedgerow."),
        ("net", "spray_weekly", "in 2 kinds of things: sprays and the net."),
        ("net", "net", "do the same things"),
    ],
)
def test_how_plans_differ_is_told(first, other, told):
    sentence = difference_sentence(load_scenario("teaching_garden"), first, other)
    assert told in sentence
    assert ("cannot tell which" in sentence) == ("2 kinds" in told)


@pytest.mark.parametrize(
    ("years", "english", "spanish"),
    [(1.0, "one year old", "un año de edad"), (1.5, "1.5 years old", "1.5 años de edad"), (5.0, "5 years", "5 años")],
)
def test_one_year_is_said_otherwise_than_several(years, english, spanish):
    deed = PlantHedgerow(do="plant_hedgerow", length_m=20.0, age_years=years)
    assert english in say_deed(deed)
    with speaking("es"):
        assert spanish in say_deed(deed)


def test_a_sweep_of_all_sprays_is_called_as_they_are_together_though_they_stand_apart():
    every = Setting(keys=("plans.spray_weekly.actions.spray.every_days",), values=(7, 14))
    assert with_words(every, load_scenario("teaching_garden")).words == "Spray: days from one to the next"
