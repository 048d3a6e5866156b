"""What a plan kills beside what its garden's eaters miss: a row each, the mark of each plan, one scale of a hundred."""

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
    look_range,
)
from dashboard.charts.palette import GRID, INK
from dashboard.charts.scene import Scene
from dashboard.language.saying import say_number
from dashboard.language.tongue import _
from dashboard.seasons.starving import Miss

ROW_PX = 58
AROUND_PX = 150
LABEL_LETTERS = 22
HUNDRED = 100
ROOM_BESIDE = 0.08
"""Share of the scale left free at either end: on a phone that is the half of a mark, which else lies on the axis."""


def starving_scene(rows: Mapping[str, Sequence[Miss]], plans: Mapping[str, str]) -> Scene:
    """Return the picture; ``rows`` from :func:`dashboard.seasons.starving.misses`, ``plans`` slug → title in order."""
    frame = pd.DataFrame(
        [(title, _(one.words), one.of_100, one.is_open) for plan, title in plans.items() for one in rows[plan]],
        columns=["plan", "words", "of_100", "is_open"],
    )
    every = list(dict.fromkeys(frame["words"]))
    table = pd.DataFrame({_("Of each 100"): every})
    for plan, title in plans.items():
        said = {_(one.words): _said(one) for one in rows[plan]}
        table[title] = [said.get(words, "0") for words in every]
    parts = [
        f"{title}: {', '.join(f'{_(one.words)} {_said(one)}' for one in rows[plan])}" for plan, title in plans.items()
    ]
    first = next(iter(plans.values()))
    return Scene(
        title=_("Killed, and left with less"),
        caption=_(
            "Missed: of each 100 that the same eaters had under '{first}'. Below 0 they had more. A question mark: "
            "level, or too close to call. Meals are what was eaten in the whole season, not what lies in reach."
        ).format(first=first),
        alt=_("What each plan kills, and who has less than under '{first}', of each 100. {said}.").format(
            first=first, said="; ".join(parts)
        ),
        plans=plans,
        frame=frame,
        table=table,
        kind="starving",
    )


def draw(scene: Scene) -> Any:
    """Return the picture for the screen."""
    frame = scene.frame.assign(row=scene.frame["words"].map(lambda words: in_lines(words, LABEL_LETTERS)))
    labels = dict(scene.plans)
    lowest = min(0.0, float(frame["of_100"].min()))
    room = ROOM_BESIDE * (HUNDRED - lowest)
    x = alt.X(
        "of_100:Q",
        title=_("of each 100"),
        scale=alt.Scale(domain=[lowest - room, HUNDRED + room], nice=False),
        axis=alt.Axis(tickCount=5, gridColor=GRID),
    )
    y = alt.Y(
        "row:N",
        sort=None,
        title=None,
        axis=alt.Axis(labelExpr=LINES, labelLimit=ROW_LABEL_PX, ticks=False, labelPadding=8),
    )
    legend = legend_below(LEGEND_ASIDE_PX, symbol_size=160, label_px=300)
    colour = alt.Color("plan:N", scale=look_range(scene, labels, "colour"), legend=legend)
    shape = alt.Shape("plan:N", scale=look_range(scene, labels, "on_screen"), legend=legend)
    base = alt.Chart(frame)
    marks = base.mark_point(filled=True, size=200, opacity=0.9).encode(
        x=x, y=y, color=colour, shape=shape, tooltip=["plan:N", "words:N", alt.Tooltip("of_100:Q", format=".0f")]
    )
    zero = alt.Chart(pd.DataFrame({"at": [0]})).mark_rule(color=INK, strokeWidth=2).encode(x=alt.X("at:Q"))
    height = AROUND_PX + ROW_PX * frame["row"].nunique()
    return dress(layered(zero, marks), width="container", height=height, title=scene.title)


def figure_words(of_100: float, *, is_open: bool) -> str:
    """Return a figure in words, with a question mark where more or less is open."""
    return f"{say_number(of_100)}{' ?' if is_open else ''}"


def _said(one: Miss) -> str:
    return figure_words(one.of_100, is_open=one.is_open)
