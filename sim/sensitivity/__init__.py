"""Which numbers of nature a result leans on, over the ranges within which they are known.

``leans_on`` reads the ranking that comes with the program; ``sim.sensitivity.study`` makes it anew.
"""

from __future__ import annotations

from sim.sensitivity.ranking import Leaning, leans_on

__all__ = ["Leaning", "leans_on"]
