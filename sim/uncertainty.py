"""What a handful of seasons can and cannot tell: intervals, one rule for "too close to call", seasons still needed.

The rule is the same everywhere: a two-sided sign test at one in twenty on the seasons in which a plan was ahead
against those in which it was behind, seasons that ended level left out. It asks nothing of the shape of the numbers.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from sim.compiled import Floats

SIGNIFICANCE = 1 / 20
"""How often the rule may call a winner where there is none; a convention of statistics."""
POWER = 4 / 5
"""How surely the seasons still asked for would settle the question, were the score so far the truth; a convention."""
LEVEL_SHARE = 1e-9
"""Two results that differ by less than this share of their size are level: rounding, not gardening."""

Better = Literal["more", "less", "neither"]


@dataclass(frozen=True, slots=True)
class Estimate:
    """A mean of some seasons, Student's interval for the true mean at 19 in 20, and the spread."""

    mean: float
    low: float
    high: float
    spread: float
    count: int


@dataclass(frozen=True, slots=True)
class Score:
    """In how many seasons a plan was ahead of another, level with it, or behind."""

    ahead: int
    level: int
    behind: int

    @property
    def seasons(self) -> int:
        """All seasons compared."""
        return self.ahead + self.level + self.behind

    @property
    def share_ahead(self) -> float:
        """Share of all seasons in which the plan was ahead, 0 to 1; no number without seasons."""
        return self.ahead / self.seasons if self.seasons else math.nan

    @property
    def is_too_close_to_call(self) -> bool:
        """Whether the seasons so far leave open which plan is ahead."""
        return sign_test(self.ahead, self.behind) > SIGNIFICANCE

    def is_called_among(self, looked_at: int) -> bool:
        """Whether a winner is called though this pair was picked as the most uneven of so many that were looked at.

        Who looks at ten pairs and tells of the widest finds a winner in one set of equals of three. So the limit is
        shared out among the pairs (Bonferroni).
        """
        return sign_test(self.ahead, self.behind) * looked_at <= SIGNIFICANCE

    @property
    def verdict(self) -> Literal["ahead", "behind", "level", "too close to call"]:
        """What the seasons say of the plan; ``level`` only when every season ended level."""
        if self.seasons and self.level == self.seasons:
            return "level"
        if self.is_too_close_to_call:
            return "too close to call"
        return "ahead" if self.ahead > self.behind else "behind"

    @property
    def more_seasons_needed(self) -> int | None:
        """How many more seasons would settle the question; see :func:`more_seasons_needed`."""
        return more_seasons_needed(self)


@cache
def sign_test(ahead: int, behind: int) -> float:
    """Return the two-sided probability of a score at least this uneven if both plans were equally good.

    The exact binomial test at one half, worked in whole numbers; 1 when no season was decided.
    """
    decided = ahead + behind
    fewer = min(ahead, behind)
    if ahead == behind:
        return 1.0
    ways = sum(math.comb(decided, count) for count in range(fewer + 1))
    return float(2 * ways / 2**decided)


def more_seasons_needed(score: Score) -> int | None:
    """Return how many more seasons may settle an open question, were the score so far the truth.

    The score so far is a matter of luck itself. With every share of seasons ahead equally
    likely beforehand, so many more settle it in two cases of three, and not in four of five (measured by lot: 63 of 100
    from five seasons, 67 from twenty). So it is a rough reckoning, and words say "may".

    Noether's sample size for the sign test (``noether1987``, formula from memory): decided seasons
    n = (z(1 - significance / 2) + z(power))² / (4 (p - 1/2)²), with p the share of decided seasons ahead.
    The share of seasons that end level is kept as it is.

    Returns
    -------
    int or None
        0 when the question is settled, at least 1 when it is open, None when the score is even or no season was
        decided: then no number of seasons would do, as far as can be seen.
    """
    if not score.is_too_close_to_call:
        return 0
    if score.ahead == score.behind:
        return None
    decided = score.ahead + score.behind
    lead = score.ahead / decided - 1 / 2
    wanted = (_normal_quantile(1 - SIGNIFICANCE / 2) + _normal_quantile(POWER)) ** 2 / (2 * lead) ** 2
    return max(1, math.ceil(wanted * score.seasons / decided) - score.seasons)


def score(differences: Floats, sizes: Floats, better: Better) -> Score:
    """Count the seasons in which a plan was ahead.

    Parameters
    ----------
    differences
        This plan less the other, one number a season, shape (n,); no NaN.
    sizes
        The larger of the two results of each season, without sign, shape (n,): what "level" is measured against.
    better
        Whether more or less of the measure is ahead; for ``neither``, ahead means the larger number.
    """
    signs = np.where(np.abs(differences) <= LEVEL_SHARE * sizes, 0.0, np.sign(differences))
    ups, downs = int(np.count_nonzero(signs > 0)), int(np.count_nonzero(signs < 0))
    ahead, behind = (downs, ups) if better == "less" else (ups, downs)
    return Score(ahead, len(signs) - ups - downs, behind)


def held_against(values: Floats, others: Floats, better: Better) -> tuple[Estimate, Score]:
    """Return the mean difference of paired seasons, values less others, with its interval, and the score.

    Parameters
    ----------
    values, others
        One number a season, shape (n,), the same seasons in the same order; a season with NaN in either is left out.
    better
        Whether more or less is ahead, as in :func:`score`.
    """
    both = ~(np.isnan(values) | np.isnan(others))
    differences = values[both] - others[both]
    sizes = np.maximum(np.abs(values[both]), np.abs(others[both]))
    return estimate(differences), score(differences, sizes, better)


def estimate(values: Floats | Sequence[float]) -> Estimate:
    """Return the mean with Student's t interval at 19 in 20, and the standard deviation between seasons.

    The interval asks for seasons that lie evenly about their mean. Where most are alike and a few stand far out, a
    small sample often has none of those, and the interval is too narrow and too low: see "What some seasons can tell"
    in the model's description.

    Parameters
    ----------
    values
        One number a season, shape (n,); no NaN. One season has a mean but neither interval nor spread (NaN).
    """
    numbers = np.asarray(values, dtype=np.float64)
    count = len(numbers)
    if count == 0:
        return Estimate(math.nan, math.nan, math.nan, math.nan, 0)
    mean = float(numbers.mean())
    if count == 1:
        return Estimate(mean, math.nan, math.nan, math.nan, 1)
    spread = float(numbers.std(ddof=1))
    reach = _t_quantile(count - 1) * spread / math.sqrt(count)
    return Estimate(mean, mean - reach, mean + reach, spread, count)


@cache
def _t_quantile(freedom: int) -> float:
    from scipy.special import stdtrit  # the whole of scipy.stats costs half a second to import

    return float(stdtrit(freedom, 1 - SIGNIFICANCE / 2))


@cache
def _normal_quantile(share: float) -> float:
    from scipy.special import ndtri

    return float(ndtri(share))
