"""One thing over the days of a season: a line a plan with its mark, named below; months along the foot."""

from __future__ import annotations

from datetime import date

from dashboard.charts.days_picture import MARK_EVERY_DAYS
from dashboard.charts.picture import axis_ticks
from dashboard.charts.printed.legend import name_plans
from dashboard.charts.printed.lettering import wrapped
from dashboard.charts.printed.season_axis import name_months
from dashboard.charts.printed.sheet import Room, bare, rule
from dashboard.charts.scene import Scene
from dashboard.language.saying import say_setting

ROOM_ABOVE = 1.08
MOST_LINES = 6


def most_plans(_room: Room, _scene: Scene) -> int:
    """Return how many lines can be told apart."""
    return MOST_LINES


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    highest = float(scene.frame["value"].max()) if len(scene.frame) else 0.0
    for number, plan in enumerate(scene.plans):
        look = room.style.look(scene.number_of(plan))
        mine = scene.frame[scene.frame["plan"] == plan]
        every = [day for day in range(len(mine)) if day % MARK_EVERY_DAYS == (3 * number) % MARK_EVERY_DAYS]
        axes.plot(
            mine["day"], mine["value"], color=look.colour, linewidth=room.line_points, marker=look.on_paper,
            markevery=every, markersize=0.7 * room.points,
        )  # fmt: skip
    axes.set_ylim(0, ROOM_ABOVE * (highest if highest > 0 else 1.0))
    ticks = axis_ticks(highest)
    axes.set_yticks(ticks, [say_setting(tick) for tick in ticks])
    axes.set_ylabel(wrapped(scene.axis, room.points, 0.7 * room.height_inches))
    rule(axes, "y")
    bare(axes)
    if len(scene.frame):
        first = date.fromisoformat(str(scene.frame["first_day"].iloc[0]))
        name_months(axes, first, int(scene.frame["day"].max()) + 1, room.points)
        name_plans(room, scene, linewidth=room.line_points)
