"""The season of each plan as strips of days, months along the foot."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from dashboard.charts.calendar_picture import ALL_PLANS
from dashboard.charts.palette import GRID, INK, QUIET_INK
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened, width_inches, wrapped
from dashboard.charts.printed.season_axis import name_months
from dashboard.charts.printed.sheet import Room, bare
from dashboard.charts.scene import Scene
from dashboard.language.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame

TITLE_SHARE = 0.25
THINNEST, THICKEST = 0.22, 0.72
MOST_TITLE_LINES, LINES_OF_AXIS = 3, 3.0
GAP_ROWS = 0.35
"""Between plans."""


def most_plans(room: Room, scene: Scene) -> int:
    """Return how many plans fit: a line for each strip, and for each line of the plan's name."""
    lines = room.height_inches * POINTS_PER_INCH / (LINE_HEIGHT * room.points) - LINES_OF_AXIS
    strips = scene.frame.drop_duplicates(["plan", "words"]).groupby("plan")["words"].count()
    for number, plan in enumerate(scene.plans):
        lines -= max(int(strips.get(plan, 1)), _title_lines(room, scene.plans[plan])) + GAP_ROWS
        if lines < 0:
            return max(1, number)
    return len(scene.plans)


def _title_lines(room: Room, title: str) -> int:
    name = wrapped(title, room.points, TITLE_SHARE * room.width_inches, is_bold=True)
    return min(MOST_TITLE_LINES, name.count("\n") + 1)


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    words_inches = max((width_inches(words, room.points) for words in scene.frame["words"]), default=0.0)
    titles = {**scene.plans, ALL_PLANS: _("All plans")}
    row = 0.0
    places, labels = [], []
    for plan, title in titles.items():
        mine = scene.frame[scene.frame["plan"] == plan]
        strips = list(dict.fromkeys(mine["words"]))
        if not strips and plan == ALL_PLANS:
            continue
        first_row = row
        for words in strips:
            _draw_strip(axes, _colour(room, scene, plan), mine[mine["words"] == words], row)
            places.append(row)
            labels.append(words)
            row += 1
        row = max(row, first_row + _title_lines(room, title))
        _name_plan(axes, room, title, first_row, words_inches, round(row - first_row))
        axes.axhline(row - 0.5 + GAP_ROWS / 2, color=GRID, linewidth=0.8)
        row += GAP_ROWS
    axes.set_ylim(row - 0.5 - GAP_ROWS / 2, -0.6)
    axes.set_yticks(places, labels)
    axes.tick_params(axis="y", length=0)
    days = int(scene.frame["last"].max()) + 1 if len(scene.frame) else 1
    name_months(axes, date.fromisoformat(scene.axis), days, room.points)
    bare(axes)


def _colour(room: Room, scene: Scene, plan: str) -> str:
    return QUIET_INK if plan == ALL_PLANS else room.style.look(scene.number_of(plan)).colour


def _name_plan(axes: Axes, room: Room, title: str, row: float, words_inches: float, lines: int) -> None:
    wide = TITLE_SHARE * room.width_inches
    axes.annotate(
        shortened(title, room.points, wide, lines, is_bold=True),
        xy=(0, row - 0.4),
        xycoords=axes.get_yaxis_transform(),
        xytext=(-(words_inches + wide + 1.2 * room.points / POINTS_PER_INCH) * POINTS_PER_INCH, 0),
        textcoords="offset points",
        ha="left",
        va="top",
        fontsize=room.points,
        weight="bold",
        color=INK,
    )


def _draw_strip(axes: Axes, colour: str, spans: DataFrame, row: float) -> None:
    for first, last, share in zip(spans["first"], spans["last"], spans["share"], strict=True):
        tall = THINNEST + (THICKEST - THINNEST) * share
        axes.barh([row], [last - first + 1], left=first, height=tall, color=colour, edgecolor="none", linewidth=0)
