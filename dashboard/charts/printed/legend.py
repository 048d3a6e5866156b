"""The plans named below a picture, each with its mark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Protocol

from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, shortened

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from dashboard.charts.printed.sheet import Room

HANDLE_LETTERS = 4.2
"""Room of a mark before its name, of the size of a letter."""
NAMES_A_COLUMN = 3
"""More names than these stand in two columns."""
MOST_NAME_LINES = 2


class Planned(Protocol):
    """A picture with plans in it."""

    @property
    def plans(self) -> dict[str, str]:
        """Slug → title."""

    def number_of(self, plan: str) -> int:
        """Return the number that sets a plan's colour and mark."""


def name_plans(
    axes: Axes,
    room: Room,
    scene: Planned,
    beside: Mapping[str, str] | None = None,
    *,
    left_share: float = 0.14,
    lines_down: float = 2.6,
    **look: Any,
) -> None:
    """Name the plans of a scene below its picture.

    Parameters
    ----------
    beside
        Plan → what is said after its name.
    left_share
        Of the width: what stands to the left of the axes.
    lines_down
        How far below the axes, in lines: past the words of the foot.
    """
    from matplotlib.lines import Line2D

    handles = []
    for plan in scene.plans:
        mine = room.style.look(scene.number_of(plan))
        style: dict[str, Any] = {"color": mine.colour, "marker": mine.on_paper, "markersize": 0.8 * room.points, **look}
        handles.append(Line2D([], [], **style))
    names = [": ".join(filter(None, (title, (beside or {}).get(plan)))) for plan, title in scene.plans.items()]
    explain(axes, room, handles, names, left_share=left_share, lines_down=lines_down)


def explain(
    axes: Axes,
    room: Room,
    handles: Sequence[Any],
    names: Sequence[str],
    *,
    left_share: float,
    lines_down: float,
    most_in_a_column: int = NAMES_A_COLUMN,
) -> None:
    """Say below a picture what its marks are."""
    from matplotlib.transforms import ScaledTranslation

    columns = 1 if len(names) <= most_in_a_column else 2
    letter = room.points / POINTS_PER_INCH
    wide = (1 - left_share) * room.width_inches / columns - HANDLE_LETTERS * letter
    words = [shortened(name, room.points, wide, MOST_NAME_LINES if columns == 1 else 1) for name in names]
    down = ScaledTranslation(0, -lines_down * LINE_HEIGHT * letter, axes.figure.dpi_scale_trans)
    axes.legend(
        handles, words, loc="upper left", bbox_to_anchor=(0, 0), bbox_transform=axes.transAxes + down,
        frameon=False, fontsize=room.points, ncols=columns, labelspacing=0.35, borderaxespad=0, borderpad=0,
        columnspacing=1.0, handlelength=2.0,
    )  # fmt: skip
