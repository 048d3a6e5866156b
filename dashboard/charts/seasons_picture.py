"""One measure under each plan: a dot a season, the same season joined across plans."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import (
    LINES,
    MEAN_BAR_PX,
    dress,
    layered,
    look_range,
    mean_words,
    plan_labels,
    room_beside,
    tips,
)
from dashboard.charts.palette import GRID, INK, JOINING
from dashboard.charts.picture import NO_FIGURE, axis_ticks
from dashboard.charts.scene import Scene
from dashboard.language.saying import short_number
from dashboard.language.spoken import Spoken
from dashboard.language.tongue import _, many

MOST_JOINED = 30
"""More lines than this are a tangle."""
LABEL_LETTERS, LETTERS_ABREAST = 11, 39
"""Letters in a line of a plan's name at the least, and of all plans together where a phone must hold them."""
HEIGHT_PX = 340
"""Low enough to end, beside its words, within a window of 768 lines."""
ROOM_ABOVE = 1.08


def seasons_scene(seasons: pd.DataFrame, plans: Mapping[str, str], spoken: Spoken) -> Scene:
    """Return the picture of one measure.

    Parameters
    ----------
    seasons
        Long table: plan, seed, measure, value.
    plans
        Slug → title, in order.
    spoken
        The measure.
    """
    rows = seasons[(seasons["measure"] == spoken.measure) & seasons["plan"].isin(list(plans))].dropna(subset=["value"])
    frame = pd.DataFrame(
        {
            "plan": rows["plan"].astype(str),
            "season": rows["seed"].astype(int),
            "value": rows["value"].astype(float) * spoken.factor,
        }
    ).reset_index(drop=True)
    count = int(frame["season"].nunique())
    joined = count <= MOST_JOINED
    caption = [_("One dot is one season."), _("A line joins the same season across plans.") if joined else ""]
    caption += [_("The bar across is the mean."), _("A teaching model, not a forecast for your garden.")]
    table, said = [], []
    for slug, title in plans.items():
        values = frame.loc[frame["plan"] == slug, "value"]
        if values.empty:
            table.append((title, *([_(NO_FIGURE)] * 3)))
            said.append(f"{title}: {_(NO_FIGURE)}")
            continue
        low, mean, high = (short_number(float(one)) for one in (values.min(), values.mean(), values.max()))
        table.append((title, low, mean, high))
        told = _("{plan}: mean {mean}, from {low} to {high}") if count > 1 else _("{plan}: mean {mean}")
        said.append(told.format(plan=title, mean=mean, low=low, high=high))
    heading = many("{what}, {unit}, {count} season.", "{what}, {unit}, {count} seasons.", count)
    heading = heading.format(what=spoken.title, unit=spoken.axis, count=count)
    return Scene(
        title=spoken.title,
        caption=" ".join(filter(None, caption)),
        alt=f"{heading} {'; '.join(said)}.",
        plans=plans,
        frame=frame,
        table=pd.DataFrame(table, columns=[_("Plan"), _("Lowest season"), _("Mean"), _("Highest season")]),
        axis=spoken.axis,
        kind="seasons",
    )


def draw(scene: Scene) -> Any:
    """Return the picture for the screen."""
    labels = plan_labels(scene.plans, max(LABEL_LETTERS, LETTERS_ABREAST // max(2, len(scene.plans))))
    frame = scene.frame.assign(Plan=scene.frame["plan"].map(labels))
    highest = float(frame["value"].max()) if len(frame) else 0.0
    x = alt.X(
        "Plan:N",
        sort=None,
        scale=alt.Scale(domain=list(labels.values()), type="point", padding=0.5),
        title=None,
        axis=alt.Axis(
            labelExpr=LINES, labelAngle=0, labelLimit=120, labelLineHeight=16, labelColor=INK,
            ticks=False, labelPadding=8,
        ),
    )  # fmt: skip
    y = alt.Y(
        "value:Q",
        title=None,
        scale=alt.Scale(domain=[0, ROOM_ABOVE * (highest if highest > 0 else 1)], nice=False),
        axis=alt.Axis(values=axis_ticks(highest), gridColor=GRID),
    )
    colour = alt.Color("Plan:N", scale=look_range(scene, labels, "colour"), legend=None)
    shape = alt.Shape("Plan:N", scale=look_range(scene, labels, "on_screen"), legend=None)
    dots = (
        alt.Chart(frame)
        .mark_point(size=55, filled=True, opacity=0.9)
        .encode(x=x, y=y, color=colour, shape=shape, tooltip=tips(Plan=_("Plan"), season=_("Season"), value=scene.axis))
    )
    means = frame.groupby("Plan", sort=False)["value"].mean().reset_index()
    means["said"] = means["value"].map(short_number)
    bars = alt.Chart(means).mark_tick(thickness=4, size=MEAN_BAR_PX, opacity=1).encode(x=x, y=y, color=colour)
    layers = [dots, bars, *mean_words(means, x=x, y=y)]
    if frame["season"].nunique() <= MOST_JOINED:
        lines = (
            alt.Chart(frame)
            .mark_line(color=JOINING, strokeWidth=1, opacity=0.8)
            .encode(x=x, y=y, detail=alt.Detail("season:N"))
        )
        layers.insert(0, lines)
    room = room_beside(means["said"], len(labels))
    return dress(
        layered(*layers), width="container", height=HEIGHT_PX, title=scene.title, unit=scene.axis, padding=room
    )
