"""Every choice stands for keys that the scenario has, and can be moved over its whole range."""

import pytest

from dashboard.choices import GARDENER, WORLD, choices, day_after, describe, without_control
from dashboard.curves import values_along
from dashboard.deeds import DEEDS, difference_sentence, say_deed, say_plan
from dashboard.tongue import speaking
from sim.scenario import load_scenario, scenario_names
from sim.scenario.actions import PlantHedgerow
from sim.scenario.changes import settings

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
        assert choice.written or held[choice.keys[0]] == choice.now
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
