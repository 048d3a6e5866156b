"""Every screen in a real Chromium, served by the command itself."""

import json
import re
import time

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.watching import (
    SCREENS,
    at_width,
    fits_sideways,
    headings,
    open_screen,
    pictures,
    press,
    settled,
    violations,
    wait_for,
    words_on,
)

pytestmark = pytest.mark.browser
LOCKED = "?harvest_order=2.1.3&birds_order=1.2.3&locked=yes"
LESSON = f"{LOCKED}&lesson=late_cover"
CHANGED = "?try=net&set=pests.arrivals%3A2.0"
STATES = {
    "garden": ("", ""),
    "asked": ("guess", ""),
    "ready to lock": ("guess", "?harvest_order=2.1.3&birds_order=1.2.3"),
    "answered": ("guess", LOCKED),
    "watched": ("watch", ""),
    "watched, ready to lock": ("watch", "?harvest_order=2.1.3&birds_order=1.2.3"),
    "compared": ("compare", ""),
    "cared for": ("compare", "?cares=marketable_kg%3A3&cares=cost_usd%3A2"),
    "where it went": ("went", ""),
    "who was left with less": ("went", "?look=short"),
    "when it happened": ("went", "?look=days"),
    "where energy went": ("went", "?look=energy"),
    "next spring": ("went", "?look=spring"),
    "nothing tried": ("try", ""),
    "tried": ("try", CHANGED),
    "lesson open": ("", "?lesson=late_cover"),
    "lesson asks for a tap": ("compare", f"{LESSON}&plans=nothing.net.net_some"),
    "taken home": ("take", "?lesson=late_cover"),
    "numbers": ("numbers", ""),
    "link not understood": ("", "?garden=nowhere"),
}
PROBE = re.compile(r"http://localhost:\d+/\w+/_stcore/(health|host-config) - Failed to load resource.*404")
"""Streamlit's own search for its server when a screen is opened by its link; it then finds it one step up."""


def test_a_teacher_goes_from_screen_to_screen(browser, address):
    open_screen(browser, address, "")
    press(browser, "Next: make a guess")
    for question in ("harvest", "birds"):
        for plan in ("net", "nothing", "spray_weekly"):
            selector = f".st-key-tap-{question}-{plan} button"
            wait_for(browser, lambda s=selector: browser.find_elements(By.CSS_SELECTOR, s))[0].click()
            settled(browser)
    press(browser, "Lock the guess and run season 1")
    wait_for(browser, lambda: "Guessed, most first: Net from planting" in words_on(browser))
    wait_for(browser, lambda: len(pictures(browser)) == 2)
    settled(browser)
    assert "locked=yes" in browser.current_url
    browser.refresh()
    wait_for(browser, lambda: "Guessed, most first: Net from planting" in words_on(browser))
    press(browser, "Next: compare more seasons")
    wait_for(browser, lambda: "Harvest fit to sell, 5 seasons" in headings(browser, "h2"))
    press(browser, "Twenty")
    wait_for(browser, lambda: "Harvest fit to sell, 20 seasons" in headings(browser, "h2"))
    wait_for(browser, lambda: re.search(r"ahead in \d+, level in \d+, behind in \d+ of 20", words_on(browser)))
    press(browser, "Where it all went")
    wait_for(browser, lambda: len(pictures(browser)) == 3 + 1)
    press(browser, "What waits for next spring?")
    wait_for(browser, lambda: "What waits, 20 seasons" in headings(browser, "h2"))
    assert "look=spring" in browser.current_url
    press(browser, "Try it yourself")
    wait_for(browser, lambda: SCREENS["try"] in headings(browser, "h1"))
    press(browser, "The numbers")
    wait_for(browser, lambda: "Look a number up" in headings(browser, "h2"))
    assert "locked=yes" in browser.current_url


def test_a_class_follows_a_lesson_and_guesses_again_before_the_second_round(browser, address):
    open_screen(browser, address, "")
    wait_for(browser, lambda: browser.find_elements(By.XPATH, "//label[contains(., 'Covered two weeks late')]"))[
        0
    ].click()
    wait_for(browser, lambda: "Covered two weeks late" in headings(browser, "h2"))
    settled(browser)
    assert "lesson=late_cover" in browser.current_url
    open_screen(browser, address, "try", LESSON)
    press(browser, "Set this change")
    press(browser, "About the same")
    wait_for(browser, lambda: "You said: about the same. The seasons said:" in words_on(browser))
    settled(browser)
    browser.refresh()
    wait_for(browser, lambda: "You said: about the same. The seasons said:" in words_on(browser))


def test_a_student_opens_a_link_and_moves_a_slider(browser, address):
    at_width(browser, 390)
    open_screen(browser, address, "try", CHANGED)
    wait_for(browser, lambda: "What it changed, 20 seasons" in headings(browser, "h2"))
    seen = []
    browser.execute_script("document.querySelector('[data-testid=stSlider] input[type=range]').focus()")
    browser.switch_to.active_element.send_keys(Keys.ARROW_RIGHT)
    deadline = time.monotonic() + 60
    while "set=pests.arrivals%3A2.25" not in browser.current_url or seen[-1:] != ["What it changed, 20 seasons"]:
        assert time.monotonic() < deadline, seen
        shown = next((one for one in headings(browser, "h2") if one.startswith("What it changed")), "")
        if shown and seen[-1:] != [shown]:
            seen.append(shown)
    settled(browser)
    box = browser.find_element(By.CSS_SELECTOR, "[data-testid=stNumberInput] input")
    assert float(box.get_attribute("value")) == 2.25
    browser.find_element(By.CSS_SELECTOR, "button[data-testid=stNumberInputStepDown]").click()
    wait_for(browser, lambda: "set=pests.arrivals%3A2.0" in browser.current_url)
    assert "1 → 2" in words_on(browser)


def test_a_screen_can_be_walked_with_the_keyboard_alone(browser, address):
    open_screen(browser, address, "guess")
    browser.execute_script("document.activeElement.blur()")
    browser.find_element(By.TAG_NAME, "body").send_keys(Keys.TAB)
    tapped, outlines = [], set()
    for _ in range(60):
        name, outline, tag = browser.execute_script(
            "const one = document.activeElement, style = getComputedStyle(one);"
            "return [one.innerText.trim(), style.outlineStyle + ' ' + style.outlineWidth, one.tagName]"
        )
        if tag == "BUTTON":
            outlines.add(outline)
        if name.startswith("Lock the guess"):
            browser.switch_to.active_element.send_keys(Keys.ENTER)
            break
        if name.startswith(("Do nothing", "Net from", "Spray every")):
            tapped.append(name)
            browser.switch_to.active_element.send_keys(Keys.ENTER)
            settled(browser)
        browser.switch_to.active_element.send_keys(Keys.TAB)
    wait_for(browser, lambda: "Guessed, most first: Do nothing" in words_on(browser), 60)
    assert len(tapped) == 6
    assert "solid 3px" in outlines


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("state", STATES)
def test_axe_finds_nothing(browser, address, state, theme):
    screen, words = STATES[state]
    dark = f"{'&' if words else '?'}embed_options=dark_theme" if theme == "dark" else ""
    open_screen(browser, address, screen, words + dark)
    assert violations(browser) == []


@pytest.mark.parametrize("width", [320, 390, 1366, 1920])
@pytest.mark.parametrize("state", STATES)
def test_nothing_runs_off_sideways(browser, address, state, width):
    at_width(browser, width)
    open_screen(browser, address, *STATES[state])
    wait_for(browser, lambda: fits_sideways(browser))


def test_every_picture_and_table_has_words_for_those_who_cannot_see_it(browser, address):
    bare = (
        "return [...document.querySelectorAll('[data-testid=stVegaLiteChart], [data-testid=stTable]')].filter("
        "one => !one.matches('[aria-label], [alt]') && !one.querySelector('[aria-label], [alt], caption')).length"
    )
    for screen, words in STATES.values():
        open_screen(browser, address, screen, words)
        wait_for(browser, lambda: browser.execute_script(bare) == 0)  # a picture's words come when it has been drawn


def test_nothing_is_asked_of_another_machine_and_nothing_fails(browser, address):
    browser.get_log("performance"), browser.get_log("browser")
    for screen, words in STATES.values():
        open_screen(browser, address, screen, words)
    messages = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    asked = [one["params"]["request"]["url"] for one in messages if one["method"] == "Network.requestWillBeSent"]
    assert any("localhost" in url for url in asked)
    assert [url for url in asked if not re.match(r"(https?|wss?)://localhost[:/]|data:|blob:|chrome", url)] == []
    told = [entry["message"] for entry in browser.get_log("browser")]
    assert [message for message in told if not PROBE.match(message)] == []
    assert browser.execute_script("return document.documentElement.lang") == "en"


@pytest.mark.parametrize("name", ["garden", "seat"])
def test_the_first_screen_is_found_under_its_name_and_that_of_the_class_page(browser, address, name):
    browser.get(f"{address}/{name}?lesson=late_cover")
    wait_for(browser, lambda: SCREENS[""] in headings(browser, "h1"))
    settled(browser)
    assert "lesson=late_cover" in browser.current_url
    assert not browser.find_elements(By.CSS_SELECTOR, "[role=dialog]")


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (390, 844)])
def test_the_way_on_is_seen_on_the_first_screen_without_scrolling(browser, address, width, height):
    at_width(browser, width, height)
    open_screen(browser, address, "")
    seen = """
    const link = document.querySelector(".st-key-way-on a"), box = link.getBoundingClientRect();
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    return [link.contains(top), box.bottom <= innerHeight, document.querySelectorAll(".st-key-way-on a").length];
    """
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, ".st-key-way-on a"))
    settled(browser)
    assert browser.execute_script(seen) == [True, True, 1]
    press(browser, "Next: make a guess")
    wait_for(browser, lambda: SCREENS["guess"] in headings(browser, "h1"))


@pytest.mark.parametrize(
    ("screen", "words"),
    [("guess", LOCKED), ("watch", ""), ("compare", ""), ("went", ""), ("try", "")],
)
def test_each_screen_has_one_way_on_that_is_seen_among_words(browser, address, screen, words):
    open_screen(browser, address, screen, words)
    told = "return [...document.querySelectorAll('.st-key-way-on a')].map(one => getComputedStyle(one).backgroundColor)"
    wait_for(browser, lambda: browser.execute_script(told) == ["rgb(11, 93, 59)"])  # it stands below what is lived


def test_one_press_of_back_leads_one_screen_back(browser, address):
    open_screen(browser, address, "", "?garden=leaf_bed")
    for words, screen in (("Make a guess", "guess"), ("Compare", "compare"), ("Where it all went", "went")):
        press(browser, words)
        wait_for(browser, lambda screen=screen: SCREENS[screen] in headings(browser, "h1"))
        settled(browser)
    before = browser.execute_script("return history.length")
    press(browser, "Who was left with less?")
    wait_for(browser, lambda: "look=short" in browser.current_url)
    settled(browser)
    assert browser.execute_script("return history.length") == before
    for screen in ("compare", "guess", ""):
        browser.back()
        wait_for(browser, lambda screen=screen: SCREENS[screen] in headings(browser, "h1"), 60)
        settled(browser)
        assert "garden=leaf_bed" in browser.current_url
