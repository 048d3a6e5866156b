"""The plans named below a picture, each with its mark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Protocol

from dashboard.charts.printed.lettering import POINTS_PER_INCH, shortened

if TYPE_CHECKING:
    from dashboard.charts.printed.sheet import Room

HANDLE_LETTERS = 4.2
"""Room of a mark before its name, of the size of a letter."""
NAMES_A_COLUMN = 3
"""More names than these stand in two columns."""
MOST_NAME_LINES = 2
GAP_LETTERS = 0.5
"""Above the names, of the size of a letter."""


class Planned(Protocol):
    """A picture with plans in it."""

    @property
    def plans(self) -> Mapping[str, str]:
        """Slug → title."""

    def number_of(self, plan: str) -> int:
        """Return the number that sets a plan's colour and mark."""


def name_plans(room: Room, scene: Planned, beside: Mapping[str, str] | None = None, **look: Any) -> None:
    """Name the plans of a scene below its picture.

    Parameters
    ----------
    beside
        Plan → what is said after its name.
    """
    from matplotlib.lines import Line2D

    handles = []
    for plan in scene.plans:
        mine = room.style.look(scene.number_of(plan))
        style: dict[str, Any] = {"color": mine.colour, "marker": mine.on_paper, "markersize": 0.8 * room.points, **look}
        handles.append(Line2D([], [], **style))
    names = [": ".join(filter(None, (title, (beside or {}).get(plan)))) for plan, title in scene.plans.items()]
    explain(room, handles, names)


def explain(
    room: Room, handles: Sequence[Any], names: Sequence[str], *, most_in_a_column: int = NAMES_A_COLUMN
) -> None:
    """Say at the foot of a room what its marks are, and leave what is above to the drawing.

    The words hang on the figure. Hung on one of several panels, their width would count as that panel's own, and the
    layout would make all panels narrow.
    """
    columns = 1 if len(names) <= most_in_a_column else 2
    letter = room.points / POINTS_PER_INCH
    each = room.width_inches / columns - HANDLE_LETTERS * letter
    words = [shortened(name, room.points, each, MOST_NAME_LINES) for name in names]
    layout: Any = room.figure.get_layout_engine()
    left, bottom, wide, tall = layout.get()["rect"]
    legend = room.figure.legend(
        handles, words, loc="lower left", bbox_to_anchor=(left, bottom), frameon=False, fontsize=room.points,
        ncols=columns, labelspacing=0.35, borderaxespad=0, borderpad=0, columnspacing=1.0, handlelength=2.0,
    )  # fmt: skip
    gap_inches = GAP_LETTERS * letter
    taken = legend.get_window_extent().height / room.figure.bbox.height + gap_inches / room.figure.get_figheight()
    layout.set(rect=(left, bottom + taken, wide, tall - taken))
