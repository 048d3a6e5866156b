"""Where the energy went: discs whose area is energy, arrows to the eater; a panel a plan."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from dashboard.charts.energy_picture import DISCS, Disc
from dashboard.charts.palette import INK, PAPER, QUIET_INK
from dashboard.charts.printed.lettering import (
    LINE_HEIGHT,
    NO_BREAK,
    POINTS_PER_INCH,
    height_inches,
    shortened,
    width_inches,
    wrapped,
)
from dashboard.charts.printed.sheet import Room, bare
from dashboard.charts.scene import Scene

if TYPE_CHECKING:
    from matplotlib.axes import Axes

COLUMNS = 4
COLUMN_LETTERS, LETTER_SHARE = 10, 0.62
"""A column is at least so many letters wide; mean width of a letter, of its size."""
LEAST_SHARE = 0.05
LEAST_RADIUS_LETTERS, LARGEST_RADIUS_LETTERS = 0.3, 3.0
"""Radius of the largest disc, in sizes of a letter."""
WORDS_APART_LETTERS = 0.3
"""Between a disc and its words; the head of an arrow to a small disc needs as much."""
GAP_INCHES = 0.12
ARROW_GAP = 0.2
"""Share of the way between two discs that an arrow leaves free at each end, at least."""
MOST_HIDDEN = 0.6
"""An arrow that falls begins no farther off, even beside very wide words."""


@dataclass(frozen=True)
class _Panel:
    """The room of one plan: its size, each disc with its words, and how far the largest disc of each row reaches."""

    wide_points: float
    tall_points: float
    line_points: float
    apart_points: float
    words: dict[Disc, str]
    reach_shares: tuple[float, float, float]

    def _words_points(self, up: int) -> float:
        lines = max((words.count("\n") + 1 for disc, words in self.words.items() if disc.up == up), default=0)
        return lines * self.line_points + self.apart_points

    def _rows_by_column(self) -> list[set[int]]:
        """Return which rows hold a disc in each column: only those of one column share the height."""
        columns = {disc.across for disc in self.words}
        return [{int(disc.up) for disc in self.words if disc.across == column} for column in columns]

    @property
    def radius_points(self) -> float:
        """The radius of the largest disc of all for which words and discs of the fullest column fill the height."""
        room = self.tall_points - GAP_INCHES * POINTS_PER_INCH
        # The rows above and below stand level in all columns.
        return min(
            (room - sum(map(self._words_points, rows))) / (2 * sum(self.reach_shares[up] for up in rows))
            for rows in (*self._rows_by_column(), {0, 2})
        )

    def at(self, disc: Disc, radius: float) -> tuple[float, float]:
        """Return where the middle of a disc stands, from the lower left corner [points]."""
        low, middle, high = (radius * share for share in self.reach_shares)
        bottom, top = self._words_points(0) + low, self.tall_points - self._words_points(2) - high
        below = bottom + low if any({0, 1} <= rows for rows in self._rows_by_column()) else 0.0
        heights = (bottom, max(below + self._words_points(1) + middle, (bottom + top) / 2), top)
        return (disc.across + 0.5) * self.wide_points / COLUMNS, heights[int(disc.up)]


def most_plans(room: Room, scene: Scene) -> int:
    """Return how many plans fit."""
    across = _most_across(room)
    down = 1
    while down < len(scene.plans) and _radius(room, scene, across, down + 1) > LEAST_RADIUS_LETTERS * room.points:
        down += 1
    return across * down


def _most_across(room: Room) -> int:
    return max(1, int(room.width_inches * POINTS_PER_INCH / (COLUMNS * COLUMN_LETTERS * LETTER_SHARE * room.points)))


def draw(room: Room, scene: Scene) -> None:
    """Draw the scene into the room."""
    plans = list(scene.plans)
    across = min(_most_across(room), len(plans))
    down = math.ceil(len(plans) / across)
    panels = room.figure.subplots(down, across, squeeze=False).ravel()
    fitting = max(_radius(room, scene, across, down), LEAST_RADIUS_LETTERS * room.points)
    radius = min(fitting, LARGEST_RADIUS_LETTERS * room.points)
    for axes, plan in zip(panels, plans, strict=False):
        _draw_plan(axes, room, scene, plan, _panel(room, scene, plan, across, down), radius)
    for axes in panels[len(plans) :]:
        axes.set_visible(False)


def _radius(room: Room, scene: Scene, across: int, down: int) -> float:
    """Return the radius of the largest disc: one scale for all plans of the picture, drawn here or not [points]."""
    plans = list(dict.fromkeys(scene.frame["plan"]))
    return min(_panel(room, scene, plan, across, down).radius_points for plan in plans)


def _panel(room: Room, scene: Scene, plan: str, across: int, down: int) -> _Panel:
    frame = scene.frame[scene.frame["plan"] == plan].set_index("measure")
    wide, tall = room.width_inches / across - GAP_INCHES, room.height_inches / down - GAP_INCHES
    if across * down > 1:
        tall -= height_inches("one line", room.points) + GAP_INCHES
    words = {
        disc: wrapped(
            f"{frame.loc[disc.measure, 'words']} {str(frame.loc[disc.measure, 'said']).replace(' ', NO_BREAK)}",
            room.points,
            0.97 * wide / COLUMNS,
        )
        for disc in DISCS
        if disc.measure in frame.index
    }
    shares = scene.frame.groupby("up")["kj"].max().clip(lower=0) / (float(scene.frame["kj"].max()) or 1.0)
    reach = tuple(max(LEAST_SHARE, math.sqrt(float(shares.get(up, 0.0)))) for up in (0, 1, 2))
    size = (wide * POINTS_PER_INCH, tall * POINTS_PER_INCH, LINE_HEIGHT * room.points)
    return _Panel(*size, WORDS_APART_LETTERS * room.points, words, (reach[0], reach[1], reach[2]))


def _title(room: Room, title: str, wide: float) -> str:
    return shortened(title, room.points, 0.95 * wide, 1, is_bold=True)


def _draw_plan(axes: Axes, room: Room, scene: Scene, plan: str, panel: _Panel, reach: float) -> None:
    energies = scene.frame[scene.frame["plan"] == plan].set_index("measure")["kj"]
    largest = float(scene.frame["kj"].max()) or 1.0
    look = room.style.look(scene.number_of(plan))
    if len(scene.plans) > 1:
        title = _title(room, scene.plans[plan], panel.wide_points / POINTS_PER_INCH)
        axes.set_title(title, loc="left", weight="bold", fontsize=room.points)
    axes.set_xlim(0, panel.wide_points)
    axes.set_ylim(0, panel.tall_points)
    axes.set_xticks([])
    axes.set_yticks([])
    bare(axes, keeps=())
    known = {disc.measure: disc for disc in panel.words}
    fill: dict[str, Any] = {"facecolors": PAPER if look.hatch else look.colour, "hatch": look.hatch}
    radii = {disc: reach * math.sqrt(max(0.0, float(energies[disc.measure])) / largest) for disc in known.values()}
    for disc, radius in radii.items():
        x, y = panel.at(disc, reach)
        for eater in [known[name] for name in disc.eaters if name in known]:
            to_x, to_y = panel.at(eater, reach)
            begins = _begins_below(room, panel.words[disc], radius, to_x - x, to_y - y)
            _point_to(axes, room, (x, y), (to_x, to_y), begins, (radius, radii[eater]))
        if radius > 0:
            rim = 0.4 * room.line_points
            axes.scatter([x], [y], s=math.pi * radius**2, edgecolors=look.colour, linewidths=rim, zorder=3, **fill)
        _say(axes, room, panel.words[disc], (x, y), radius, is_on_top=disc.up == 2)


def _begins_below(room: Room, words: str, radius: float, across: float, up: float) -> float:
    """Return the share of its way after which an arrow that falls is clear of the words below its disc."""
    if up >= 0:
        return 0.0
    half = max(width_inches(line, room.points) for line in words.split("\n")) * POINTS_PER_INCH / 2
    down = radius + (WORDS_APART_LETTERS + words.count("\n") + 1) * room.points
    return min(MOST_HIDDEN, half / across, down / -up)


def _point_to(
    axes: Axes,
    room: Room,
    eaten: tuple[float, float],
    eater: tuple[float, float],
    begins: float,
    radii: tuple[float, float],
) -> None:
    across, up = eater[0] - eaten[0], eater[1] - eaten[1]
    away = WORDS_APART_LETTERS * room.points
    first, last = (max(ARROW_GAP, (radius + away) / math.hypot(across, up)) for radius in radii)
    first = max(first, begins)
    start = (eaten[0] + first * across, eaten[1] + first * up)
    end = (eater[0] - last * across, eater[1] - last * up)
    line = {"arrowstyle": "-|>", "color": QUIET_INK, "linewidth": 0.7 * room.line_points, "mutation_scale": room.points}
    line |= {"shrinkA": 0, "shrinkB": 0}
    axes.annotate("", xy=end, xytext=start, arrowprops=line, zorder=1).set_in_layout(False)


def _say(axes: Axes, room: Room, words: str, middle: tuple[float, float], radius: float, *, is_on_top: bool) -> None:
    offset = radius + WORDS_APART_LETTERS * room.points
    text = axes.annotate(
        words,
        xy=middle,
        xytext=(0, offset if is_on_top else -offset),
        textcoords="offset points",
        ha="center",
        va="bottom" if is_on_top else "top",
        fontsize=room.points,
        color=INK,
        linespacing=1.0,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.5},
        zorder=2,
    )
    text.set_in_layout(False)
