"""What a visitor brought, for as long as the visit lasts: gardens, weather files, and which seasons were run of them.

A visit ends when its window has been closed, or has lost its server, for longer than ``KEPT_SECONDS``. Then its files,
its gardens and the results of its seasons are thrown away. What is left when the server ends goes with it.
"""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING
from weakref import WeakSet

from dashboard.brought.brought_weather import brought_weather

if TYPE_CHECKING:
    from sim.scenario import Scenario
    from sim.store import SeasonKey

KEPT_SECONDS = 100.0
"""Less than the two minutes after which the server itself lets go of a visit that was cut off."""
LOOK_SECONDS = 5.0
MOST_GARDENS = 8
"""Gardens that one visitor may have at a time; the oldest goes."""


_ALL: WeakSet[Shelf] = WeakSet()


def clear_all() -> None:
    """Throw away everything that any visitor brought, when the server ends."""
    for shelf in list(_ALL):
        shelf.clear()


class Shelf:
    """One visitor's own things."""

    def __init__(self) -> None:
        _ALL.add(self)
        self._weather: set[Path] = set()
        self._gardens: dict[str, Scenario] = {}
        self._seasons: set[SeasonKey] = set()

    @property
    def gardens(self) -> Mapping[str, Scenario]:
        """Name → garden, in the order they were brought."""
        return self._gardens

    def folder_for(self, weather: bytes) -> Path:
        """Return where a weather file that holds this lies until the visit ends; others may have brought the same."""
        folder = brought_weather().hold(weather)
        if folder in self._weather:  # this visitor counts once
            brought_weather().let_go(folder)
        self._weather.add(folder)
        return folder

    def put(self, name: str, garden: Scenario) -> None:
        """Keep a garden for this visit."""
        self._gardens.pop(name, None)
        self._gardens[name] = garden
        while len(self._gardens) > MOST_GARDENS:
            del self._gardens[next(iter(self._gardens))]

    def note(self, seasons: Iterable[SeasonKey]) -> None:
        """Remember which seasons were run of these gardens, so that their results can go with them."""
        self._seasons |= set(seasons)

    def clear(self) -> None:
        """Throw everything away."""
        from dashboard.seasons.work import desk

        self._gardens.clear()
        while self._weather:
            brought_weather().let_go(self._weather.pop())
        desk().forget(self._seasons)
        self._seasons.clear()


class Shelves:
    """The shelves of all visits of this server; looks from time to time which visits are over."""

    def __init__(self, is_here: Callable[[str], bool], end_visit: Callable[[str], object]) -> None:
        self._is_here = is_here
        self._end_visit = end_visit
        self._lock = threading.Lock()
        self._shelves: dict[str, Shelf] = {}
        self._seen: dict[str, float] = {}
        self._watch: threading.Thread | None = None

    def of(self, visit: str) -> Shelf | None:
        """Return the shelf of a visit, if it has one."""
        return self._shelves.get(visit)

    def new(self, visit: str) -> Shelf:
        """Return the shelf of a visit, a new one if need be."""
        with self._lock:
            self._seen[visit] = time.monotonic()
            if visit not in self._shelves:
                self._shelves[visit] = Shelf()
            if self._watch is None or not self._watch.is_alive():
                self._watch = threading.Thread(target=self._look_on, name="visits", daemon=True)
                self._watch.start()
            return self._shelves[visit]

    def look(self, now: float) -> int:
        """Clear the shelves of visits that are over; return how many are left."""
        with self._lock:
            for visit in list(self._shelves):
                if self._is_here(visit):
                    self._seen[visit] = now
                elif now - self._seen[visit] > KEPT_SECONDS:
                    self._shelves.pop(visit).clear()
                    del self._seen[visit]
                    self._end_visit(visit)
            return len(self._shelves)

    def _look_on(self) -> None:
        while True:
            time.sleep(min(LOOK_SECONDS, KEPT_SECONDS))
            try:
                if not self.look(time.monotonic()):
                    return
            except Exception:  # the watch must go on: a shelf that was not cleared is tried again
                logging.getLogger(__name__).exception("A visit's files could not be cleared.")
