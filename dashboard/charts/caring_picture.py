"""Who comes first if one answer of the class changes: a row a measure, a column an answer, the mark of the first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import (
    LEGEND_ASIDE_PX,
    LINES,
    ROW_LABEL_PX,
    dress,
    in_lines,
    layered,
    legend_below,
    tips,
)
from dashboard.charts.palette import GRID, INK, QUIET_INK, look_of
from dashboard.charts.scene import Scene
from dashboard.language.saying import short_number
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import _, mark
from dashboard.lesson.caring import Way, firsts
from dashboard.lesson.lesson import LEVELS

SHARED = mark("level at the top")
ROW_PX = 44
LABEL_LETTERS = 20
AROUND_PX = 150
MARK_PX = 260
ANSWER_LETTERS, SECOND_LINE_PX = 8, 18
"""An answer above its column takes two lines: four of them stand side by side on a phone."""


def caring_scene(ways: Sequence[Way], cares: Mapping[str, int], plans: Mapping[str, str]) -> Scene:
    """Return the picture.

    Parameters
    ----------
    ways
        From the worst plan to the best, a measure each.
    cares
        Measure → how much the class cares.
    plans
        Slug → title, in order.
    """
    counted = [way for way in ways if not way.is_open]
    whose = firsts(ways, cares)
    rows = [
        (
            BY_MEASURE[way.measure].title,
            _(words),
            plans[whose[way.measure, level][0]] if len(whose[way.measure, level]) == 1 else _(SHARED),
            cares.get(way.measure, 0) == level,
        )
        for way in counted
        for level, words in LEVELS.items()
        if whose[way.measure, level]
    ]
    frame = pd.DataFrame(rows, columns=["what", "answer", "first", "is_now"])
    columns = [_("What"), _("Worst plan here"), _("Best plan here"), *(_(words) for words in LEVELS.values())]
    table = pd.DataFrame([_row(way, cares, whose, plans) for way in counted], columns=columns)
    said = "; ".join(
        f"{what}: {', '.join(f'{one.answer} {one.first}' for one in part.itertuples())}"
        for what, part in frame.groupby("what", sort=False)
    )
    return Scene(
        title=_("Who comes first if one answer changes"),
        caption=_("A ring marks what you said. Read along a row: where the mark changes, that answer turns the order."),
        alt=_("Which plan comes first for each answer. {said}.").format(said=said),
        plans=plans,
        frame=frame,
        table=table,
        kind="caring",
    )


def draw(scene: Scene) -> Any:
    """Return the picture for the screen."""
    names = [*scene.plans.values(), _(SHARED)]
    looks = [look_of(scene.number_of(plan)) for plan in scene.plans]
    x = alt.X(
        "column:N",
        sort=None,
        title=None,
        scale=alt.Scale(
            domain=[in_lines(_(words), ANSWER_LETTERS) for words in LEVELS.values()], type="point", padding=0.5
        ),
        axis=alt.Axis(
            orient="top",
            labelExpr=LINES,
            labelBaseline="line-bottom",
            labelPadding=SECOND_LINE_PX,
            labelAngle=0,
            ticks=False,
            domain=False,
            labelColor=INK,
            labelLimit=80,
        ),
    )
    y = alt.Y(
        "row:N",
        sort=None,
        title=None,
        axis=alt.Axis(
            labelExpr=LINES,
            labelLimit=ROW_LABEL_PX,
            labelLineHeight=15,
            ticks=False,
            domain=False,
            labelPadding=8,
            grid=True,
            gridColor=GRID,
        ),
    )
    legend = legend_below(LEGEND_ASIDE_PX, symbol_size=160, label_px=300)
    colours = alt.Scale(domain=names, range=[*(look.colour for look in looks), QUIET_INK])
    shapes = alt.Scale(domain=names, range=[*(look.on_screen for look in looks), "cross"])
    rows = scene.frame["what"].map(lambda words: in_lines(words, LABEL_LETTERS))
    columns = scene.frame["answer"].map(lambda words: in_lines(words, ANSWER_LETTERS))
    base = alt.Chart(scene.frame.assign(row=rows, column=columns))
    marks = base.mark_point(filled=True, size=MARK_PX, opacity=1).encode(
        x=x,
        y=y,
        color=alt.Color("first:N", scale=colours, legend=legend),
        shape=alt.Shape("first:N", scale=shapes, legend=legend),
        tooltip=tips(what=_("What"), answer=_("Answer"), first=_("First")),
    )
    rings = (
        base.transform_filter("datum.is_now")
        .mark_point(shape="circle", filled=False, size=4 * MARK_PX, color=INK, strokeWidth=3, opacity=1)
        .encode(x=x, y=y)
    )
    height = AROUND_PX + ROW_PX * scene.frame["what"].nunique()
    return dress(layered(rings, marks), width="container", height=height, title=scene.title)


def _row(
    way: Way, cares: Mapping[str, int], whose: Mapping[tuple[str, int], tuple[str, ...]], plans: Mapping[str, str]
) -> tuple[str, ...]:
    spoken = BY_MEASURE[way.measure]
    ends = [
        f"{plans[plan]}: {short_number(mean * spoken.factor)} {spoken.unit}" for plan, mean in (way.worst, way.best)
    ]
    cells = []
    for level in LEVELS:
        names = " = ".join(plans[plan] for plan in whose[way.measure, level])
        cells.append(_("{plan} (your answer)").format(plan=names) if cares.get(way.measure, 0) == level else names)
    return (spoken.title, *ends, *cells)
