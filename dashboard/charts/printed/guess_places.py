"""Guess and outcome: a row a plan, a hollow mark for the place guessed, a full one for the place taken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.charts.guess_picture import GUESSED, TAKEN
from dashboard.charts.palette import INK, PAPER, QUIET_INK
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened, wrapped
from dashboard.charts.printed.sheet import Room, bare, rule
from dashboard.charts.scene import Scene
from dashboard.language.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LABEL_SHARE, MOST_LABEL_LINES = 0.3, 3
LINES_A_PLAN, LINES_OF_AXIS = 2.85, 2.4


def most_plans(room: Room, _scene: Scene) -> int:
    """Return how many plans fit, each with words above and below its marks."""
    lines = room.height_inches * POINTS_PER_INCH / room.points / LINE_HEIGHT - LINES_OF_AXIS
    return max(1, int(lines / LINES_A_PLAN))


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    count = len(scene.plans)
    places = scene.frame.pivot_table(index="plan", columns="kind", values="place")
    figures = scene.frame[scene.frame["kind"] == TAKEN].set_index("plan")["figure"]
    for row, plan in enumerate(scene.plans):
        guessed, taken = float(places.loc[plan, GUESSED]), float(places.loc[plan, TAKEN])
        _draw_row(axes, room, scene.number_of(plan), row, guessed, taken, str(figures[plan]))
    last = max(count, len(scene.order))
    axes.set_xlim(0.6, last + 0.4)
    axes.set_xticks(range(1, last + 1))
    axes.set_xlabel(wrapped(scene.axis, room.points, 0.6 * room.width_inches))
    axes.set_ylim(count - 0.4, -0.6)
    labels = [
        shortened(title, room.points, LABEL_SHARE * room.width_inches, MOST_LABEL_LINES)
        for title in scene.plans.values()
    ]
    axes.set_yticks(range(count), labels)
    axes.tick_params(axis="y", length=0)
    rule(axes, "x")
    bare(axes)


def _draw_row(axes: Axes, room: Room, number: int, row: int, guessed: float, taken: float, figure: str) -> None:
    look = room.style.look(number)
    size = room.points**2
    axes.plot([guessed, taken], [row, row], color=look.colour, linewidth=room.line_points, linestyle="--", zorder=1)
    axes.scatter(
        [guessed], [row], s=2.2 * size, marker=look.on_paper, facecolor=PAPER, edgecolor=look.colour,
        linewidths=room.line_points, zorder=2,
    )  # fmt: skip
    axes.scatter([taken], [row], s=0.8 * size, marker=look.on_paper, color=look.colour, zorder=3)
    above, below = (0, 0.9 * room.points), (0, -0.8 * room.points)
    for place, words, offset, ink, weight in (
        (guessed, _(GUESSED), above, QUIET_INK, "normal"),
        (taken, figure, below, INK, "bold"),
    ):
        axes.annotate(
            words, xy=(place, row), xytext=offset, textcoords="offset points", ha="center",
            va="bottom" if offset[1] > 0 else "top", color=ink, weight=weight, fontsize=room.points,
        )  # fmt: skip
