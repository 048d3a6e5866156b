"""The program and a Chromium, started for as long as somebody looks."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from selenium import webdriver
from selenium.webdriver.chrome.service import Service

START_SECONDS = 60
FLAGS = "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking"
FLAGS += " --disable-component-update --disable-sync --window-size=1366,900"


@contextmanager
def started_program() -> Iterator[str]:
    """Start the program without a browser of its own and give its address; it ends with the block."""
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


def _wait_for(url: str) -> None:
    for _ in range(START_SECONDS * 4):
        try:
            with urllib.request.urlopen(url, timeout=2) as answer:
                assert answer.read() == b"ok"
            return
        except (urllib.error.URLError, OSError):
            time.sleep(0.25)
    raise AssertionError(f"no answer from {url}")


@contextmanager
def started_browser(profile: Path) -> Iterator[webdriver.Chrome]:
    """Start a Chromium without a window, with what it remembers in ``profile``; it ends with the block."""
    options = webdriver.ChromeOptions()
    options.binary_location = shutil.which("chromium") or shutil.which("chromium-browser") or ""
    for flag in [*FLAGS.split(), f"--user-data-dir={profile}"]:
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    browser = webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))
    try:
        yield browser
    finally:
        browser.quit()
