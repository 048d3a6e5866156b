"""What commands print: told in one sentence where it cannot be written, such as to a file on a full disk.

A reader who has gone, such as ``head``, is no mistake and stays a ``BrokenPipeError``.
"""

from __future__ import annotations

import codecs
import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any, TextIO, cast


class _Telling:
    """Standard output with a sentence for what the machine says against writing to it."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        with self._told():
            return self._stream.write(text)

    def flush(self) -> None:
        with self._told():
            self._stream.flush()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except BrokenPipeError:
            raise
        except OSError as fault:
            from sim.errors import OutputError, tell, why_of

            lose_the_rest(self._stream)
            raise OutputError(tell("What was to be printed could not be written: {why}.", why=why_of(fault))) from fault


@contextmanager
def told_output() -> Iterator[None]:
    """Let printing in the ``with`` block end in ``OutputError`` where it cannot be written."""
    before = sys.stdout
    _write_every_letter(before)
    sys.stdout = cast(TextIO, _Telling(before))
    try:
        yield
    finally:
        sys.stdout = before


def lose_the_rest(stream: TextIO) -> None:
    """Let what is not written yet go nowhere: Python would try again when it ends, with nobody to answer for it."""
    with suppress(OSError):  # a stream that is no file keeps nothing back
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _write_every_letter(stream: TextIO) -> None:
    """Write UTF-8 where the locale has no letters beyond ASCII: a garden's title may have some, and a path."""
    if isinstance(stream, io.TextIOWrapper) and codecs.lookup(stream.encoding).name == "ascii":
        stream.reconfigure(encoding="utf-8", errors="surrogateescape")
