"""Which device of the class said which seat, so that a seat said twice can be told; kept in memory, by visit."""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable


class Seats:
    """Seats said by visits.

    Parameters
    ----------
    is_here
        Whether a visit still goes on; one that has ended gives its seat back.
    """

    def __init__(self, is_here: Callable[[str], bool]) -> None:
        self._is_here = is_here
        self._seat_of: dict[str, int] = {}
        self._lock = threading.Lock()

    def say(self, visit: str, seat: int) -> None:
        """Note the seat that somebody typed, in place of an earlier one."""
        with self._lock:
            self._seat_of[visit] = seat

    def is_said_elsewhere(self, visit: str, seat: int) -> bool:
        """Return whether another visit that goes on has said this seat."""
        return any(one == seat and other != visit for other, one in self._going_on().items())

    def said_twice(self) -> list[int]:
        """Return the seats that more than one visit has said, in order."""
        return sorted(seat for seat, count in Counter(self._going_on().values()).items() if count > 1)

    def _going_on(self) -> dict[str, int]:
        with self._lock:
            for visit in [visit for visit in self._seat_of if not self._is_here(visit)]:
                del self._seat_of[visit]
            return dict(self._seat_of)
