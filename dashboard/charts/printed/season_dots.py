"""One measure under each plan, a dot a season: plans side by side, or in rows where their names need the room."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from dashboard.charts.palette import INK, QUIET_INK
from dashboard.charts.picture import NO_FIGURE, axis_ticks
from dashboard.charts.printed.lettering import (
    LINE_HEIGHT,
    POINTS_PER_INCH,
    height_inches,
    shortened,
    width_inches,
    wrapped,
)
from dashboard.charts.printed.sheet import Room, bare, rule, say_on_paper
from dashboard.charts.scene import Scene
from dashboard.charts.seasons_picture import MOST_JOINED
from dashboard.language.saying import say_setting, short_number
from dashboard.language.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ROOM_BEYOND = 1.1
MOST_LABEL_LINES = 4
LINES_AROUND_ROWS = 4.5
"""Above the rows the word over the means; below them figures and one line of words."""
NARROW_INCHES = 5.0
"""Below this width the words of the axis lie above the columns: standing beside them, they push names together."""
ROW_LABEL_SHARE = 0.34
MEAN_BAR_REACH = 0.2
"""Half the length of the bar of a mean, of the distance between plans."""
WORDS_BESIDE = 0.24
LEAST_ROOM_BESIDE_INCHES = 0.2
AXIS_FIGURES = 1.3
"""Room that the axis takes, of the width of its widest figure: with five places names would run into each other."""


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    highest = float(scene.frame["value"].max()) if len(scene.frame) else 0.0
    end = ROOM_BEYOND * (highest if highest > 0 else 1.0)
    labels = _column_labels(room, scene, end)
    stands = labels is not None
    _dress(axes, room, scene, end, labels)
    if scene.frame["season"].nunique() <= MOST_JOINED:
        _join(axes, scene, stands=stands)
    for place, plan in enumerate(scene.plans):
        _draw_plan(axes, room, scene, plan, place, end, stands=stands)


def _column_labels(room: Room, scene: Scene, end: float) -> list[str] | None:
    """Return the plans' names in short lines, or None where they do not fit side by side."""
    share = 0.84 if _is_narrow(room) else 0.9
    beside = AXIS_FIGURES * max(width_inches(say_setting(tick), room.points) for tick in axis_ticks(end / ROOM_BEYOND))
    column = min(share * room.width_inches, room.width_inches - beside) / max(1, len(scene.plans))
    widest_word = max(width_inches(word, room.points) for title in scene.plans.values() for word in title.split())
    labels = [wrapped(title, room.points, 0.94 * column) for title in scene.plans.values()]
    has_room = column * (1 - 2 * WORDS_BESIDE) > LEAST_ROOM_BESIDE_INCHES and widest_word <= 0.94 * column
    return labels if has_room and max(label.count("\n") for label in labels) <= MOST_LABEL_LINES - 1 else None


def _is_narrow(room: Room) -> bool:
    return room.width_inches < NARROW_INCHES


def _dress(axes: Axes, room: Room, scene: Scene, end: float, labels: list[str] | None) -> None:
    places = range(len(scene.plans))
    ticks = axis_ticks(end / ROOM_BEYOND)
    figures = [say_setting(tick) for tick in ticks]
    if labels is not None:
        axes.set_xlim(-0.5, len(places) - 0.5)
        axes.set_xticks(list(places), labels)
        axes.tick_params(axis="x", length=0, pad=room.points / 2)
        axes.set_ylim(0, end)
        axes.set_yticks(ticks, figures)
        standing = room.height_inches - height_inches(max(labels, key=lambda label: label.count("\n")), room.points)
        if _is_narrow(room):
            axes.set_title(wrapped(scene.axis, room.points, 0.86 * room.width_inches), loc="left", fontsize=room.points)
        else:
            axes.set_ylabel(wrapped(scene.axis, room.points, 0.8 * standing))
        rule(axes, "y")
        bare(axes)
        return
    foot = wrapped(scene.axis, room.points, 0.6 * room.width_inches)
    others = LINES_AROUND_ROWS + foot.count("\n")
    rows_points = room.height_inches * POINTS_PER_INCH - others * LINE_HEIGHT * room.points
    lines = int(rows_points / max(1, len(places)) / (LINE_HEIGHT * room.points))
    lines = max(1, min(MOST_LABEL_LINES, lines))
    names = [
        shortened(title, room.points, ROW_LABEL_SHARE * room.width_inches, lines) for title in scene.plans.values()
    ]
    axes.set_ylim(len(places) - 0.5, -0.5)
    axes.set_yticks(list(places), names)
    axes.tick_params(axis="y", length=0)
    axes.set_xlim(0, end)
    axes.set_xticks(ticks, figures)
    axes.set_xlabel(foot)
    rule(axes, "x")
    bare(axes)
    at_end: dict[str, Any] = {"xycoords": "axes fraction", "textcoords": "offset points", "color": INK}
    away = (0.4 * room.points, 0.4 * room.points)
    axes.annotate(_("mean"), (1, 1), xytext=away, ha="left", va="bottom", fontsize=room.points, **at_end)


def _join(axes: Axes, scene: Scene, *, stands: bool) -> None:
    wide = scene.frame.pivot_table(index="season", columns="plan", values="value")
    wide = wide.reindex(columns=list(scene.plans))
    for _season, values in wide.iterrows():
        along = list(range(len(values)))
        x, y = (along, values) if stands else (values, along)
        axes.plot(x, y, color=QUIET_INK, linewidth=0.7, alpha=0.6, zorder=1)


def _draw_plan(axes: Axes, room: Room, scene: Scene, plan: str, place: int, end: float, *, stands: bool) -> None:
    values = scene.frame.loc[scene.frame["plan"] == plan, "value"].to_numpy()
    look = room.style.look(scene.number_of(plan))
    if not len(values):
        at: tuple[float, float] = (place, 0.04 * end) if stands else (0.04 * end, place)
        say_on_paper(axes, *at, _(NO_FIGURE), room.points, ha="center" if stands else "left", va="center", color=INK)
        return
    along = [place] * len(values)
    x, y = (along, values) if stands else (values, along)
    # Hollow marks let dots that share a place be counted, in grey too.
    dots: dict[str, Any] = {"facecolors": "none", "edgecolors": look.colour, "linewidths": 0.5 * room.line_points}
    axes.scatter(x, y, s=(0.62 * room.points) ** 2, marker=look.on_paper, zorder=2, clip_on=False, **dots)
    mean = float(values.mean())
    bar = axes.hlines if stands else axes.vlines
    ends = (place - MEAN_BAR_REACH, place + MEAN_BAR_REACH)
    bar([mean], *ends, color=look.colour, linewidth=1.8 * room.line_points, zorder=3)
    words: dict[str, Any] = {"weight": "bold", "color": INK, "zorder": 4}
    if stands:
        say_on_paper(axes, place + WORDS_BESIDE, mean, short_number(mean), room.points, ha="left", va="center", **words)
    else:
        # In rows there is no room beside the marks: the figure stands at the row's end, where no mark lies.
        axes.annotate(
            short_number(mean), (1, place), xycoords=("axes fraction", "data"), xytext=(0.4 * room.points, 0),
            textcoords="offset points", ha="left", va="center", fontsize=room.points, annotation_clip=False, **words,
        )  # fmt: skip
