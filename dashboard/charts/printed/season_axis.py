"""The days of a season along the foot of a picture, marked where months begin."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from dashboard.charts.palette import GRID
from dashboard.language.saying import say_month

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def name_months(axes: Axes, first: date, days: int, points: float) -> None:
    """Mark the first of each month, for a season of so many days from a date on."""
    starts = [day for day in range(days) if (first + timedelta(days=day)).day == 1]
    axes.set_xlim(0, max(1, days))
    axes.set_xticks(starts, [say_month(first + timedelta(days=day)) for day in starts])
    axes.tick_params(axis="x", pad=0.5 * points)
    axes.grid(axis="x", color=GRID, linewidth=0.8)
