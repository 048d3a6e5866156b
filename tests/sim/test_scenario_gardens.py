"""The gardens that come with the package: invented, explained, and with the plans that are to be compared."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.scenario import load_scenario, scenario_names
from sim.scenario.changes import settings

FOLDER = Path(__file__).parents[2] / "scenarios"
PLANS = {
    "nothing",
    "net",
    "net_until_bloom",
    "late_net",
    "slack_net",
    "spray_weekly",
    "spray_at_threshold",
    "hand_picking",
    "net_some",
    "net_and_hedgerow",
}


@pytest.mark.parametrize("name", scenario_names())
def test_a_garden_has_every_plan_and_says_that_it_is_invented(name: str) -> None:
    scenario = load_scenario(name)
    text = (FOLDER / f"{name}.toml").read_text(encoding="utf-8")
    assert set(scenario.plan_names) >= PLANS
    assert scenario.plan_names[:3] == ("nothing", "net", "spray_weekly")
    assert "Invented" in scenario.about
    assert "Invented" in text.splitlines()[0]
    assert "the label is the law" in text
    assert len({plan.title for plan in scenario.plans}) == len(scenario.plans)
    assert len({plan.actions for plan in scenario.plans}) == len(scenario.plans)
    assert all(plan.about for plan in scenario.plans)


def test_the_default_comes_first_and_holds_what_is_to_be_shown() -> None:
    scenario = load_scenario(scenario_names()[0])
    assert scenario.name == "teaching_garden"
    assert 90 <= sum(bed.plant_count for bed in scenario.single_beds) <= 120
    assert {"collard", "cabbage", "broccoli", "lettuce", "cucumber"} <= {bed.crop for bed in scenario.beds}
    assert {nest.kind for nest in scenario.birds.nests} == {"tit_like", "wren_like", "woodpecker_like"}
    assert min(scenario.pests.cabbage_white, scenario.pests.cabbage_looper, scenario.pests.harlequin_bug) > 0


def test_sizes_are_those_that_the_files_state() -> None:
    counts = {name: sum(bed.plant_count for bed in load_scenario(name).single_beds) for name in scenario_names()}
    assert counts == {
        "teaching_garden": 114,
        "hedgerow_garden": 114,
        "leaf_bed": 20,
        "cucumber_bed": 24,
        "market_garden": 10_000,
    }
    assert len(load_scenario("market_garden").single_beds) == 100


def test_the_hedgerow_garden_is_the_teaching_garden_but_for_what_lies_beside_it() -> None:
    one, other = settings(load_scenario("teaching_garden")), settings(load_scenario("hedgerow_garden"))
    differing = {key.split(".")[0] for key in one.keys() | other.keys() if one.get(key) != other.get(key)}
    assert differing == {"name", "title", "about", "margin", "birds"}


def test_weeding_is_the_same_in_every_plan_so_that_minutes_compare() -> None:
    for name in scenario_names():
        weeding = {
            tuple(action for action in plan.actions if action.do == "weed") for plan in load_scenario(name).plans
        }
        assert len(weeding) == 1
