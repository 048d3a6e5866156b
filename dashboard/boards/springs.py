"""What waits for next spring: who winters here under each plan, and what that does to a second year.

The second year is lived twice: after the first one, and by itself with the same weather, arrivals and luck. What
differs between the two is what the first year left behind.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from dashboard.language.saying import short_number
from dashboard.language.spoken import Spoken
from dashboard.language.tongue import _, mark
from dashboard.page.running import Seasons, lived_under
from dashboard.seasons.wishes import Wish, wishes
from sim.cast import SPECIES, Species
from sim.compiled import Floats, Ints
from sim.measures import spoken
from sim.scenario import Scenario
from sim.season import second_year_alone
from sim.uncertainty import held_against

WAITING = Spoken("wintered_count", mark("Pests that wait for next spring"), mark("pests at winter rest"), mark("pests"))
PEAK = "pests_alive_peak_count"
_THEN, _ALONE = "then ", "alone "


@dataclass(frozen=True)
class Spring:
    """One plan over some seasons.

    Parameters
    ----------
    now, coming
        Insects at winter rest before the first and before the second year, shape (seasons, species).
    peak, peak_alone
        Pests at their peak in the second year, as it was lived and by itself, shape (seasons,).
    """

    now: Ints
    coming: Ints
    peak: Floats
    peak_alone: Floats


def spring_wishes(garden: Scenario, plans: Sequence[str], seasons: Sequence[int]) -> dict[str, list[Wish]]:
    """Return what must be lived: the first year, the second after it, and the second by itself."""
    one, two = (garden.with_changes({"season.years": years}) for years in (1, 2))
    alone = [second_year_alone(garden, season) for season in seasons]
    wished: dict[str, list[Wish]] = {}
    for plan in plans:
        wished[plan] = wishes(one, [plan], seasons)
        wished[_THEN + plan] = wishes(two, [plan], seasons)
        wished[_ALONE + plan] = [wish for bare, seed in alone for wish in wishes(bare, [plan], [seed])]
    return wished


def springs(found: Seasons, plans: Sequence[str]) -> dict[str, Spring]:
    """Return plan → its springs, season by season, from what was lived."""
    return {
        plan: Spring(
            np.array([one.wintered for one in lived_under(plan, found)]),
            np.array([one.wintered for one in lived_under(_THEN + plan, found)]),
            np.array([one.summary[PEAK] for one in lived_under(_THEN + plan, found)]),
            np.array([one.summary[PEAK] for one in lived_under(_ALONE + plan, found)]),
        )
        for plan in plans
    }


def pests(wintered: Ints) -> Floats:
    """Return how many of them are pests, shape (seasons,): all but the wasps, which live on pests."""
    return np.asarray(np.delete(wintered, Species.PARASITOID_WASP, axis=1).sum(axis=1), dtype=float)


def spring_sentences(found: Mapping[str, Spring], titles: Mapping[str, str]) -> list[str]:
    """Return for each plan who waits, and what that does to a second year."""
    now = pests(next(iter(found.values())).now).mean()
    said = [_("Pests that came out of soil and stalks this spring: {count}, the same under every plan.").format(
        count=short_number(now)
    )]  # fmt: skip
    for plan, title in titles.items():
        one = found[plan]
        waits = _("**{plan}**: these wait for next spring. Pests: {count}. Wasps: {wasps}.").format(
            plan=title,
            count=short_number(pests(one.coming).mean()),
            wasps=short_number(one.coming[:, Species.PARASITOID_WASP].mean()),
        )
        said.append(f"{waits} {_return_sentence(one)}")
    return said


def _return_sentence(one: Spring) -> str:
    tally = held_against(one.peak, one.peak_alone, "more")[1]
    if tally.verdict == "level":
        return _("A second year begun as this one would be the same.")
    told = _("The second year then has {peak} pests at its peak; begun as this year, {alone}.")
    counted = _("More in {more}, level in {level}, fewer in {fewer} of {count} seasons.")
    parts = [
        told.format(peak=short_number(one.peak.mean()), alone=short_number(one.peak_alone.mean())),
        counted.format(more=tally.ahead, level=tally.level, fewer=tally.behind, count=tally.seasons),
        _("That is too close to call.") if tally.verdict == "too close to call" else "",
    ]
    return " ".join(filter(None, parts))


def kind_rows(found: Mapping[str, Spring]) -> list[tuple[str, float, list[float]]]:
    """Return for each kind that winters here: its word, this spring's mean, and next spring's under each plan."""
    now = next(iter(found.values())).now.mean(axis=0)
    coming = np.array([one.coming.mean(axis=0) for one in found.values()])
    return [
        (spoken(Species(kind)), float(now[kind]), coming[:, kind].tolist())
        for kind in range(SPECIES)
        if now[kind] or coming[:, kind].any()
    ]
