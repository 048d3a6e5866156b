"""The pipe that ties a process to the one that started it: when that one ends, however it ends, the pipe breaks.

Takes    standard input.
Keeps    nothing.
Changes  standard input, which is empty for everybody else from then on.
"""

from __future__ import annotations

import os
from typing import TextIO


def lifeline() -> TextIO:
    """Return the pipe that came as standard input, for the caller alone; it ends when its other end is gone.

    On Windows, whoever only asks what standard input is must wait for a read of it that is under way. Libraries for
    numbers ask while they are loaded, and so do processes started from here: a watch that read standard input itself
    would stop them for ever.
    """
    pipe = os.dup(0)
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0)
    os.close(nothing)
    return open(pipe, encoding="utf-8")  # noqa: PTH123 (a pipe has no path)
