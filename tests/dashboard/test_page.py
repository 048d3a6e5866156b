"""The page without a browser: it opens, runs, and answers a change; the server stays on this machine."""

import socket
from importlib.resources import files

import pytest
from streamlit.testing.v1 import AppTest

from dashboard.settings import SETTINGS, free_port
from sim.errors import RunError


@pytest.fixture
def page():
    return AppTest.from_file(str(files("dashboard") / "app.py"), default_timeout=120).run()


def test_it_opens_with_its_limits_and_cautions_before_anything_is_run(page):
    assert not page.exception
    assert "This is a model" in page.info[0].value
    words = " ".join(part.value for part in page.markdown)
    for caution in ("label is the law", "wildlife rescue", "open flowers", "allergic", "extension office"):
        assert caution in words
    assert not page.table


def test_it_runs_and_shows_picture_words_and_table(page):
    page.slider(key="seasons").set_value(2)
    page.button[0].click().run()
    assert not page.exception
    assert len(page.get("vega_lite_chart")) == 4
    assert page.table[0].value.shape == (6, 4)


def test_without_plans_it_asks_for_one(page):
    page.multiselect[0].set_value([]).run()
    assert "at least one plan" in page.warning[0].value


def test_the_server_is_for_this_machine_alone_and_sends_nothing():
    assert SETTINGS["server.address"] == "localhost"
    assert SETTINGS["browser.gatherUsageStats"] is False
    assert SETTINGS["server.enableXsrfProtection"] is True


def test_a_port_in_use_is_told():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(RunError, match=f"Port {port} is in use"):
            free_port(port)
        assert free_port(None) != port
