"""The teacher's side: starts the class's server as a process of its own, hears how many devices got in, and stops it.

The two are tied by a pipe. When the teacher's process ends, however it ends, the pipe breaks and so ends the class's
server.
"""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import threading
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache

from dashboard.language.tongue import _
from dashboard.sharing.network import is_free, local_addresses
from dashboard.sharing.role import SHARED
from sim.errors import RunError, refusal, tell

FIRST_PORT, PORTS_TRIED = 8600, 20
STOP_SECONDS = 8.0
_LOOK_SECONDS = 0.3


@dataclass
class Share:
    """The class's server, seen from the teacher's."""

    address: str = ""
    port: int = 0
    devices: int = 0
    twice: tuple[int, ...] = ()
    """Seats that more than one device has said."""
    code: str = ""
    """Of the setting that devices begin with; nothing while none was told."""
    _process: subprocess.Popen[str] | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def is_started(self) -> bool:
        """Whether its process is there."""
        return self._process is not None and self._process.poll() is None

    @property
    def is_open(self) -> bool:
        """Whether it answers."""
        if not self.is_started:
            return False
        try:
            with socket.create_connection((self.address, self.port), _LOOK_SECONDS):
                return True
        except OSError:
            return False

    @property
    def is_cut_off(self) -> bool:
        """Whether this machine has lost the address under which it shares."""
        return self.is_started and self.address not in local_addresses()

    @property
    def link(self) -> str:
        """Where devices get in."""
        return f"http://{self.address}:{self.port}"

    def start(self, address: str | None = None) -> None:
        """Open the pages to the local network.

        Parameters
        ----------
        address
            Which of this machine's addresses; the first where not given.

        Raises
        ------
        RunError
            If this machine is in no network, or has no such address.
        """
        known = local_addresses()
        if not known:
            raise RunError(
                tell(
                    "This computer is in no network. Join one, or open a hotspot on it or on a phone; then share again."
                )
            )
        if address is not None and address not in known:
            raise RunError(refusal(tell("This computer has no address {address}", address=address), ", ".join(known)))
        with self._lock:
            if self.is_started:
                return
            self.address = address or known[0]
            self.port = _free_port(self.address)
            self.devices, self.twice, self.code = 0, (), ""
            self._process = subprocess.Popen(  # noqa: S603 (our own module, no shell)
                [sys.executable, "-m", "dashboard.server.class_server", self.address, str(self.port)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
                env={**os.environ, SHARED: "yes"},
            )
            threading.Thread(target=self._listen, args=(self._process,), name="class server", daemon=True).start()

    def tell(self, code: str) -> None:
        """Let devices that come to the bare address begin with the setting of a code."""
        with self._lock:
            process = self._process
            if process is None or process.stdin is None or code == self.code:
                return
            with suppress(OSError):  # it has just ended: there is nobody to tell
                process.stdin.write(json.dumps({"code": code}) + "\n")
                process.stdin.flush()
                self.code = code

    def stop(self) -> None:
        """Close the pages to the network; no device gets in any more when this returns."""
        with self._lock:
            process, self._process = self._process, None
        if process is None:
            return
        if process.stdin:
            with suppress(OSError):  # it has ended, and what was last told to it never left
                process.stdin.close()
        process.terminate()
        try:
            process.wait(STOP_SECONDS)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()

    def _listen(self, process: subprocess.Popen[str]) -> None:
        with process.stdout or open(os.devnull) as lines:  # noqa: PTH123 (only to have something to close)
            for line in lines:
                try:
                    told = json.loads(line)
                except ValueError:
                    continue
                if isinstance(told, dict) and process is self._process:
                    self.devices = int(told.get("devices", self.devices))
                    self.twice = tuple(int(seat) for seat in told.get("twice", self.twice))


@cache
def share() -> Share:
    """Return the one share of this server."""
    return Share()


def announce() -> None:
    """Share at once, and say on the terminal what that opens and how to get in."""
    import segno

    shared = share()
    shared.start()
    print(
        _(
            "Sharing: every device in the same network can open these pages at {link}, without a password, until this "
            "program ends."
        ).format(link=shared.link)
    )
    segno.make(shared.link).terminal(compact=True)


def _free_port(address: str) -> int:
    for port in range(FIRST_PORT, FIRST_PORT + PORTS_TRIED):
        if is_free(address, port):
            return port
    raise RunError(
        tell(
            "Ports {first} to {last} of {address} are all in use.",
            first=FIRST_PORT,
            last=FIRST_PORT + PORTS_TRIED - 1,
            address=address,
        )
    )
