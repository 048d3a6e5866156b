"""What commands print: told in one sentence where it cannot be written, such as to a file on a full disk.

A reader who has gone, such as ``head``, is no mistake and stays a ``BrokenPipeError``. What is said beside the results,
on standard error, never stops the work: where it cannot be written it is lost. Where a shell has closed either, what
would be printed goes nowhere.
"""

from __future__ import annotations

import codecs
import errno
import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, TextIO, cast

from dashboard.language.saying import MINUS

_NEAREST = "nearest letter"


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
        except OSError as fault:
            if _has_reader_gone(fault):
                raise BrokenPipeError from fault
            from sim.errors import OutputError, tell, why_of

            lose_the_rest(self._stream)
            raise OutputError(tell("What was to be printed could not be written: {why}.", why=why_of(fault))) from fault


def _has_reader_gone(fault: OSError) -> bool:
    """Return whether whoever read what is printed has gone; Windows calls that an invalid argument."""
    return isinstance(fault, BrokenPipeError) or (sys.platform == "win32" and fault.errno == errno.EINVAL)


class _Losing:
    """Standard error that drops what cannot be written: with nobody to tell, the results still count."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        with _lost(self._stream):
            self._stream.write(text)
        return len(text)

    def flush(self) -> None:
        with _lost(self._stream):
            self._stream.flush()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


@contextmanager
def told_output() -> Iterator[None]:
    """Let printing in the ``with`` block end in ``OutputError`` where it cannot be written."""
    before = sys.stdout, sys.stderr
    with _open_stream(sys.stdout) as out, _open_stream(sys.stderr) as beside:
        _write_every_letter(out)
        _write_every_letter(beside)
        sys.stdout, sys.stderr = cast(TextIO, _Telling(out)), cast(TextIO, _Losing(beside))
        try:
            yield
        finally:
            sys.stdout, sys.stderr = before
            for stream in (out, beside):  # what is left; when Python ends, nobody is there to answer for it
                with _lost(stream):
                    stream.flush()


@contextmanager
def _lost(stream: TextIO) -> Iterator[None]:
    try:
        yield
    except OSError:
        lose_the_rest(stream)


@contextmanager
def _open_stream(stream: TextIO | None) -> Iterator[TextIO]:
    """Hand over a stream, or one that leads nowhere for one that was closed before the program began.

    Python prints to standard output what is meant for a closed standard error, so that a record would not be alone.
    """
    if stream is not None:
        yield stream
        return
    with Path(os.devnull).open("w", encoding="utf-8") as nowhere:
        yield nowhere


def lose_the_rest(stream: TextIO) -> None:
    """Let what is not written yet go nowhere: Python would try again when it ends, with nobody to answer for it."""
    with suppress(OSError):  # a stream that is no file keeps nothing back
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _write_every_letter(stream: TextIO) -> None:
    """Let no letter stop what is printed: a garden's title may hold any, and so may a path, even one that is no text.

    A locale without letters beyond ASCII gets UTF-8; another than UTF-8 gets a hyphen for
    the minus sign, and the number of any other letter that it has not.
    """
    if not isinstance(stream, io.TextIOWrapper):
        return
    if codecs.lookup(stream.encoding).name in ("ascii", "utf-8"):
        stream.reconfigure(encoding="utf-8", errors="surrogateescape")
    else:
        codecs.register_error(_NEAREST, _nearest_letter)
        stream.reconfigure(errors=_NEAREST)


def _nearest_letter(fault: UnicodeError) -> tuple[str | bytes, int]:
    if isinstance(fault, UnicodeEncodeError):
        fault.end = fault.start + 1  # one letter at a time
        if fault.object[fault.start] == MINUS:
            return "-", fault.end
    return codecs.backslashreplace_errors(fault)
