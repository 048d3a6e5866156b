"""What pictures of sweeps share: how many panels a sheet holds, and the frame of each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, wrapped
from dashboard.charts.printed.shapes import HALF_PAGE, Shape
from dashboard.charts.printed.sheet import Room, bare

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from dashboard.charts.sweep_picture import SweepPicture

LEAST_PANEL_INCHES, LEAST_TALL_INCHES = 0.27, 0.24
"""Of one panel, for each point of the size of its letters."""
MOST_PLANS = 6
"""More lines than these cannot be told apart."""
LINES_A_NAME = 1.35
ON_A_SCREEN = replace(HALF_PAGE, name="screen", width_inches=11.0, screen_dots_per_inch=80)
WORDS_INCHES = 1.5
"""For title, caption and foot on that sheet."""
PANEL_TALL_INCHES, PANELS_ACROSS = 2.7, 3
MAP_TALL_INCHES, MAPS_BESIDE = 3.0, 3
"""From so many on, maps stand two beside each other."""
AROUND_ROWS_INCHES, ROW_LETTERS, ROW_PANELS_ACROSS = 1.0, 34, 2
Thing = TypeVar("Thing")


def panels_that_fit(room: Room, count: int, names: int) -> tuple[int, int]:
    """Return how many panels stand beside each other and how many above, at most so many; names stand below them."""
    tall = room.height_inches - names_inches(room, names)
    across = max(1, int(room.width_inches / (LEAST_PANEL_INCHES * room.points)))
    down = max(1, int(tall / (LEAST_TALL_INCHES * room.points)))
    across = min(across, max(1, count))
    if count == across + 1 and across > 2:
        across = math.ceil(count / 2)
    return across, min(down, math.ceil(count / across))


def names_inches(room: Room, names: int) -> float:
    """Return how high the names of the plans stand below the panels."""
    return _names_inches(room.points, names)


def _names_inches(points: float, names: int) -> float:
    return LINES_A_NAME * LINE_HEIGHT * points / POINTS_PER_INCH * names if names > 1 else 0.0


def groups(things: Sequence[Thing], most: int) -> Iterator[Sequence[Thing]]:
    """Yield things in groups of at most so many, about alike."""
    count = math.ceil(len(things) / max(1, most))
    size = math.ceil(len(things) / max(1, count))
    for first in range(0, len(things), size):
        yield things[first : first + size]


def numbered(parts: Sequence[SweepPicture]) -> list[tuple[str, Any]]:
    """Return parts with their names; one alone needs none."""
    return [("", parts[0])] if len(parts) == 1 else [(str(number), part) for number, part in enumerate(parts, 1)]


def dress(axes: Axes, room: Room, heading: str, wide_inches: float) -> None:
    """Put the heading over a panel, if it has one."""
    if heading:
        heading = wrapped(heading, room.points, wide_inches, is_bold=True)
        axes.set_title(heading, loc="left", fontsize=room.points, fontweight="bold")
    bare(axes, keeps=("bottom",))


def shape_for(picture: SweepPicture) -> Shape:
    """Return a sheet for a page on a screen, as high as the whole picture needs."""
    plans = len(picture.plans)
    names = _names_inches(ON_A_SCREEN.text_points, plans)
    if picture.form == "maps":
        maps = len(picture.panels) * plans
        down = maps if maps < MAPS_BESIDE else math.ceil(maps / 2)
        tall = MAP_TALL_INCHES * down
    elif picture.form == "rows":
        lines = sum(max(1 + len(point) // ROW_LETTERS, plans) + 1 for point in picture.points)
        each = lines * LINE_HEIGHT * ON_A_SCREEN.text_points / POINTS_PER_INCH + AROUND_ROWS_INCHES
        tall = each * math.ceil(len(picture.panels) / ROW_PANELS_ACROSS) + names
    else:
        tall = PANEL_TALL_INCHES * math.ceil(len(picture.panels) / PANELS_ACROSS) + names
    return replace(ON_A_SCREEN, height_inches=WORDS_INCHES + tall)
