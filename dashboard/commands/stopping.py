"""What a command says when the person stops it: what is kept, or that nothing is; and going on when nobody reads."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

NOTHING = "stopped; nothing was written."


def note_written(choice: argparse.Namespace, place: Path) -> None:
    """Note with what was asked for that something of it is written, to be told if the person stops the rest."""
    choice.written = [*getattr(choice, "written", ()), place]


def words_when_stopped(choice: argparse.Namespace) -> str:
    """Return what there is of the work of a command that was stopped.

    Parameters
    ----------
    choice
        What was asked for, with what ``note_written`` noted; its ``store`` or ``remake`` is a folder that keeps seasons
        as they come.
    """
    written: list[Path] = getattr(choice, "written", [])
    if written:
        return f"stopped; written so far: {', '.join(map(str, written))}"
    for folder in (getattr(choice, "store", None), getattr(choice, "remake", None)):
        if folder and _holds_seasons(Path(folder)):
            return f"stopped; the seasons done are kept in {folder}: say the same again."
    return NOTHING


def _holds_seasons(folder: Path) -> bool:
    from sim.store import SEASONS

    return any(folder.rglob(SEASONS))  # a study keeps those of each step in a folder of its own


@contextmanager
def also_unread(*places: Path | bool | None) -> Iterator[None]:
    """Go on when the reader of what is printed has gone, such as ``head``, if there is a place to write to as well.

    Parameters
    ----------
    *places
        Where the results go besides; with none of them there is nobody left to work for.
    """
    try:
        yield
    except BrokenPipeError:
        if not any(places):
            raise
