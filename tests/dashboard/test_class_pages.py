"""What a device of the class meets when it comes in: its lesson, its seat, and what to do with a wrong code."""

import json
from dataclasses import replace
from importlib.resources import files

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.lesson.lesson_code import code_of
from dashboard.lesson.opened import opened
from dashboard.sharing import role
from sim.scenario import load_scenario, scenario_names


@pytest.fixture
def device(monkeypatch):
    """The app as the class's server shows it."""
    monkeypatch.setenv(role.SHARED, "yes")
    monkeypatch.setattr(role, "_told", {})
    return AppTest.from_file(str(files("dashboard") / "app.py"), default_timeout=180)


def said_on(page):
    return " ".join(one.value for one in (*page.markdown, *page.caption, *page.info, *page.warning))


def test_a_device_at_the_bare_address_begins_with_the_teachers_lesson(device):
    known = {name: load_scenario(name) for name in scenario_names()}
    role.hear(json.dumps({"code": code_of(opened("cucumbers_and_bees"), known)}))
    page = device.run()
    assert page.title[0].value == "Which seat are you in?"
    assert "cucumbers_and_bees" in page.query_params["lesson"]
    assert "You got in" in said_on(page)
    assert "In a lesson?" not in said_on(page)


def test_a_device_is_told_what_was_moved_in_the_code_that_it_came_by(device):
    known = {name: load_scenario(name) for name in scenario_names()}
    lesson = replace(opened("cucumbers_and_bees"), changes={"pests.arrivals": 2.0})
    role.hear(json.dumps({"code": code_of(lesson, known)}))
    assert "times a usual year: 1 → 2." in said_on(device.run())


def test_a_device_without_a_lesson_is_asked_for_the_code(device):
    assert "In a lesson?" in said_on(device.run())


def test_a_device_with_a_wrong_code_is_not_told_that_it_got_in(device):
    device.query_params["code"] = "04XF600P"
    page = device.run()
    assert "You got in" not in said_on(page)
    assert "ask for it again" in said_on(page)
    page = page.text_input[0].set_value("").run()
    assert "You got in" in said_on(page)
