"""Trying out and tracing in a real Chromium: a bargain struck, a curve drawn, a number followed to single insects."""

import pytest
from selenium.webdriver.common.by import By

from tests.browser.watching import at_width, choose, headings, open_screen, settled, violations, wait_for, words_on

pytestmark = pytest.mark.browser
SELF_SETTING = "?garden=cucumber_bed&try=net&set=beds.cucumbers.self_fruitful%3Atrue"


def test_a_bargain_is_struck_and_a_curve_drawn(browser, address):
    at_width(browser, 390)
    open_screen(browser, address, "try", SELF_SETTING)
    choose(browser, "bargain-of-cucumber_bed", "Cucumbers where no bee")
    wait_for(browser, lambda: "The bargain is struck." in words_on(browser))
    toggle = browser.find_element(By.CSS_SELECTOR, ".st-key-curve input")
    browser.execute_script("arguments[0].click()", toggle)
    wait_for(browser, lambda: "What if, 20 seasons" in headings(browser, "h2"))
    settled(browser)
    assert violations(browser) == []
    browser.refresh()
    wait_for(browser, lambda: "What if, 20 seasons" in headings(browser, "h2"))
    wait_for(browser, lambda: "The bargain is struck." in words_on(browser))


def test_a_number_is_followed_to_single_insects(browser, address):
    open_screen(browser, address, "went", "?garden=leaf_bed&look=follow")
    choose(browser, "followed", "killed by a spray")
    wait_for(browser, lambda: "Who is behind 'killed by a spray', season 1" in headings(browser, "h3"))
    settled(browser)
    assert "mg: sprayed." in words_on(browser)
    assert violations(browser) == []
