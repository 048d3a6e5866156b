"""When it happened: how many ended in one way in each week of one season, a row of bars a plan, to one scale."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.days_picture import AXIS_ROOM_PX, day_axis
from dashboard.charts.dressing import dress
from dashboard.charts.palette import GRID, look_of
from dashboard.charts.scene import Scene
from dashboard.language.saying import say_date, say_number
from dashboard.language.tongue import _
from dashboard.seasons.tracing import WEEK

HEIGHT_PX = 170
ROOM_ABOVE = 1.1
BAR_PX = 9


def weeks_scene(
    weeks: Mapping[str, Mapping[int, int]], plans: Mapping[str, str], what: str, first_day: date, days: int
) -> Scene:
    """Return the picture.

    Parameters
    ----------
    weeks
        Plan → week → how many.
    plans
        Slug → title, in order.
    what
        Who ended how, in words.
    first_day, days
        Of the season.
    """
    rows = [
        (plan, week * WEEK, count, say_date(first_day + timedelta(days=week * WEEK)))
        for plan in plans
        for week, count in sorted(weeks[plan].items())
    ]
    frame = pd.DataFrame(rows, columns=["plan", "day", "count", "said"])
    every = sorted({week for counts in weeks.values() for week in counts})
    table = pd.DataFrame({_("Week from"): [say_date(first_day + timedelta(days=week * WEEK)) for week in every]})
    said = []
    for plan, title in plans.items():
        counts = weeks[plan]
        table[title] = [say_number(counts.get(week, 0)) for week in every]
        total = _("{plan}: {count} in all").format(plan=title, count=say_number(sum(counts.values())))
        if counts:
            top = max(counts, key=lambda week, of=counts: (of[week], -week))  # type: ignore[misc]
            most = _("most, {count}, in the week from {day}")
            day = say_date(first_day + timedelta(days=top * WEEK))
            total = f"{total}, {most.format(count=say_number(counts[top]), day=day)}"
        said.append(total)
    return Scene(
        title=what,
        caption=_("Each bar is one week of one season. The scale is the same for every plan."),
        alt=_("{what}, week by week. {said}.").format(what=what, said="; ".join(said)),
        plans=plans,
        frame=frame.assign(first_day=first_day.isoformat(), days=days),
        table=table,
        kind="weeks",
    )


def draw(scene: Scene, plan: str) -> Any:
    """Return the bars of one plan."""
    frame = scene.frame[scene.frame["plan"] == plan]
    highest = float(scene.frame["count"].max())
    y = alt.Y(
        "count:Q",
        title=None,
        scale=alt.Scale(domain=[0, ROOM_ABOVE * highest], nice=False),
        axis=alt.Axis(tickCount=3, gridColor=GRID, minExtent=AXIS_ROOM_PX // 2, format="d"),
    )
    colour = look_of(scene.number_of(plan)).colour
    bars = (
        alt.Chart(frame)
        .mark_bar(color=colour, width=BAR_PX)
        .encode(x=day_axis(frame, int(scene.frame["days"].iloc[0])), y=y, tooltip=["said:N", "count:Q"])
    )
    return dress(bars, width="container", height=HEIGHT_PX, title=scene.plans[plan])
