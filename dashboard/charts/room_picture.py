"""Pictures for a room: the same scenes in letters and lines that can be read from the last row."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import HOUSE_STYLE, LINES, dress, layered, look_range, plan_labels
from dashboard.charts.guess_picture import GUESSED, TAKEN
from dashboard.charts.palette import BROAD_JOINING, GRID, INK, PAPER
from dashboard.charts.picture import axis_ticks
from dashboard.charts.scene import Scene
from dashboard.charts.seasons_picture import MOST_JOINED
from dashboard.language.saying import short_number
from dashboard.language.tongue import _

LETTERS_PX = 46
LINE_PX = 4
PICTURE_PX = 770
LABEL_PX = 560
LABEL_LETTERS = 20
ROOM_RIGHT = 1.12
ARROW_SHARE, ARROW_DOWN_PX, ARROW_ASIDE_PX = 0.09, 58, 26
HEADS = {
    "more": {"end": "triangle-right"},
    "less": {"end": "triangle-left"},
    "same": {"begin": "triangle-left", "end": "triangle-right"},
}
"""Which end of the arrow has a head, by the tap."""
_WORDS: dict[str, Any] = {"fontSize": LETTERS_PX, "fontWeight": "bold"}
_MOST_TICKS = 3


@dataclass(frozen=True)
class Tap:
    """A guess about one plan against the first: its slug, ``more``, ``same`` or ``less``, and that in words."""

    plan: str
    word: str
    said: str


def draw_seasons(scene: Scene, tap: Tap | None = None) -> Any:
    """Return one measure: a row a plan, a dot a season, a bar and its figure for the mean; the guess beside them."""
    labels = plan_labels(scene.plans, LABEL_LETTERS)
    order = {label: row for row, label in enumerate(labels.values())}
    frame = scene.frame.assign(Plan=scene.frame["plan"].map(labels))
    frame["row"] = frame["Plan"].map(order)
    highest = float(frame["value"].max()) if len(frame) else 0.0
    y, colour, shape = _places(scene, labels)
    x = alt.X(
        "value:Q",
        title=scene.axis,
        scale=alt.Scale(domain=[0, ROOM_RIGHT * (highest if highest > 0 else 1)], nice=False),
        axis=alt.Axis(values=axis_ticks(highest, _MOST_TICKS), grid=False),
    )
    dots = alt.Chart(frame).mark_point(size=500, filled=True, opacity=0.9).encode(x=x, y=y, color=colour, shape=shape)
    means = frame.groupby("Plan", sort=False)["value"].mean().reset_index()
    means["said"] = means["value"].map(short_number)
    bars = alt.Chart(means).mark_tick(thickness=10, size=100, opacity=1).encode(x=x, y=y, color=colour)
    layers = [dots, bars, *_words(alt.Chart(means), -76, x=x, y=y)]
    if 1 < frame["season"].nunique() <= MOST_JOINED:
        lines = alt.Chart(frame).mark_line(color=BROAD_JOINING, strokeWidth=LINE_PX)
        layers.insert(0, lines.encode(x=x, y=y, detail=alt.Detail("season:N"), order=alt.Order("row:Q")))
    if tap is not None:
        line, before = _tap_layers(scene, tap, labels[tap.plan], ROOM_RIGHT * highest, x, y)
        layers = [line, *layers, *before]
    return _for_a_room(layered(*layers))


def tap_words(scene: Scene, tap: Tap) -> str:
    """Return the guess in words, for those who cannot see the picture."""
    first = next(iter(scene.plans.values()))
    told = _("A dashed line stands at the mean of '{first}'; in the row of '{plan}' an arrow shows the guess. {said}")
    return told.format(first=first, plan=scene.plans[tap.plan], said=tap.said)


def _tap_layers(
    scene: Scene, tap: Tap, label: str, top: float, x: alt.X, y: alt.Y
) -> tuple[alt.Chart, list[alt.Chart]]:
    """Return the line that stands behind all, at the first plan's mean; and arrow and words, which stand before it."""
    mean = float(scene.frame.loc[scene.frame["plan"] == next(iter(scene.plans)), "value"].mean())
    step = ARROW_SHARE * top
    begin, end = {"more": (mean, mean + step), "less": (mean, max(0.0, mean - step))}.get(
        tap.word, (max(0.0, mean - step / 2), mean + step / 2)
    )
    guess = pd.DataFrame({"Plan": [label], "value": [mean], "begin": [begin], "end": [end], "said": [tap.said]})
    chart = alt.Chart(guess)
    line = chart.mark_rule(color=INK, strokeWidth=LINE_PX, strokeDash=[14, 8]).encode(x=x)
    shaft = chart.mark_rule(color=INK, strokeWidth=LINE_PX + 4, yOffset=ARROW_DOWN_PX).encode(
        x=alt.X("begin:Q", title=scene.axis), x2=alt.X2("end:Q"), y=y
    )
    heads = [
        chart.mark_point(size=900, filled=True, color=INK, opacity=1, shape=shape, yOffset=ARROW_DOWN_PX).encode(
            x=alt.X(f"{place}:Q", title=scene.axis), y=y
        )
        for place, shape in HEADS[tap.word].items()
    ]
    align = "right" if mean > top / 2 else "left"
    aside = {"align": align, "dx": -ARROW_ASIDE_PX if align == "right" else ARROW_ASIDE_PX}
    at = alt.X(f"{'begin' if (tap.word == 'more') == (align == 'right') else 'end'}:Q", title=scene.axis)
    return line, [shaft, *heads, *_words(chart, ARROW_DOWN_PX, aside, x=at, y=y)]


def draw_guess(scene: Scene) -> Any:
    """Return guess and outcome: a row a plan, a hollow mark for the guess, a full one for the season."""
    labels = plan_labels(scene.plans, LABEL_LETTERS)
    frame = scene.frame.assign(Plan=scene.frame["plan"].map(labels))
    frame["said"] = frame["figure"].mask(frame["kind"] == GUESSED, _("guess"))
    wide = frame.pivot_table(index="Plan", columns="kind", values="place").reset_index()
    y, colour, shape = _places(scene, labels)
    x = alt.X(
        "place:Q",
        title=scene.axis,
        scale=alt.Scale(domain=[0.6, len(labels) + 0.4], nice=False),
        axis=alt.Axis(values=list(range(1, len(labels) + 1)), format="d", grid=True, gridColor=GRID, gridWidth=LINE_PX),
    )
    line = (
        alt.Chart(wide)
        .mark_rule(strokeWidth=LINE_PX + 1, strokeDash=[14, 8])
        .encode(x=alt.X(f"{GUESSED}:Q", title=scene.axis), x2=f"{TAKEN}:Q", y=y, color=colour)
    )
    points = {kind: alt.Chart(frame).transform_filter(f"datum.kind == '{kind}'") for kind in (GUESSED, TAKEN)}
    marks = [
        points[GUESSED]
        .mark_point(size=1900, strokeWidth=LINE_PX + 2, fill=PAPER, opacity=1)
        .encode(x=x, y=y, stroke=colour, shape=shape),
        points[TAKEN].mark_point(size=900, filled=True, opacity=1).encode(x=x, y=y, color=colour, shape=shape),
    ]
    texts = [*_words(points[GUESSED], -58, x=x, y=y), *_words(points[TAKEN], 60, x=x, y=y)]
    return _for_a_room(layered(line, *marks, *texts))


def _places(scene: Scene, labels: dict[str, str]) -> tuple[alt.Y, alt.Color, alt.Shape]:
    colour = alt.Color("Plan:N", scale=look_range(scene, labels, "colour"), legend=None)
    axis = alt.Axis(labelExpr=LINES, labelLimit=LABEL_PX, ticks=False, domain=False, labelPadding=16)
    rows = alt.Y("Plan:N", sort=None, scale=alt.Scale(domain=list(labels.values())), title=None, axis=axis)
    return rows, colour, alt.Shape("Plan:N", scale=look_range(scene, labels, "on_screen"), legend=None)


def _words(
    chart: alt.Chart, down_px: int, aside: Mapping[str, Any] = MappingProxyType({}), **places: Any
) -> list[alt.Chart]:
    """Return words beside marks, on a paper-coloured rim so that no line runs through them."""
    style = {**_WORDS, "dy": down_px, **aside}
    return [
        chart.mark_text(**style, color=PAPER, stroke=PAPER, strokeWidth=12).encode(text=alt.Text("said:N"), **places),
        chart.mark_text(**style, color=INK).encode(text=alt.Text("said:N"), **places),
    ]


_ROOM_STYLE: dict[str, Any] = HOUSE_STYLE | {
    "axis": HOUSE_STYLE["axis"]
    | {
        "labelFontSize": LETTERS_PX,
        "titleFontSize": LETTERS_PX,
        "labelColor": INK,
        "tickWidth": LINE_PX,
        "domainWidth": LINE_PX,
        "domainColor": INK,
    },
    "axisY": {"labelColor": INK, "labelLineHeight": LETTERS_PX + 2},
}


def _for_a_room(chart: Any) -> Any:
    return dress(chart, _ROOM_STYLE, width="container", height=PICTURE_PX)
