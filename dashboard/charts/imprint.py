"""The small line at the foot of everything that is printed: where it comes from, so that it can be made again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from dashboard.language.saying import say_full_date
from dashboard.language.tongue import _, many

if TYPE_CHECKING:
    from sim.scenario import Scenario


@dataclass(frozen=True)
class Imprint:
    """Where a picture or paper comes from.

    Parameters
    ----------
    garden
        Title of the scenario; see :func:`garden_words`.
    seasons
        Numbers (seeds) of its seasons; empty for what no season was run for.
    version
        Of the program.
    day
        When it was made; None leaves it out.
    """

    garden: str
    seasons: Sequence[int] = ()
    version: str = ""
    day: date | None = None

    def line(self) -> str:
        """Return the line: garden, seasons, program, day."""
        made = _("model Leaf to Nest {version}, not measured").format(version=self.version)
        parts = [self.garden, seasons_words(self.seasons), made, day_words(self.day)]
        return " · ".join(part for part in parts if part)


def garden_words(garden: Scenario) -> str:
    """Return a garden's title and, of a garden that comes with the program, that it is invented.

    A picture that stands alone in a newsletter would pass for a report from a real garden. Of a garden that somebody
    brought, nobody here knows.
    """
    from sim.scenario import load_scenario, scenario_names

    title = _(garden.title)
    # A file of somebody's own may be called like one of ours, but hardly by its title, too.
    is_ours = garden.name in scenario_names() and load_scenario(garden.name).title == garden.title
    return _("{garden} (invented)").format(garden=title) if is_ours else title


def seasons_words(seasons: Sequence[int]) -> str:
    """Return which seasons: ``20 seasons (seeds 1 to 20)``."""
    if not seasons:
        return ""
    count, first, last = len(seasons), min(seasons), max(seasons)
    if count == 1:
        return _("1 season (seed {first})").format(first=first)
    if last - first + 1 == count:
        return many(
            "{count} season (seeds {first} to {last})", "{count} seasons (seeds {first} to {last})", count
        ).format(count=count, first=first, last=last)
    return _("{count} seasons (seeds {listed})").format(count=count, listed=", ".join(map(str, seasons)))


def day_words(day: date | None) -> str:
    """Return a day with its year: ``25 November 2026``."""
    return say_full_date(day) if day else ""
