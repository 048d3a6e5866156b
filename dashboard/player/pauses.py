"""Where the player stops by itself, and what is asked there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from dashboard.language.saying import say_date
from dashboard.language.tongue import _, mark
from dashboard.seasons.moments import MOMENTS
from dashboard.sharing.role import is_class_server


@dataclass(frozen=True)
class Pause:
    """A stop in the season.

    Parameters
    ----------
    event
        A word of ``MOMENTS``.
    fallback_day
        Month and day, such as ``05-20``, to stop on for a plan that never sees the event.
    question
        What everybody is asked.
    prompt
        A hint for whoever leads the talk.
    """

    event: str
    fallback_day: str
    question: str
    prompt: str = ""


DEFAULT_PAUSES = (
    Pause(
        "first_egg",
        "05-01",
        mark("Who laid here first, and who may come to eat what hatches?"),
        mark("Look for the smallest shapes on the leaves. Nobody has eaten anything yet."),
    ),
    Pause(
        "first_damage",
        "05-10",
        mark("Who made the first holes, and does the plant grow faster than it is eaten?"),
        mark("Compare the size of the plants with the size of the holes."),
    ),
    Pause(
        "hatch",
        "05-20",
        mark("Young birds are hungry now. Where will their food come from today?"),
        mark("Watch where the birds fly, and where they find nothing."),
    ),
    Pause(
        "first_picking",
        "06-15",
        mark("The first basket goes to the kitchen. Which plan do you think will pick more by fall?"),
        mark("Look back at what you guessed. Would you change it now?"),
    ),
)
"""For a garden that no lesson is about."""


def stops(
    pauses: Sequence[Any], days_of: Mapping[str, Mapping[str, int | None]], titles: Mapping[str, str], first_date: date,
    days: int,
) -> list[dict[str, Any]]:  # fmt: skip
    """Return the stops by day, each with its question and a sentence for each plan.

    A stop falls on the first day on which any plan sees the event. Plans that never see it get a stop on the fallback
    day, or are told of on the event's own stop where that comes later.

    Parameters
    ----------
    pauses
        :class:`Pause` or anything with its four names, such as the pauses of a lesson file.
    days_of
        Plan → event → day of the season, or None.
    titles
        Plan → title.
    first_date, days
        Of the season.
    """
    found: list[dict[str, Any]] = []
    for pause in pauses:
        seen = {plan: days_of[plan].get(pause.event) for plan in titles}
        known = [day for day in seen.values() if day is not None]
        fallback = _day_of(pause.fallback_day, first_date, days)
        for day in sorted({*([min(known)] if known else []), *([fallback] if len(known) < len(seen) else [])}):
            if known and day == fallback < min(known):
                continue  # told of on the event's own day, so that nobody is asked before anything is seen
            says = [_standing(titles[plan], plan_day, day, first_date) for plan, plan_day in seen.items()]
            found.append(
                {"day": day, "head": _(MOMENTS[pause.event].words), "says": says, "question": _(pause.question),
                 "prompt": _hint(pause.prompt)}
            )  # fmt: skip
    return sorted(found, key=lambda stop: int(stop["day"]))


def _hint(prompt: str) -> str:
    """Return the hint for whoever leads the talk, named as such; the class's own devices have none."""
    if not prompt or is_class_server():
        return ""
    return _("For the teacher: {hint}").format(hint=_(prompt))


def _day_of(month_day: str, first_date: date, days: int) -> int:
    month, _dash, day = month_day.partition("-")
    asked = (date(first_date.year, int(month), int(day)) - first_date).days
    return min(max(asked, 0), days - 1)


def _standing(title: str, seen: int | None, day: int, first_date: date) -> str:
    if seen is None:
        return _("{plan}: never this season.").format(plan=title)
    if seen > day:
        return _("{plan}: not yet.").format(plan=title)
    if seen == day:
        return _("{plan}: today.").format(plan=title)
    when = say_date(date.fromordinal(first_date.toordinal() + seen))
    return _("{plan}: on {date}.").format(plan=title, date=when)
