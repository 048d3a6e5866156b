"""What became of a thousand eggs: a row a fate, a column of bars a plan, all to one scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.charts.ends_picture import whole_or_few
from dashboard.charts.palette import INK, PAPER, Look
from dashboard.charts.printed.lettering import POINTS_PER_INCH, shortened, wrapped
from dashboard.charts.printed.sheet import Room, bare
from dashboard.charts.scene import Scene
from dashboard.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame, Series

LABEL_SHARE = 0.3
LEAST_COLUMN_LETTERS = 6.4
"""A column of bars with their figures is at least so many letters wide."""
MOST_COLUMNS = 4
FEW = (0.0, 10.0, 25.0, 50.0, 100.0)
"""Ends of fewer than so many of a thousand under every plan share a row: the first of these with which all rows fit."""
ROOM_FOR_FIGURES = 1.75
HEAD_LINES, MOST_HEAD_LINES = 2.6, 3
LINE_ROOM = 1.3


def most_plans(room: Room, _scene: Scene) -> int:
    """Return how many plans fit."""
    across = int((1 - LABEL_SHARE) * room.width_inches / (LEAST_COLUMN_LETTERS * room.points / POINTS_PER_INCH))
    return max(1, min(MOST_COLUMNS, across))


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    plans = list(scene.plans)
    frame, labels = _rows_that_fit(room, scene.frame)
    heights = _heights(labels)
    end = ROOM_FOR_FIGURES * float(frame["count"].max())
    panels = room.figure.subplots(1, len(plans), sharey=True, squeeze=False)[0]
    head = 0.94 * (1 - LABEL_SHARE) * room.width_inches / len(plans)
    for axes, plan in zip(panels, plans, strict=True):
        title = shortened(scene.plans[plan], room.points, head, MOST_HEAD_LINES, is_bold=True)
        axes.set_title(title, loc="left", weight="bold", fontsize=room.points)
        counts = frame[frame["plan"] == plan].set_index("fate")["count"]
        _draw_bars(axes, room, room.style.look(scene.number_of(plan)), counts, heights, end)
        axes.set_xlim(0, end)
        axes.set_xticks([])
        axes.tick_params(axis="both", length=0)
        bare(axes, keeps=("left",))
    panels[0].set_yticks(list(heights.values()), list(labels.values()))
    panels[0].set_ylim(max(heights.values()) + 0.8, -0.8)


def _draw_bars(axes: Axes, room: Room, look: Look, counts: Series, heights: dict[str, float], end: float) -> None:
    if counts.empty:
        axes.text(0.02 * end, 0, _("no eggs"), va="center", fontsize=room.points, color=INK)
        return
    rows = [heights[fate] for fate in counts.index]
    axes.barh(
        rows, counts, height=0.66, facecolor=PAPER if look.hatch else look.colour, edgecolor=look.colour,
        hatch=look.hatch, linewidth=0.5 * room.line_points,
    )  # fmt: skip
    for row, count in zip(rows, counts, strict=True):
        axes.text(count + 0.02 * end, row, whole_or_few(count), va="center", fontsize=room.points, color=INK)


def _heights(labels: dict[str, str]) -> dict[str, float]:
    """Return how far down each row stands; a label of two lines takes the room of two."""
    lines = [label.count("\n") + 1 for label in labels.values()]
    return {fate: sum(lines[:place]) + (lines[place] - 1) / 2 for place, fate in enumerate(labels)}


def _rows_that_fit(room: Room, frame: DataFrame) -> tuple[DataFrame, dict[str, str]]:
    """Return the rows and their labels; where they would not all fit, fates that are few under every plan share one."""
    most = frame.groupby("fate", sort=False)["count"].max()
    kept, labels = frame, {}
    for few in FEW:
        rare = list(most[most < few].index)
        words = _("{count} rarer ends").format(count=len(rare))
        named = frame.assign(fate=frame["fate"].where(~frame["fate"].isin(rare), words)) if len(rare) > 1 else frame
        kept = named.groupby(["plan", "fate"], sort=False, as_index=False)["count"].sum()
        fates = dict.fromkeys(kept["fate"])
        labels = {fate: wrapped(fate, room.points, LABEL_SHARE * room.width_inches) for fate in fates}
        lines = sum(label.count("\n") + 1 for label in labels.values())
        if (
            lines * room.points * LINE_ROOM / POINTS_PER_INCH
            < room.height_inches - HEAD_LINES * room.points / POINTS_PER_INCH
        ):
            break
    return kept, labels
