"""What became of a thousand eggs: a row a fate, a column of bars a plan, all to one scale."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from dashboard.charts.ends_picture import whole_or_few
from dashboard.charts.palette import INK, PAPER, Look
from dashboard.charts.printed.lettering import POINTS_PER_INCH, shortened, wrapped
from dashboard.charts.printed.sheet import Room, bare
from dashboard.charts.scene import Scene
from dashboard.language.tongue import _
from dashboard.seasons.ends import GREW_UP

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame, Series

LABEL_SHARES = (0.3, 0.36)
"""Of the width, for the names of the rows: the first with which all rows fit."""
LEAST_COLUMN_LETTERS = 6.4
"""A column of bars with their figures is at least so many letters wide."""
MOST_COLUMNS = 4
FEW = (0.0, 10.0, 25.0, 50.0, 100.0, 150.0, 200.0, 300.0)
"""Ends of fewer than so many of a thousand under every plan share a row: the first of these with which all rows fit.
Those that grew up always keep their own: they are what the picture is about."""
ROOM_FOR_FIGURES = 1.75
HEAD_LINES, MOST_HEAD_LINES = 3, 4
"""Lines of the plans' names that there is always room for, and most lines of one."""
HEAD_SHARE = 0.94
LINES_LEVEL = 0.4
"""Lines of a name that find room beside what stands there anyway."""
LINE_ROOM = 1.3


def most_plans(room: Room, _scene: Scene) -> int:
    """Return how many plans fit."""
    across = int((1 - LABEL_SHARES[0]) * room.width_inches / (LEAST_COLUMN_LETTERS * room.points / POINTS_PER_INCH))
    return max(1, min(MOST_COLUMNS, across))


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    plans = list(scene.plans)
    frame, labels, heads = _what_fits(room, scene)
    heights = _heights(labels)
    end = ROOM_FOR_FIGURES * float(frame["count"].max())
    panels = room.figure.subplots(1, len(plans), sharey=True, squeeze=False)[0]
    for axes, plan in zip(panels, plans, strict=True):
        axes.set_title(heads[plan], loc="left", weight="bold", fontsize=room.points)
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
    lines = [_lines_of(label) for label in labels.values()]
    return {fate: sum(lines[:place]) + (lines[place] - 1) / 2 for place, fate in enumerate(labels)}


def _what_fits(room: Room, scene: Scene) -> tuple[DataFrame, dict[str, str], dict[str, str]]:
    """Return rows, their labels and the plans' names: the first way to set them in which nothing lies on the next."""
    for few, share in itertools.product(FEW, LABEL_SHARES):
        kept = _few_in_one_row(scene.frame, few)
        labels = {fate: wrapped(fate, room.points, share * room.width_inches) for fate in dict.fromkeys(kept["fate"])}
        wide = HEAD_SHARE * (1 - share) * room.width_inches / len(scene.plans)
        heads = {
            plan: shortened(title, room.points, wide, MOST_HEAD_LINES, is_bold=True)
            for plan, title in scene.plans.items()
        }
        head_lines = max(HEAD_LINES, *map(_lines_of, heads.values()))
        room_lines = room.height_inches * POINTS_PER_INCH / room.points - head_lines + LINES_LEVEL
        if LINE_ROOM * sum(map(_lines_of, labels.values())) < room_lines:
            break
    return kept, labels, heads


def _lines_of(words: str) -> int:
    return words.count("\n") + 1


def _few_in_one_row(frame: DataFrame, few: float) -> DataFrame:
    """Return the rows, those of fewer than so many under every plan in one, but for those that grew up."""
    most = frame.groupby("fate", sort=False)["count"].max()
    rare = [fate for fate in most[most < few].index if fate != _(GREW_UP)]
    words = _("{count} rarer ends").format(count=len(rare))
    named = frame.assign(fate=frame["fate"].where(~frame["fate"].isin(rare), words)) if len(rare) > 1 else frame
    return named.groupby(["plan", "fate"], sort=False, as_index=False)["count"].sum()
