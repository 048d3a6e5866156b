"""A screen of the dashboard stands in every list of screens, so that none is left out of the tests of all."""

import re

from dashboard.teaching.teacher_sheet import SCREENS as ON_SHEETS
from tests.browser.watching import SCREENS as IN_BROWSER
from tests.dashboard.test_page import QUESTIONS
from tests.dashboard.test_plain_words import STATES
from tests.house.files import ROOT

OF_A_CLASS = {"seat", "share"}
"""Two that only a class has: ``tests/dashboard/test_class_pages.py``, ``tests/browser/test_sharing.py``."""
APP = (ROOT / "dashboard" / "app.py").read_text(encoding="utf-8")


def test_each_screen_can_be_reached():
    files = {path.stem for path in (ROOT / "dashboard" / "screens").glob("*.py")} - {"__init__"}
    assert set(re.findall(r'st\.Page\("screens/(\w+)\.py"', APP)) == files, "an st.Page in dashboard/app.py"
    assert set(QUESTIONS) == files - OF_A_CLASS, "QUESTIONS in tests/dashboard/test_page.py"
    assert set(STATES) == set(QUESTIONS), "STATES in tests/dashboard/test_plain_words.py"


def test_each_address_is_known_to_sheets_and_to_the_tests_in_a_browser():
    addresses = set(re.findall(r'url_path="(\w+)"', APP)) - OF_A_CLASS
    assert set(ON_SHEETS) == addresses | {"garden"}, "SCREENS in dashboard/teaching/teacher_sheet.py"
    assert set(IN_BROWSER) == addresses | {""}, "SCREENS in tests/browser/watching.py"
