"""A whole lesson with the keyboard alone, and every screen at twice the size."""

import pytest
from selenium.webdriver.common.keys import Keys

from tests.browser.test_screens import STATES
from tests.browser.watching import SCREENS, fits_sideways, headings, open_screen, settled, wait_for, words_on

pytestmark = pytest.mark.browser
MOST_STOPS = 90
AT_FOCUS = (
    "const one = document.activeElement;"
    "return [one.tagName, (one.innerText || one.getAttribute('aria-label') || '').trim().replace(/\\s+/g, ' ')]"
)


def tab_to(browser, wanted, tags=("A", "BUTTON", "INPUT")):
    """Press Tab until what ends in these words has the focus; fail if it cannot be reached."""
    for _stop in range(MOST_STOPS):
        browser.switch_to.active_element.send_keys(Keys.TAB)
        tag, words = browser.execute_script(AT_FOCUS)
        if tag in tags and words.endswith(wanted):
            return browser.switch_to.active_element
    raise AssertionError(f"'{wanted}' was not reached in {MOST_STOPS} stops")


def press_by_key(browser, wanted):
    tab_to(browser, wanted).send_keys(Keys.ENTER)
    settled(browser)


def test_a_whole_lesson_by_keyboard_alone(browser, address):
    open_screen(browser, address, "", "?garden=leaf_bed")
    press_by_key(browser, "Next: make a guess")
    wait_for(browser, lambda: SCREENS["guess"] in headings(browser, "h1"))
    for _question in range(2):
        for plan in ("Do nothing about pests", "Net from planting to last picking", "Spray every week by the calendar"):
            press_by_key(browser, plan)
    press_by_key(browser, "Lock the guess and run season 1")
    wait_for(browser, lambda: "Guessed, most first" in words_on(browser))
    settled(browser)
    press_by_key(browser, "Next: compare more seasons")
    wait_for(browser, lambda: "Harvest fit to sell, 5 seasons" in headings(browser, "h2"))
    settled(browser)
    browser.execute_script("document.activeElement.blur()")
    press_by_key(browser, "Try it yourself")
    wait_for(browser, lambda: SCREENS["try"] in headings(browser, "h1"))
    settled(browser)
    slider = None
    for _stop in range(MOST_STOPS):
        browser.switch_to.active_element.send_keys(Keys.TAB)
        if browser.execute_script("return document.activeElement.type === 'range'"):
            slider = browser.switch_to.active_element
            break
    assert slider is not None
    slider.send_keys(Keys.ARROW_RIGHT)
    wait_for(browser, lambda: "set=" in browser.current_url)
    settled(browser)


@pytest.mark.parametrize("state", STATES)
def test_at_twice_the_size_nothing_runs_off_and_nothing_is_lost(browser, address, state):
    shape = {"width": 640, "height": 450, "deviceScaleFactor": 2, "mobile": False}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", shape)
    open_screen(browser, address, *STATES[state])
    wait_for(browser, lambda: fits_sideways(browser))
    hidden = browser.execute_script(
        "const all = '[data-testid=stMain] button, [data-testid=stMain] input';"
        "return [...document.querySelectorAll(all)].filter(one => {"
        "const box = one.getBoundingClientRect(); return box.width > 0 && (box.right > 641 || box.left < -1)"
        "}).map(one => one.innerText || one.ariaLabel)"
    )
    assert hidden == []
