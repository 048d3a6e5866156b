"""A sweep of one setting that rises: a line a plan with its band, a panel a measure."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from dashboard.charts.picture import ticks_between
from dashboard.charts.printed.legend import name_plans
from dashboard.charts.printed.lettering import wrapped
from dashboard.charts.printed.shapes import Style
from dashboard.charts.printed.sheet import Room, new_sheet, rule
from dashboard.charts.printed.sweep_panels import MOST_PLANS, dress, groups, numbered, panels_that_fit
from dashboard.charts.printed.tick_words import name_places
from dashboard.language.saying import say_setting

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame

    from dashboard.charts.sweep_picture import SweepPanel, SweepPicture

ROOM_ABOVE, ROOM_BESIDE = 1.08, 0.06
AXIS_SHARE, LABEL_SHARE = 0.8, 0.42
"""Of a panel's width, beside the figures of its axis; of the room's height, for the words at its side."""
BAND_SHADE = 0.15


def parts_of(picture: SweepPicture, style: Style, foot: str) -> list[tuple[str, SweepPicture]]:
    """Return as few pictures as hold all measures and plans."""
    parts = []
    for plans in groups(list(picture.plans), MOST_PLANS):
        room = new_sheet(picture.title, picture.caption, foot, style)
        across, down = panels_that_fit(room, len(picture.panels), len(plans))
        parts += [picture.only(panels, plans) for panels in groups(picture.panels, across * down)]
    return numbered(parts)


def draw(room: Room, picture: SweepPicture) -> None:
    """Draw the picture into the room."""
    across, down = panels_that_fit(room, len(picture.panels), len(picture.plans))
    down = max(down, math.ceil(len(picture.panels) / across))
    grid = room.figure.subplots(down, across, squeeze=False)
    wide = room.width_inches / across
    for number, axes in enumerate(grid.ravel()):
        if number >= len(picture.panels):
            axes.set_visible(False)
            continue
        panel = picture.panels[number]
        if len(picture.panels) > 1:
            dress(axes, room, f"{panel.heading}, {panel.axis}", AXIS_SHARE * wide)
        else:
            dress(axes, room, "", wide)
            axes.set_ylabel(wrapped(panel.axis, room.points, LABEL_SHARE * room.height_inches))
        _draw_panel(axes, room, picture, panel, wide)
    if len(picture.plans) > 1:
        name_plans(room, picture, linewidth=room.line_points)


def _draw_panel(axes: Axes, room: Room, picture: SweepPicture, panel: SweepPanel, wide_inches: float) -> None:
    setting = picture.varied[0]
    places = [setting.distance(setting.values[0], value) for value in setting.values]
    frame = picture.frame[picture.frame["measure"] == panel.measure]
    for plan in picture.plans:
        mine, look = frame[frame["plan"] == plan].sort_values("point"), room.style.look(picture.number_of(plan))
        axes.fill_between(places, mine["low"], mine["high"], color=look.colour, alpha=BAND_SHADE, linewidth=0)
        for end in ("low", "high"):  # the edges of a band stay when a copier takes its shade
            axes.plot(places, mine[end], color=look.colour, linewidth=0.3 * room.line_points, linestyle=":")
        axes.plot(
            places, mine["mean"], color=look.colour, marker=look.on_paper, markersize=0.6 * room.points,
            linewidth=room.line_points, clip_on=False,
        )  # fmt: skip
    low, high = _scale(axes, frame)
    ticks = ticks_between(low, high)
    axes.set_yticks(ticks, [say_setting(tick) for tick in ticks])
    axes.set_xlabel(wrapped(setting.label, room.points, 0.94 * AXIS_SHARE * wide_inches))
    aside = ROOM_BESIDE * (places[-1] or 1.0)
    axes.set_xlim(-aside, places[-1] + aside)
    rule(axes, "y")
    words = [setting.say(value) for value in setting.values]
    name_places(axes, places, words, room.points, AXIS_SHARE * wide_inches / (places[-1] + 2 * aside))


def _scale(axes: Axes, frame: DataFrame) -> tuple[float, float]:
    figures = frame[["high", "mean"]].to_numpy(dtype=float)
    figures = figures[np.isfinite(figures)]
    low, high = (min(0.0, float(figures.min())), max(0.0, float(figures.max()))) if figures.size else (0.0, 0.0)
    if not high > low:
        high = low + 1.0
    axes.set_ylim(ROOM_ABOVE * low, ROOM_ABOVE * high)
    return low, high
