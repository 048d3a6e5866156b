"""What the picture of a sweep shows: lines over one setting that rises, rows of marks for a list, maps for two."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

import numpy as np
import pandas as pd

from dashboard.bounds import shown_interval
from dashboard.charts.picture import NO_FIGURE, Numbered
from dashboard.language.saying import short_number
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import FIRST_LANGUAGE, _, current_language, many
from sim.comparison import unit_of, words_of
from sim.curve_words import point_in_words
from sim.uncertainty import estimate, held_against

if TYPE_CHECKING:
    from sim.settings import Setting
    from sim.sweep import Point, Sweep

MOST_PANELS = 6
MOST_ROWS = 40
"""More points than these make no rows that can be read."""

Form = Literal["lines", "rows", "maps", "none"]
_HUNDRED = 100.0


@dataclass(frozen=True)
class SweepPanel:
    """One measure: what stands over it, the words and unit of its axis, and the factor from the model's unit."""

    measure: str
    heading: str
    axis: str
    factor: float


@dataclass(frozen=True)
class SweepPicture(Numbered):
    """Everything the picture of a sweep says.

    Parameters
    ----------
    form
        How it is drawn; ``none`` when there are too many points to draw.
    varied
        The settings with more than one value.
    frame
        Tidy: measure, plan, point (its number), mean, low, high (of the mean, 19 in 20, as shown), difference from the
        first plan of the same point and whether it is open; figures in the unit of the panel's axis.
    points
        Each point in words, in the order of their numbers.
    plans
        Slug of each plan → its words.
    seasons
        How many each point has.
    garden
        Title of the scenario.
    order
        All plans of the picture that this one is a part of: a plan keeps its colour and mark.
    rows
        Numbers of the points that are drawn as rows; scales stay those of all.
    """

    title: str
    caption: str
    alt: str
    form: Form
    varied: tuple[Setting, ...]
    panels: tuple[SweepPanel, ...]
    plans: Mapping[str, str]
    points: tuple[str, ...]
    frame: pd.DataFrame
    seasons: int
    garden: str = ""
    order: Mapping[str, str] = field(default_factory=dict)
    rows: tuple[int, ...] = ()

    @property
    def kind(self) -> str:
        """Which drawer puts it on paper."""
        return f"sweep_{self.form}"

    def only(
        self, panels: Sequence[SweepPanel], plans: Sequence[str] | None = None, rows: Sequence[int] = ()
    ) -> SweepPicture:
        """Return the part of some measures, plans and rows; one measure alone stands in the title."""
        kept = {plan: self.plans[plan] for plan in (self.plans if plans is None else plans)}
        return replace(
            self,
            title=self._title_of(panels),
            alt=_alt(self.varied, panels, kept, self.points, self.frame, self.seasons),
            panels=tuple(panels),
            plans=kept,
            order=self.order or self.plans,
            rows=tuple(rows),
        )

    def _title_of(self, panels: Sequence[SweepPanel]) -> str:
        """Return what stands over a part: a measure alone, and what its axes do not say."""
        if len(panels) > 1 or len(self.panels) == 1:
            return self.title
        if self.form == "rows":
            return f"{panels[0].heading}. {_upper('; '.join(setting.label for setting in self.varied))}"
        return f"{panels[0].heading}. {self.garden}"


def sweep_picture(sweep: Sweep, measures: Sequence[str], plans: Mapping[str, str], garden: str) -> SweepPicture:
    """Return the picture of a sweep.

    Parameters
    ----------
    sweep
        The sweep.
    measures
        What to draw; of more than six the first six are drawn.
    plans
        Slug → title, in the order to be drawn.
    garden
        Title of the scenario.
    """
    varied = tuple(setting for setting in sweep.settings if len(setting.values) > 1) or sweep.settings[:1]
    panels = tuple(panel_of(measure) for measure in measures[:MOST_PANELS])
    form = _form(varied, len(sweep.comparisons))
    frame = _frame(sweep, panels, tuple(plans))
    points = tuple(_point_words(sweep, varied, point) for point in sweep.comparisons)
    count = len(sweep.seeds)
    return SweepPicture(
        title=f"{garden}. {_upper('; '.join(setting.label for setting in varied))}",
        caption=_caption(form, count, list(plans.values()), len(measures)),
        alt=_alt(varied, panels, plans, points, frame, count),
        form=form,
        varied=varied,
        panels=panels,
        plans=plans,
        points=points,
        frame=frame,
        seasons=count,
        garden=garden,
    )


def panel_of(measure: str) -> SweepPanel:
    """Return how a measure is drawn: as on the screens where they know it, else by its own words and unit."""
    spoken = BY_MEASURE.get(measure)
    if spoken is not None:
        return SweepPanel(measure, spoken.title, spoken.axis, spoken.factor)
    unit = unit_of(measure)
    if unit == "share":
        return SweepPanel(measure, _upper(_(words_of(measure))), _("of 100"), _HUNDRED)
    return SweepPanel(measure, _upper(_(words_of(measure))), _(unit), 1.0)


def _point_words(sweep: Sweep, varied: Sequence[Setting], point: Point) -> str:
    """Return a point in words; where several settings vary, each value after what it is of."""
    if current_language() == FIRST_LANGUAGE or len(varied) < 2:
        return point_in_words(sweep, point)
    values = dict(zip(sweep.settings, point, strict=True))
    said = [(setting, values[setting]) for setting in varied]
    return ", ".join(one.beside_words.get(value) or f"{one.label}: {one.say(value)}" for one, value in said)


def _form(varied: Sequence[Setting], points: int) -> Form:
    if len(varied) == 1 and varied[0].is_ordered and len(varied[0].values) > 1:
        return "lines"
    if len(varied) == 2:
        return "maps"
    return "rows" if points <= MOST_ROWS else "none"


def _frame(sweep: Sweep, panels: Sequence[SweepPanel], plans: Sequence[str]) -> pd.DataFrame:
    rows = []
    for panel in panels:
        for number, point in enumerate(sweep.comparisons):
            rows += [_row(sweep, panel, plan, number, point) for plan in plans]
    columns = ["measure", "plan", "point", "mean", "low", "high", "difference", "is_open"]
    return pd.DataFrame(rows, columns=columns)


def _row(sweep: Sweep, panel: SweepPanel, plan: str, number: int, point: Point) -> tuple[object, ...]:
    values = sweep.values(point, plan, panel.measure)
    found = estimate(values[~np.isnan(values)])
    against, tally = held_against(values, sweep.values(point, sweep.plans[0], panel.measure), "more")
    ends = shown_interval(panel.measure, found.mean, found.low, found.high)
    figures = (panel.factor * figure for figure in (found.mean, *ends, against.mean))
    return (panel.measure, plan, number, *figures, tally.verdict == "too close to call")


def _caption(form: Form, seasons: int, plans: Sequence[str], measures: int) -> str:
    few = many(
        "Mean of {count} season, the same weather and arrivals everywhere.",
        "Mean of {count} seasons, the same weather and arrivals everywhere.",
        seasons,
    ).format(count=seasons)
    said = {
        "lines": _(
            "The band is made to hold the true mean in 19 of 20 such samples; where a few seasons stand far out, it "
            "does so less often."
        ),
        "rows": _(
            "The bar is made to hold the true mean in 19 of 20 such samples; where a few seasons stand far out, it "
            "does so less often."
        ),
        "maps": _(
            "Maps of other plans: more or less than with '{first}'. White, with a question mark: too close to call."
        ).format(first=plans[0])
        if len(plans) > 1
        else "",
        "none": _("Too many points to draw; the tables hold them all."),
    }[form]
    left_out = _("Drawn: the first {drawn} of {count} measures.").format(drawn=MOST_PANELS, count=measures)
    parts = [
        few,
        said,
        left_out if measures > MOST_PANELS else "",
        _("A teaching model, not a forecast for your garden."),
    ]
    return " ".join(filter(None, parts))


def _alt(
    varied: Sequence[Setting],
    panels: Sequence[SweepPanel],
    plans: Mapping[str, str],
    points: Sequence[str],
    frame: pd.DataFrame,
    seasons: int,
) -> str:
    means = frame.set_index(["measure", "plan", "point"])["mean"]
    parts = []
    for panel in panels:
        for slug, title in plans.items():
            ends = [short_figure(float(means[panel.measure, slug, point])) for point in (0, len(points) - 1)]
            said = _("{what}, {plan}: {first} ({first_point}), {last} ({last_point})")
            ends_said = {"first": ends[0], "first_point": points[0], "last": ends[1], "last_point": points[-1]}
            parts.append(said.format(what=panel.heading, plan=title, **ends_said))
    whole = many(
        "{settings}, {points} points, means of {count} season, each with its setting in brackets. {said}.",
        "{settings}, {points} points, means of {count} seasons, each with its setting in brackets. {said}.",
        seasons,
    )
    settings = "; ".join(setting.label for setting in varied)
    return whole.format(settings=settings, points=len(points), count=seasons, said="; ".join(parts))


def short_figure(value: float) -> str:
    """Return a number as a reader would say it, or that there is none."""
    return _(NO_FIGURE) if value != value else short_number(value)


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]
