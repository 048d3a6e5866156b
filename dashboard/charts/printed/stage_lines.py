"""Survival, stage by stage: a line a plan from a thousand eggs down to adults, who are counted beside its name."""

from __future__ import annotations

from dashboard.charts.ends_picture import whole_or_few
from dashboard.charts.printed.legend import name_plans
from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, wrapped
from dashboard.charts.printed.sheet import Room, bare, rule
from dashboard.charts.printed.tick_words import name_places
from dashboard.charts.scene import Scene
from dashboard.language.saying import say_setting
from dashboard.language.tongue import _
from dashboard.seasons.ends import A_THOUSAND

MOST_LINES = 6
LINES_OF_PICTURE = 9
"""Lines of letters that the picture itself needs, its names below not counted."""
TICKS = 4
AXIS_SHARE = 0.84
ROOM_BESIDE = 0.3


def most_plans(room: Room, _scene: Scene) -> int:
    """Return how many lines can be told apart and named."""
    lines = int(room.height_inches * POINTS_PER_INCH / (LINE_HEIGHT * room.points)) - LINES_OF_PICTURE
    return max(1, min(MOST_LINES, lines))


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    frame = scene.frame
    stages = list(dict.fromkeys(frame["stage"]))
    grown = {}
    for plan, title in scene.plans.items():
        mine = frame[frame["plan"] == title].drop_duplicates("stage")
        look = room.style.look(scene.number_of(plan))
        axes.plot(
            [stages.index(stage) for stage in mine["stage"]], mine["of_1000"], color=look.colour,
            linewidth=room.line_points, marker=look.on_paper, markersize=0.8 * room.points, clip_on=False,
        )  # fmt: skip
        last = float(mine["of_1000"].iloc[-1]) if len(mine) else 0.0
        grown[plan] = _("{count} grow up").format(count=whole_or_few(last)) if len(mine) else _("no eggs")
    span = max(1, len(stages) - 1) + 2 * ROOM_BESIDE
    axes.set_xlim(-ROOM_BESIDE, span - ROOM_BESIDE)
    name_places(axes, range(len(stages)), stages, room.points, AXIS_SHARE * room.width_inches / span)
    ticks = [A_THOUSAND * tick / TICKS for tick in range(TICKS + 1)]
    axes.set_ylim(0, A_THOUSAND)
    axes.set_yticks(ticks, [say_setting(tick) for tick in ticks])
    axes.set_ylabel(wrapped(scene.axis, room.points, 0.6 * room.height_inches))
    axes.tick_params(axis="x", pad=0.7 * room.points)
    rule(axes, "y")
    bare(axes)
    name_plans(room, scene, grown, linewidth=room.line_points)
