"""A sweep of two settings: a map a measure and plan, a cell a point, its figure in it where it can be read."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.colors import to_hex

from dashboard.charts.palette import INK, PAPER, contrast
from dashboard.charts.picture import ticks_between
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, width_inches, wrapped
from dashboard.charts.printed.shapes import FULL_PAGE, Style
from dashboard.charts.printed.sheet import Room
from dashboard.charts.printed.sweep_panels import MAPS_BESIDE, groups, numbered
from dashboard.charts.printed.tick_words import name_places
from dashboard.charts.sweep_picture import short_figure
from dashboard.language.saying import MINUS, say_setting
from dashboard.language.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray

    from dashboard.charts.sweep_picture import SweepPanel, SweepPicture

ONE_WAY, BOTH_WAYS = "Greys", "PuOr"
"""Scales that also tell more from less for every kind of colour sight; figures stand in the cells."""
ROOM_IN_SCALE = 1.4
"""The scale runs on beyond the largest figure, so that no cell is too dark to read."""
AXIS_SHARE, TALL_SHARE, LABEL_SHARE, HEADING_SHARE = 0.74, 0.5, 0.6, 0.8
FIGURE_ROOM = 0.94
WORST_CONTRAST = 4.5


def parts_of(picture: SweepPicture, style: Style, _foot: str) -> list[tuple[str, SweepPicture]]:
    """Return a picture for each measure and plan; on a full page two, one above the other."""
    down = 2 if style.shape is FULL_PAGE else 1
    parts = [
        picture.only([panel], plans) for panel in picture.panels for plans in groups(list(picture.plans), down)
    ]  # fmt: skip
    return numbered(parts)


def draw(room: Room, picture: SweepPicture) -> None:
    """Draw the picture into the room."""
    maps = [(panel, plan) for panel in picture.panels for plan in picture.plans]
    across = 1 if len(maps) < MAPS_BESIDE else 2
    down = math.ceil(len(maps) / across)
    grid = room.figure.subplots(down, across, squeeze=False).ravel()
    size = room.width_inches / across, room.height_inches / down
    for axes, (panel, plan) in zip(grid, maps, strict=False):
        _draw_map(axes, room, picture, panel, plan, size)
    for axes in grid[len(maps) :]:
        axes.set_visible(False)


def _draw_map(
    axes: Axes, room: Room, picture: SweepPicture, panel: SweepPanel, plan: str, size: tuple[float, float]
) -> None:
    wide, tall = size
    down, across = picture.varied
    is_first = plan == next(iter(picture.order or picture.plans))
    frame = picture.frame[(picture.frame["measure"] == panel.measure) & (picture.frame["plan"] == plan)]
    frame = frame.sort_values("point")
    cells = frame["mean" if is_first else "difference"].to_numpy(dtype=float)
    cells = cells.reshape(len(down.values), len(across.values))
    is_open = frame["is_open"].to_numpy().reshape(cells.shape) & (not is_first)
    told = np.where(is_open, np.nan, cells)  # white: else the largest of differences that nobody can tell were darkest
    limit = (float(np.nanmax(np.abs(told))) if np.isfinite(told).any() else 0.0) or 1.0
    image: Any = axes.imshow(
        told, aspect="auto", origin="lower", cmap=ONE_WAY if is_first or room.style.is_grey else BOTH_WAYS,
        vmin=0 if is_first and np.nanmin(cells, initial=0.0) >= 0 else -ROOM_IN_SCALE * limit,
        vmax=ROOM_IN_SCALE * limit,
    )  # fmt: skip
    heading = _heading(picture, panel, plan, is_first=is_first)
    axes.set_title(
        wrapped(heading, room.points, HEADING_SHARE * wide, is_bold=True),
        loc="left",
        fontsize=room.points,
        fontweight="bold",
    )
    axes.set_ylabel(wrapped(down.label, room.points, LABEL_SHARE * tall))
    axes.set_xlabel(wrapped(across.label, room.points, AXIS_SHARE * wide))
    axes.tick_params(axis="both", length=0)
    cell_inches = AXIS_SHARE * wide / len(across.values)
    words = [across.say(value) for value in across.values]
    name_places(axes, range(len(words)), words, room.points, cell_inches)
    each = math.ceil(len(down.values) * LINE_HEIGHT * room.points / POINTS_PER_INCH / (TALL_SHARE * tall))
    axes.set_yticks(range(0, len(down.values), each), [down.say(value) for value in down.values[::each]])
    figures = _figures(cells, is_open, has_sign=not is_first)
    widest = max(width_inches(one, room.points) for one in figures.ravel())
    if widest <= FIGURE_ROOM * cell_inches and each == 1:
        _say_figures(axes, room, image, told, figures)
    else:
        ticks = ticks_between(float(image.norm.vmin), float(image.norm.vmax))
        axes.figure.colorbar(image, ax=axes, ticks=ticks).ax.set_yticklabels([say_setting(tick) for tick in ticks])


def _heading(picture: SweepPicture, panel: SweepPanel, plan: str, *, is_first: bool) -> str:
    """Return what one map shows; where the measure is in the title already, its unit only."""
    what = panel.axis if len(picture.panels) == 1 else f"{panel.heading}, {panel.axis}"
    if is_first:
        return f"{what}: {picture.plans[plan]}"
    against = _("{what}: more (+) or less ({minus}) with '{plan}'")
    return against.format(what=what, minus=MINUS, plan=picture.plans[plan])


def _figures(cells: NDArray[Any], is_open: NDArray[Any], *, has_sign: bool) -> NDArray[Any]:
    words = [
        f"{'+' if has_sign and value > 0 else ''}{short_figure(float(value))}{' ?' if still else ''}"
        for value, still in zip(cells.ravel(), is_open.ravel(), strict=True)
    ]
    return np.array(words, dtype=object).reshape(cells.shape)


def _say_figures(axes: Axes, room: Room, image: Any, cells: NDArray[Any], figures: NDArray[Any]) -> None:
    for (row, column), value in np.ndenumerate(cells):
        ground = to_hex(image.cmap(image.norm(value))) if np.isfinite(value) else PAPER
        ink = PAPER if contrast(PAPER, ground) >= WORST_CONTRAST else INK
        axes.text(column, row, str(figures[row, column]), ha="center", va="center", color=ink, fontsize=room.points)
