"""Where papers are drawn and typeset for pages: in a process of its own that lets all others go first.

A paper takes one or two seconds of a processor. Inside the server it would keep thirty students' pages waiting for as
long; here it only takes what they leave.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import Executor
from functools import cache
from typing import ParamSpec, TypeVar

from dashboard.language.tongue import current_language, current_units, speaking

Inputs = ParamSpec("Inputs")
Result = TypeVar("Result")
POLITENESS = 10
"""Of 19 at most: behind pages, and behind the seasons that pages wait for."""


def print_there(make: Callable[Inputs, Result], /, *inputs: Inputs.args, **named: Inputs.kwargs) -> Result:
    """Return what a function makes in the process for papers, in the language and units spoken here.

    The function must stand at the head of a module, and what it is given must be plain data, so that both can be sent.
    """
    return _press().submit(_make, current_language(), current_units(), make, *inputs, **named).result()


@cache
def _press() -> Executor:
    from sim.workers import Processes

    return Processes(1)


def _make(
    language: str, units: str, make: Callable[Inputs, Result], /, *inputs: Inputs.args, **named: Inputs.kwargs
) -> Result:
    _stand_back()
    with speaking(language, units):
        return make(*inputs, **named)


@cache
def _stand_back() -> None:
    """Once a process; Windows has no such steps, and there papers take their share."""
    if hasattr(os, "nice"):
        os.nice(POLITENESS)
