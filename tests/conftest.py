"""Shared settings of the tests."""

import numpy as np
from hypothesis import settings

from sim.compiled import IS_COMPILED

if not IS_COMPILED:  # 64-bit keys wrap around on purpose; plain NumPy scalars would warn
    np.seterr(over="ignore")

settings.register_profile("house", deadline=None)  # a first example may have to wait for a rule to be compiled
settings.load_profile("house")
