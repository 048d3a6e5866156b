"""A screen asks about what its garden has: one plan or many, with cucumbers and nests or without."""

import pytest

from sim.scenario import load_scenario
from tests.dashboard.test_page import app, one_desk, opened, text_of  # noqa: F401


@pytest.fixture
def box(monkeypatch, tmp_path):
    """Name of a garden of one's own in hand: one bed of leaves, one plan, and no bird with young near by."""
    garden = load_scenario("leaf_bed")
    birds = garden.birds.model_copy(update={"nests": ()})
    lone = garden.model_copy(update={"plans": garden.plans[:1], "beds": garden.beds[:1], "birds": birds})
    monkeypatch.setattr("dashboard.page.visit._shipped", lambda: {"leaf_bed": garden, "box": lone})
    return "box"


def test_a_garden_that_is_called_as_another_stays_in_hand_when_the_page_is_drawn_again(app, box):  # noqa: F811
    page = opened(app, "garden", garden="leaf_bed")
    assert page.selectbox[0].options == ["Leaf bed", "Leaf bed, number 2"]
    page = page.run()
    assert page.selectbox[0].value == "leaf_bed"
    page = page.selectbox[0].set_value(box).run().run()
    assert page.selectbox[0].value == box


def test_a_garden_with_one_plan_is_watched_and_shown_and_asked_for_no_order(app, box):  # noqa: F811
    page = opened(app, "garden", garden=box)
    assert "has one plan" in page.warning[0].value
    page = page.switch_page("screens/guess.py").run()
    assert "no order to guess" in text_of(page)
    page = page.switch_page("screens/compare.py").run()
    assert "Harvest fit to sell, 5 seasons" in [one.value for one in page.header]
    assert len(page.get("vega_lite_chart")) == 1
    assert "nothing is set against it" in text_of(page)
    whole = page.get("vega_lite_chart")[0].proto.spec
    assert r"Do nothing about\npests" in whole  # a longer line is cut by the picture
    assert "Nothing of this kind" not in text_of(page)
    assert "What matters most to you?" not in [one.value for one in page.subheader]


@pytest.mark.parametrize("screen", ["guess", "compare"])
def test_a_garden_with_one_plan_can_be_shown_to_a_room(app, box, screen):  # noqa: F811
    page = opened(app, screen, garden=box, view="room")
    assert not page.exception


OF_CUCUMBERS = {"flower_visits_count", "bees_harmed_share", "Flowers that set fruit"}
OF_NESTS = {"nestlings_fledged_count", "bird_food_reachable_g", "Bird food in the beds"}
NEVER = {"cucumber_bed": set(), "leaf_bed": OF_CUCUMBERS, "bare": OF_CUCUMBERS | OF_NESTS}
"""Garden → what it has not, among what others are asked about."""


@pytest.fixture
def with_bare(monkeypatch):
    """Two gardens that come with the program, and one that no bird with young hunts in."""
    known = {name: load_scenario(name) for name in ("cucumber_bed", "leaf_bed")}
    birds = known["leaf_bed"].birds.model_copy(update={"nests": ()})
    known["bare"] = known["leaf_bed"].model_copy(update={"birds": birds})
    monkeypatch.setattr("dashboard.page.visit._shipped", lambda: known)


@pytest.mark.parametrize("garden", NEVER)
def test_nobody_is_asked_about_what_the_garden_has_not(app, with_bare, garden):  # noqa: F811
    page = opened(app, "compare", garden=garden)
    asked = {one.key.removeprefix("cares ") for one in page.segmented_control if str(one.key).startswith("cares ")}
    asked |= set(page.selectbox(key="measure").options)
    everything = set.union(*NEVER.values())
    assert asked & everything == everything - NEVER[garden]
    assert {"marketable_kg", "labour_minutes", "Spiders"} <= asked


def test_a_measure_that_the_next_garden_has_not_is_let_go(app, with_bare):  # noqa: F811
    page = opened(app, "compare", garden="cucumber_bed")
    page = page.selectbox(key="measure").set_value("fruit_set_share").run()
    page = page.switch_page("screens/garden.py").run()
    page = page.selectbox[0].set_value("leaf_bed").run()
    page = page.switch_page("screens/compare.py").run()
    assert not page.exception
    assert page.selectbox(key="measure").value == "marketable_kg"


def test_where_no_bird_nests_the_class_guesses_something_else(app, with_bare):  # noqa: F811
    page = opened(app, "guess", garden="bare", harvest_order="2.1.3", birds_order="1.2.3", locked="yes")
    assert [one.value for one in page.subheader][:2] == [
        "Which plan gives most harvest fit to sell?",
        "Which plan takes most minutes of work?",
    ]


@pytest.mark.parametrize(
    ("plans", "asked"),
    [("nothing.net", ["net"]), ("nothing.spray_weekly", ["spray"]), ("net.spray_weekly", ["net", "spray"])],
)
def test_what_to_look_at_again_is_about_plans_that_are_shown(app, plans, asked):  # noqa: F811
    page = opened(app, "went", garden="leaf_bed", plans=plans)
    questions = {"spray": "A spray kills some", "net": "Which did the net do?"}
    assert sorted(deed for deed, words in questions.items() if words in text_of(page)) == asked
    assert "The bars add up to a thousand" in text_of(page)


@pytest.mark.parametrize(("garden", "is_bare"), [("box", True), ("leaf_bed", False)])
def test_where_nothing_is_covered_or_sprayed_a_sentence_stands_for_the_picture(app, box, garden, is_bare):  # noqa: F811
    page = opened(app, "went", garden=garden, look="days")
    assert ("no bed is covered or sprayed" in text_of(page)) == is_bare
    assert len(page.get("vega_lite_chart")) == (2 if is_bare else 4)


@pytest.mark.parametrize(("garden", "is_bare"), [("box", True), ("leaf_bed", False)])
def test_where_no_bird_nests_a_sentence_stands_for_the_picture_of_their_food(app, box, garden, is_bare):  # noqa: F811
    page = opened(app, "went", garden=garden, look="days")
    none = "Garden food to nestlings: none on any day of these seasons. No nests in reach."
    assert (none in text_of(page)) == is_bare
    titles = [chart.proto.spec for chart in page.get("vega_lite_chart")]
    assert any("Garden food to nestlings" in spec for spec in titles) != is_bare


@pytest.mark.parametrize(("garden", "is_alone"), [("box", True), ("leaf_bed", False)])
def test_one_plan_alone_is_not_asked_who_was_left_with_less(app, box, garden, is_alone):  # noqa: F811
    page = opened(app, "went", garden=garden, look="short")
    boards = page.segmented_control(key=next(o.key for o in page.segmented_control if "look at" in str(o.key)))
    assert ("Who was left with less?" in boards.options) != is_alone
    assert ("Killed, and left with less" in [one.value for one in page.header]) != is_alone
    assert not page.exception
