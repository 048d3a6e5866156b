"""Nets and sprays: a row a plan, a bar while some bed lies under a net, a tick on each day with a spray."""

from __future__ import annotations

from datetime import date
from typing import Any

from dashboard.charts.days_picture import NET, SPRAY
from dashboard.charts.palette import GRID, INK, PAPER
from dashboard.charts.printed.legend import explain
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened
from dashboard.charts.printed.season_axis import name_months
from dashboard.charts.printed.sheet import Room, bare
from dashboard.charts.scene import Scene
from dashboard.language.tongue import _

LABEL_SHARE, MOST_LABEL_LINES = 0.36, 3
LEAST_LINES_A_PLAN, LINES_BETWEEN, LINES_AROUND = 1.6, 0.4, 3.2
BAR_LETTERS, TICK_LETTERS = 1.4, 2.6
"""Heights of a bar and a tick, of the size of a letter, where rows leave them the room."""


def most_plans(room: Room, scene: Scene) -> int:
    """Return how many rows fit."""
    lines = room.height_inches * POINTS_PER_INCH / (LINE_HEIGHT * room.points) - LINES_AROUND
    needed = [max(LEAST_LINES_A_PLAN, one.count("\n") + 1) + LINES_BETWEEN for one in _labels(room, scene)]
    return max(1, int(lines / max(needed)))


def _labels(room: Room, scene: Scene) -> list[str]:
    wide = LABEL_SHARE * room.width_inches
    return [shortened(title, room.points, wide, MOST_LABEL_LINES) for title in scene.plans.values()]


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    row_letters = POINTS_PER_INCH * room.height_inches / room.points / (len(scene.plans) + 1)
    bar, tick = (min(share, letters / row_letters) for share, letters in ((0.5, BAR_LETTERS), (0.8, TICK_LETTERS)))
    for row, (plan, title) in enumerate(scene.plans.items()):
        colour = room.style.look(scene.number_of(plan)).colour
        mine = scene.frame[scene.frame["plan"] == title].drop_duplicates(["deed", "day"])
        axes.axhline(row, color=GRID, linewidth=0.8, zorder=0)
        nets, sprays = mine[mine["deed"] == NET], mine[mine["deed"] == SPRAY]
        net: dict[str, Any] = {"facecolor": PAPER, "edgecolor": colour, "hatch": "////"}
        axes.barh(
            [row] * len(nets), nets["end"] - nets["day"], left=nets["day"], height=bar,
            linewidth=0.6 * room.line_points, zorder=2, **net,
        )  # fmt: skip
        axes.vlines(
            sprays["day"] + 1 / 2, row - tick / 2, row + tick / 2, color=colour,
            linewidth=0.9 * room.line_points, zorder=3,
        )  # fmt: skip
    axes.set_ylim(len(scene.plans) - 0.5, -0.5)
    axes.set_yticks(range(len(scene.plans)), _labels(room, scene))
    axes.tick_params(axis="y", length=0)
    first, last = (date.fromisoformat(day) for day in scene.axis.split("/"))
    name_months(axes, first, (last - first).days + 1, room.points)
    axes.xaxis.tick_top()
    axes.tick_params(axis="x", length=0)
    bare(axes, keeps=())
    _explain(room)


def _explain(room: Room) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    net = Patch(facecolor=PAPER, edgecolor=INK, hatch="////")
    style: dict[str, Any] = {"color": INK, "linestyle": "none", "markeredgewidth": 0.9 * room.line_points}
    spray = Line2D([], [], marker="|", markersize=1.1 * room.points, **style)
    explain(room, [net, spray], [_(NET), _(SPRAY)], most_in_a_column=1)
