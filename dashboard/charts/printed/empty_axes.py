"""Axes without a mark, for a learner to draw into: the plans along the foot, the scale up the side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.charts.picture import axis_ticks
from dashboard.charts.printed.lettering import wrapped
from dashboard.charts.printed.season_dots import ROOM_BEYOND
from dashboard.charts.printed.sheet import Room, bare, rule

if TYPE_CHECKING:
    from dashboard.charts.scene import Scene


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene's axes into the room."""
    axes = room.figure.subplots()
    highest = float(scene.frame["value"].max()) if len(scene.frame) else 0.0
    end = ROOM_BEYOND * (highest if highest > 0 else 1.0)
    plans = list(scene.plans.values())
    column = 0.86 * room.width_inches / max(1, len(plans))
    axes.set_xlim(-0.5, len(plans) - 0.5)
    axes.set_xticks(range(len(plans)), [wrapped(title, room.points, 0.94 * column) for title in plans])
    axes.tick_params(axis="x", length=0, pad=room.points / 2)
    ticks = axis_ticks(end / ROOM_BEYOND)
    axes.set_ylim(0, end)
    axes.set_yticks(ticks, [f"{tick:,g}" for tick in ticks])
    axes.set_ylabel(wrapped(scene.axis, room.points, 0.8 * room.height_inches))
    rule(axes, "y")
    bare(axes)
