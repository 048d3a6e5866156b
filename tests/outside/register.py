"""How a check against a figure that nobody here made up says where the figure is from.

Each check carries the source's key in ``sim/parameters/sources.toml``, what was read of it, and whether the figure was
used to set a parameter (``calibrated``) or is independent of all of them. A house test counts them and prints the list.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeVar

import pytest

Test = TypeVar("Test", bound=Callable[..., object])
Read = Literal[
    "read", "read: data", "read: abstract", "read: second hand", "derived", "memory", "common practice, no source"
]


@dataclass(frozen=True)
class Check:
    """What is checked, against whom."""

    what: str
    source: str
    read: Read
    independent: bool


CHECKS: list[Check] = []


def check(what: str, *, source: str, read: Read, independent: bool) -> Callable[[Test], Test]:
    """Mark a test as one outside check: what, whose figure, what was read of it, and whether it is independent.

    A parametrised test counts once. ``source`` is a key of the bibliography, or ``none`` for common practice.
    """

    def mark(test: Test) -> Test:
        CHECKS.append(Check(what, source, read, independent))
        return pytest.mark.outside(test)

    return mark
