"""The class's server, started by the teacher's: the same pages in the local network, until the teacher's end goes.

Run as ``python -m dashboard.server.class_server ADDRESS PORT``, with a pipe as standard input.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable
from typing import Any

from sim.lifeline import lifeline

LAST_WORD_SECONDS = 5.0
"""So long it may take to say goodbye before it is cut off."""


def settings_for(address: str, port: int) -> dict[str, Any]:
    """Return the settings of the class's server: one address, one port, that origin and no other."""
    from dashboard.server.settings import SETTINGS

    return SETTINGS | {
        "server.address": address,
        "server.port": port,
        "server.headless": True,
        "server.allowedHosts": [address],
        "browser.serverAddress": address,
        "browser.serverPort": port,
    }


def end_with_the_pipe(hear: Callable[[str], None]) -> None:
    """Hear what the teacher's end tells, and end when it is gone, by whatever way."""
    pipe = lifeline()

    def watch() -> None:
        for line in pipe:
            hear(line)
        os.kill(os.getpid(), signal.SIGTERM)
        threading.Timer(LAST_WORD_SECONDS, os._exit, (0,)).start()

    threading.Thread(target=watch, name="teacher's end", daemon=True).start()


def main() -> None:
    """Serve until the teacher's end is gone."""
    from dashboard.server.settings import serve_with
    from dashboard.sharing.role import hear

    end_with_the_pipe(hear)
    serve_with(settings_for(sys.argv[1], int(sys.argv[2])))


if __name__ == "__main__":
    main()
