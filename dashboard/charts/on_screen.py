"""Draw a picture with Altair, for the page: one chart a panel, so that a narrow screen can stack them."""

from __future__ import annotations

from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import TEXT_PX, dress, layered, look_range, plan_labels, rows_of, tips
from dashboard.charts.palette import GRID, INK, PAPER
from dashboard.charts.picture import Panel, Picture, axis_ticks
from dashboard.charts.summary import spread
from dashboard.saying import short_number
from dashboard.tongue import _

PLAN_PX = 62
AROUND_PX = 104
"""Height of heading, axis and padding, which a page counts into the height of a chart."""
ROOM_FOR_FIGURES = 1.7


def to_altair(picture: Picture, panel: Panel) -> alt.LayerChart:
    """Return one panel of the picture as a chart that fills the width it is given."""
    frame = picture.frame[picture.frame["panel"] == panel.heading]
    figures = spread(frame)
    highest = float(frame["value"].max())
    end = ROOM_FOR_FIGURES * (highest if highest > 0 else 1)
    plans = plan_labels(picture.plans)
    words = [lane.words for lane in panel.lanes]
    lanes_and_means = zip(figures["lane"], figures["mean"], strict=True)
    said = [f"{words[lane]} {short_number(mean)}".strip() for lane, mean in lanes_and_means]
    figures = figures.assign(Plan=figures["plan"].map(plans), said=said, at=end)
    seasons = frame.assign(Plan=frame["plan"].map(plans))
    return _layers(seasons, figures, alt.Scale(domain=[0, end], nice=False), panel, plans)


def _layers(
    seasons: pd.DataFrame, figures: pd.DataFrame, scale: alt.Scale, panel: Panel, plans: dict[str, str]
) -> alt.LayerChart:
    row = rows_of(plans)
    lane = alt.YOffset("lane:O", sort=None, scale=alt.Scale(domain=list(range(len(panel.lanes)))))
    x = alt.X(
        "value:Q",
        scale=scale,
        title=panel.axis,
        axis=alt.Axis(values=axis_ticks(float(seasons["value"].max())), gridColor=GRID),
    )
    colour: dict[str, Any] = {
        "color": alt.Color("Plan:N", scale=look_range(plans, "colour"), legend=None),
        "shape": alt.Shape("Plan:N", scale=look_range(plans, "on_screen"), legend=None),
    }
    filled = alt.condition(
        "datum.lane == 0", alt.Fill("Plan:N", scale=look_range(plans, "colour"), legend=None), alt.value(PAPER)
    )
    base = alt.Chart(seasons).encode(y=row, yOffset=lane)
    means = alt.Chart(figures).encode(y=row, yOffset=lane)
    chart = layered(
        means.mark_rule(strokeWidth=5, opacity=0.4).encode(
            x=alt.X("low:Q", scale=scale), x2=alt.X2("high:Q"), color=colour["color"]
        ),
        base.mark_point(size=20, filled=True, opacity=0.85).encode(
            x=x, tooltip=tips(Plan=_("Plan"), value=panel.axis), **colour
        ),
        means.mark_point(size=110, strokeWidth=2, opacity=1).encode(
            x=alt.X("mean:Q", scale=scale), fill=filled, tooltip=tips(Plan=_("Plan"), mean=panel.axis), **colour
        ),
        means.mark_text(align="right", fontSize=TEXT_PX, color=INK, dx=-2).encode(
            x=alt.X("at:Q", scale=scale), text=alt.Text("said:N")
        ),
    )
    height = AROUND_PX + PLAN_PX * len(plans)
    dressed: alt.LayerChart = dress(chart, width="container", height=height, title=panel.heading)
    return dressed
