"""Where a reported number can lie at all, and an interval shown no wider than that."""

from __future__ import annotations

from math import inf

_SHARE_OF_ANOTHER_SEASON = "potential_share"
"""Ends the names of shares of what the garden gives without pests: of another season, which may give less."""


def bounds_of(measure: str) -> tuple[float, float]:
    """Return the least and the most that a measure can be: a count or a weight is never below 0, a part never above 1.

    Of a measure that is not known nothing is known.
    """
    from sim.measures import MEASURES

    if measure not in MEASURES:
        return -inf, inf
    is_part = MEASURES[measure].unit == "share" and not measure.endswith(_SHARE_OF_ANOTHER_SEASON)
    return 0.0, 1.0 if is_part else inf


def shown_interval(measure: str, mean: float, low: float, high: float) -> tuple[float, float]:
    """Return the ends of an interval of a mean as they are shown: cut where the measure itself must end.

    Student's interval is laid evenly around the mean, and with few seasons that vary much it runs on to where no mean
    can lie: to fewer than no eggs, or more than all flowers. To cut it there is fair to a reader. The true mean cannot
    lie in the part that is taken away, so what is left holds it just as often, in 19 of 20 such samples, and nobody is
    shown what cannot be. Files keep the interval as it was worked out. Differences between plans are never cut: they
    may be of either sign.

    Parameters
    ----------
    measure
        Name of a measure.
    mean, low, high
        Of an estimate, in the measure's own unit; the mean always stays inside. Ends that are no number stay so.
    """
    least, most = bounds_of(measure)
    return (
        low if low != low else max(low, min(least, mean)),
        high if high != high else min(high, max(most, mean)),
    )
