"""One program and one Chromium for all browser tests."""

import pytest

from tests.browser.starting import started_browser, started_program


@pytest.fixture(scope="session")
def address():
    with started_program() as address:
        yield address


@pytest.fixture(scope="session")
def browser(tmp_path_factory):
    with started_browser(tmp_path_factory.mktemp("browser")) as browser:
        yield browser
