"""What no screen leaves out, in no view: cautions, what a model is, what was moved elsewhere, and the verdict."""

import re
from dataclasses import replace

import pytest

from dashboard.page.view import ROOM_SCREENS
from tests.dashboard.test_page import CAUTIONS, app, one_desk, opened, text_of  # noqa: F401

LOCKED = {"harvest_order": "2.1.3", "birds_order": "1.2.3", "locked": "yes"}


@pytest.mark.parametrize("guessed", [{}, LOCKED, {**LOCKED, "lesson": "late_cover"}])
@pytest.mark.parametrize("screen", ROOM_SCREENS)
def test_a_room_has_the_cautions_and_what_a_model_is_too(app, screen, guessed):  # noqa: F811
    page = opened(app, screen, view="room", **({"garden": "leaf_bed"} if "lesson" not in guessed else {}), **guessed)
    assert all(caution in text_of(page) for caution in CAUTIONS)
    assert any("This is a model" in box.value for box in page.info)


@pytest.mark.parametrize("screen", [*ROOM_SCREENS, "try_out"])
@pytest.mark.parametrize(("plan", "is_told"), [("spray_weekly", True), ("net", False)])
@pytest.mark.parametrize("view", [{}, {"view": "room"}])
def test_a_plan_that_sprays_open_flowers_is_told_beside_the_cautions(app, screen, plan, is_told, view):  # noqa: F811
    page = opened(app, screen, garden="cucumber_bed", plans=f"nothing.{plan}", **{"try": plan}, **view)
    assert any("Cucumbers are sprayed in bloom" in one.value for one in page.warning) is is_told


def told_of_moves(page):
    said = [one.value for one in page.caption if re.search("What you moved|Shown here as you moved it", one.value)]
    links = [one.proto.label for one in page.get("page_link") if "See what it changed" in one.proto.label]
    return said, links


@pytest.mark.parametrize("screen", ["garden", "guess", "watch", "compare", "went", "home", "share"])
@pytest.mark.parametrize("view", [{}, {"view": "room"}])
def test_a_screen_without_what_was_moved_says_what_it_was(app, screen, view):  # noqa: F811
    page = opened(app, screen, garden="leaf_bed", set="pests.arrivals:2.0", **view)
    (said,), links = told_of_moves(page)
    assert "for the plan 'Net from planting to last picking'" in said
    assert "Pests that come, times a usual year: 1 → 2." in said
    assert len(links) == 1


NET = "Net from planting to last picking"
LATE = {"garden": "leaf_bed", "set": "plans.net.actions.cover.days_after_planting:28", "try": "net"}


@pytest.mark.parametrize("screen", ["watch", "compare", "went", "home"])
@pytest.mark.parametrize("view", [{}, {"view": "room"}])
def test_a_moved_plan_is_shown_as_it_was_moved_when_asked(app, screen, view):  # noqa: F811
    page = opened(app, screen, **LATE, **view)
    (switch,) = [one for one in page.toggle if one.label == "Show it here as you moved it"]
    assert "The plans here are as they stand" in told_of_moves(page)[0][0]
    switch.set_value(True).run()
    assert not page.exception
    (said,), _links = told_of_moves(page)
    assert said.startswith("Shown here as you moved it")
    assert "goes on: 0 → 28" in said
    assert page.query_params["moved"] == "shown"


def test_what_is_shown_as_moved_is_lived_so_and_called_so(app):  # noqa: F811
    page = opened(app, "compare", **LATE | {"set": 'plans.net.actions.cover.material:"row_cover"'})
    stands = figures_of(page)
    moved = figures_of(page.toggle(key="as moved leaf_bed False").set_value(True).run())
    assert list(stands) == ["Do nothing about pests", NET, "Spray every week by the calendar"]
    assert list(moved) == ["Do nothing about pests", f"{NET}, as moved", "Spray every week by the calendar"]
    same = [name for name, figures in stands.items() if figures == moved.get(name)]
    assert same == ["Do nothing about pests", "Spray every week by the calendar"]
    assert stands[NET] != moved[f"{NET}, as moved"]


def test_a_handout_is_of_what_is_shown(app, monkeypatch):  # noqa: F811
    made = []
    monkeypatch.setattr("dashboard.handout.on_screen.content_of", lambda findings, *_rest: made.append(findings) or b"")
    page = opened(app, "home", **LATE)
    page.toggle(key="as moved leaf_bed False").set_value(True).run()
    stands, moved = made[0], made[-1]
    assert stands.titles["net"] == NET
    assert stands.changed == ()
    assert moved.titles["net"] == f"{NET}, as moved"
    assert [said for said in moved.changed if "goes on: 0 → 28" in said] == list(moved.changed)
    assert stands.comparison.table["mean"].tolist() != moved.comparison.table["mean"].tolist()


def test_what_cannot_be_changed_so_is_not_said_to_be_shown(app):  # noqa: F811
    page = opened(app, "compare", **LATE)
    never = {"plans.net.actions.cover.days_after_planting": 10_000}  # later than a garden can be followed
    page.session_state["lesson"] = replace(page.session_state["lesson"], changes=never, as_moved=True)
    page.run()
    assert list(figures_of(page))[1] == NET
    assert "The plans here are as they stand" in told_of_moves(page)[0][0]


def figures_of(page):
    assert not page.exception
    table = next(one.value for one in page.table if "Plan" in one.value)
    return {row["Plan"]: tuple(row.drop("Plan")) for _, row in table.iterrows()}


@pytest.mark.parametrize("screen", ["garden", "guess", "watch"])
def test_where_nothing_was_moved_nothing_is_said_of_it(app, screen):  # noqa: F811
    assert told_of_moves(opened(app, screen, garden="leaf_bed")) == ([], [])


def test_a_room_is_told_whether_five_seasons_are_enough(app):  # noqa: F811
    title = opened(app, "compare", garden="leaf_bed", view="room").title[0].value
    assert re.search(r"Behind: \d\. (Too close to call|Too few seasons to be sure)\.$", title), title
