"""A visitor brings files: a mistake is told, a garden opens and is run, and it can be taken away."""

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.watching import headings, open_screen, press, settled, wait_for, words_on
from tests.dashboard.own_things import scenario_toml, weather_csv

pytestmark = pytest.mark.browser


def bring(browser, place, path):
    inputs = browser.find_elements(By.CSS_SELECTOR, "[data-testid=stFileUploader] input[type=file]")
    inputs[place].send_keys(str(path))
    wait_for(browser, lambda: path.name in words_on(browser))
    settled(browser)


def open_own(browser, address, words="?garden=leaf_bed"):
    open_screen(browser, address, "", words)
    parts = browser.find_elements(By.TAG_NAME, "summary")
    next(one for one in parts if one.text.strip().endswith("A file of your own")).click()
    wait_for(browser, lambda: "Weather: a table of days (CSV)" in words_on(browser))


def test_a_visitor_brings_a_garden_and_local_weather(browser, address, tmp_path):
    wrong, right, days = tmp_path / "wrong.toml", tmp_path / "mine.toml", tmp_path / "near.csv"
    wrong.write_bytes(scenario_toml(replaced={"cabbage_white = 1": "cabbage_wite = 1"}))
    right.write_bytes(scenario_toml(replaced={'title = "': 'title = "Behind the shed: '}))
    days.write_bytes(b"".join(line for line in weather_csv().splitlines(True) if not line.startswith(b"2023-05-02")))
    open_own(browser, address)
    bring(browser, 0, wrong)
    press(browser, "Use this file")
    wait_for(browser, lambda: "wrong.toml, line 22" in words_on(browser))
    assert "Did you mean 'cabbage_white'" in words_on(browser)

    open_own(browser, address)
    bring(browser, 0, right)
    press(browser, "Use this file")
    wait_for(browser, lambda: "garden=file." in browser.current_url)
    settled(browser)
    press(browser, "Compare")
    wait_for(browser, lambda: "Harvest fit to sell, 5 seasons" in headings(browser, "h2"))
    assert "Behind the shed" in words_on(browser)

    open_own(browser, address)
    bring(browser, 1, days)
    press(browser, "Use this file")
    wait_for(browser, lambda: "Say the latitude of the station first" in words_on(browser))
    box = browser.find_element(By.CSS_SELECTOR, ".st-key-own-latitude input")
    box.send_keys("40", Keys.ENTER)
    settled(browser)
    press(browser, "Use this file")
    wait_for(browser, lambda: "garden=file." in browser.current_url)
    settled(browser)
    assert "Its weather comes from a file" in words_on(browser)
    assert "1 day was filled by a straight line between neighbours: 2023-05-02." in words_on(browser)
    browser.refresh()  # a new visit: the file is asked for
    wait_for(browser, lambda: "Give that file under 'A file of your own'" in words_on(browser))
