"""One thing over the days of a season: a line a plan with its mark, named below; months along the foot."""

from __future__ import annotations

from datetime import date, timedelta

from dashboard.charts.days_picture import MARK_EVERY_DAYS
from dashboard.charts.palette import GRID
from dashboard.charts.picture import axis_ticks
from dashboard.charts.printed.lettering import shortened, wrapped
from dashboard.charts.printed.sheet import Room, bare, rule
from dashboard.charts.scene import Scene
from dashboard.saying import say_month, say_setting

ROOM_ABOVE = 1.08
NAMES_A_ROW = 2
MOST_LINES = 6


def most_plans(_room: Room, _scene: Scene) -> int:
    """Return how many lines can be told apart."""
    return MOST_LINES


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    highest = float(scene.frame["value"].max()) if len(scene.frame) else 0.0
    for number, (plan, title) in enumerate(scene.plans.items()):
        look = room.style.look(scene.number_of(plan))
        mine = scene.frame[scene.frame["plan"] == plan]
        every = [day for day in range(len(mine)) if day % MARK_EVERY_DAYS == (3 * number) % MARK_EVERY_DAYS]
        axes.plot(
            mine["day"], mine["value"], color=look.colour, linewidth=room.line_points, marker=look.on_paper,
            markevery=every, markersize=0.7 * room.points,
            label=shortened(title, room.points, 0.36 * room.width_inches, 1),
        )  # fmt: skip
    axes.set_ylim(0, ROOM_ABOVE * (highest if highest > 0 else 1.0))
    ticks = axis_ticks(highest)
    axes.set_yticks(ticks, [say_setting(tick) for tick in ticks])
    axes.set_ylabel(wrapped(scene.axis, room.points, 0.7 * room.height_inches))
    rule(axes, "y")
    bare(axes)
    if len(scene.frame):
        first, last = date.fromisoformat(str(scene.frame["first_day"].iloc[0])), int(scene.frame["day"].max())
        starts = [day for day in range(last + 1) if (first + timedelta(days=day)).day == 1]
        axes.set_xticks(starts, [say_month(first + timedelta(days=day)) for day in starts])
        axes.set_xlim(0, last)
        axes.tick_params(axis="x", pad=0.6 * room.points)
        axes.grid(axis="x", color=GRID, linewidth=0.8)
        columns = NAMES_A_ROW if len(scene.plans) > 1 else 1
        below = -2.9 * room.points / 72 / room.height_inches
        axes.legend(loc="upper left", bbox_to_anchor=(0, below), frameon=False, fontsize=room.points, ncols=columns)
