"""What a handout says of bird food and of where numbers come from is so, and no more than that."""

import pytest

from dashboard.handout.contents import handout
from dashboard.handout.files import file_of
from dashboard.handout.many_plans import extremes
from dashboard.handout.sources import part_read, source_sentences
from dashboard.handout.words import happened_points
from dashboard.language.saying import say_list
from sim.parameters import load_parameters
from sim.parameters.table import sources
from tests.dashboard.test_handout import DAY, all_plans, findings_of


@pytest.mark.parametrize("plans", [("nothing",), ("nothing", "net", "spray_weekly")])
def test_which_part_of_the_bird_food_lies_in_the_beds_is_said_of_each_plan(plans):
    findings = findings_of(plans)
    means = findings.comparison.table.set_index(["measure", "plan"])["mean"]
    parts = [f"{100 * 0.25 / means['bird_food_reachable_g', plan]:.0f}%" for plan in plans]
    order = ", in the order of the plans" if len(plans) > 1 else ""
    said = f"Part of it in the beds{order}: {say_list(parts)}; the rest is on wild plants beside them."
    (food,) = [point for point in happened_points(findings) if "ird food in reach" in point]
    assert said in food
    assert "not counted" not in food


def test_nothing_is_said_of_the_beds_where_their_food_is_not_known_or_there_is_none():
    (food,) = [one for one in happened_points(findings_of(without=("bird_food_in_beds_g",))) if "food in reach" in one]
    assert "beds" not in food
    (many,) = [one for one in extremes(all_plans(12)) if "food in reach" in one]
    assert many.count("%") == 12


def test_seasons_without_young_in_reach_are_said_not_to_count():
    findings = findings_of()
    for plan in findings.plans:
        del findings.seasons[plan, 2].summary["bird_food_reachable_g"]
    (said,) = [one for one in happened_points(findings) if "food in reach" in one]
    assert "of 4 seasons" in said
    assert said.endswith("Seasons without young in reach are not counted.")


def test_sources_are_said_to_be_named_often_and_how_they_were_read():
    counted, listed = source_sentences(has_list=True)
    named = [entry.source for entry in load_parameters().values() if entry.source != "none"]
    assert (
        f"{len(named)} of the {len(load_parameters())} name a source; there are {len(set(named))} sources." in counted
    )
    assert "(abstract read)" in listed
    assert all(part_read(entry["read"]) for entry in sources().values() if entry["read"].startswith("abstract"))
    for entry in sources().values():
        part_read(entry["read"])  # a kind of reading that has no words would fail here


def test_only_gardens_that_come_with_the_program_are_said_to_be_invented():
    paper = handout(findings_of(), day=DAY)
    text = " ".join(file_of(paper, "letter", "txt").decode().split())
    assert "The gardens that come with it are invented." in text
    assert "The gardens in it" not in text


def test_a_part_that_rounds_to_none_is_not_said_to_be_none():
    findings = findings_of()
    for (plan, _season), one in findings.seasons.items():
        one.summary["bird_food_in_beds_g"] = {"nothing": 0.25, "net": 0.001, "spray_weekly": 0.0}[plan]
    (food,) = [one for one in happened_points(findings) if "food in reach" in one]
    assert "%, under 1% and 0%; the rest" in food
