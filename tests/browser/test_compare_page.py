"""The compare page in a real Chromium, served by the command itself."""

import json
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait

pytestmark = pytest.mark.browser
START_SECONDS = 60
RUN_SECONDS = 300


@pytest.fixture(scope="module")
def address():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "dashboard.command", "--no-browser", "--port", str(port)]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=os.environ) as server:
        try:
            _wait_for(f"http://localhost:{port}/_stcore/health")
            yield f"http://localhost:{port}"
        finally:
            server.terminate()
            server.wait(timeout=20)


def _wait_for(url):
    for _ in range(START_SECONDS * 4):
        try:
            with urllib.request.urlopen(url, timeout=2) as answer:
                assert answer.read() == b"ok"
            return
        except (urllib.error.URLError, OSError):
            time.sleep(0.25)
    raise AssertionError(f"no answer from {url}")


@pytest.fixture(scope="module")
def browser(tmp_path_factory):
    options = webdriver.ChromeOptions()
    options.binary_location = shutil.which("chromium") or shutil.which("chromium-browser")
    flags = "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    flags += "--disable-component-update --disable-sync --window-size=1366,900"
    for flag in flags.split():
        options.add_argument(flag)
    options.add_argument(f"--user-data-dir={tmp_path_factory.mktemp('browser')}")
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))
    yield driver
    driver.quit()


def wait_for(browser, condition, seconds=RUN_SECONDS):
    return WebDriverWait(browser, seconds, ignored_exceptions=()).until(lambda _: condition())


def button(browser, words):
    return next((one for one in browser.find_elements(By.TAG_NAME, "button") if one.text == words), None)


def header_cells(browser):
    cells = browser.find_elements(By.CSS_SELECTOR, "[data-testid=stTable] thead th")
    return [cell.text.strip() for cell in cells]


def pictures(browser):
    return browser.find_elements(
        By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg, [data-testid=stVegaLiteChart] canvas"
    )


@pytest.fixture(scope="module")
def run_page(browser, address):
    browser.get(address)
    wait_for(browser, lambda: button(browser, "Run the seasons")).click()
    wait_for(browser, lambda: len(header_cells(browser)) == 4 and len(pictures(browser)) >= 4)
    return browser


def test_a_picture_and_a_table_appear(run_page):
    assert run_page.execute_script("return document.documentElement.lang") == "en"
    assert run_page.title == "Leaf to Nest"
    described = run_page.find_elements(By.CSS_SELECTOR, "[aria-label*='Small charts'], [alt*='Small charts']")
    assert len(described) >= 4


def test_another_plan_changes_picture_and_table(run_page):
    before = header_cells(run_page)
    field = run_page.find_elements(By.CSS_SELECTOR, "[data-testid=stMultiSelect] input")[0]
    field.click()
    field.send_keys("slack", Keys.ENTER)
    wait_for(run_page, lambda: len(header_cells(run_page)) == len(before) + 1)
    assert any("slack" in title.lower() for title in header_cells(run_page))


def test_the_focus_can_be_seen(run_page):
    run_page.find_element(By.TAG_NAME, "body").send_keys(Keys.TAB)
    found = []
    for _ in range(8):
        run_page.switch_to.active_element.send_keys(Keys.TAB)
        outline = run_page.execute_script(
            "const s = getComputedStyle(document.activeElement);"
            "return [document.activeElement.tagName, s.outlineStyle, s.outlineWidth]"
        )
        if outline[0] == "BUTTON":
            found.append(outline[1:])
    assert ["solid", "3px"] in found


@pytest.mark.parametrize("width", [320, 390, 1366, 1920])
def test_nothing_runs_off_sideways(run_page, width):
    shape = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500}
    run_page.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", shape)
    time.sleep(1)
    wide, seen = run_page.execute_script(
        "const m = document.querySelector('[data-testid=stMain]'); return [m.scrollWidth, m.clientWidth]"
    )
    assert wide <= seen


def test_nothing_is_asked_of_another_machine_and_nothing_fails(run_page):
    messages = [json.loads(entry["message"])["message"] for entry in run_page.get_log("performance")]
    asked = [one["params"]["request"]["url"] for one in messages if one["method"] == "Network.requestWillBeSent"]
    assert any("localhost" in url for url in asked)
    assert [url for url in asked if not re.match(r"(https?|wss?)://localhost[:/]|data:|blob:|chrome", url)] == []
    assert [entry["message"] for entry in run_page.get_log("browser")] == []
