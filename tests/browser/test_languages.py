"""The switch of language and of units in a real Chromium: the page, its lists and Streamlit's own words follow."""

import pytest
from selenium.webdriver.common.by import By

from tests.browser.watching import headings, open_screen, press, settled, wait_for, words_on

pytestmark = pytest.mark.browser


def labels(browser):
    script = "return [...document.querySelectorAll('[aria-label]')].map(one => one.getAttribute('aria-label'))"
    return browser.execute_script(script)


def language_of(browser):
    return browser.execute_script("return document.documentElement.lang")


def list_of(browser, key):
    """Return what a list shows as chosen."""
    shown = browser.find_element(By.CSS_SELECTOR, f".st-key-{key}")
    return shown.text + (shown.find_element(By.TAG_NAME, "input").get_attribute("value") or "")


def test_one_tap_turns_the_page_into_spanish_and_back(browser, address):
    open_screen(browser, address, "compare", "?garden=leaf_bed")
    press(browser, "Twenty")
    wait_for(browser, lambda: "Harvest fit to sell, 20 seasons" in headings(browser, "h2"))
    press(browser, "Español")
    wait_for(browser, lambda: "Cosecha que se puede vender, 20 temporadas" in headings(browser, "h2"))
    settled(browser)
    assert language_of(browser) == "es"
    assert "lang=es" in browser.current_url
    assert "Cosecha que se puede vender" in list_of(browser, "measure")
    wait_for(browser, lambda: "Abrir" in labels(browser))
    assert not {"Open", "App pages", "Fullscreen"} & set(labels(browser))
    press(browser, "A dónde fue todo")
    wait_for(browser, lambda: "¿A dónde fue todo?" in headings(browser, "h1"))
    assert "lang=es" in browser.current_url
    press(browser, "English")
    wait_for(browser, lambda: "Where did it all go?" in headings(browser, "h1"))
    settled(browser)
    assert language_of(browser) == "en"
    wait_for(browser, lambda: "Open" in labels(browser))
    assert "lang=" not in browser.current_url


def test_a_link_brings_language_and_units_along(browser, address):
    browser.get(f"{address}/?lang=es&units=us")
    wait_for(browser, lambda: "¿Qué huerta vamos a mirar?" in headings(browser, "h1"))
    settled(browser)
    assert language_of(browser) == "es"
    assert "82 pies" in words_on(browser)
    press(browser, "kg, m")
    wait_for(browser, lambda: "25 m" in words_on(browser))
    assert "units=" not in browser.current_url
