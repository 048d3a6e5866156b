"""The least that a day of insects could cost: a compiled loop that only ages each, draws once and removes the dead.

Twice: over a record that holds only what such a loop needs, and over the record that the engine's insects have, which
is four times as long and has to be moved when the ranks are closed.
"""

from __future__ import annotations

from time import thread_time

import numpy as np

from sim.compiled import loop, records
from sim.insects.record import INSECT
from sim.randomness import chance

LEAN = np.dtype([("key", "u8"), ("warmth_dd", "f8"), ("fate", "u8")], align=True)
"""What such a loop needs, under the names that the engine's record has."""


@loop
def age_draw_remove(insects, count, day, death):
    """Live one day; return how many are left."""
    kept = 0
    for i in range(count):
        insect = insects[i]
        insect.warmth_dd += 1.0
        if chance(insect.key, day, 0) < death:
            insect.fate = 1
        if insect.fate == 0:
            if kept != i:
                insects[kept] = insects[i]
            kept += 1
    return kept


def floor_ns(insects_alive, death=0.05, days=200, *, is_whole=False):
    """Return nanoseconds an insect-day with about so many alive; the dead are replaced outside the clock.

    ``is_whole`` takes the engine's own records in place of lean ones.
    """
    insects = records(np.zeros(insects_alive, INSECT if is_whole else LEAN))
    insects["key"] = np.arange(insects_alive, dtype=np.uint64)
    count = age_draw_remove(insects, insects_alive, 0, death)
    spent, lived = 0.0, 0
    for day in range(1, days):
        insects["key"][count:] = np.arange(insects_alive - count, dtype=np.uint64) + np.uint64(day * insects_alive)
        insects["fate"][count:] = 0
        started = thread_time()
        count = age_draw_remove(insects, insects_alive, day, death)
        spent += thread_time() - started
        lived += insects_alive
    return spent / lived * 1e9
