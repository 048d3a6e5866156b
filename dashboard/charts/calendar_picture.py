"""One season of each plan as a strip of days: under the net, sprayed, picked; and young birds in the nests."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from dashboard.charts.scene import Scene
from dashboard.language.saying import say_date
from dashboard.language.tongue import _, many, mark

if TYPE_CHECKING:
    from numpy.typing import NDArray

NESTLINGS = "nestlings"
WORDS = {
    "covered_beds": mark("under the net"),
    "beds_sprayed": mark("sprayed"),
    "harvest_kg": mark("picked"),
    NESTLINGS: mark("young in nests"),
}
"""Column of the days → what its strip says."""
IN_BEDS = ("covered_beds", "beds_sprayed")
ALL_PLANS = ""
"""Stands for every plan, where a strip is the same under all of them."""


def calendar_scene(days: Mapping[str, pd.DataFrame], plans: Mapping[str, str], season: int) -> Scene:
    """Return the picture.

    Parameters
    ----------
    days
        Plan → the season's days, one row each.
    plans
        Slug → title, in order.
    season
        Number of the season.
    """
    titles = {**plans, ALL_PLANS: _("All plans")}
    rows: list[tuple[str, str, int, int, float]] = []
    table: list[tuple[str, ...]] = []
    for plan, column in _strips_of(days):
        frame = days[plan] if plan else next(iter(days.values()))
        words = _(WORDS[column])
        spans = _spans(frame[column].to_numpy(dtype=float), counts_beds=column in IN_BEDS)
        rows += [(plan, words, *span) for span in spans]
        table.append((titles[plan], words, *_told([date.fromisoformat(str(day)) for day in frame["date"]], spans)))
    first_day = str(next(iter(days.values()))["date"].iloc[0])
    said = [f"{title}: {_sentence(table, title)}" for plan, title in titles.items() if plan or _has(table, title)]
    return Scene(
        title=_("The calendar of season {season}").format(season=season),
        caption=_(
            "Days of one season as it came out; in other seasons they move. Nets and sprays: the thicker the mark, the "
            "more beds."
        ),
        alt=_("A strip of days for each plan, season {season}. {said}.").format(season=season, said="; ".join(said)),
        plans=plans,
        frame=pd.DataFrame(rows, columns=["plan", "words", "first", "last", "share"]),
        table=pd.DataFrame(table, columns=[_("Plan"), _("What"), _("From"), _("To"), _("Days")]),
        axis=first_day,
        kind="calendar",
    )


def _strips_of(days: Mapping[str, pd.DataFrame]) -> Iterator[tuple[str, str]]:
    """Yield plan and column of each strip that holds a day; nests that are alike under every plan come once, last."""
    nests = [frame[NESTLINGS].to_numpy() > 0 for frame in days.values()]
    are_alike = all(np.array_equal(one, nests[0]) for one in nests)
    for plan, frame in days.items():
        for column in WORDS:
            if (frame[column] > 0).any() and not (column == NESTLINGS and are_alike):
                yield plan, column
    if are_alike and nests[0].any():
        yield ALL_PLANS, NESTLINGS


def _spans(amounts: NDArray[np.float64], *, counts_beds: bool) -> list[tuple[int, int, float]]:
    """Return runs of days with the same share of the most beds: first day, last day, share 0 to 1."""
    shares = np.ceil(4 * amounts / amounts.max()) / 4 if counts_beds else (amounts > 0).astype(float)
    borders = [0, *(np.flatnonzero(np.diff(shares)) + 1), len(shares)]
    return [
        (int(first), int(after) - 1, float(shares[first])) for first, after in pairwise(borders) if shares[first] > 0
    ]


def _told(dates: Sequence[date], spans: Sequence[tuple[int, int, float]]) -> tuple[str, str, str]:
    count = sum(last - first + 1 for first, last, _share in spans)
    return say_date(dates[spans[0][0]]), say_date(dates[spans[-1][1]]), str(count)


def _has(table: Sequence[tuple[str, ...]], title: str) -> bool:
    return any(row[0] == title for row in table)


def _sentence(table: Sequence[tuple[str, ...]], title: str) -> str:
    parts = [
        many(
            "{what} on {count} day from {first} to {last}", "{what} on {count} days from {first} to {last}", int(count)
        ).format(what=what, count=count, first=first, last=last)
        for name, what, first, last, count in table
        if name == title
    ]
    return ", ".join(parts) if parts else _("nothing on any day")
