"""The summary picture: harvest, pests and bird food side by side for each plan, one mark a season."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import pandas as pd

from dashboard.charts.picture import NO_FIGURE, Lane, Panel, Picture
from dashboard.charts.sentences import FEWEST_FOR_TENTHS
from dashboard.language.saying import in_units, short_number, unit_after, unit_named
from dashboard.language.tongue import _, many, mark

if TYPE_CHECKING:
    from pandas import DataFrame

GROWING_UP = mark("Pests that grow up")
PANELS = (
    Panel(
        mark("Harvest"),
        mark("{unit} in the season"),
        (Lane("harvest_kg", mark("picked")), Lane("marketable_kg", mark("fit to sell"))),
        "kg",
    ),
    Panel(
        GROWING_UP,
        mark("of 100 eggs, this many adults"),
        (Lane("egg_to_adult_share", "", factor=100),),
    ),
    Panel(
        mark("Pests at their peak"),
        mark("caterpillars, beetles and bugs alive"),
        (Lane("pests_alive_peak_count", ""),),
    ),
    Panel(
        mark("Food for birds"),
        mark("{unit} on a mean day with nestlings"),
        (Lane("bird_food_reachable_g", mark("in reach")), Lane("bird_food_in_beds_g", mark("in the beds"))),
        "g",
    ),
)
"""What is drawn, from left to right: words marked, said in the language and units of the moment by ``_said``."""

SPOKEN = {
    "harvest_kg": mark("{figure} {unit} picked"),
    "marketable_kg": mark("{figure} {unit} of it fit to sell"),
    "egg_to_adult_share": mark("{figure} of 100 pest eggs grow up"),
    "pests_alive_peak_count": mark("{figure} pests at the peak"),
    "bird_food_reachable_g": mark("{figure} {unit} of bird food in reach on a mean day with nestlings"),
    "bird_food_in_beds_g": mark("{figure} {unit} of it in the beds and the rest on wild plants beside them"),
}
"""How a reader who cannot see the picture is told a figure."""

TABLE_WORDS = {
    "harvest_kg": mark("Harvest: picked, {unit}"),
    "marketable_kg": mark("Harvest: fit to sell, {unit}"),
    "egg_to_adult_share": mark("Pests: of 100 eggs, this many adults"),
    "pests_alive_peak_count": mark("Pests: most alive at once"),
    "bird_food_reachable_g": mark("Birds: food in reach on a mean day with nestlings, {unit}"),
    "bird_food_in_beds_g": mark("Birds: of it in the beds, {unit}"),
}
"""The first column of the table under the picture."""

LOW_QUANTILE, HIGH_QUANTILE = 0.1, 0.9
"""The thick line holds the seasons between these: 8 of 10; of fewer than ten seasons, which have no such part, all."""


def summary_picture(seasons: DataFrame, plans: Mapping[str, str], garden: str) -> Picture:
    """Return the picture of a comparison.

    Parameters
    ----------
    seasons
        One row a plan, season and measure: plan, seed, measure, value.
    plans
        Slug → title, in the order to be drawn.
    garden
        Title of the scenario.
    """
    panels = _panels_with_figures(seasons)
    frame = _tidy(seasons, panels, plans)
    count = int(seasons["seed"].nunique())
    return Picture(
        title=_("What each plan gave: {garden}").format(garden=garden),
        caption=_caption(count, panels),
        alt=_alt_sentence(frame, panels, plans, count),
        panels=panels,
        plans=plans,
        frame=frame,
        table=_table(frame, panels, plans),
    )


def only_panel(picture: Picture, panel: Panel, plans: Sequence[str]) -> Picture:
    """Return the picture with one of its panels and some of its plans."""
    kept = {plan: picture.plans[plan] for plan in plans}
    frame = picture.frame[(picture.frame["panel"] == panel.heading) & picture.frame["plan"].isin(list(kept))]
    count = int(frame["season"].nunique())
    return replace(
        picture,
        title=f"{panel.heading}. {picture.title}",
        alt=_alt_sentence(frame, (panel,), kept, count),
        panels=(panel,),
        plans=kept,
        frame=frame,
        table=_table(frame, (panel,), kept),
        order=picture.order or picture.plans,
    )


def spread(frame: DataFrame) -> DataFrame:
    """Return mean, low and high over seasons for each panel, lane and plan of a picture's frame."""
    values = frame.groupby(["panel", "lane", "measure", "plan"], sort=False)["value"]
    low, high = (LOW_QUANTILE, HIGH_QUANTILE) if _has_tenths(frame["season"].nunique()) else (0.0, 1.0)
    return pd.DataFrame(
        {"mean": values.mean(), "low": values.quantile(low), "high": values.quantile(high)}
    ).reset_index()


def _has_tenths(seasons: int) -> bool:
    return seasons >= FEWEST_FOR_TENTHS


def _panels_with_figures(seasons: DataFrame) -> tuple[Panel, ...]:
    """Return the panels and lanes of which at least one season has a figure; a garden without nests feeds none."""
    known = set(seasons.loc[seasons["value"].notna(), "measure"])
    kept = [replace(panel, lanes=tuple(lane for lane in panel.lanes if lane.measure in known)) for panel in PANELS]
    return tuple(_said(panel) for panel in kept if panel.lanes)


def _said(panel: Panel) -> Panel:
    """Return the panel with its words, factors and unit as they are said now."""
    lanes = tuple(replace(lane, words=_(lane.words), factor=in_units(lane.factor, panel.unit)) for lane in panel.lanes)
    axis = _(panel.axis).format(unit=unit_named(panel.unit))
    return Panel(_(panel.heading), axis, lanes, unit_after(panel.unit))


def _tidy(seasons: DataFrame, panels: tuple[Panel, ...], plans: Mapping[str, str]) -> DataFrame:
    parts = []
    for panel in panels:
        for number, lane in enumerate(panel.lanes):
            rows = seasons[(seasons["measure"] == lane.measure) & seasons["plan"].isin(list(plans))]
            rows = rows[rows["value"].notna()]
            parts.append(
                pd.DataFrame(
                    {
                        "panel": panel.heading,
                        "lane": number,
                        "measure": lane.measure,
                        "plan": rows["plan"].astype(str),
                        "season": rows["seed"].astype(int),
                        "value": rows["value"].astype(float) * lane.factor,
                    }
                )
            )
    return pd.concat(parts, ignore_index=True)


def _caption(count: int, panels: tuple[Panel, ...]) -> str:
    drawn = {panel.heading for panel in panels}
    missing = ", ".join(_(panel.heading).lower() for panel in PANELS if _(panel.heading) not in drawn)
    said = [
        _("One season of a teaching model: luck alone can turn the order round. Not a forecast for your garden.")
        if count == 1
        else _(
            "Each small mark is one season, {count} for each plan, with the same weather and arrivals for all. "
            "Big mark: the mean. Thick line: {line}. A teaching model, not a forecast for your garden."
        ).format(count=count, line=_("8 of 10 seasons") if _has_tenths(count) else _("from lowest to highest"))
    ]
    if _(GROWING_UP) in drawn:
        said.append(_("Eggs of all kinds of pests are counted together; a plan changes which kinds lay."))
    if missing:
        said.append(_("No figures in this garden: {what}.").format(what=missing))
    return " ".join(said)


def _alt_sentence(frame: DataFrame, panels: tuple[Panel, ...], plans: Mapping[str, str], count: int) -> str:
    means = spread(frame).set_index(["measure", "plan"])["mean"]
    lanes = [(lane.measure, panel.unit) for panel in panels for lane in panel.lanes]
    said = []
    for slug, title in plans.items():
        figures = [
            _(SPOKEN[measure]).format(figure=short_number(float(means[measure, slug])), unit=unit)
            for measure, unit in lanes
            if (measure, slug) in means.index
        ]
        said.append(f"{title}: {', '.join(figures)}")
    return _("Small charts with a row for each plan: {headings}; {seasons}. {said}.").format(
        headings=", ".join(panel.heading.lower() for panel in panels),
        seasons=many("one season", "mean of {count} seasons", count).format(count=count),
        said="; ".join(said),
    )


def _table(frame: DataFrame, panels: tuple[Panel, ...], plans: Mapping[str, str]) -> DataFrame:
    figures = spread(frame).set_index(["measure", "plan"])
    has_spread = len(set(frame["season"])) > 1
    columns: dict[str, list[str]] = {_("Plan"): list(plans.values())}
    for panel in panels:
        for lane in panel.lanes:
            words = _(TABLE_WORDS[lane.measure]).format(unit=panel.unit)
            columns[words] = [_cell(figures, lane.measure, slug, has_spread) for slug in plans]
    return pd.DataFrame(columns)


def _cell(figures: DataFrame, measure: str, slug: str, has_spread: bool) -> str:
    if (measure, slug) not in figures.index:
        return _(NO_FIGURE)
    mean, low, high = (short_number(float(figures.loc[(measure, slug), part])) for part in ("mean", "low", "high"))
    return _("{mean} ({low} to {high})").format(mean=mean, low=low, high=high) if has_spread else mean
