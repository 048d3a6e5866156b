"""How the browser tests find, wait and look."""

import re
from importlib.util import find_spec
from pathlib import Path

from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait

RUN_SECONDS = 300
STILL_LOOKS = 14
SCREENS = {
    "": "Which garden shall we look at?",
    "guess": "What do you expect?",
    "watch": "What happens on the way to the harvest?",
    "compare": "Which plan gives what?",
    "went": "Where did it all go?",
    "try": "What would you change?",
    "take": "What will you take home?",
    "numbers": "Where do the numbers come from?",
}
"""Address → the question at its head."""


def wait_for(browser, condition, seconds=RUN_SECONDS):
    """Wait until the condition gives something true, and return it."""
    wait = WebDriverWait(browser, seconds, ignored_exceptions=(StaleElementReferenceException,))
    return wait.until(lambda _: condition())


def fits_sideways(browser):
    """Return whether nothing runs off to the side; tables follow a moment after a scroll bar has taken its share."""
    wide = "const m = document.querySelector('[data-testid=stMain]'); return m.scrollWidth <= m.clientWidth"
    return browser.execute_script(wide)


def open_screen(browser, address, screen, words=""):
    browser.get(f"{address}/{screen}{words}")
    wait_for(browser, lambda: SCREENS[screen] in headings(browser, "h1"))
    settled(browser)


def settled(browser):
    """Wait until for some looks in a row nothing runs, fades in or shows a bar, and the page keeps its height."""
    script = """
    const isBusy = document.querySelector("[data-test-script-state=running], [data-testid=stProgress]");
    const fades = one => one.playState === "running" && isFinite(one.effect.getComputedTiming().endTime);
    const main = document.querySelector("[data-testid=stMain]");
    return [!!isBusy || document.getAnimations().some(fades), main ? main.scrollHeight : 0];
    """
    seen, still = None, 0

    def lies_still():
        nonlocal seen, still
        before, seen = seen, browser.execute_script(script)
        still = still + 1 if seen == [False, before and before[1]] else 0
        return still >= STILL_LOOKS

    WebDriverWait(browser, RUN_SECONDS, poll_frequency=0.05).until(lambda _: lies_still())


def headings(browser, tag):
    return browser.execute_script(f"return [...document.querySelectorAll('{tag}')].map(one => one.innerText.trim())")


def words_on(browser):
    return browser.execute_script("return document.querySelector('[data-testid=stMain]').innerText")


def press(browser, words):
    """Press the button or link that ends in these words."""

    def found():
        for one in browser.find_elements(By.CSS_SELECTOR, "button, a"):
            if re.sub(r"\s+", " ", one.text).strip().endswith(words):
                return one
        return None

    one = wait_for(browser, found, 20)
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", one)
    one.click()


def pictures(browser):
    return browser.find_elements(
        By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg, [data-testid=stVegaLiteChart] canvas"
    )


def as_on_a_first_visit(browser, address):
    """Leave the page, forget what it kept (a list of pages left open covers a phone's page) and be a laptop's size."""
    browser.get("about:blank")
    browser.execute_cdp_cmd("Storage.clearDataForOrigin", {"origin": address, "storageTypes": "local_storage"})
    _give_size(browser, 1366)


def at_width(browser, width, height=900):
    """Make the window so large, a phone's below 500, and wait until the page lies still in it."""
    _give_size(browser, width, height)
    settled(browser)


def _give_size(browser, width, height=900):
    shape = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", shape)


def violations(browser):
    """Return what axe-core finds against WCAG 2.2 AA on the page, a line a rule, target size switched on."""
    browser.execute_script(axe())
    return browser.execute_async_script(
        "const done = arguments[arguments.length - 1];"
        "const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];"
        "axe.run(document, {runOnly: tags, rules: {'target-size': {enabled: true}}}).then(found => done("
        "found.violations.map(one => one.id + ': ' "
        "+ one.nodes.map(node => node.failureSummary + ' ' + node.html).join(' '))));"
    )


def axe():
    """Return the text of axe-core, which comes inside a package of the test extra."""
    return (Path(find_spec("axe_playwright_python").origin).parent / "axe.min.js").read_text(encoding="utf-8")


def choose(browser, key, words):
    """Choose from the list with this key, by typing, as a person with a keyboard does."""
    field = wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, f".st-key-{key} input"), 20)[0]
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", field)
    field.click()
    field.send_keys(words, Keys.ENTER)
