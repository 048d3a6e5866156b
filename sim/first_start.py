"""The rules made ready before anybody waits for a season: compiled once a machine, then loaded once a program.

Compiling takes half a minute and 300 MB. So it is done by one process that ends afterwards and gives the memory back;
any other program that starts in the meantime waits for it instead of doing the same work beside it.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from sim.errors import LeafnestError
from sim.lifeline import lifeline
from sim.rules_cache import is_warm, rules_folder


def compile_once() -> None:
    """Return when the compiled rules lie on disk; whatever goes wrong is left to the first season, which tells it."""
    if is_warm():
        return
    from sim.compiled import IS_COMPILED

    if not IS_COMPILED:
        return
    with _alone(rules_folder() / "lock"):
        if not is_warm():
            with subprocess.Popen([sys.executable, "-m", "sim.first_start"], stdin=subprocess.PIPE) as compiler:
                compiler.wait()


def live_once() -> None:
    """Live a season under each plan of the first garden, so that all but a few rules are compiled, or loaded, here."""
    from sim.scenario import load_scenario, scenario_names
    from sim.season import run_season

    garden = load_scenario(scenario_names()[0])
    for plan in garden.plan_names:
        run_season(garden, plan=plan)


@contextmanager
def _alone(lock: Path) -> Iterator[None]:
    """Wait until no other program of this machine is in here; where that cannot be told, go on."""
    try:
        import fcntl
    except ImportError:  # Windows: two programs that start together each compile
        yield
        return
    with ExitStack() as held:
        with suppress(OSError):  # some network drives, a full disk
            fcntl.flock(held.enter_context(lock.open("w")), fcntl.LOCK_EX)
        yield


def _end_with_the_pipe() -> None:
    """End when the program that waits for this one has gone, by whatever way."""
    pipe = lifeline()

    def watch() -> None:
        pipe.read()
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a terminal sends Ctrl-C to this one, too; the pipe tells when to end
    _end_with_the_pipe()
    with suppress(LeafnestError):  # the first season tells it
        live_once()
    os._exit(0)  # the watch still reads
