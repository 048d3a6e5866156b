"""Shared settings of the tests."""

import numpy as np

from sim.compiled import IS_COMPILED

if not IS_COMPILED:  # 64-bit keys wrap around on purpose; plain NumPy scalars would warn
    np.seterr(over="ignore")
