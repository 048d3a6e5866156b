"""A sweep of a list, or of several settings: a row a point, a mark a plan with its bar, a panel a measure."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from dashboard.charts.palette import GRID
from dashboard.charts.picture import ticks_between
from dashboard.charts.printed.legend import name_plans
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened, wrapped
from dashboard.charts.printed.shapes import SLIDE, Style
from dashboard.charts.printed.sheet import Room, new_sheet, rule
from dashboard.charts.printed.sweep_panels import LINES_A_NAME, MOST_PLANS, ROW_PANELS_ACROSS, dress, groups, numbered
from dashboard.charts.printed.tick_words import name_places
from dashboard.language.saying import say_setting

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from dashboard.charts.sweep_picture import SweepPanel, SweepPicture

LABEL_SHARE, MOST_LABEL_LINES = 0.32, 4
LETTERS_BEFORE_MARKS = 0.8
"""Between a name and the marks, one of which may stand on the edge."""
LINES_AROUND, LINES_OF_HEADING, LINES_A_MARK, LINES_APART = 3.4, 2.6, 0.9, 0.4
"""Below the rows; above them; for each plan in a row; between rows."""
MOST_TICKS = 3
ROOM_RIGHT = 1.08


def parts_of(picture: SweepPicture, style: Style, foot: str) -> list[tuple[str, SweepPicture]]:
    """Return as few pictures as hold all measures, plans and rows."""
    parts: list[SweepPicture] = []
    across = 1 if style.shape is SLIDE else ROW_PANELS_ACROSS
    for plans in groups(list(picture.plans), MOST_PLANS):
        part = picture.only(picture.panels[:across], plans)
        room = new_sheet(part.title, part.caption, foot, style)
        names = LINES_A_NAME * len(plans) if len(plans) > 1 else 0.0
        lines = room.height_inches * POINTS_PER_INCH / (LINE_HEIGHT * room.points) - names
        around = LINES_AROUND + (LINES_OF_HEADING if across > 1 else 0.0)
        rows = _row_lines(room, part)
        down = max(1, int(lines / (sum(rows) + around)))
        most = max(1, int((lines / down - around) / max(rows)))
        for panels in groups(picture.panels, across * down):
            parts += [picture.only(panels, plans, group) for group in groups(_rows(picture), most)]
    return numbered(parts)


def _rows(picture: SweepPicture) -> tuple[int, ...]:
    return picture.rows or tuple(range(len(picture.points)))


def _row_lines(room: Room, picture: SweepPicture) -> list[float]:
    """Return how many lines each row takes: those of its name, or of the marks in it."""
    marks = LINES_A_MARK * len(picture.plans)
    return [max(label.count("\n") + 1.0, marks) + LINES_APART for label in _labels(room, picture)]


def _labels(room: Room, picture: SweepPicture) -> list[str]:
    wide = LABEL_SHARE * room.width_inches
    return [shortened(picture.points[row], room.points, wide, MOST_LABEL_LINES) for row in _rows(picture)]


def draw(room: Room, picture: SweepPicture) -> None:
    """Draw the picture into the room."""
    across = min(ROW_PANELS_ACROSS, len(picture.panels))
    grid = room.figure.subplots(math.ceil(len(picture.panels) / across), across, squeeze=False, sharey=True)
    wide = (1 - LABEL_SHARE) * room.width_inches / across
    rows = _rows(picture)
    for axes, panel in zip(grid.ravel(), picture.panels, strict=False):
        dress(axes, room, panel.heading if len(picture.panels) > 1 else "", 0.94 * wide)
        _draw_panel(axes, room, picture, panel, wide)
    for axes in grid.ravel()[len(picture.panels) :]:
        axes.set_visible(False)
    for axes in grid[:, 0]:
        axes.set_ylim(len(rows) - 0.5, -0.5)
        axes.set_yticks(range(len(rows)), _labels(room, picture))
    if len(picture.plans) > 1:
        name_plans(room, picture, linestyle="none")


def _draw_panel(axes: Axes, room: Room, picture: SweepPicture, panel: SweepPanel, wide_inches: float) -> None:
    frame, rows = picture.frame[picture.frame["measure"] == panel.measure], _rows(picture)
    count = len(picture.plans)
    for number, plan in enumerate(picture.plans):
        mine = frame[frame["plan"] == plan].set_index("point").loc[list(rows)]
        look = room.style.look(picture.number_of(plan))
        heights = np.arange(len(rows)) + (number - (count - 1) / 2) * 0.7 / count
        axes.hlines(heights, mine["low"], mine["high"], color=look.colour, linewidth=0.9 * room.line_points, alpha=0.6)
        marks: dict[str, Any] = {"color": look.colour, "marker": look.on_paper, "linestyle": "none"}
        axes.plot(mine["mean"], heights, markersize=0.65 * room.points, clip_on=False, zorder=3, **marks)
    figures = frame[["low", "high", "mean"]].to_numpy(dtype=float)
    figures = figures[np.isfinite(figures)]
    low, high = (min(0.0, float(figures.min())), float(figures.max())) if figures.size else (0.0, 1.0)
    high = high if high > low else low + 1.0
    axes.set_xlim(low, ROOM_RIGHT * high)
    ticks = ticks_between(low, high, MOST_TICKS)
    name_places(
        axes, ticks, [say_setting(tick) for tick in ticks], room.points, 0.85 * wide_inches / (ROOM_RIGHT * high - low)
    )
    for border in range(1, len(rows)):
        axes.axhline(border - 0.5, color=GRID, linewidth=0.8)
    axes.tick_params(axis="y", length=0, pad=LETTERS_BEFORE_MARKS * room.points)
    axes.set_xlabel(wrapped(panel.axis, room.points, 0.85 * wide_inches))
    rule(axes, "x")
