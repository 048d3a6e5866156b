"""Dotted changes reach every setting, refuse what is unknown, and leave the first scenario as it was."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.errors import ScenarioError
from sim.scenario import Scenario, load_scenario, scenario_names
from sim.scenario.changes import json_schema, settings

GARDEN = load_scenario("teaching_garden")


@pytest.mark.parametrize("name", scenario_names())
def test_a_scenario_survives_being_written_out(name: str) -> None:
    scenario = load_scenario(name)
    assert Scenario.model_validate(scenario.model_dump(mode="json")) == scenario
    unlimited = scenario.with_changes({"gardener.minutes_per_day": float("inf")})
    assert Scenario.model_validate_json(unlimited.model_dump_json()) == unlimited


def test_every_setting_can_be_set_to_what_it_is() -> None:
    every = settings(GARDEN)
    assert {"beds.collards.planted", "plans.net.actions.1.edges", "birds.nests.0.kind", "pests.arrivals"} <= set(every)
    assert GARDEN.with_changes(every) == GARDEN
    assert GARDEN.with_changes({}).fingerprint == GARDEN.fingerprint


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("beds.collards.planted", "04-11"),
        ("beds.0.planted", "04-11"),
        ("plans.net.actions.1.edges", "slack"),
        ("plans.1.actions.1.gap_share", 0.25),
        ("birds.nests.0.distance_m", 3),
        ("birds.nests", []),
        ("pests.cabbage_looper", 0),
        ("gardener.works_on", ["mon", "sat"]),
        ("place.climate", "cool_maritime"),
        ("place.warmer_c", -3),
        ("plans.net.actions", []),
        ("title", "Another"),
    ],
)
def test_a_change_is_made_and_seen_in_the_fingerprint(key: str, value: Any) -> None:
    before = GARDEN.fingerprint
    changed = GARDEN.with_changes({key: value})
    assert changed.fingerprint != before
    assert GARDEN.fingerprint == before
    named = key.replace("beds.0", "beds.collards").replace("plans.1", "plans.net")
    if named in settings(changed):
        found = settings(changed)[named]
        assert (list(found) if isinstance(found, tuple) else found) == value


@given(st.floats(0, 1000))
def test_a_factor_is_kept_as_given(factor: float) -> None:
    assert GARDEN.with_changes({"pests.flea_beetle": factor}).pests.flea_beetle == factor


@pytest.mark.parametrize(
    ("key", "value", "sentence"),
    [
        (
            "pests.loper",
            1,
            "There is no setting 'pests.loper' in scenario 'teaching_garden'. Did you mean 'pests.cabbage_l",
        ),
        ("beds.collard.planted", "04-01", "Did you mean 'beds.collards.planted'"),
        ("plans.net.actions.9.edges", "slack", "There is no setting 'plans.net.actions.9.edges'"),
        ("plans.net.actions.1.edgs", "slack", "Did you mean 'plans.net.actions.1.edges'"),
        ("plans.nett.actions.cover.edges", "slack", "Did you mean 'plans.net.actions.cover.edges'?"),
        ("plans.net.actions.cver.edges", "slack", "Did you mean 'plans.net.actions.cover.edges'?"),
        ("plans.nett", 1, "Did you mean 'plans.net'?"),
        ("pests.cabbage_looper.x", 1, "There is no setting 'pests.cabbage_looper.x'"),
        ("", 1, "There is no setting ''"),
        ("pests.cabbage_looper", "1", "'pests.cabbage_looper' is '1'; allowed: a number from 0 to 1000."),
        ("pests.cabbage_looper", -1, "'pests.cabbage_looper' is -1; allowed: a number from 0 to 1000."),
        ("beds.collards.planted", "04-31", "'beds.collards.planted' is '04-31'; allowed: a day that every year has"),
        ("plans.net.actions.1.edges", "tight", "'plans.net.actions.1.edges' is 'tight'; allowed: 'buried'"),
        ("beds.collards.name", "kohlrabi", "allowed: a name that no other bed has"),
        ("numbers.nobody.knows", 1, "There is no parameter 'nobody.knows'"),
    ],
)
def test_a_change_that_cannot_be_made_is_told(key: str, value: Any, sentence: str) -> None:
    with pytest.raises(ScenarioError) as caught:
        GARDEN.with_changes({key: value})
    assert sentence in str(caught.value)
    assert "\n" not in str(caught.value)


def test_the_schema_is_json_and_names_every_part_and_action() -> None:
    schema = json.loads(json.dumps(json_schema()))
    assert set(schema["properties"]) == set(Scenario.model_fields)
    assert schema["$defs"]["Bed"]["properties"]["length_m"]["exclusiveMinimum"] == 0
    words = schema["$defs"]["Plan"]["properties"]["actions"]["items"]["discriminator"]["mapping"]
    assert {"cover", "uncover", "spray", "scout", "spray_at_threshold", "pick", "till"} <= set(words)


def test_actions_go_by_what_they_do_and_all_of_a_plan_that_do_it_change() -> None:
    changed = GARDEN.with_changes({"plans.spray_weekly.actions.spray.hour": "dawn"})
    sprays = [action for action in changed.plan("spray_weekly").actions if action.do == "spray"]
    assert len(sprays) > 1
    assert {spray.hour for spray in sprays} == {"dawn"}
    others = [action for action in changed.plan("spray_weekly").actions if action.do != "spray"]
    assert others == [action for action in GARDEN.plan("spray_weekly").actions if action.do != "spray"]
    assert changed.plan("spray_at_threshold") == GARDEN.plan("spray_at_threshold")


def test_a_deed_that_a_plan_does_not_have_is_told() -> None:
    with pytest.raises(ScenarioError, match=r"no setting 'plans.nothing.actions.cover.edges'"):
        GARDEN.with_changes({"plans.nothing.actions.cover.edges": "slack"})
