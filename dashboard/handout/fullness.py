"""What a handout holds beyond what it must, and which of it finds room."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from dashboard.language.saying import say_list
from dashboard.language.tongue import _


@dataclass(frozen=True)
class Fullness:
    """What a handout holds beyond what it must, and whether pages or something else set its bounds."""

    has_pages: bool = True
    has_beds: bool = True
    has_deeds: bool = True
    has_calendar: bool = True
    has_measures: bool = True
    has_ends: bool = True
    has_sources: bool = True

    def with_all_words(self) -> Fullness:
        """Return it with everything that is words alone, for files that have no pages to end with."""
        return replace(self, has_pages=False, has_beds=True, has_deeds=True, has_sources=True)

    def left_out(self, *, are_many: bool, had_ends: bool) -> str:
        """Return a sentence on what found no room, or nothing."""
        parts = (
            (self.has_beds, _("the list of beds")),
            (self.has_deeds, _("what each plan does")),
            (self.has_calendar, _("the calendar")),
            (self.has_measures, _("the dots of the seasons")),
            (self.has_ends or not had_ends, _("what became of the eggs")),
            (self.has_sources, _("the list of sources")),
        )
        missing = [words for is_there, words in parts if not is_there]
        if not missing:
            return ""
        told = _("Two pages have no room for {what}.") if self.has_pages else _("This file leaves out {what}.")
        more = _("Ask for fewer plans to see more.") if are_many else _("The screens show it.")
        return f"{told.format(what=say_list(missing))} {more}"


FIRST_TO_GO = ("has_sources", "has_ends", "has_beds", "has_calendar", "has_measures", "has_deeds")
"""In this order parts are left out until the rest has room."""


def fullest(is_held: Callable[[Fullness], bool], begun: Fullness | None = None) -> Fullness:
    """Return the fullest that has room: parts go one by one, and what is small comes back if there is room for it.

    Parameters
    ----------
    is_held
        Whether a handout so full has room.
    begun
        What is tried first; everything, unless told.
    """
    full, last_gone = begun or Fullness(), ""
    for part in [part for part in FIRST_TO_GO if getattr(full, part)]:
        if is_held(full):
            break
        full, last_gone = replace(full, **{part: False}), part
    else:
        if not is_held(full):
            return full
    missing = [part for part in reversed(FIRST_TO_GO) if not getattr(full, part)]
    for part in missing if last_gone else ():
        fuller = replace(full, **{part: True})
        if part != last_gone and is_held(fuller):  # the last to go left the room that there is now
            full = fuller
    return full
