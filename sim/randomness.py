"""Named streams of chance: the same luck for every plan.

Nothing here keeps a state. A number between 0 and 1 is worked out from *whose* chance it is (a 64-bit key), the day
and the question asked. The same egg therefore meets the same luck under every plan until the gardener changes its
world, and nothing depends on the order of creatures or on the number of workers.

Mixing: the finaliser of SplitMix64 (Steele, Lea & Flood 2014, "Fast splittable pseudorandom number generators",
OOPSLA; constants from memory). Days and questions step along two odd increments, so
one key's answers are such a generator's own sequence.
"""

from __future__ import annotations

import hashlib
import math
from functools import lru_cache
from statistics import NormalDist

import numpy as np

from sim.compiled import Floats, rule

_GOLDEN = np.uint64(0x9E3779B97F4A7C15)
_MIX_1 = np.uint64(0xBF58476D1CE4E5B9)
_MIX_2 = np.uint64(0x94D049BB133111EB)
_DAY = np.uint64(0xD1342543DE82EF95)
_QUESTION = np.uint64(0xAF251AF3B0F025B5)
_S30, _S27, _S31, _S11 = np.uint64(30), np.uint64(27), np.uint64(31), np.uint64(11)
_TO_UNIT = 1.0 / 9007199254740992.0  # 2 ** -53
_STEPS = 1024


@rule
def mix(value: np.uint64) -> np.uint64:
    """Scatter 64 bits: neighbouring inputs give unrelated outputs."""
    z = value + _GOLDEN
    z = (z ^ (z >> _S30)) * _MIX_1
    z = (z ^ (z >> _S27)) * _MIX_2
    return z ^ (z >> _S31)


@rule
def chance(key: np.uint64, day: int, question: int) -> float:
    """Return a number in [0, 1) that belongs to this key, day and question."""
    z = key + np.uint64(day + 1) * _DAY + np.uint64(question + 1) * _QUESTION
    return float(mix(z) >> _S11) * _TO_UNIT


@rule
def child_key(mother: np.uint64, number: int) -> np.uint64:
    """Return the key of a mother's offspring with this number."""
    return mix(mix(mother) ^ (np.uint64(number + 1) * _DAY))


@rule
def normal(key: np.uint64, day: int, question: int) -> float:
    """Return a standard normal number (Box and Muller); uses the questions q and q + 1000."""
    u = chance(key, day, question)
    v = chance(key, day, question + 1000)
    return math.sqrt(-2.0 * math.log(1.0 - u)) * math.cos(2.0 * math.pi * v)


def _quantiles() -> Floats:
    """Return the normal quantiles of equal steps of chance; the outermost lie so that the tails keep their mean."""
    bell = NormalDist()
    inner = [bell.inv_cdf(step / _STEPS) for step in range(1, _STEPS)]
    tail_mean = bell.pdf(inner[-1]) * _STEPS
    last = 2.0 * tail_mean - inner[-1]
    return np.array([-last, *inner, last])


_QUANTILES = _quantiles()


@rule
def quick_normal(key: np.uint64, day: int, question: int) -> float:
    """Return a nearly normal number, within 3.7 of 0, read off a table: for what is drawn at every birth."""
    place = chance(key, day, question) * _STEPS
    step = int(place)
    return float(_QUANTILES[step] + (place - step) * (_QUANTILES[step + 1] - _QUANTILES[step]))


@rule
def poisson(mean: float, u: float) -> int:
    """Return the Poisson count whose cumulative chance holds u; for means up to some hundreds."""
    if mean <= 0.0:
        return 0
    if mean > 400.0:  # far above any use here; keep exp(-mean) from vanishing
        return int(mean + 0.5)
    term = math.exp(-mean)
    total = term
    count = 0
    while u > total and count < 2000:
        count += 1
        term *= mean / count
        total += term
    return count


@lru_cache(maxsize=65_536)
def stream_key(seed: int, name: str, *parts: int) -> np.uint64:
    """Return the key of a named stream, such as ``stream_key(7, "arrivals", species)``."""
    text = ":".join([str(seed), name, *map(str, parts)])
    return np.uint64(int.from_bytes(hashlib.blake2b(text.encode(), digest_size=8).digest(), "little"))
