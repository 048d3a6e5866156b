"""What is walked through by keyboard can be seen, what is tapped is large enough, and a picture ends in its window."""

import pytest
from selenium.common.exceptions import TimeoutException
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.test_screens import CHANGED, STATES
from tests.browser.watching import at_width, choose, open_screen, pictures, settled, wait_for

pytestmark = pytest.mark.browser
MOST_STOPS = 70
SECONDS_TO_SHOW = 10
THUMB_PX, LEAST_PX = 40, 24
AT_FOCUS = """
let one = document.activeElement;
while (one.shadowRoot && one.shadowRoot.activeElement) one = one.shadowRoot.activeElement;
const name = one.getAttribute("aria-label") || one.innerText || one.tagName;
const box = one.getBoundingClientRect(), x = box.left + box.width / 2, y = box.top + box.height / 2;
let shown = 1;
for (let part = one; part; part = part.parentElement) shown *= Number(getComputedStyle(part).opacity);
const isSmall = one.type === "radio" || one.type === "checkbox" || one.type === "range"; // drawn by what lies beside it
const top = document.elementFromPoint(x, y);
const isOnTop = isSmall || !top || one.contains(top) || top.contains(one) || top.shadowRoot !== null;
return [one.tagName, name.trim().slice(0, 40), shown > 0.9 && x > 0 && x < innerWidth && isOnTop];
"""


def comes_into_sight(browser):
    """Return whether what has the focus can be seen soon: some come gently, and a page at work is pale meanwhile."""
    try:
        return wait_for(browser, lambda: browser.execute_script(AT_FOCUS)[-1], SECONDS_TO_SHOW)
    except TimeoutException:
        return False


@pytest.mark.parametrize("state", ["garden", "compared", "tried", "numbers"])
def test_no_stop_of_the_tab_key_is_out_of_sight_at_twice_the_size(browser, address, state):
    at_width(browser, 683, 384)
    open_screen(browser, address, *STATES[state])
    browser.execute_script("document.activeElement.blur()")
    unseen, stops = [], 0
    for _stop in range(MOST_STOPS):
        browser.switch_to.active_element.send_keys(Keys.TAB)
        tag, name, is_seen = browser.execute_script(AT_FOCUS)
        if tag == "BODY":
            break
        stops += 1
        unseen += [] if is_seen or comes_into_sight(browser) else [name]
    assert stops > 10
    assert unseen == []


@pytest.mark.parametrize(("words", "name"), [("", "All pages"), ("?lang=es", "Todas las pantallas")])
def test_a_phone_says_where_all_pages_are_and_has_room_for_a_thumb(browser, address, words, name):
    at_width(browser, 390, 844)
    browser.get(f"{address}/{words}")
    opener = "[data-testid=stExpandSidebarButton]"
    told = f"return getComputedStyle(document.querySelector('{opener}'), '::after').content"
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, opener), 20)
    wait_for(browser, lambda: browser.execute_script(told) == f'"{name}"', 20)
    settled(browser)
    sizes = browser.execute_script(
        "const all = '[data-testid=stButtonGroup] [role=radio], [data-testid=stExpandSidebarButton]';"
        "return [...document.querySelectorAll(all)].map(one => one.getBoundingClientRect().height)"
    )
    marks = browser.execute_script(
        "return [...document.querySelectorAll('[data-testid=stMultiSelect] [data-tag] button')].map(one => {"
        "const box = one.getBoundingClientRect(); return Math.min(box.width, box.height)})"
    )
    assert len(sizes) > 4
    assert min(sizes) >= THUMB_PX
    assert len(marks) == 3
    assert min(marks) >= LEAST_PX
    browser.find_element(By.CSS_SELECTOR, opener).click()
    wait_for(browser, lambda: len(browser.find_elements(By.CSS_SELECTOR, "[data-testid=stSidebarNavLink]")) == 9, 20)
    links = browser.find_elements(By.CSS_SELECTOR, "[data-testid=stSidebarNavLink]")
    wait_for(browser, lambda: all(one.is_displayed() and one.rect["height"] >= THUMB_PX for one in links), 20)


def _pictures_end(browser):
    return browser.execute_script(
        "const all = [...document.querySelectorAll('[data-testid=stVegaLiteChart] svg')];"
        "return Math.max(...all.map(one => one.getBoundingClientRect().bottom))"
    )


@pytest.mark.parametrize("words", ["", "?lang=es"])
def test_compare_shows_the_whole_picture_in_a_window_of_768_lines(browser, address, words):
    at_width(browser, 1366, 768)
    browser.get(f"{address}/compare{words}")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg"))
    settled(browser)
    assert 400 < _pictures_end(browser) <= 768


def test_what_is_moved_and_all_that_it_changed_stand_in_one_window_of_768_lines(browser, address):
    at_width(browser, 1366, 768)
    open_screen(browser, address, "try", CHANGED)
    slider = browser.execute_script(
        "return document.querySelector('[data-testid=stSlider]').getBoundingClientRect().top"
    )
    assert len(browser.find_elements(By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg")) == 4
    assert _pictures_end(browser) - slider <= 768 - 60  # the line of pages lies over the top


def test_on_a_phone_a_number_is_a_card_as_wide_as_the_page_with_all_that_a_laptop_shows(browser, address):
    script = """
    const table = document.querySelector(".st-key-numbers table"), wide = table.getBoundingClientRect().width;
    const cells = [...table.querySelectorAll("tbody td")];
    const rows = [...table.querySelectorAll("tbody tr")].map(one => one.getBoundingClientRect().height);
    return [cells.map(one => one.innerText.trim()), cells.map(one => one.getBoundingClientRect().width / wide), rows];
    """
    at_width(browser, 1366)
    open_screen(browser, address, "numbers")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, ".st-key-numbers tbody td"))
    told, _widths, _heights = browser.execute_script(script)
    at_width(browser, 390)
    told_on_a_phone, widths, heights = browser.execute_script(script)
    assert told_on_a_phone == told
    assert min(widths) > 0.9
    assert max(heights) < 360


def test_what_is_chosen_is_seen_where_the_system_gives_its_own_colours(browser, address):
    at_width(browser, 1366)
    features = [{"name": "forced-colors", "value": "active"}]
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
    try:
        open_screen(browser, address, "guess")
        grounds = browser.execute_script(
            "const ground = (one) => getComputedStyle(one).backgroundColor;"
            "return [...document.querySelectorAll('[data-testid=stButtonGroup] [role=radiogroup]')].map((group) =>"
            " ['true', 'false'].map((is) => ground(group.querySelector(`[aria-checked=${is}]`))));"
        )
        frames = browser.execute_script(
            "return [...document.querySelectorAll('[data-testid=stAlertContainer]')].map((one) =>"
            " parseFloat(getComputedStyle(one).borderTopWidth));"
        )
        open_screen(browser, address, "take")
        switch = browser.execute_script(
            "const track = document.querySelector('[data-testid=stCheckbox] label > div');"
            "const [paper, knob] = [document.body, track.firstElementChild].map((one) => getComputedStyle(one));"
            "return [getComputedStyle(track).outlineStyle, knob.backgroundColor !== paper.backgroundColor];"
        )
        open_screen(browser, address, "try")
        slider = browser.execute_script(
            "const knob = document.querySelector('[data-testid=stSlider] div:has(> div > input[type=range])');"
            "const track = knob.parentElement.firstElementChild;"
            "const [paper, said] = [document.body, knob].map((one) => getComputedStyle(one).backgroundColor);"
            "return [getComputedStyle(track).outlineStyle, said !== paper];"
        )
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
    assert slider == ["solid", True]
    assert switch == ["solid", True]
    assert len(grounds) >= 3
    assert all(chosen != other for chosen, other in grounds)
    assert frames
    assert min(frames) >= 2


def test_on_a_phone_a_long_figure_beside_the_last_plan_is_whole(browser, address):
    at_width(browser, 390, 844)
    open_screen(browser, address, "compare")
    choose(browser, "measure", "Minutes of work")
    settled(browser)
    wait_for(browser, lambda: pictures(browser))
    beyond = browser.execute_script(
        "const picture = document.querySelector('[data-testid=stVegaLiteChart] svg');"
        "const words = [...picture.querySelectorAll('text')].filter(one => /^\\d,\\d{3}$/.test(one.textContent));"
        "const end = picture.getBoundingClientRect().right;"
        "return words.map(one => one.getBoundingClientRect().right - end);"
    )
    assert beyond
    assert max(beyond) <= 0
