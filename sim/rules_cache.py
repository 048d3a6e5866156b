"""Where compiled rules lie on disk, and whether they do; asked by pages, so without loading the compiler.

Takes    ``LEAFNEST_CACHE``, ``XDG_CACHE_HOME`` or the home folder, and else the machine's temporary folder.
Keeps    the place, once found.
Changes  the folder, which is made and tried; rules that can only be read are copied to where they can be used.
"""

from __future__ import annotations

import atexit
import hashlib
import os
import shutil
import stat
import tempfile
from contextlib import suppress
from functools import cache
from pathlib import Path

from sim.errors import OutputError, tell, why_of

_WHOLE = "whole"
_VARIABLE = "LEAFNEST_CACHE"
_PROBE = bytes(4096)
"""Something to write: a full disk still takes the name of a file."""
ROOM_MB = 50
"""Free space to ask for: the rules of one version take 20 MB (measured), and another version may come."""


def sources_fingerprint(folder: Path) -> str:
    """Return 16 hex digits that change with any Python source below the folder, however a machine ends its lines."""
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*.py")):
        digest.update(path.relative_to(folder).as_posix().encode())
        digest.update(path.read_bytes().replace(b"\r\n", b"\n"))
    return digest.hexdigest()[:16]


@cache
def rules_folder() -> Path:
    """Return where the compiled rules of these very sources lie; it is there and can be written.

    Raises
    ------
    OutputError
        If the machine has no such place.
    """
    name = f"rules-{sources_fingerprint(Path(__file__).parent)}"
    wanted = _wanted_folder(name)
    if wanted and _refusal_of(wanted) is None:
        return wanted
    folder = _temporary_base() / name  # a home that can only be read, a full one, or none
    if wanted:
        _copy_whole(wanted, folder)
    refusal = _refusal_of(folder)
    if refusal:
        raise rules_refused(wanted or folder, refusal)
    return folder


def is_warm() -> bool:
    """Return whether a whole season has been lived with these very sources, so that their rules lie on disk."""
    return (rules_folder() / _WHOLE).exists()


@cache
def note_warm() -> None:
    """Leave a mark that a whole season has been lived."""
    with suppress(OSError):  # a disk that has just filled up: the next start says again that it prepares
        (rules_folder() / _WHOLE).touch()


def rules_refused(folder: Path, fault: OSError) -> OutputError:
    """Return the error for a place that does not take compiled rules."""
    return OutputError(
        tell(
            "The compiled rules cannot be kept in '{folder}': {why}. Let {variable} name a folder with {room} MB free.",
            folder=folder,
            why=why_of(fault),
            variable=_VARIABLE,
            room=ROOM_MB,
        )
    )


def _wanted_folder(name: str) -> Path | None:
    base = os.environ.get(_VARIABLE) or os.environ.get("XDG_CACHE_HOME")
    try:
        return (Path(base) if base else Path.home() / ".cache") / "leafnest" / name
    except RuntimeError:  # a user without a home, as in some containers
        return None


def _refusal_of(folder: Path) -> OSError | None:
    """Return what the machine says against writing to a folder; that it is there says little."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder) as file:
            file.write(_PROBE)
    except OSError as fault:
        return fault
    return None


def _temporary_base() -> Path:
    """Return a folder for this machine session that nobody else can write to: machine code is run from it."""
    if not hasattr(os, "getuid"):  # Windows: there the temporary folder is the person's own
        return Path(tempfile.gettempdir()) / "leafnest"
    base = Path(tempfile.gettempdir()) / f"leafnest-{os.getuid()}"
    with suppress(OSError):
        base.mkdir(mode=0o700, exist_ok=True)
        found = base.lstat()
        is_for_others = found.st_mode & (stat.S_IWGRP | stat.S_IWOTH)
        if stat.S_ISDIR(found.st_mode) and found.st_uid == os.getuid() and not is_for_others:
            return base
    own = tempfile.mkdtemp(prefix="leafnest-")  # somebody else took that name
    os.environ[_VARIABLE] = own  # so that the processes of this one find it, too
    atexit.register(shutil.rmtree, own, ignore_errors=True)
    return Path(own) / "leafnest"


def _copy_whole(source: Path, folder: Path) -> None:
    """Copy rules that can be read only, for numba reads from no folder that it cannot write to; whole or not at all."""
    with suppress(OSError):  # what cannot be copied is compiled anew
        if folder.exists() or not (source / _WHOLE).exists():
            return
        folder.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
        try:
            for file in filter(Path.is_file, source.rglob("*")):
                copy = beside / file.relative_to(source)
                copy.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(file, copy)  # without its rights: the copies must take what is compiled later
            beside.rename(folder)
        finally:
            shutil.rmtree(beside, ignore_errors=True)
