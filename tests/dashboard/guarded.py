"""Runs a process, and all that it starts, with sockets to the outside refused and every try written down."""

import os
from pathlib import Path

GUARD = Path(__file__).with_name("socket_guard")
"""Holds a ``sitecustomize``, which Python runs first in every process whose path begins there."""
REFUSED = "sockets to the outside are refused"


def environment(tried):
    """Return the environment of a guarded process; ``tried`` is the file where tries are written."""
    path = os.pathsep.join([str(GUARD), str(Path(__file__).parents[2]), os.environ.get("PYTHONPATH", "")])
    return {**os.environ, "PYTHONPATH": path, "SOCKET_GUARD_FILE": str(tried)}
