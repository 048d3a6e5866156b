"""Which of the two servers this is: the teacher's, for this machine only, or the class's, in the local network."""

from __future__ import annotations

import json
import os
import sys
import threading

SHARED = "LEAFNEST_SHARED"
"""Set for the class's server and its processes."""
_devices: set[str] = set()
_lock = threading.Lock()


def is_class_server() -> bool:
    """Return whether this is the server for the class, which has none of the teacher's controls."""
    return os.environ.get(SHARED) == "yes"


def count_device(address: str | None) -> None:
    """Count a device that got through, by its address, which is kept in memory only and never told.

    The number alone is handed on, as a line that the teacher's server reads.
    """
    with _lock:
        before = len(_devices)
        _devices.add(address or "this machine")
        if len(_devices) > before:
            print(json.dumps({"devices": len(_devices)}), file=sys.stdout, flush=True)
