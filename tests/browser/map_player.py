"""Reach into the garden map from outside: it lies in a shadow root, where a page's own search does not look."""

from selenium.webdriver.remote.webdriver import WebDriver

from tests.browser.watching import open_screen, wait_for

PLAYER = """
const find = (root) => {
  for (const one of root.querySelectorAll("*")) {
    if (one.classList.contains("player")) return one;
    const below = one.shadowRoot && find(one.shadowRoot);
    if (below) return below;
  }
  return null;
};
const map = find(document), player = map && map.player;
"""


def run(browser: WebDriver, script: str, *given):
    """Run a script that knows the ``map`` and its ``player``, and return what it returns."""
    return browser.execute_script(PLAYER + script, *given)


def run_and_wait(browser: WebDriver, script: str):
    """Run a script that knows the same and calls ``done``, and return what it hands over."""
    return browser.execute_async_script(f"const done = arguments[arguments.length - 1];{PLAYER}{script}")


def open_map(browser: WebDriver, address: str, words: str) -> None:
    """Open the screen with the map and wait until it can play."""
    open_screen(browser, address, "watch", words)
    wait_for(browser, lambda: run(browser, "return !!map && map.dataset.ready === 'yes'"))
