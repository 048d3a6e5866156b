"""Which of the two servers this is: the teacher's, for this machine only, or the class's, in the local network."""

from __future__ import annotations

import json
import os
import sys
import threading
from typing import Any

SHARED = "LEAFNEST_SHARED"
"""Set for the class's server and its processes."""
MOST_CODE_LETTERS = 2000
_devices: set[str] = set()
_told: dict[str, str] = {}
_twice: list[int] = []
_lock = threading.Lock()


def is_class_server() -> bool:
    """Return whether this is the server for the class, which has none of the teacher's controls."""
    return os.environ.get(SHARED) == "yes"


def hear(line: str) -> None:
    """Take in what the teacher's server tells: the code of the setting that devices begin with."""
    try:
        told = json.loads(line)
    except ValueError:
        return
    if isinstance(told, dict) and isinstance(told.get("code"), str):
        _told["code"] = told["code"][:MOST_CODE_LETTERS]


def code_of_the_class() -> str:
    """Return the code of the setting that devices begin with, or nothing while the teacher has told none."""
    return _told.get("code", "") if is_class_server() else ""


def count_device(address: str | None) -> None:
    """Count a device that got through, by its address, which is kept in memory only and never told.

    The number alone is handed on, as a line that the teacher's server reads.
    """
    with _lock:
        before = len(_devices)
        _devices.add(address or "this machine")
        if len(_devices) > before:
            _say({"devices": len(_devices)})


def tell_seats(twice: list[int]) -> None:
    """Tell the teacher's server which seats were said by more than one device, when that has changed."""
    with _lock:
        if twice != _twice:
            _twice[:] = twice
            _say({"twice": twice})


def _say(told: dict[str, Any]) -> None:
    print(json.dumps(told), file=sys.stdout, flush=True)
