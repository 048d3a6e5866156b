"""Sharing as a teacher and a class meet it: an explicit act, a way in, a seat, a count, and an end."""

import re

import pytest
from selenium.common.exceptions import WebDriverException
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.watching import SCREENS, at_width, headings, press, settled, violations, wait_for, words_on

pytestmark = pytest.mark.browser
QUESTION = "How do the class's devices get in?"


def test_a_teacher_shares_a_device_gets_in_and_sharing_stops(browser, address):
    browser.get(f"{address}/share?garden=leaf_bed&season=5")
    wait_for(browser, lambda: QUESTION in headings(browser, "h1"))
    settled(browser)
    assert "without a password, until you stop it" in words_on(browser)
    assert violations(browser) == []
    press(browser, "Share with the class's devices")
    wait_for(browser, lambda: "No device yet." in words_on(browser))
    square = browser.find_element(By.CSS_SELECTOR, "[data-testid=stImage] img[alt^='QR code of http']")
    link = re.search(r"http://[\d.]+:\d+/\?code=\w+", square.get_attribute("alt"))[0]
    assert "localhost" not in link
    assert link.split("/?")[0] in words_on(browser)
    assert violations(browser) == []

    teacher = browser.current_window_handle
    browser.switch_to.new_window("tab")
    at_width(browser, 390)
    browser.get(link)
    wait_for(browser, lambda: "Which seat are you in?" in headings(browser, "h1"))
    settled(browser)
    assert violations(browser) == []
    assert "Share" not in browser.execute_script("return document.querySelector('header').innerText")
    box = browser.find_element(By.CSS_SELECTOR, "[data-testid=stNumberInput] input")
    box.send_keys(Keys.CONTROL, "a")
    box.send_keys("3", Keys.ENTER)
    wait_for(browser, lambda: "Seat 3 has season 7" in words_on(browser))
    settled(browser)
    assert "season=7" in browser.current_url
    press(browser, "Next: make a guess")
    wait_for(browser, lambda: SCREENS["guess"] in headings(browser, "h1"))
    browser.get(re.sub(r"/\?.*", "/share", link))
    wait_for(browser, lambda: "Page not found" in browser.page_source or headings(browser, "h1"))
    assert QUESTION not in headings(browser, "h1")
    browser.get(link.partition("/?")[0])  # typed from the wall, without the code
    wait_for(browser, lambda: "Which seat are you in?" in headings(browser, "h1"))
    settled(browser)
    assert "season=5" in browser.current_url
    assert "garden=leaf_bed" in browser.current_url
    device = browser.current_window_handle

    browser.switch_to.window(teacher)
    at_width(browser, 1366)
    wait_for(browser, lambda: "1 device got in." in headings(browser, "h2"))
    press(browser, "Stop sharing")
    wait_for(browser, lambda: "without a password, until you stop it" in words_on(browser))
    browser.switch_to.window(device)
    wait_for(browser, lambda: "No answer from the teacher's computer" in headings(browser, "[role=dialog] h2"))
    told = browser.find_element(By.CSS_SELECTOR, "[role=dialog]").text
    assert "No internet is needed." in told
    assert "Streamlit" not in told
    with pytest.raises(WebDriverException, match="ERR_CONNECTION_REFUSED"):
        browser.get(link)
    browser.close()
    browser.switch_to.window(teacher)
