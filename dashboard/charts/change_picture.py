"""A plan as it was and as it was changed: a dot a season, the same season joined, one small picture a measure."""

from __future__ import annotations

from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import MEAN_BAR_PX, dress, layered, mean_words, room_beside, tips
from dashboard.charts.palette import GRID, INK, LOOKS, QUIET_INK
from dashboard.charts.picture import NO_FIGURE, axis_ticks
from dashboard.charts.scene import Scene
from dashboard.language.saying import short_number
from dashboard.language.spoken import Spoken
from dashboard.language.tongue import _, many, mark

BEFORE, AFTER = mark("as it was"), mark("as changed")
"""Names of the two plans in the table of seasons, marked: pictures say them in the language of the moment."""
HEIGHT_PX = 220
"""Low enough for four of them, beside their words, in a window of 768 lines."""
ROOM_ABOVE = 1.12


def change_scene(seasons: pd.DataFrame, spoken: Spoken) -> Scene:
    """Return the picture of one measure; ``seasons`` is a long table whose plans are called before and after."""
    rows = seasons[seasons["measure"] == spoken.measure].dropna(subset=["value"])
    frame = pd.DataFrame(
        {
            "plan": rows["plan"].astype(str).map(_),
            "season": rows["seed"].astype(int),
            "value": rows["value"].astype(float) * spoken.factor,
        }
    ).reset_index(drop=True)
    means = frame.groupby("plan")["value"].mean()
    before, after = _(BEFORE), _(AFTER)
    said = {name: short_number(float(means[name])) if name in means else _(NO_FIGURE) for name in (before, after)}
    count = int(frame["season"].nunique())
    told = many(
        "{what}, {unit}, {count} season: {was} as it was, {became} as changed.",
        "{what}, {unit}, {count} seasons: {was} as it was, {became} as changed.",
        count,
    )
    return Scene(
        title=spoken.title,
        caption=_("One dot is one season; a line joins the same season. The bar across is the mean."),
        alt=told.format(what=spoken.title, unit=spoken.axis, count=count, was=said[before], became=said[after]),
        plans={before: before, after: after},
        frame=frame,
        table=pd.DataFrame(
            [(f"{spoken.title}, {spoken.axis}", said[before], said[after])],
            columns=[_("What, mean"), before.capitalize(), after.capitalize()],
        ),
        axis=spoken.axis,
        kind="seasons",
    )


def draw(scene: Scene) -> Any:
    """Return the picture for the screen."""
    frame = scene.frame
    highest = float(frame["value"].max()) if len(frame) else 0.0
    both = list(scene.plans)
    x = alt.X(
        "plan:N",
        sort=None,
        title=None,
        scale=alt.Scale(domain=both, type="point", padding=0.5),
        axis=alt.Axis(labelAngle=0, ticks=False, labelPadding=8, labelColor=INK),
    )
    y = alt.Y(
        "value:Q",
        title=None,
        scale=alt.Scale(domain=[0, ROOM_ABOVE * (highest if highest > 0 else 1)], nice=False),
        axis=alt.Axis(values=axis_ticks(highest), gridColor=GRID),
    )
    looks = LOOKS[0], LOOKS[1]
    colour = alt.Color("plan:N", scale=alt.Scale(domain=both, range=[look.colour for look in looks]), legend=None)
    shape = alt.Shape("plan:N", scale=alt.Scale(domain=both, range=[look.on_screen for look in looks]), legend=None)
    means = frame.groupby("plan", sort=False)["value"].mean().reset_index()
    means["said"] = means["value"].map(short_number)
    dots = alt.Chart(frame)
    lines = dots.mark_line(color=QUIET_INK, strokeWidth=1, opacity=0.6).encode(x=x, y=y, detail=alt.Detail("season:N"))
    marks = dots.mark_point(size=60, filled=True, opacity=0.9).encode(
        x=x, y=y, color=colour, shape=shape, tooltip=tips(season=_("Season"), value=scene.axis)
    )
    bars = alt.Chart(means).mark_tick(thickness=4, size=MEAN_BAR_PX, opacity=1).encode(x=x, y=y, color=colour)
    chart = layered(lines, marks, bars, *mean_words(means, x=x, y=y))
    room = room_beside(means["said"], len(both))
    return dress(chart, width="container", height=HEIGHT_PX, title=scene.title, unit=scene.axis, padding=room)
