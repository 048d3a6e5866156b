"""Files that results go to: a disk that refuses is told in one sentence, and what must be whole is whole or not there.

Takes    places and bytes.
Keeps    nothing.
Changes  the file named, and for a moment a hidden one beside it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sim.errors import OutputError, tell, why_of


@contextmanager
def writing(place: Path) -> Iterator[None]:
    """Tell what the machine says against writing, in the ``with`` block, as an error about this place.

    Raises
    ------
    OutputError
        If it cannot be written.
    """
    try:
        yield
    except OSError as fault:
        raise unwritable(place, fault) from fault


def unwritable(place: Path, fault: OSError) -> OutputError:
    """Return the error for a place that cannot be written."""
    return OutputError(tell("'{place}' cannot be written: {why}.", place=place, why=why_of(fault)))


def foreign(folder: Path, name: str) -> OutputError:
    """Return the error for a folder with something in it that is not ours."""
    return OutputError(
        tell(
            "'{folder}' holds '{foreign}', which no run wrote; choose another folder for the results.",
            folder=folder,
            foreign=name,
        )
    )


def write_whole(place: Path, content: bytes) -> None:
    """Write a file so that it is there whole or not at all, also if the machine stops in the middle.

    Raises
    ------
    OSError
        If it cannot be written; nothing is left of it then.
    """
    beside = place.with_name(f".{place.name}.{os.getpid()}.part")
    try:
        with beside.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(place)
    except BaseException:  # also when the person stops it right here
        beside.unlink(missing_ok=True)
        raise
