"""The dashboard's settings and how its server is started: on this machine only, nothing sent anywhere."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from contextlib import suppress
from importlib.resources import files
from typing import Any, NoReturn

from dashboard.charts.palette import DARK_PAPER
from dashboard.sharing.network import is_free
from sim.errors import RunError, tell

ADDRESS = "localhost"
FIRST_PORT = 8501
PORTS_TRIED = 20
FIRST_START_SECONDS = 60
"""How long the very first season takes on a machine with two cores: the rules are compiled once (measured)."""

SETTINGS: dict[str, Any] = {
    "server.address": ADDRESS,
    "server.fileWatcherType": "none",
    "server.maxUploadSize": 2,
    "server.enableXsrfProtection": True,
    "server.enableCORS": True,
    "server.allowedHosts": [ADDRESS, "127.0.0.1"],
    "server.showEmailPrompt": False,
    "runner.magicEnabled": False,
    "runner.postScriptGC": False,  # a look through all that lives after every answer took most of a class's server
    "browser.serverAddress": ADDRESS,
    "browser.gatherUsageStats": False,
    "client.showErrorDetails": "none",
    "client.showErrorLinks": False,
    "client.toolbarMode": "minimal",
    "global.disableWidgetStateDuplicationWarning": True,  # choices are said anew when the language changes
    "theme.base": "light",
    "theme.light.primaryColor": "#0b5d3b",
    "theme.dark.primaryColor": "#7fd1a8",
    "theme.dark.backgroundColor": DARK_PAPER,
    "theme.baseFontSize": 17,
    "theme.headingFontSizes": ["2rem", "1.6rem", "1.25rem"],
}
"""Streamlit option → value; they win over anything in a person's own configuration files."""


def serve(*, port: int | None, opens_browser: bool, shares: bool = False) -> None:
    """Serve the dashboard until it is stopped with Ctrl-C.

    Parameters
    ----------
    port
        The port asked for, or None for the first free one.
    opens_browser
        Whether to open a browser window at it.
    shares
        Whether to open the pages to the class's devices at once.

    Raises
    ------
    RunError
        If the port is taken, or there is no network to share in.
    """
    settings = SETTINGS | {"server.port": free_port(port), "server.headless": not opens_browser}
    if shares:
        from dashboard.sharing.share import announce

        announce()
    serve_with(settings)


def serve_with(settings: Mapping[str, Any]) -> None:
    """Serve the pages until the server is stopped."""
    from streamlit.web import bootstrap

    flags = {name.replace(".", "_"): value for name, value in settings.items()}
    bootstrap.load_config_options(flag_options=flags)  # before the start: the server reads port and address early
    with suppress(KeyboardInterrupt):
        bootstrap.run(str(files("dashboard") / "app.py"), False, [], flags)
    _leave()


def _leave() -> NoReturn:
    """End at once: what visitors brought goes, the class's server goes, and nobody waits for seasons that still run."""
    from dashboard.brought.shelf import clear_all
    from dashboard.seasons.work import desk
    from dashboard.sharing.share import share
    from sim.workers import end_workers

    desk().close()
    share().stop()
    clear_all()
    end_workers()
    sys.stdout.flush()
    os._exit(0)


def free_port(wanted: int | None) -> int:
    """Return the port asked for if it is free, or else the first free one."""
    ports = [wanted] if wanted else range(FIRST_PORT, FIRST_PORT + PORTS_TRIED)
    for port in ports:
        if is_free("127.0.0.1", port):
            return port
    if wanted:
        raise RunError(tell("Port {port} is in use by another program; choose another one with --port.", port=wanted))
    raise RunError(
        tell(
            "Ports {first} to {last} are all in use; choose one with --port.",
            first=FIRST_PORT,
            last=FIRST_PORT + PORTS_TRIED - 1,
        )
    )
