"""One server and one Chromium for all browser tests, and how they wait and look."""

import os
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

START_SECONDS = 60


@pytest.fixture(scope="session")
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


@pytest.fixture(scope="session")
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
