"""Try it yourself: each control that is offered can be picked, and one that a link sets has room for what it brings."""

import pytest

from dashboard.plans.choices import choices
from sim.scenario import load_scenario
from tests.dashboard.test_page import app, one_desk, opened, text_of  # noqa: F401


def test_everything_that_is_offered_can_be_picked_once(app):  # noqa: F811
    page = opened(app, "try_out", garden="teaching_garden", **{"try": "net"})
    offered = list(choices(load_scenario("teaching_garden"), "net"))
    keys = [choice.keys[0] for choice in offered]
    assert any(key.startswith("birds.nests.") for key in keys)
    for first in range(0, len(keys), 3):  # the page takes three things at a time
        some = offered[first : first + 3]
        page = page.multiselect[0].set_value([choice.keys[0] for choice in some]).run()
        assert not page.exception
        labels = {one.label for one in (*page.slider, *page.toggle, *page.selectbox)}
        assert {choice.words for choice in some} <= labels


WIDER = [
    ("pests.arrivals", "900", 900.0),
    ("pests.arrivals", "2", 2.0),
    ("gardener.minutes_per_day", "100000", 100_000.0),
    ("plans.net.actions.1.days_after_planting", "300", 300),
    ("beds.broccoli.planted", '"10-10"', 196),
]


@pytest.mark.parametrize(("key", "said", "shown"), WIDER)
def test_a_control_makes_room_for_what_a_link_brings(app, monkeypatch, key, said, shown):  # noqa: F811
    without_seasons(monkeypatch)
    page = opened(app, "try_out", garden="teaching_garden", **{"try": "net", "set": f"{key}:{said}"})
    assert [page.slider[0].value, page.number_input[0].value] == [shown, shown]
    assert "".join(page.query_params["set"]) == f"{key}:{said}"
    widest = page.slider[0].max
    page = page.slider[0].set_value(type(shown)(1)).run()
    assert not page.exception
    assert [page.slider[0].value, page.slider[0].max] == [1, widest]


def test_a_list_takes_in_what_a_link_brings(app, monkeypatch):  # noqa: F811
    without_seasons(monkeypatch)
    page = opened(app, "try_out", garden="teaching_garden", **{"try": "net", "set": 'beds.collards.crop:"cabbage"'})
    what = next(one for one in page.selectbox if one.label == "Collards: what grows there")
    assert (what.value, what.options) == ("cabbage", ["collard", "kale", "cabbage"])


@pytest.mark.parametrize(
    ("plan", "said", "told"),
    [
        ("net", "gardener.minutes_per_day:Infinity", "gardener.minutes_per_day = inf"),
        ("spray_weekly", "plans.spray_weekly.actions.1.times:null", "plans.spray_weekly.actions.1.times = None"),
        ("net", "season.years:2", "season.years = 2"),
    ],
)
def test_what_no_control_can_show_is_told_and_left_out(app, plan, said, told):  # noqa: F811
    page = opened(app, "try_out", garden="teaching_garden", **{"try": plan, "set": said})
    assert page.warning[0].value == f"No control here stands for {told}, so it was left out."
    assert "set" not in page.query_params


def test_a_setting_that_no_calendar_holds_is_told_on_the_first_page(app):  # noqa: F811
    page = opened(app, "garden", set="plans.net.actions.cover.days_after_planting:10000000000")
    assert "A setting of the link was left out." in page.warning[0].value
    assert "a whole number from 0 to 730" in page.warning[0].value


LABEL = "A label says how often, and how long to wait before picking."


@pytest.mark.parametrize(("plan", "is_told"), [("spray_weekly", True), ("spray_at_threshold", True), ("net", False)])
def test_what_a_label_says_stands_by_the_sliders_of_sprays(app, plan, is_told):  # noqa: F811
    page = opened(app, "try_out", garden="teaching_garden", **{"try": plan})
    spray = next((one for one in choices(load_scenario("teaching_garden"), plan) if one.deed.startswith("spray")), None)
    if spray:
        page = page.multiselect[0].set_value([spray.keys[0]]).run()
    assert (LABEL in [one.value for one in page.caption]) is is_told


def test_try_says_what_being_ahead_means(app):  # noqa: F811
    page = opened(app, "try_out", garden="leaf_bed", **{"try": "net", "set": "pests.arrivals:2.0"})
    assert "Ahead means less: minutes of work" in text_of(page)


def without_seasons(monkeypatch):
    """Let no season run: what is looked at stands above the answer."""
    monkeypatch.setattr("dashboard.page.running.run_step_by_step", lambda *_args, **_more: None)
