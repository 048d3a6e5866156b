"""Weather files that visitors brought: each lies once by what it holds, for as long as anybody who brought it is here.

Seasons of two visitors with the same weather are run once, so their file must not go when only one of them leaves.
"""

from __future__ import annotations

import hashlib
import tempfile
import threading
from collections import Counter
from functools import cache
from pathlib import Path
from shutil import rmtree


class BroughtWeather:
    """The folders of a server's brought weather, and how many visitors hold each."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._base: tempfile.TemporaryDirectory[str] | None = None
        self._holders: Counter[Path] = Counter()

    def hold(self, content: bytes) -> Path:
        """Return the folder for a file that holds this, for one more visitor."""
        with self._lock:
            if self._base is None:
                self._base = tempfile.TemporaryDirectory(prefix="leafnest-visits-", ignore_cleanup_errors=True)
            folder = Path(self._base.name) / hashlib.sha256(content).hexdigest()
            folder.mkdir(exist_ok=True)
            self._holders[folder] += 1
            return folder

    def let_go(self, folder: Path) -> None:
        """Throw the folder away if this visitor was the last one to hold it."""
        with self._lock:
            self._holders[folder] -= 1
            if self._holders[folder] <= 0:
                del self._holders[folder]
                rmtree(folder, ignore_errors=True)
            if self._base is not None and not self._holders:
                self._base.cleanup()
                self._base = None


@cache
def brought_weather() -> BroughtWeather:
    """Return what all visitors of this server brought."""
    return BroughtWeather()
