"""One program and one Chromium for all browser tests; each test finds it as a first visitor on a laptop would."""

import pytest

from tests.browser.starting import started_browser, started_program
from tests.browser.watching import as_on_a_first_visit


@pytest.fixture(scope="session")
def address():
    with started_program() as address:
        yield address


@pytest.fixture(scope="session")
def chromium(tmp_path_factory):
    with started_browser(tmp_path_factory.mktemp("browser")) as chromium:
        yield chromium


@pytest.fixture
def browser(chromium, address):
    """Chromium as on a first visit, whatever the test before left open, narrow or remembered."""
    as_on_a_first_visit(chromium, address)
    return chromium
