"""When it happened: a strip of bars a plan, a bar a week, to one scale and on one clock."""

from __future__ import annotations

from datetime import date

from dashboard.charts.palette import PAPER
from dashboard.charts.picture import axis_ticks
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened
from dashboard.charts.printed.season_axis import name_months
from dashboard.charts.printed.sheet import Room, bare, rule
from dashboard.charts.scene import Scene
from dashboard.charts.weeks_picture import ROOM_ABOVE
from dashboard.language.saying import say_setting
from dashboard.seasons.tracing import WEEK

LINES_A_PLAN, LINES_AROUND = 4.6, 2.0
BAR_SHARE = 0.86
MOST_TICKS = 2


def most_plans(room: Room, _scene: Scene) -> int:
    """Return how many strips fit, each with its name above it."""
    lines = room.height_inches * POINTS_PER_INCH / (LINE_HEIGHT * room.points) - LINES_AROUND
    return max(1, int(lines / LINES_A_PLAN))


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    plans = list(scene.plans)
    panels = room.figure.subplots(len(plans), 1, sharex=True, sharey=True, squeeze=False)[:, 0]
    highest = float(scene.frame["count"].max()) if len(scene.frame) else 1.0
    ticks = axis_ticks(highest, MOST_TICKS)
    for axes, plan in zip(panels, plans, strict=True):
        look = room.style.look(scene.number_of(plan))
        mine = scene.frame[scene.frame["plan"] == plan]
        axes.bar(
            mine["day"], mine["count"], width=BAR_SHARE * WEEK, align="edge", edgecolor=look.colour,
            facecolor=PAPER if look.hatch else look.colour, hatch=look.hatch, linewidth=0.4 * room.line_points,
        )  # fmt: skip
        name = shortened(scene.plans[plan], room.points, 0.88 * room.width_inches, 1, is_bold=True)
        axes.set_title(name, loc="left", weight="bold", fontsize=room.points)
        axes.set_ylim(0, ROOM_ABOVE * highest)
        axes.set_yticks(ticks, [say_setting(tick) for tick in ticks])
        rule(axes, "y")
        bare(axes)
        if len(scene.frame):
            first, days = date.fromisoformat(str(scene.frame["first_day"].iloc[0])), int(scene.frame["days"].iloc[0])
            name_months(axes, first, days, room.points)
