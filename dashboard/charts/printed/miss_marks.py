"""What each plan kills beside what its garden's eaters miss: a row each, a line in it for each plan, one scale."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from dashboard.charts.palette import GRID, INK
from dashboard.charts.picture import ticks_between
from dashboard.charts.printed.legend import name_plans
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened
from dashboard.charts.printed.shapes import Style
from dashboard.charts.printed.sheet import Room, bare, new_sheet, rule
from dashboard.charts.scene import Scene
from dashboard.charts.starving_picture import figure_words
from dashboard.language.saying import say_setting
from dashboard.language.tongue import _
from dashboard.seasons.starving import KILLED

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame

LABEL_SHARE, MOST_LABEL_LINES = 0.34, 3
LINES_AROUND = 2.9
"""For the axis."""
LINES_A_PLAN, LINES_BETWEEN_ROWS, LINES_A_NAME = 1.0, 0.4, 1.25
"""In each row, between rows, and below the picture."""
HUNDRED, LEAST_LOW, MOST_TICKS = 100.0, -4.0, 5
ROOM_LEFT, ROOM_RIGHT = 1.06, 124.0


def parts_of(scene: Scene, style: Style, foot: str) -> list[tuple[str, Scene]]:
    """Return the whole; or, where it could not be read, so many plans as fit; or one plan, and so many rows as fit."""
    plans = list(scene.plans)
    most = _most_plans(new_sheet(scene.title, scene.caption, foot, style), scene)
    if most >= len(plans):
        return [("", scene)]
    parts: list[Scene] = []
    for group in (plans[first : first + most] for first in range(0, len(plans), most)):
        part = scene.only(*group)
        room = new_sheet(part.title, part.caption, foot, style)
        parts += [_only_rows(part, rows) for rows in _groups(_heights(room, part, group), _lines_of(room))]
    return [(str(number), part) for number, part in enumerate(parts, 1)]


def _most_plans(room: Room, scene: Scene) -> int:
    plans = list(scene.plans)
    while len(plans) > 1:
        if sum(_heights(room, scene, plans).values()) + LINES_A_NAME * len(plans) <= _lines_of(room):
            break
        plans.pop()
    return len(plans)


def _lines_of(room: Room) -> float:
    return room.height_inches * POINTS_PER_INCH / (LINE_HEIGHT * room.points) - LINES_AROUND


def _groups(heights: dict[str, float], lines: float) -> list[list[str]]:
    """Return the rows in as few groups as fit, about alike."""
    if not heights:
        return []
    count = max(1, math.ceil(sum(heights.values()) / max(lines, max(heights.values()))))
    most = math.ceil(len(heights) / count)
    rows = list(heights)
    return [rows[first : first + most] for first in range(0, len(rows), most)]


def _only_rows(scene: Scene, rows: list[str]) -> Scene:
    """Return the scene with these rows to be drawn; its scale stays that of all."""
    return replace(scene, frame=scene.frame.assign(is_drawn=scene.frame["words"].isin(rows)))


def _rows(scene: Scene) -> list[str]:
    frame = scene.frame[scene.frame["is_drawn"]] if "is_drawn" in scene.frame else scene.frame
    return list(dict.fromkeys(frame["words"]))


def _heights(room: Room, scene: Scene, plans: list[str]) -> dict[str, float]:
    """Return the height of each row that holds something, in lines: that of its name, or of the plans in it."""
    wide = LABEL_SHARE * room.width_inches
    rows = [words for words in _rows(scene) if _drawn(scene, words, plans)]
    return {
        words: LINES_BETWEEN_ROWS
        + max(
            shortened(words, room.points, wide, MOST_LABEL_LINES).count("\n") + 1,
            LINES_A_PLAN * len(_drawn(scene, words, plans)),
        )
        for words in rows
    }


def _drawn(scene: Scene, words: str, plans: list[str]) -> list[tuple[str, Any]]:
    """Return plan and figures of a row; the first plan, against which all are held, has only what it kills."""
    row = scene.frame[scene.frame["words"] == words].drop_duplicates("plan").set_index("plan")
    first = next(iter(scene.order or scene.plans))
    shown = [plan for plan in plans if scene.plans[plan] in row.index]
    is_killed = words == _(KILLED)
    return [
        (plan, row.loc[scene.plans[plan]])
        for plan in shown
        if plan != first or (is_killed and (len(plans) > 1 or row.loc[scene.plans[plan], "of_100"] > 0))
    ]


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    plans = list(scene.plans)
    places, down = [], 0.0
    heights = _heights(room, scene, plans)
    for words, tall in heights.items():
        drawn = _drawn(scene, words, plans)
        for number, (plan, one) in enumerate(drawn):
            middle = down + tall / 2 + LINES_A_PLAN * (number - (len(drawn) - 1) / 2)
            _mark(axes, room, scene.number_of(plan), float(one["of_100"]), middle, is_open=bool(one["is_open"]))
        places.append(down + tall / 2)
        down += tall
        axes.axhline(down, color=GRID, linewidth=0.8, zorder=0)
    _scale(axes, scene.frame)
    axes.set_ylim(max(down, 1.0), 0)
    wide = LABEL_SHARE * room.width_inches
    axes.set_yticks(places, [shortened(words, room.points, wide, MOST_LABEL_LINES) for words in heights])
    axes.axvline(0, color=INK, linewidth=0.6 * room.line_points, zorder=1)
    axes.tick_params(axis="y", length=0)
    rule(axes, "x")
    bare(axes)
    if len(plans) > 1:
        name_plans(room, scene, linestyle="none")


def _scale(axes: Axes, frame: DataFrame) -> None:
    lowest = min(LEAST_LOW, ROOM_LEFT * float(frame["of_100"].min())) if len(frame) else LEAST_LOW
    ticks = ticks_between(lowest, HUNDRED, MOST_TICKS)
    axes.set_xlim(lowest, ROOM_RIGHT)
    axes.set_xticks(ticks, [say_setting(tick) for tick in ticks])
    axes.set_xlabel(_("of each 100"))


def _mark(axes: Axes, room: Room, number: int, of_100: float, height: float, *, is_open: bool) -> None:
    look = room.style.look(number)
    axes.hlines(height, min(0.0, of_100), max(0.0, of_100), color=look.colour, linewidth=0.8 * room.line_points)
    style: dict[str, Any] = {"marker": look.on_paper, "color": look.colour, "zorder": 3}
    axes.scatter([of_100], [height], s=(0.75 * room.points) ** 2, **style)
    axes.annotate(
        figure_words(of_100, is_open=is_open), xy=(max(0.0, of_100), height), xytext=(0.7 * room.points, 0),
        textcoords="offset points", ha="left", va="center_baseline", fontsize=room.points, color=INK,
    )  # fmt: skip
