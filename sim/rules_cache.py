"""Where compiled rules lie on disk, and whether they do; asked by pages, so without loading the compiler."""

from __future__ import annotations

import hashlib
import os
import tempfile
from contextlib import suppress
from functools import cache
from pathlib import Path

_WHOLE = "whole"


def sources_fingerprint(folder: Path) -> str:
    """Return 16 hex digits that change with any Python source below the folder."""
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*.py")):
        digest.update(path.relative_to(folder).as_posix().encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:16]


@cache
def rules_folder() -> Path:
    """Return where the compiled rules of these very sources lie; it is there."""
    base = os.environ.get("LEAFNEST_CACHE") or os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    folder = Path(base) / "leafnest" / f"rules-{sources_fingerprint(Path(__file__).parent)}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:  # a read-only home: compile for this machine session only
        folder = Path(tempfile.gettempdir()) / f"leafnest-{os.getuid()}" / folder.name
        folder.mkdir(parents=True, exist_ok=True)
    return folder


def is_warm() -> bool:
    """Return whether a whole season has been lived with these very sources, so that their rules lie on disk."""
    return (rules_folder() / _WHOLE).exists()


@cache
def note_warm() -> None:
    """Leave a mark that a whole season has been lived."""
    with suppress(OSError):  # a folder that can only be read: the next start says again that it prepares
        (rules_folder() / _WHOLE).touch()
