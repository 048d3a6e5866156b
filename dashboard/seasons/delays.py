"""How long an effect takes: when two plans first differ clearly in one thing and then in the next, in plain words.

Two plans differ clearly on a day if the sign test over seasons, on the mean of the week that ends on it, says so for
seven days on end, and if their means differ by no less than a twentieth of the widest gap: where nearly all seasons
differ by next to nothing, nobody sees it. Nothing here is about one garden or one plan.

A season has some two hundred days to be lucky on, and a week of luck is not rare in numbers that change slowly. So the
test's limit for a day is far below that for a whole season. Measured with the teaching garden, one plan held against
itself in other seasons, 60 times for each of eleven series: at one in twenty a difference was "clear" on some day in 19
of 100 (spiders: 38), at one in two hundred in 1 of 100, with twenty seasons. That limit needs at least nine seasons.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from dashboard.language.saying import say_date, short_number
from dashboard.language.tongue import _, many, mark
from dashboard.seasons.daily import PLACE, TITLES, WEEK, as_measured, smooth, unit_of
from sim.compiled import Floats, Ints
from sim.uncertainty import LEVEL_SHARE, sign_test

CHAINS: dict[str, tuple[str, tuple[str, ...]]] = {
    "birds": (mark("From caterpillars to nestlings"), ("caterpillars", "bird_food", "fed")),
    "hunters": (mark("Pests and those that hunt them"), ("bugs_and_beetles", "spiders", "ground_beetles")),
    "wasps": (mark("Caterpillars and their wasps"), ("caterpillars", "wasps")),
    "aphids": (mark("Aphids and those that eat them"), ("aphid_eaters", "aphids")),
    "bees": (mark("Bees and cucumbers"), ("bee_visits", "fruit")),
}
"""What can be followed: its words, and the series one after another."""
COMES_BACK = ("spiders", "ground_beetles", "aphid_eaters", "wasps")
"""Series of which it is asked whether they come back after a dip."""
NEARLY = 0.9
LEAST_OF_WIDEST = 0.05
LIMIT = 1 / 200
"""The sign test's, for one day."""
FEWEST_SEASONS = 9
"""With fewer, not even all of them one way come below the limit."""
Days = Mapping[str, Floats]
"""Plan → days of each season, shape (seasons, days, series)."""


@dataclass(frozen=True)
class Gap:
    """How one series differs under two plans.

    Parameters
    ----------
    onset
        First day on which they differ clearly; None if on none.
    widest
        Day of the widest gap between the means.
    here, there
        Means of the week that ends on that day, under the plan and under the one it is set against.
    turned
        First day after the onset on which they differ clearly the other way round; None if on none.
    back
        Day after the widest gap by which the plan has nearly as many again; None if it has not.
    """

    series: str
    onset: int | None
    widest: int
    here: float
    there: float
    turned: int | None
    back: int | None


def gap_of(days: Days, plan: str, against: str, series: str) -> Gap:
    """Return how a series differs under two plans over the same seasons."""
    here, there = (smooth(days[name][:, :, PLACE[series]]) for name in (plan, against))
    mine, other = here.mean(axis=0), there.mean(axis=0)
    widest = int(np.argmax(np.abs(mine - other)))
    later = np.flatnonzero(mine[widest:] >= NEARLY * other[widest:])
    back = widest + int(later[0]) if len(later) and mine[widest] < NEARLY * other[widest] else None
    onset, turned = _onsets(here, there)
    return Gap(series, onset, widest, float(mine[widest]), float(other[widest]), turned, back)


def first_deed(days: Days, plan: str, against: str) -> tuple[str, int] | None:
    """Return the first net or spray that one plan has and the other has not, and its usual day; None without one."""
    found = []
    for deed in ("covered", "sprayed"):
        differ = days[plan][:, :, PLACE[deed]] != days[against][:, :, PLACE[deed]]
        if differ.any(axis=1).all():
            found.append((int(np.median(differ.argmax(axis=1))), deed))
    return (min(found)[1], min(found)[0]) if found else None


def delay_sentences(days: Days, chain: Sequence[str], titles: Mapping[str, str], first_day: date) -> list[str]:
    """Return, for each plan against the first, what differs when, and how long each step of the chain took.

    Parameters
    ----------
    days
        Of every plan the same seasons.
    chain
        Series, cause before effect.
    titles
        Slug → title of plans; the first is the one that the others are set against.
    first_day
        Of the season.
    """
    first, *others = titles
    if len(next(iter(days.values()))) < FEWEST_SEASONS:
        return [_("A delay can be told from nine seasons on: look at more of them.")]
    return [_said_of(days, chain, plan, first, titles, first_day) for plan in others]


def _said_of(
    days: Days, chain: Sequence[str], plan: str, first: str, titles: Mapping[str, str], first_day: date
) -> str:
    said = [_("**{plan}** against '{first}'.").format(plan=titles[plan], first=titles[first])]
    deed = first_deed(days, plan, first)
    if deed:
        what, day = deed
        words = _("Nets differ from {day} on.") if what == "covered" else _("The first spray is on {day}.")
        said.append(words.format(day=_date(first_day, day)))
    before: Gap | None = None
    for series in chain:
        gap = gap_of(days, plan, first, series)
        said.append(_gap_sentence(gap, first_day))
        if gap.onset is not None and before is not None and before.onset is not None:
            said.append(_delay_sentence(gap.onset - before.onset, gap.series, before.series))
        elif gap.onset is not None and before is None and deed:
            said.append(_since_deed(gap.onset - deed[1]))
        if gap.turned is not None:
            turned = _("From about {day} on it is the other way round.")
            said.append(turned.format(day=_date(first_day, gap.turned)))
        before = gap if gap.onset is not None else before
    return " ".join(filter(None, said))


def _gap_sentence(gap: Gap, first_day: date) -> str:
    what = _(TITLES[gap.series])
    if gap.onset is None:
        return _("{what}: no clear difference on any day.").format(what=what)
    here, there = as_measured(np.array([gap.here, gap.there]), gap.series)
    said = _("{what}: clear from about {onset}, widest near {widest}, {here} and not {there} {unit}.").format(
        what=what,
        onset=_date(first_day, gap.onset),
        widest=_date(first_day, gap.widest),
        here=short_number(here),
        there=short_number(there),
        unit=unit_of(gap.series),
    )
    if gap.series not in COMES_BACK or gap.here >= NEARLY * gap.there:
        return said
    if gap.back is None:
        return f"{said} {_('They are not back by the end of the season.')}"
    back = many(
        "They are nearly back {count} day later.", "They are nearly back {count} days later.", gap.back - gap.widest
    )
    return f"{said} {back.format(count=gap.back - gap.widest)}"


def _delay_sentence(days: int, effect: str, cause: str) -> str:
    if days <= 0:
        return ""
    said = many("That is {count} day after '{cause}' did.", "That is {count} days after '{cause}' did.", days)
    return said.format(count=days, cause=_(TITLES[cause]).lower())


def _since_deed(days: int) -> str:
    if days <= 0:
        return ""
    return many("That is {count} day after it.", "That is {count} days after it.", days).format(count=days)


def _onsets(here: Floats, there: Floats) -> tuple[int | None, int | None]:
    """Return the first day of a clear difference, and the first after it of one the other way round."""
    differences = here - there
    level = LEVEL_SHARE * np.maximum(np.abs(here), np.abs(there))
    ahead, behind = (differences > level).sum(axis=0), (differences < -level).sum(axis=0)
    is_sure = np.array([sign_test(int(a), int(b)) <= LIMIT for a, b in zip(ahead, behind, strict=True)])
    gap = differences.mean(axis=0)
    is_seen = is_sure & (np.abs(gap) >= LEAST_OF_WIDEST * np.abs(gap).max()) & (np.sign(gap) == np.sign(ahead - behind))
    starts = {sign: _starts(is_seen & (np.sign(gap) == sign)) for sign in (1, -1)}
    found = {sign: int(days[0]) for sign, days in starts.items() if len(days)}
    if not found:
        return None, None
    first = min(found, key=lambda sign: found[sign])
    later = [int(day) for sign, days in starts.items() if sign != first for day in days if day > found[first]]
    return found[first], min(later, default=None)


def _starts(is_clear: NDArray[np.bool_]) -> Ints:
    """Return the days on which seven days on end begin."""
    in_a_row = np.convolve(is_clear, np.ones(WEEK), mode="valid")
    return np.flatnonzero(in_a_row >= WEEK - 1 / 2)


def _date(first_day: date, day: int) -> str:
    return say_date(first_day + timedelta(days=day))
