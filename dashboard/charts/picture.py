"""What a picture shows, apart from how it is drawn, so that screen, print, alternative text and table never differ."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from dashboard.charts.plan_titles import looks_of
from dashboard.language.saying import short_number as short_number
from dashboard.language.tongue import mark

if TYPE_CHECKING:
    import pandas as pd

NO_FIGURE = mark("none")
"""Said where a plan has no figure, such as the share of eggs that grow up where no egg was laid."""


@dataclass(frozen=True)
class Lane:
    """One measure inside a panel: what it is called beside its figure, and the factor from the model's unit."""

    measure: str
    words: str
    factor: float = 1.0


@dataclass(frozen=True)
class Panel:
    """One small chart: its heading, the words and unit of its axis, one or two measures of that unit, and the unit."""

    heading: str
    axis: str
    lanes: tuple[Lane, ...]
    unit: str = ""


class Numbered:
    """A picture of plans, or the part of some of them; every plan keeps its number."""

    plans: Mapping[str, str]
    order: Mapping[str, str]

    def number_of(self, plan: str) -> int:
        """Return the number that sets the plan's colour and mark."""
        return looks_of(self.order or self.plans)[plan]


@dataclass(frozen=True)
class Picture(Numbered):
    """Everything a picture says.

    Parameters
    ----------
    frame
        Tidy: panel, measure, lane (its number in the panel), plan, season, value (in the unit of the panel's axis).
    table
        The same figures to read: a row a plan, a column a measure.
    plans
        Slug of each plan → its words, in the order drawn.
    kind
        Which drawer puts it on paper.
    order
        All plans of the picture that this one is a part of: a plan keeps its colour and mark.
    """

    title: str
    caption: str
    alt: str
    panels: tuple[Panel, ...]
    plans: Mapping[str, str]
    frame: pd.DataFrame
    table: pd.DataFrame
    kind: str = "summary"
    order: Mapping[str, str] = field(default_factory=dict)


def ticks_between(low: float, high: float, most: int = 4) -> list[float]:
    """Return round numbers between two values, 0 among them where they hold it; for a scale that may go below 0."""
    step = axis_ticks(high - low, most)[-1] / max(1, len(axis_ticks(high - low, most)) - 1)
    if not step > 0:
        return [0.0]
    return [step * number for number in range(math.ceil(low / step), math.floor(high / step) + 1)]


def axis_ticks(highest: float, most: int = 4) -> list[float]:
    """Return round numbers from 0 up to the highest value, at most so many beside the 0."""
    if not highest > 0:
        return [0.0]
    rough = highest / most
    size = 10.0 ** math.floor(math.log10(rough))
    step = next(size * part for part in (1, 2, 5, 10) if size * part >= rough)
    return [step * number for number in range(int(highest / step + 0.5) + 1)]
