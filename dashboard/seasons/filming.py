"""Seasons that a page wants to show: run on the work desk with a camera in the garden, and kept small."""

from __future__ import annotations

import pickle
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from dashboard.seasons.wishes import Lived, Wish

if TYPE_CHECKING:
    from sim.film import Film
    from sim.scenario import Scenario


@dataclass(frozen=True)
class Filmed(Lived):
    """A season that can be shown.

    Parameters
    ----------
    reel
        The film, packed: some hundred kilobytes.
    days_of
        Moment → day of the season, or None.
    """

    reel: bytes = b""
    days_of: dict[str, int | None] = field(default_factory=dict)

    @property
    def film(self) -> Film:
        """The film, unpacked."""
        film: Film = pickle.loads(zlib.decompress(self.reel))  # noqa: S301 - packed below, by our own process
        return film


def live_on_film(scenario: Scenario, plan: str, season: int) -> Filmed:
    """Run one season here with a camera; this is what the processes do."""
    from dashboard.seasons.moments import MOMENTS, day_of
    from dashboard.seasons.wishes import kept
    from sim.film import film_season

    film, lived = film_season(scenario, plan, season)
    numbers = kept(lived)
    days_of = {event: day_of(event, lived.garden.chronicle) for event in MOMENTS}
    reel = zlib.compress(pickle.dumps(film), 6)
    return Filmed(numbers.summary, numbers.ends, numbers.days, numbers.wintered, reel, days_of)


def film_wishes(scenario: Scenario, plans: Sequence[str], season: int) -> dict[str, list[Wish]]:
    """Return plan → its one season, to be filmed."""
    from sim.jobs import season_fingerprint
    from sim.store import SeasonKey

    def wish(plan: str) -> Wish:
        key = SeasonKey(f"film {season_fingerprint(scenario, plan)}", plan, season)
        return Wish(scenario, plan, season, key, live_on_film)

    return {plan: [wish(plan)] for plan in plans}
