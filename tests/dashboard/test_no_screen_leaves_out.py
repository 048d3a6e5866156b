"""What no screen leaves out, in no view: cautions, what a model is, what was moved elsewhere, and the verdict."""

import re

import pytest

from dashboard.view import ROOM_SCREENS
from tests.dashboard.test_page import CAUTIONS, app, one_desk, opened, text_of  # noqa: F401

LOCKED = {"harvest_order": "2.1.3", "birds_order": "1.2.3", "locked": "yes"}


@pytest.mark.parametrize("guessed", [{}, LOCKED, {**LOCKED, "lesson": "late_cover"}])
@pytest.mark.parametrize("screen", ROOM_SCREENS)
def test_a_room_has_the_cautions_and_what_a_model_is_too(app, screen, guessed):  # noqa: F811
    page = opened(app, screen, view="room", **({"garden": "leaf_bed"} if "lesson" not in guessed else {}), **guessed)
    assert all(caution in text_of(page) for caution in CAUTIONS)
    assert any("This is a model" in box.value for box in page.info)


def told_of_moves(page):
    said = [one.value for one in page.caption if "What you moved" in one.value]
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


@pytest.mark.parametrize("screen", ["garden", "guess", "watch"])
def test_where_nothing_was_moved_nothing_is_said_of_it(app, screen):  # noqa: F811
    assert told_of_moves(opened(app, screen, garden="leaf_bed")) == ([], [])


def test_a_room_is_told_whether_five_seasons_are_enough(app):  # noqa: F811
    title = opened(app, "compare", garden="leaf_bed", view="room").title[0].value
    assert re.search(r"Behind: 3\. Too close to call\.$", title), title
