"""Draw the picture of a sweep with matplotlib, for PNG and SVG files."""

from __future__ import annotations

import math
import textwrap
from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine
from matplotlib.ticker import FuncFormatter, MaxNLocator

from dashboard.charts.on_paper import TEXT_POINTS, WIDTH_INCHES
from dashboard.charts.palette import GRID, INK, PAPER, QUIET_INK, look_of
from dashboard.charts.sweep_picture import SweepPanel, SweepPicture, short_figure
from dashboard.saying import say_setting
from dashboard.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D
    from numpy.typing import NDArray

    from sim.settings import Setting

TITLE_POINTS = TEXT_POINTS + 3
PANELS_A_ROW = 3
MOST_TICKS = 8
MOST_TICKS_BELOW_ROWS = 3
LABEL_LETTERS = 30
HEADING_LETTERS = 33
MOST_CELLS_WITH_FIGURES = 81
ROOM_ABOVE = 1.08
ROOM_IN_SCALE = 1.4
"""The scale runs on beyond the largest figure, so that no cell is too dark to read."""
DARK_SHARE = 0.75
"""Cells with more than this share of the largest figure are so dark that theirs is light."""
ONE_WAY, BOTH_WAYS = "Greys", "PuOr"
"""Scales that also tell more from less on a copier and for every kind of colour sight; figures stand in the cells."""


def draw_sweep(picture: SweepPicture) -> Figure:
    """Return the figure of a sweep."""
    if picture.form == "maps":
        return _draw_maps(picture)
    across = min(PANELS_A_ROW, len(picture.panels))
    if len(picture.panels) == PANELS_A_ROW + 1:
        across = 2
    down = math.ceil(len(picture.panels) / across)
    height = 2.7 if picture.form == "lines" else _rows_height_inches(picture)
    figure = _new_figure(picture, height * down + 1.35)
    panels = figure.subplots(down, across, squeeze=False, sharex=False, sharey=picture.form == "rows").ravel()
    draw = _draw_lines if picture.form == "lines" else _draw_rows
    for axes, panel in zip(panels, picture.panels, strict=False):
        _dress(axes, panel)
        handles = draw(axes, panel, picture)
    for axes in panels[len(picture.panels) :]:
        axes.set_visible(False)
    if len(picture.plans) > 1:
        _name_plans(figure, picture, handles)
    return figure


def _rows_height_inches(picture: SweepPicture) -> float:
    lines = sum(len(textwrap.wrap(point, LABEL_LETTERS)) for point in picture.points)
    return 0.9 + 0.2 * max(lines, len(picture.points) * max(1, len(picture.plans)))


def _new_figure(picture: SweepPicture, height_inches: float) -> Figure:
    layout = ConstrainedLayoutEngine(w_pad=0.08, h_pad=0.08)
    figure = Figure(figsize=(WIDTH_INCHES, height_inches), layout=layout, facecolor=PAPER)
    if picture.form == "maps" or len(picture.plans) == 1:
        figure.suptitle(_title(picture), x=0.01, ha="left", fontsize=TITLE_POINTS, fontweight="bold")
    figure.supxlabel(textwrap.fill(picture.caption, 140), x=0.01, ha="left", fontsize=TEXT_POINTS, color=QUIET_INK)
    return figure


def _name_plans(figure: Figure, picture: SweepPicture, handles: list[Line2D]) -> None:
    """Put the title and, below it, the plans over the panels: one box, so that neither covers the other."""
    titles = [textwrap.shorten(title, 44, placeholder="…") for title in picture.plans.values()]
    heading: dict[str, Any] = {"size": TITLE_POINTS, "weight": "bold"}
    figure.legend(
        handles,
        titles,
        loc="outside upper left",
        ncols=3,
        frameon=False,
        fontsize=TEXT_POINTS,
        title=_title(picture),
        title_fontproperties=heading,
        alignment="left",
    )


def _title(picture: SweepPicture) -> str:
    return textwrap.fill(picture.title, 92)


def _dress(axes: Axes, panel: SweepPanel) -> None:
    heading = textwrap.fill(panel.heading, HEADING_LETTERS)
    axes.set_title(heading, loc="left", fontsize=TEXT_POINTS + 1, fontweight="bold")
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for axis in (axes.xaxis, axes.yaxis):
        axis.set_major_formatter(FuncFormatter(lambda value, _place: say_setting(value)))


def _draw_lines(axes: Axes, panel: SweepPanel, picture: SweepPicture) -> list[Line2D]:
    setting = picture.varied[0]
    places = [setting.distance(setting.values[0], value) for value in setting.values]
    frame = picture.frame[picture.frame["measure"] == panel.measure]
    handles = []
    for number, slug in enumerate(picture.plans):
        mine, look = frame[frame["plan"] == slug].sort_values("point"), look_of(number)
        axes.fill_between(places, mine["low"], mine["high"], color=look.colour, alpha=0.15, linewidth=0)
        handles += axes.plot(places, mine["mean"], color=look.colour, marker=look.on_paper, markersize=6, linewidth=1.6)
    highest = float(np.nanmax([frame["high"].max(), frame["mean"].max(), 0.0]))
    axes.set_ylim(min(0.0, float(frame["mean"].min())), ROOM_ABOVE * highest if highest > 0 else 1.0)
    axes.grid(axis="y", color=GRID, linewidth=0.8)
    axes.set_ylabel(textwrap.fill(panel.axis, 30))
    axes.set_xlabel(textwrap.fill(setting.label, 44))
    _tick(axes, "x", places, setting)
    return handles


def _tick(axes: Axes, side: str, places: list[float], setting: Setting) -> None:
    """Name the values themselves, every so many where they are too many."""
    each = math.ceil(len(places) / MOST_TICKS)
    words = [setting.say(value) for value in setting.values[::each]]
    getattr(axes, f"set_{side}ticks")(places[::each], words)


def _draw_rows(axes: Axes, panel: SweepPanel, picture: SweepPicture) -> list[Line2D]:
    frame = picture.frame[picture.frame["measure"] == panel.measure]
    plans = len(picture.plans)
    handles = []
    for number, slug in enumerate(picture.plans):
        mine, look = frame[frame["plan"] == slug].sort_values("point"), look_of(number)
        heights = mine["point"].to_numpy() + (number - (plans - 1) / 2) * 0.7 / plans
        axes.hlines(heights, mine["low"], mine["high"], color=look.colour, linewidth=2.2, alpha=0.6)
        marks: dict[str, Any] = {"color": look.colour, "marker": look.on_paper, "markersize": 6, "linestyle": "none"}
        handles += axes.plot(mine["mean"], heights, clip_on=False, zorder=3, **marks)
    highest = float(np.nanmax([frame["high"].max(), frame["mean"].max(), 0.0]))
    axes.set_xlim(min(0.0, float(frame["mean"].min())), ROOM_ABOVE * highest if highest > 0 else 1.0)
    axes.set_ylim(len(picture.points) - 0.5, -0.5)
    axes.set_yticks(range(len(picture.points)), [textwrap.fill(point, LABEL_LETTERS) for point in picture.points])
    axes.tick_params(axis="y", length=0)
    axes.xaxis.set_major_locator(MaxNLocator(MOST_TICKS_BELOW_ROWS, steps=[1, 2, 5, 10]))
    axes.grid(axis="x", color=GRID, linewidth=0.8)
    for border in range(1, len(picture.points)):
        axes.axhline(border - 0.5, color=GRID, linewidth=0.8)
    axes.set_xlabel(textwrap.fill(panel.axis, 36))
    return handles


def _draw_maps(picture: SweepPicture) -> Figure:
    down, across = len(picture.panels), len(picture.plans)
    rows = len(picture.varied[0].values)
    figure = _new_figure(picture, 1.6 + down * (1.15 + 0.3 * min(rows, 10)))
    grid = figure.subplots(down, across, squeeze=False, sharex=True, sharey=True)
    for panel, line in zip(picture.panels, grid, strict=True):
        for number, (slug, axes) in enumerate(zip(picture.plans, line, strict=True)):
            _draw_map(figure, axes, panel, picture, slug, is_first=number == 0)
    for axes in grid[:, 0]:
        axes.set_ylabel(textwrap.fill(picture.varied[0].label, 26))
    for axes in grid[-1, :]:
        axes.set_xlabel(textwrap.fill(picture.varied[1].label, 40))
    return figure


def _draw_map(
    figure: Figure, axes: Axes, panel: SweepPanel, picture: SweepPicture, slug: str, *, is_first: bool
) -> None:
    frame = picture.frame[(picture.frame["measure"] == panel.measure) & (picture.frame["plan"] == slug)]
    frame = frame.sort_values("point")
    down, across = picture.varied
    cells = frame["mean" if is_first else "difference"].to_numpy().reshape(len(down.values), len(across.values))
    is_open = frame["is_open"].to_numpy().reshape(cells.shape) & (not is_first)
    limit = float(np.nanmax(np.abs(cells))) if np.isfinite(cells).any() else 0.0
    limit = limit or 1.0
    scale: dict[str, Any] = {
        "cmap": ONE_WAY if is_first else BOTH_WAYS,
        "vmin": 0 if is_first else -ROOM_IN_SCALE * limit,
    }
    image = axes.imshow(cells, aspect="auto", origin="lower", vmax=ROOM_IN_SCALE * limit, **scale)
    against = _("'{plan}' against '{first}': more (+), less (-)").format(plan=slug, first=next(iter(picture.plans)))
    what = picture.plans[slug] if is_first else against
    heading = f"{panel.heading}, {panel.axis}\n{textwrap.shorten(what, 52, placeholder='…')}"
    axes.set_title(heading, loc="left", fontsize=TEXT_POINTS, fontweight="bold")
    _tick(axes, "x", list(range(len(across.values))), across)
    _tick(axes, "y", list(range(len(down.values))), down)
    if cells.size <= MOST_CELLS_WITH_FIGURES:
        _say_figures(axes, cells, is_open, limit, has_sign=not is_first)
    else:
        figure.colorbar(image, ax=axes)


def _say_figures(axes: Axes, cells: NDArray[Any], is_open: NDArray[Any], limit: float, *, has_sign: bool) -> None:
    for (row, column), value in np.ndenumerate(cells):
        sign = "+" if has_sign and value > 0 else ""
        words = f"{sign}{short_figure(float(value))}{' ?' if is_open[row, column] else ''}"
        ink = PAPER if abs(value) > DARK_SHARE * limit else INK
        axes.text(column, row, words, ha="center", va="center", color=ink, fontsize=TEXT_POINTS)
