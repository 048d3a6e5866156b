"""The rule for "too close to call" and the interval of a mean against printed tables."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from sim.uncertainty import SIGNIFICANCE, Score, estimate, sign_test
from tests.outside.register import check


@check(
    "critical values of the two-sided sign test at 0.05, as printed in statistics textbooks",
    source="none",
    read="memory",
    independent=True,
)
@pytest.mark.parametrize(
    ("decided", "critical"),
    [(6, 0), (8, 0), (9, 1), (11, 1), (12, 2), (14, 2), (15, 3), (17, 4), (20, 5), (23, 6), (25, 7), (30, 9)],
)
def test_sign_test_critical_values(decided, critical):
    assert not Score(decided - critical, 0, critical).is_too_close_to_call
    assert Score(decided - critical - 1, 0, critical + 1).is_too_close_to_call


@check(
    "Student's t at 0.975 for 1, 4, 9, 19 and 29 degrees of freedom, as printed in statistics textbooks",
    source="none",
    read="memory",
    independent=True,
)
@pytest.mark.parametrize(("freedom", "t"), [(1, 12.706), (4, 2.776), (9, 2.262), (19, 2.093), (29, 2.045)])
def test_interval_reaches_students_t(freedom, t):
    values = [float(n) for n in range(freedom + 1)]
    found = estimate(values)
    assert (found.high - found.mean) / (found.spread / math.sqrt(len(values))) == pytest.approx(t, abs=0.0006)


@check(
    "exact binomial test of a reference library (scipy.stats.binomtest), 1 to 200 decided seasons",
    source="scipy_library",
    read="read: data",
    independent=True,
)
def test_sign_test_against_reference_library():
    for decided in (1, 2, 7, 20, 51, 120, 200):
        for ahead in range(decided + 1):
            reference = stats.binomtest(ahead, decided, 0.5).pvalue
            assert sign_test(ahead, decided - ahead) == pytest.approx(reference, rel=1e-9)
            if abs(reference - SIGNIFICANCE) > 1e-9:
                assert Score(ahead, 0, decided - ahead).is_too_close_to_call == (reference > SIGNIFICANCE)
