"""What a picture of one question says, apart from how it is drawn: words, alternative text and table never differ."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from dashboard.charts.picture import Numbered
from dashboard.language.tongue import FIRST_LANGUAGE, _, current_language

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True)
class Scene(Numbered):
    """Everything that a picture says.

    Parameters
    ----------
    frame
        Tidy figures that are drawn.
    table
        The same figures to read.
    plans
        Slug of each plan → its words, in the order drawn.
    axis
        Words and unit of the figures.
    kind
        Which drawer puts it on paper.
    order
        All plans of the picture that this one is a part of: a plan keeps its colour and mark.
    """

    title: str
    caption: str
    alt: str
    plans: Mapping[str, str]
    frame: pd.DataFrame
    table: pd.DataFrame
    axis: str = ""
    kind: str = ""
    order: Mapping[str, str] = field(default_factory=dict)

    def only(self, *plans: str) -> Scene:
        """Return the part of some plans; scales stay those of the whole picture."""
        kept = {plan: self.plans[plan] for plan in plans}
        named = ", ".join(kept.values())
        title = f"{self.title}: {named}" if len(plans) == 1 else self.title
        return replace(self, title=title, alt=f"{named}. {self.alt}", plans=kept, order=self.order or self.plans)


def ordinal(place: int) -> str:
    """Return a place as it is said: 1st, 2nd, 3rd, 4th; 1.º, 2.º."""
    if current_language() != FIRST_LANGUAGE:
        return _("{place}th").format(place=place)
    return f"{place}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(place, 'th') }".replace(" ", "")


def ranks(values: Sequence[float]) -> list[int]:
    """Return the rank of each value, 1 for most; equal values share a rank."""
    return [1 + sum(other > own for other in values) for own in values]


def order_words(titles: Sequence[str], places: Sequence[int]) -> str:
    """Return an order in words, most first; those that share a place stand together with an equals sign."""
    groups: dict[int, list[str]] = {}
    for title, place in zip(titles, places, strict=True):
        groups.setdefault(place, []).append(title)
    return _(", then ").join(" = ".join(groups[place]) for place in sorted(groups))
