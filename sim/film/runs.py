"""Long rows of small whole numbers, mostly alike from day to day, as few bytes.

A run is how often a number is repeated, then the number, each as a base-128 varint: seven bits a byte, low bits first,
the high bit set on all but the last. Any number keeps its exact value.
"""

from __future__ import annotations

import numpy as np

from sim.compiled import Ints

_BITS = 7
_MORE = 0x80
_LOW = 0x7F


def as_runs(numbers: Ints) -> bytes:
    """Return whole numbers from 0, read in the array's own order, as runs."""
    flat = np.ascontiguousarray(numbers, np.int64).ravel()
    if not flat.size:
        return b""
    if flat.min() < 0:
        raise ValueError(f"runs hold numbers from 0, and one is {flat.min()}")
    starts = np.concatenate([[0], np.flatnonzero(np.diff(flat)) + 1])
    lengths = np.diff(np.concatenate([starts, [flat.size]]))
    out = bytearray()
    for length, value in zip(lengths.tolist(), flat[starts].tolist(), strict=True):
        for number in (length, value):
            while number > _LOW:
                out.append(number & _LOW | _MORE)
                number >>= _BITS
            out.append(number)
    return bytes(out)


def from_runs(runs: bytes, shape: tuple[int, ...]) -> Ints:
    """Return the numbers again."""
    numbers: list[int] = []
    number, shift = 0, 0
    for byte in runs:
        number |= (byte & _LOW) << shift
        shift += _BITS
        if not byte & _MORE:
            numbers.append(number)
            number, shift = 0, 0
    return np.repeat(np.array(numbers[1::2], np.int64), numbers[::2]).reshape(shape)
