"""Where a twin insect's chance comes from: the keys that the engine draws from, or a stream of its own."""

from __future__ import annotations

import math
import random

import numpy as np

from sim.randomness import chance, child_key, quick_normal, stream_key


class KeyedLuck:
    """The luck of one key: the same question on the same day has the same answer, whoever asks."""

    __slots__ = ("key",)

    def __init__(self, key):
        self.key = key

    def share(self, question, day):
        """Return a number from 0 to 1."""
        return chance(self.key, day, question)

    def bell(self, question, day):
        """Return a standard normal number."""
        return quick_normal(self.key, day, question)

    def of_child(self, number):
        """Return the luck of a child."""
        return KeyedLuck(np.uint64(child_key(self.key, number)))


class OwnLuck:
    """Luck from Python's own generator, a fresh number each time it is asked."""

    __slots__ = ("source",)

    def __init__(self, source):
        self.source = source

    def share(self, question, day):
        """Return a number from 0 to 1."""
        return self.source.random()

    def bell(self, question, day):
        """Return a standard normal number."""
        return self.source.gauss(0.0, 1.0)

    def of_child(self, number):
        """Return the luck of a child."""
        return self


class KeyedFortune:
    """All streams of a season by the engine's keys."""

    def __init__(self, seed):
        self.seed = seed

    def stream(self, name, *parts):
        """Return the luck of a named stream."""
        return KeyedLuck(stream_key(self.seed, name, *parts))


class OwnFortune:
    """All streams of a season from one generator that knows nothing of the engine's keys."""

    def __init__(self, seed):
        self.luck = OwnLuck(random.Random(f"twin {seed}"))

    def stream(self, name, *parts):
        """Return the luck of a named stream."""
        return self.luck


def poisson(mean, share):
    """Return the smallest count whose cumulative Poisson probability exceeds a share, by direct summing."""
    count, probability = 0, math.exp(-mean)
    cumulative = probability
    while share > cumulative and count < 2000:
        count += 1
        probability *= mean / count
        cumulative += probability
    return count if mean > 0 else 0
