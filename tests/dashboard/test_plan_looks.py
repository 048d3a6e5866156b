"""A plan looks the same on every picture of its garden, on a screen and on paper, and like no other shown beside it."""

import itertools

import pytest

from dashboard.charts import seasons_picture
from dashboard.charts.palette import LOOKS, look_of
from dashboard.charts.picture import Numbered
from dashboard.charts.plan_titles import PlanTitles, look_numbers, looks_of
from dashboard.charts.printed.pictures import parts_of
from dashboard.charts.printed.shapes import HALF_PAGE, SLIDE, Style
from dashboard.charts.seasons_picture import seasons_scene
from dashboard.charts.summary import summary_picture
from dashboard.results import plan_titles
from sim.scenario import load_scenario, scenario_names
from tests.dashboard.invented import TITLES, comparison
from tests.dashboard.invented_scenes import SELL, scenes_of

LISTED = ("spray_weekly", "another", "net", "one_more", "nothing")
"""A garden's list in another order than the plans are shown in."""


@pytest.mark.parametrize("garden", scenario_names())
def test_each_plan_of_a_garden_of_ours_has_a_look_of_its_own(garden):
    names = load_scenario(garden).plan_names
    looks = plan_titles(load_scenario(garden), names).looks
    assert len({look_of(number) for number in looks.values()}) == len(names)
    for pair in itertools.combinations(names, 2):
        shown = plan_titles(load_scenario(garden), pair[::-1]).looks
        assert shown == {plan: looks[plan] for plan in pair}


def test_plans_that_would_share_a_look_do_not_when_shown_together():
    many = [f"plan{number}" for number in range(2 * len(LOOKS))]
    for first, other in itertools.combinations(range(len(many)), 2):
        numbers = look_numbers([many[other], many[first]], many)
        assert len(set(numbers.values())) == 2
        assert numbers[many[first]] == first % len(LOOKS)  # who is farther up keeps his own
    assert set(look_numbers(many, many).values()) == set(range(len(LOOKS)))


@pytest.mark.parametrize("kind", [kind for kind, scene in scenes_of(TITLES).items() if isinstance(scene, Numbered)])
def test_every_kind_of_picture_and_each_of_its_parts_keeps_the_looks_of_the_garden(kind):
    scene = scenes_of(PlanTitles(TITLES, LISTED))[kind]
    if set(scene.plans) <= set(LISTED):  # pictures of one plan, before and after, have no plans to tell apart
        for style in (Style(HALF_PAGE), Style(SLIDE)):
            for _name, part in parts_of(scene, style):
                assert [part.number_of(plan) for plan in part.plans] == [LISTED.index(plan) for plan in part.plans]


def test_the_screen_has_the_looks_of_the_garden_too():
    titles = PlanTitles(TITLES, LISTED)
    drawn = seasons_picture.draw(seasons_scene(comparison().seasons, titles, SELL)).to_dict()
    dots = next(layer for layer in drawn["layer"] if layer["mark"]["type"] == "point")
    looks = [LOOKS[LISTED.index(plan)] for plan in TITLES]
    assert dots["encoding"]["color"]["scale"]["range"] == [look.colour for look in looks]
    assert dots["encoding"]["shape"]["scale"]["range"] == [look.on_screen for look in looks]


def test_without_a_garden_looks_go_by_place():
    picture = summary_picture(comparison().seasons, TITLES, "A garden")
    assert looks_of(picture.plans) == dict(zip(TITLES, range(len(TITLES)), strict=True))
