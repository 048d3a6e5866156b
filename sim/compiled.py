"""The one door to numba: compiled rules, compiled loops, and a cache that never goes stale.

numba's own cache watches only the file of the compiled function, not the files of the rules it calls: after an
edit elsewhere the old machine code answers silently. The cache folder is therefore named by a fingerprint of every
source file of ``sim`` and set before the first function is compiled. Import this module, never numba.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any, ParamSpec, TypeAlias, TypeVar, cast

import numba
import numpy as np
from numpy.typing import NDArray

from sim.rules_cache import rules_folder, rules_refused

Inputs = ParamSpec("Inputs")
Result = TypeVar("Result")
Records: TypeAlias = NDArray[Any]
"""A NumPy structured array: one record a creature, a plant, a bed or a day."""
Record: TypeAlias = Any
"""One element of ``Records``: its fields are read and written by name."""
Floats: TypeAlias = NDArray[np.float64]
Ints: TypeAlias = NDArray[np.int64]
Bytes: TypeAlias = NDArray[np.uint8]

_config: Any = numba.config  # filled by numba at run time
_config.CACHE_DIR = str(rules_folder())
IS_COMPILED = not _config.DISABLE_JIT

_HOW: dict[str, Any] = {"cache": True, "error_model": "numpy"}
_FASTER: dict[str, Any] = {"_nrt": False, "no_cfunc_wrapper": True}
"""No ``nrt``: compiled code here fills arrays that it is given and makes none of its own, so numba need not count who
still uses them. Counting at every rule that is handed an array took a third of a season. No ``cfunc``: nobody calls
these from C. Neither option is promised by numba, so each is left out where numba does not know it: slower, with the
same numbers."""


def _is_known(option: str) -> bool:
    try:
        numba.njit(**{option: _FASTER[option]})(_is_known)
    except (KeyError, TypeError):  # what numba says to an option that it does not know
        return False
    return True


@cache
def _how() -> dict[str, Any]:
    """Return how this numba is asked to compile: as fast as it knows."""
    return {**_HOW, **{option: value for option, value in _FASTER.items() if _is_known(option)}}


def rule(function: Callable[Inputs, Result]) -> Callable[Inputs, Result]:
    """Compile a small function over one record; its text goes into every loop that calls it. Tests may call it, too."""
    return cast(Callable[Inputs, Result], _kept(numba.njit(forceinline=True, **_how())(function)))


def loop(function: Callable[Inputs, Result]) -> Callable[Inputs, Result]:
    """Compile a function that walks arrays; called once an actor and day. Lets go of the interpreter lock."""
    return cast(Callable[Inputs, Result], _kept(numba.njit(nogil=True, **_how())(function)))


def _kept(dispatcher: Any) -> Any:
    """Return numba's function; a disk that fills up while it is compiled is told in a sentence, not by numba."""
    keeper = getattr(dispatcher, "_cache", None)  # none with compilation off
    keep = getattr(keeper, "save_overload", None)
    if keeper is None or keep is None:
        return dispatcher

    def keep_or_tell(*compiled: Any) -> None:
        try:
            keep(*compiled)
        except OSError as fault:
            raise rules_refused(rules_folder(), fault) from fault

    keeper.save_overload = keep_or_tell
    return dispatcher


def records(array: Records) -> Records:
    """Return the array so that ``array[i].field`` works compiled and, with compilation off, in plain Python."""
    return array if IS_COMPILED else array.view(np.recarray)
