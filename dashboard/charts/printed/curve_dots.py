"""What if: one choice along the foot, a dot a season, the same season joined, a thick line for the means."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from dashboard.charts.curve_picture import ROOM_ABOVE
from dashboard.charts.palette import INK, PAPER, QUIET_INK
from dashboard.charts.picture import axis_ticks
from dashboard.charts.printed.lettering import wrapped
from dashboard.charts.printed.sheet import Room, bare, rule
from dashboard.charts.printed.tick_words import name_places, placed
from dashboard.charts.scene import Scene
from dashboard.charts.seasons_picture import MOST_JOINED
from dashboard.language.saying import say_setting, short_number

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame, Series

AXIS_SHARE = 0.86
ROOM_BESIDE = 0.08
"""At each side, of the length between the ends."""
WORDS_ABOVE = 0.75
"""How far the figure of a mean stands above it, of the size of a letter."""
LOOK = 1
"""The plan that is changed is the second of two everywhere on that screen."""


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    axes = room.figure.subplots()
    frame = scene.frame
    words = dict(zip(frame["at"], frame["words"], strict=True))
    places = sorted(words)
    first, last = (places[0], places[-1]) if places else (0.0, 1.0)
    aside = ROOM_BESIDE * ((last - first) or 1.0)
    span, wide = last - first + 2 * aside, AXIS_SHARE * room.width_inches
    highest = float(frame["value"].max()) if len(frame) else 0.0
    _draw_seasons(axes, room, frame)
    means = frame.groupby("at")["value"].mean()
    _draw_means(axes, room, means)
    now = [places.index(at) for at in frame.loc[frame["is_now"], "at"].unique()]
    for place in (places[number] for number in now):
        ring: dict[str, Any] = {"facecolors": "none", "edgecolors": INK, "linewidths": 0.7 * room.line_points}
        axes.scatter([place], [means[place]], s=(1.5 * room.points) ** 2, marker="o", zorder=5, **ring)
    axes.set_xlim(first - aside, last + aside)
    name_places(axes, places, [words[place] for place in places], room.points, wide / span, now)
    axes.set_xlabel(wrapped(str(scene.table.columns[0]), room.points, 0.8 * wide))
    ticks = axis_ticks(highest)
    axes.set_ylim(0, ROOM_ABOVE * (highest if highest > 0 else 1.0))
    axes.set_yticks(ticks, [say_setting(tick) for tick in ticks])
    axes.set_ylabel(wrapped(scene.axis, room.points, 0.7 * room.height_inches))
    _say_means(axes, room, means, wide / span, now)
    rule(axes, "y")
    bare(axes)


def _draw_seasons(axes: Axes, room: Room, frame: DataFrame) -> None:
    style: dict[str, Any] = {"facecolors": "none", "edgecolors": QUIET_INK, "linewidths": 0.4 * room.line_points}
    axes.scatter(frame["at"], frame["value"], s=(0.45 * room.points) ** 2, zorder=2, clip_on=False, **style)
    if frame["season"].nunique() <= MOST_JOINED:
        for _season, mine in frame.groupby("season"):
            along = mine.sort_values("at")
            axes.plot(along["at"], along["value"], color=QUIET_INK, linewidth=0.6, alpha=0.5, zorder=1)


def _draw_means(axes: Axes, room: Room, means: Series) -> None:
    look = room.style.look(LOOK)
    axes.plot(
        means.index, means.to_numpy(), color=look.colour, linewidth=1.2 * room.line_points, marker=look.on_paper,
        markersize=0.75 * room.points, zorder=3, clip_on=False,
    )  # fmt: skip


def _say_means(axes: Axes, room: Room, means: Series, inches_a_unit: float, first: list[int]) -> None:
    """Write the means above their marks, as many as do not run into each other."""
    figures = [short_number(float(mean)) for mean in means]
    kept = placed(list(means.index), figures, room.points, inches_a_unit, first, lines=1)
    for place, mean, words in zip(means.index, means, kept, strict=True):
        if words:
            axes.annotate(
                words, xy=(float(place), float(mean)), xytext=(0, WORDS_ABOVE * room.points),
                textcoords="offset points", ha="center", va="bottom", fontsize=room.points, weight="bold", color=INK,
                bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.5}, zorder=4,
            )  # fmt: skip
