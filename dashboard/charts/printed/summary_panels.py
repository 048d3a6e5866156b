"""The summary: a panel a question, a row a plan; on a slide one panel, on paper all of them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from dashboard.charts.palette import GRID, INK, PAPER, Look
from dashboard.charts.picture import NO_FIGURE, Panel, Picture, axis_ticks
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened, width_inches, wrapped
from dashboard.charts.printed.shapes import HALF_PAGE, SLIDE, Shape, Style
from dashboard.charts.printed.sheet import Room, bare, new_sheet, rule
from dashboard.charts.summary import only_panel, spread
from dashboard.language.saying import say_setting, short_number
from dashboard.language.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame

LANE_OFFSET = 0.22
SEASON_OFFSETS = (-0.05, 0.0, 0.05)
LABEL_SHARE, ALONE_LABEL_SHARE = 0.21, 0.3
"""Of the width, for the names of plans; a panel alone has more room for them."""
WORDS_GAP_SHARE = 0.07
PANELS_DOWN, LINES_A_PLAN, LINES_AROUND = 2, 1.95, 4.4
"""Panels above each other in the whole; lines that a plan needs, and that heading and axis of a panel need."""
WORDS_AROUND_INCHES = 1.5
"""For title, caption and foot."""


def parts_of(picture: Picture, style: Style, foot: str = "") -> list[tuple[str, Picture]]:
    """Return the whole, or where it could not be read a picture for each panel, and for so many plans as fit."""
    room = new_sheet(picture.title, picture.caption, foot, style)
    if style.shape is not SLIDE and _rows_that_fit(room, PANELS_DOWN) >= len(picture.plans):
        return [("", picture)]
    most, plans = _rows_that_fit(room, 1), list(picture.plans)
    groups = [plans[first : first + most] for first in range(0, len(plans), most)]
    parts = [only_panel(picture, panel, group) for panel in picture.panels for group in groups]
    return [(str(number), part) for number, part in enumerate(parts, 1)]


def _rows_that_fit(room: Room, panels_down: int) -> int:
    lines = room.height_inches * POINTS_PER_INCH / panels_down / (LINE_HEIGHT * room.points) - LINES_AROUND
    return max(1, int(lines / LINES_A_PLAN))


def shape_for(picture: Picture) -> Shape:
    """Return half a page, or something as high as the plans need."""
    rows_inches = (LINES_A_PLAN * len(picture.plans) + LINES_AROUND) * HALF_PAGE.text_points * LINE_HEIGHT
    needed = PANELS_DOWN * rows_inches / POINTS_PER_INCH + WORDS_AROUND_INCHES
    return replace(HALF_PAGE, height_inches=max(HALF_PAGE.height_inches, needed))


def draw(room: Room, picture: Picture) -> None:
    """Draw the picture into the room."""
    is_single = len(picture.panels) == 1
    across = 1 if is_single else 2
    down = math.ceil(len(picture.panels) / across)
    panels = room.figure.subplots(down, across, sharey=True, squeeze=False)
    label_inches = (ALONE_LABEL_SHARE if is_single else LABEL_SHARE) * room.width_inches
    wide = (room.width_inches - label_inches) / across
    for axes, panel in zip(panels.ravel(), picture.panels, strict=False):
        _draw_panel(axes, room, panel, picture, wide, is_single=is_single)
    for axes in panels.ravel()[len(picture.panels) :]:
        axes.set_visible(False)
    rows = len(picture.plans)
    lines = max(1, int(0.75 * room.height_inches * POINTS_PER_INCH / down / rows / (LINE_HEIGHT * room.points)))
    labels = [shortened(title, room.points, label_inches, lines) for title in picture.plans.values()]
    for axes in panels[:, 0]:
        axes.set_yticks(range(rows), labels)
        axes.set_ylim(rows - 0.5, -0.5)


def _draw_panel(axes: Axes, room: Room, panel: Panel, picture: Picture, wide: float, *, is_single: bool) -> None:
    frame = picture.frame[picture.frame["panel"] == panel.heading]
    figures = spread(frame).set_index(["lane", "plan"])
    said = {
        (lane, slug): f"{one.words} {_mean(figures, lane, slug)}".strip()
        for lane, one in enumerate(panel.lanes)
        for slug in picture.plans
    }
    words_share = max(width_inches(words, room.points) for words in said.values()) / wide + WORDS_GAP_SHARE
    highest = float(frame["value"].max())
    if not is_single:
        heading = wrapped(panel.heading, room.points, wide, is_bold=True)
        axes.set_title(heading, loc="left", weight="bold", fontsize=room.points)
    _dress(axes, room, panel, highest if highest > 0 else 1.0, wide, words_share)
    for row, slug in enumerate(picture.plans):
        look = room.style.look(picture.number_of(slug))
        for lane in range(len(panel.lanes)):
            height = row + (lane * 2 - 1) * LANE_OFFSET * (len(panel.lanes) - 1)
            if (lane, slug) in figures.index:
                values = frame[(frame["lane"] == lane) & (frame["plan"] == slug)]
                _draw_lane(axes, room, height, values, figures.loc[(lane, slug)], look, is_filled=lane == 0)
            at: dict[str, Any] = {"transform": axes.get_yaxis_transform(), "ha": "right", "va": "center"}
            axes.text(0.995, height, said[lane, slug], fontsize=room.points, color=INK, **at)
    for border in range(1, len(picture.plans)):
        axes.axhline(border - 0.5, color=GRID, linewidth=0.8)


def _mean(figures: DataFrame, lane: int, slug: str) -> str:
    return short_number(float(figures.loc[(lane, slug), "mean"])) if (lane, slug) in figures.index else _(NO_FIGURE)


def _dress(axes: Axes, room: Room, panel: Panel, end: float, wide: float, words_share: float) -> None:
    axes.set_xlabel(wrapped(panel.axis, room.points, 0.9 * wide), loc="left")
    axes.set_xlim(0, end / (1 - words_share))
    ticks = axis_ticks(end, most=3)
    axes.set_xticks(ticks, [say_setting(tick) for tick in ticks])
    axes.tick_params(axis="y", length=0)
    rule(axes, "x")
    bare(axes)


def _draw_lane(
    axes: Axes, room: Room, height: float, values: DataFrame, figure: Any, look: Look, *, is_filled: bool
) -> None:
    offsets = [height + SEASON_OFFSETS[season % len(SEASON_OFFSETS)] for season in range(len(values))]
    small = (0.3 * room.points) ** 2
    axes.scatter(values["value"], offsets, s=small, marker=look.on_paper, color=look.colour, alpha=0.55, linewidths=0)
    thick = (1.6 if is_filled else 0.8) * room.line_points
    axes.plot([figure["low"], figure["high"]], [height, height], color=look.colour, linewidth=thick, alpha=0.9)
    axes.scatter(
        [figure["mean"]], [height], s=(0.75 * room.points) ** 2, marker=look.on_paper,
        facecolor=look.colour if is_filled else PAPER, edgecolor=look.colour, linewidths=0.8 * room.line_points,
        zorder=3, clip_on=False,
    )  # fmt: skip
