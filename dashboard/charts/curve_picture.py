"""One measure along the values of one choice: a dot a season, the same season joined, and the mean as a thick line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import dress, layered, mean_words
from dashboard.charts.palette import GRID, INK, JOINING, look_of
from dashboard.charts.picture import NO_FIGURE, axis_ticks
from dashboard.charts.scene import Scene
from dashboard.charts.seasons_picture import MOST_JOINED
from dashboard.language.saying import short_number
from dashboard.language.spoken import Spoken
from dashboard.language.tongue import _, many

HEIGHT_PX = 340
ROOM_ABOVE = 1.1
ROOM_BESIDE = 0.06
SEASON_LINE_PX, MEAN_LINE_PX = 1, 3.5


def curve_scene(
    seasons: pd.DataFrame, places: Sequence[float], said: Sequence[str], now: int, what: str, spoken: Spoken
) -> Scene:
    """Return the picture.

    Parameters
    ----------
    seasons
        Long table: plan (the number of the value, as text), seed, measure, value.
    places
        Where each value stands on the axis.
    said
        Each value in words.
    now
        The number of the value that the plan has as it was.
    what
        What is varied, in words.
    spoken
        The measure.
    """
    rows = seasons[seasons["measure"] == spoken.measure].dropna(subset=["value"])
    number = rows["plan"].astype(int)
    frame = pd.DataFrame(
        {
            "at": number.map(dict(enumerate(places))),
            "words": number.map(dict(enumerate(said))),
            "season": rows["seed"].astype(int),
            "value": rows["value"].astype(float) * spoken.factor,
            "is_now": number == now,
        }
    ).reset_index(drop=True)
    means = frame.groupby("words")["value"].mean()
    figures = [short_number(float(means[words])) if words in means else _(NO_FIGURE) for words in said]
    count = int(frame["season"].nunique())
    names = [
        _("{value} (as it was)").format(value=words) if place == now else words for place, words in enumerate(said)
    ]
    heading = many(
        "{what}, {unit}, {count} season, along: {choice}.", "{what}, {unit}, {count} seasons, along: {choice}.", count
    )
    told = heading.format(what=spoken.title, unit=spoken.axis, count=count, choice=what)
    pairs = "; ".join(f"{name}: {figure}" for name, figure in zip(names, figures, strict=True))
    return Scene(
        title=_("{what}: what if").format(what=spoken.title),
        caption=_(
            "One dot is one season; a thin line joins the same season. The thick line is the mean. A ring: as it was."
        ),
        alt=f"{told} {pairs}.",
        plans={},
        frame=frame,
        table=pd.DataFrame({what: names, f"{spoken.title}, {spoken.axis}": figures}),
        axis=spoken.axis,
        kind="curve",
    )


def draw(scene: Scene) -> Any:
    """Return the picture for the screen."""
    frame = scene.frame
    highest = float(frame["value"].max()) if len(frame) else 0.0
    marks = dict(zip(frame["at"], frame["words"], strict=True))
    first, last = min(marks, default=0.0), max(marks, default=1.0)
    aside = ROOM_BESIDE * ((last - first) or 1.0)
    words = " : ".join(f"datum.value == {at} ? {said!r}" for at, said in marks.items()) + " : ''"
    x = alt.X(
        "at:Q",
        title=str(scene.table.columns[0]),
        scale=alt.Scale(domain=[first - aside, last + aside], nice=False),
        axis=alt.Axis(
            values=sorted(marks), labelExpr=words, labelAngle=0, labelOverlap=True, labelColor=INK, grid=False
        ),
    )
    y = alt.Y(
        "value:Q",
        title=scene.axis,
        scale=alt.Scale(domain=[0, ROOM_ABOVE * (highest if highest > 0 else 1)], nice=False),
        axis=alt.Axis(values=axis_ticks(highest), gridColor=GRID),
    )
    base = alt.Chart(frame)
    look = look_of(1)
    dots = base.mark_point(filled=True, size=35, color=JOINING, opacity=0.8).encode(
        x=x, y=y, tooltip=["words:N", "season:Q", alt.Tooltip("value:Q", format=",.3~g")]
    )
    layers = [dots]
    if frame["season"].nunique() <= MOST_JOINED:
        thin = base.mark_line(color=JOINING, strokeWidth=SEASON_LINE_PX, opacity=0.7)
        layers.insert(0, thin.encode(x=x, y=y, detail=alt.Detail("season:N")))
    means = frame.groupby("at")["value"].mean().reset_index()
    means["said"] = means["value"].map(short_number)
    thick = alt.Chart(means).mark_line(
        color=look.colour, strokeWidth=MEAN_LINE_PX, point={"size": 90, "shape": look.on_screen}
    )
    layers.append(thick.encode(x=x, y=y))
    was = alt.Chart(means[means["at"].isin(frame.loc[frame["is_now"], "at"])])
    layers.append(was.mark_point(shape="circle", size=420, color=INK, strokeWidth=3, opacity=1).encode(x=x, y=y))
    chart = layered(*layers, *mean_words(means, x=x, y=y))
    return dress(chart, width="container", height=HEIGHT_PX, title=scene.title)
