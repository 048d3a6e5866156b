"""Chance that belongs to a key, a day and a question: even, bell-shaped and counted numbers, against scipy's."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from sim.randomness import chance, child_key, normal, poisson, quick_normal, stream_key

MANY = 40_000
DISTANCE = 1.95 / MANY**0.5
"""Kolmogorov's distance that one in a thousand honest samples of this size exceeds (table value, from memory)."""
STREAM = stream_key(1, "test of chance")
KEYS = [np.uint64(child_key(STREAM, number)) for number in range(MANY)]


def test_chance_is_even() -> None:
    assert stats.kstest([chance(key, 3, 5) for key in KEYS], "uniform").statistic < DISTANCE


@pytest.mark.parametrize("bell", [normal, quick_normal])
def test_bells_have_the_normal_shape(bell) -> None:
    numbers = np.array([bell(key, 3, 5) for key in KEYS])
    assert stats.kstest(numbers, "norm").statistic < DISTANCE
    assert numbers.mean() == pytest.approx(0.0, abs=4.0 / MANY**0.5)
    assert numbers.std() == pytest.approx(1.0, abs=4.0 / (2.0 * MANY) ** 0.5)


def test_the_quick_bell_lies_on_scipys_quantiles() -> None:
    shares = np.array([chance(key, 3, 5) for key in KEYS])
    inner = (shares > 0.002) & (shares < 0.998)
    numbers = np.array([quick_normal(key, 3, 5) for key in KEYS])
    assert numbers[inner] == pytest.approx(stats.norm.ppf(shares[inner]), abs=0.03)
    assert np.abs(numbers[inner] - stats.norm.ppf(shares[inner])).mean() < 1e-3
    assert np.abs(numbers).max() < 3.7


@pytest.mark.parametrize("mean", [0.3, 4.0, 60.0])
def test_counts_are_poisson(mean) -> None:
    shares = (np.arange(2000) + 0.5) / 2000.0
    assert [poisson(mean, share) for share in shares] == stats.poisson.ppf(shares, mean).tolist()


@given(st.integers(0, 2**63), st.integers(0, 400), st.integers(0, 2000))
def test_chance_depends_on_nothing_else_and_lies_between_0_and_1(key, day, question) -> None:
    first = chance(np.uint64(key), day, question)
    assert 0.0 <= first < 1.0
    assert chance(np.uint64(key), day, question) == first
    assert chance(np.uint64(key), day, question + 1) != first
