"""Imported by the process of which workers are made as copies: all that a season needs is loaded here, once for all.

A worker shares these pages of memory with its like until it writes to them, and begins with everything at hand.
"""

from contextlib import suppress

from sim.errors import LeafnestError

with suppress(LeafnestError):  # no place for the rules: the first season tells it, where somebody listens
    from sim.compiled import IS_COMPILED
    from sim.first_start import compile_once, live_once

    if IS_COMPILED:  # a season in plain Python would take minutes and leave nothing behind
        compile_once()
        live_once()
