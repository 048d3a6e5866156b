"""Who comes first if one answer changes: a row a measure, a column an answer, the mark of the first, a ring for now."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from dashboard.charts.palette import GRID, INK, QUIET_INK
from dashboard.charts.printed.lettering import shortened
from dashboard.charts.printed.sheet import Room, bare
from dashboard.charts.scene import Scene

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LABEL_SHARE = 0.3
MOST_LABEL_LINES = 2
ROOM_AROUND = 0.7


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    rows = list(dict.fromkeys(scene.frame["what"]))
    answers = list(dict.fromkeys(scene.frame["answer"]))
    numbers = {title: scene.number_of(plan) for plan, title in scene.plans.items()}
    for row, what in enumerate(rows):
        axes.axhline(row, color=GRID, linewidth=0.8, zorder=0)
        for one in scene.frame[scene.frame["what"] == what].itertuples():
            _mark(axes, room, answers.index(one.answer), row, numbers.get(one.first), is_now=one.is_now)
    for title in dict.fromkeys(scene.frame["first"]):
        number = numbers.get(title)
        look = room.style.look(number or 0)
        marker, colour = ("P", QUIET_INK) if number is None else (look.on_paper, look.colour)
        label = shortened(title, room.points, 0.75 * room.width_inches, 1)
        axes.scatter([], [], marker=marker, color=colour, s=room.points**2, label=label)
    axes.set_xlim(-ROOM_AROUND, len(answers) - 1 + ROOM_AROUND)
    axes.set_xticks(range(len(answers)), answers)
    axes.xaxis.tick_top()
    axes.set_ylim(len(rows) - 1 + ROOM_AROUND, -ROOM_AROUND)
    labels = [shortened(what, room.points, LABEL_SHARE * room.width_inches, MOST_LABEL_LINES) for what in rows]
    axes.set_yticks(range(len(rows)), labels)
    axes.tick_params(axis="both", length=0)
    bare(axes, keeps=())
    if rows:
        axes.legend(loc="upper left", bbox_to_anchor=(0, 0), frameon=False, fontsize=room.points, ncols=1)


def _mark(axes: Axes, room: Room, column: int, row: int, number: int | None, *, is_now: bool) -> None:
    look = room.style.look(number or 0)
    marker, colour = ("P", QUIET_INK) if number is None else (look.on_paper, look.colour)
    axes.scatter([column], [row], s=room.points**2, marker=marker, color=colour, zorder=2)
    if is_now:
        ring: dict[str, Any] = {"facecolors": "none", "edgecolors": INK, "linewidths": 0.7 * room.line_points}
        axes.scatter([column], [row], s=4.5 * room.points**2, marker="o", zorder=1, **ring)
