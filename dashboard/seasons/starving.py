"""What a plan kills, and whom it leaves with less: deaths by the gardener's hand beside food and visits missed.

Misses are counted of each hundred that the same eaters had under the first plan; a gain is a miss below 0.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from dashboard.language.saying import say_number
from dashboard.language.tongue import _, mark
from dashboard.seasons.ends import by_group, mean_ends, per_thousand
from dashboard.seasons.wishes import Lived
from sim.uncertainty import held_against

KILLED = mark("killed by spray or hand, of 100 eggs")
BY_HAND = ("killed by a spray", "picked off by hand")
"""Groups of fates that the gardener deals out on purpose."""
EATERS = {
    "insects_to_enemies_kj": mark("meals that hunters and wasps miss"),
    "insects_to_birds_kj": mark("meals in the garden that birds miss"),
    "garden_to_nestlings_kj": mark("garden meals that nestlings miss"),
    "flower_visits_count": mark("bees' visits that flowers miss"),
}
_HUNDRED, _TEN = 100.0, 10.0


@dataclass(frozen=True)
class Miss:
    """One row of one plan.

    Parameters
    ----------
    words
        Marked words of the row.
    of_100
        Killed of a hundred eggs, or missed of a hundred under the first plan.
    often
        In how many seasons it was less than under the first plan; None for the killed and for the first plan.
    is_open
        Whether more or less is level or too close to call.
    """

    words: str
    of_100: float
    often: int | None = None
    is_open: bool = False


def misses(seasons: Mapping[str, Sequence[Lived]]) -> dict[str, list[Miss]]:
    """Return plan → its rows; the first plan is the one that the others are set against. Same seasons, same order."""
    first = next(iter(seasons))
    rows: dict[str, list[Miss]] = {}
    for plan, lived in seasons.items():
        groups = per_thousand(by_group(mean_ends(lived, None)))
        rows[plan] = [Miss(KILLED, sum(groups.get(group, 0.0) for group in BY_HAND) / _TEN)]
        for measure, words in EATERS.items():
            here, there = (_values(seasons[name], measure) for name in (plan, first))
            if not there.sum() > 0:
                continue
            of_100 = float(_HUNDRED * (1 - here.sum() / there.sum()))
            tally = held_against(here, there, "more")[1]
            is_other = plan != first
            is_open = is_other and tally.verdict in ("level", "too close to call")
            rows[plan].append(Miss(words, of_100 if is_other else 0.0, tally.behind if is_other else None, is_open))
    return rows


def starving_sentences(rows: Mapping[str, Sequence[Miss]], titles: Mapping[str, str], count: int) -> list[str]:
    """Return, for each plan but the first, what it kills and who misses what."""
    said = []
    for plan in list(titles)[1:]:
        killed, *missed = rows[plan]
        parts = [_("**{plan}**: {count} {words}.").format(
            plan=titles[plan], count=say_number(killed.of_100), words=_(killed.words)
        )]  # fmt: skip
        for one in missed:
            if one.is_open:
                told = _("{words}: level, or too close to call.")
            elif one.of_100 >= 0:
                told = _("{words}: {amount} of 100, less in {often} of {count} seasons.")
            else:
                told = _("{words}: none; there were {amount} of 100 more.")
            amount = say_number(abs(one.of_100))
            words = _(one.words)
            parts.append(told.format(words=words[:1].upper() + words[1:], amount=amount, often=one.often, count=count))
        said.append(" ".join(parts))
    return said


def _values(lived: Sequence[Lived], measure: str) -> np.ndarray:
    return np.array([one.summary.get(measure, 0.0) for one in lived])
