"""One season that a page wishes for, and what is kept of it once it has been lived."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.compiled import Floats, Ints
    from sim.scenario import Scenario
    from sim.season import Season
    from sim.store import SeasonKey


@dataclass(frozen=True)
class Lived:
    """What a page keeps of a season: every measure, and how those born in the beds ended.

    Parameters
    ----------
    summary
        Measure → value.
    ends
        Shape (species, stages, fates): how many of those laid or born in the beds ended so, at that stage.
    days
        Shape (days, series): the series of :mod:`dashboard.seasons.daily`, day by day; 14 kB a season.
    wintered
        Shape (species,): how many began the year at winter rest in beds and margin; of the last year where there are
        two.
    """

    summary: dict[str, float]
    ends: Ints
    days: Floats | None = None
    wintered: Ints | None = None


@dataclass(frozen=True)
class Wish:
    """One season that somebody wants; ``task`` stands in for :func:`live` where more than numbers is asked for."""

    scenario: Scenario
    plan: str
    season: int
    key: SeasonKey
    task: Callable[[Scenario, str, int], Lived] | None = None


def live(scenario: Scenario, plan: str, season: int) -> Lived:
    """Run one season here and keep what pages need; this is what the processes do."""
    from sim.season import run_season

    return kept(run_season(scenario, plan=plan, seed=season))


def kept(season: Season) -> Lived:
    """Return what pages need of a season."""
    import numpy as np

    from dashboard.seasons.daily import days_of
    from sim.cast import Entry

    insects = season.garden.insects
    beds = 0
    ends = (insects.exits[beds, Entry.BORN] + insects.still_alive()[beds, Entry.BORN]).astype(np.int32)
    wintered = insects.entries[Entry.OVERWINTERED].astype(np.int32)
    return Lived(dict(season.summary), ends, days_of(season.garden.chronicle), wintered)


def wishes(scenario: Scenario, plans: Sequence[str], seasons: Iterable[int]) -> list[Wish]:
    """Return every plan of the first season, then of the next."""
    from sim.jobs import season_fingerprint
    from sim.store import SeasonKey

    prints = {plan: season_fingerprint(scenario, plan) for plan in plans}
    return [Wish(scenario, plan, season, SeasonKey(prints[plan], plan, season)) for season in seasons for plan in plans]
