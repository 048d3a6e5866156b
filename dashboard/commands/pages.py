"""Pages that commands write: only over an earlier page of their kind, which its first line tells.

Takes    the place that was asked for, and the page.
Keeps    nothing.
Changes  the file, and nothing that a person wrote.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from sim.errors import OutputError, tell
from sim.export import check_beside
from sim.writing import write_whole, writing


def check_page(file: Path | None, title: str) -> None:
    """Make sure, before a long run, that a page can be written to this file, where one was asked for.

    Parameters
    ----------
    file
        Where it is to go.
    title
        Its first line; a file that begins otherwise is somebody's own.

    Raises
    ------
    OutputError
        If it is a folder or a file that is no such page, or its place cannot be written.
    """
    if file is None:
        return
    if file.is_dir():
        raise OutputError(tell("{file} is a folder; a page is a file.", file=file))
    check_beside(file)
    if file.exists() and not _begins_with(file, title):
        raise OutputError(
            tell(
                "{file} is there already and is no earlier page, which begins with '{title}'; choose another name.",
                file=file,
                title=title,
            )
        )


def check_pictures(page: Path, pictures: Iterable[Path]) -> None:
    """Make sure that the pictures of a new page go over nothing.

    Raises
    ------
    OutputError
        If one is there already although the page is not.
    """
    if page.exists():  # an earlier one, as ``check_page`` has found, and so are they
        return
    for picture in pictures:
        if picture.exists():
            raise OutputError(tell("{file} is there already; choose another name.", file=picture))


def write_page(file: Path, text: str) -> None:
    """Write a page whole, over an earlier one of its kind too, and say so.

    Raises
    ------
    OutputError
        If it cannot be written, or something else stands there by now.
    """
    check_page(file, text.partition("\n")[0])
    with writing(file):
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, text.encode())
    print(f"Written: {file}", file=sys.stderr)


def _begins_with(file: Path, title: str) -> bool:
    wanted = f"{title}\n".encode()
    with writing(file):
        if not file.is_file():  # a pipe or a device: to read it would be to wait
            return False
        with file.open("rb") as opened:
            return opened.readline(len(wanted) + 1).replace(b"\r\n", b"\n") == wanted
