"""The summary picture: harvest, pests and bird food side by side for each plan, one mark a season."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import pandas as pd

from dashboard.charts.picture import Lane, Panel, Picture, short_number

if TYPE_CHECKING:
    from pandas import DataFrame

PANELS = (
    Panel(
        "Harvest",
        "kilograms in the season",
        (Lane("harvest_kg", "picked"), Lane("marketable_kg", "fit to sell")),
    ),
    Panel("Pests that grow up", "of 100 eggs, this many adults", (Lane("egg_to_adult_share", "", factor=100),)),
    Panel("Pests at their peak", "caterpillars, beetles and bugs alive", (Lane("pests_alive_peak_count", ""),)),
    Panel(
        "Food for birds",
        "grams in the nestling weeks",
        (Lane("bird_food_reachable_g", "in reach"), Lane("bird_food_delivered_g", "fed to nests")),
    ),
)
"""What is drawn, from left to right."""

LOW_QUANTILE, HIGH_QUANTILE = 0.1, 0.9
"""The thick line holds the seasons between these: 8 of 10."""


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
    frame = _tidy(seasons, plans)
    count = int(frame["season"].nunique())
    return Picture(
        title=f"What each plan gave: {garden}",
        caption=_caption(count),
        alt=_alt_sentence(frame, plans, count),
        panels=PANELS,
        plans=dict(plans),
        frame=frame,
        table=_table(frame, plans),
    )


def spread(frame: DataFrame) -> DataFrame:
    """Return mean, low and high over seasons for each panel, lane and plan of a picture's frame."""
    values = frame.groupby(["panel", "lane", "measure", "plan"], sort=False)["value"]
    return pd.DataFrame(
        {"mean": values.mean(), "low": values.quantile(LOW_QUANTILE), "high": values.quantile(HIGH_QUANTILE)}
    ).reset_index()


def _tidy(seasons: DataFrame, plans: Mapping[str, str]) -> DataFrame:
    parts = []
    for panel in PANELS:
        for number, lane in enumerate(panel.lanes):
            rows = seasons[(seasons["measure"] == lane.measure) & seasons["plan"].isin(list(plans))]
            if rows.empty:
                raise KeyError(f"the seasons hold no measure '{lane.measure}'")
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


def _caption(count: int) -> str:
    if count == 1:
        return "One season of a teaching model: luck alone can turn the order round. Not a forecast for your garden."
    return (
        f"Each small mark is one season, {count} for each plan, with the same weather and arrivals for all. "
        "Big mark: the mean. Thick line: 8 of 10 seasons. A teaching model, not a forecast for your garden."
    )


def _alt_sentence(frame: DataFrame, plans: Mapping[str, str], count: int) -> str:
    means = spread(frame).set_index(["measure", "plan"])["mean"]
    said = []
    for slug, title in plans.items():

        def mean(measure: str, plan: str = slug) -> str:
            return short_number(float(means[(measure, plan)]))

        said.append(
            f"{title}: {mean('harvest_kg')} kg picked, {mean('marketable_kg')} kg of it fit to sell, "
            f"{mean('egg_to_adult_share')} of 100 pest eggs grow up, {mean('pests_alive_peak_count')} pests at the "
            f"peak, {mean('bird_food_reachable_g')} g of bird food in reach and {mean('bird_food_delivered_g')} g fed "
            "to nests"
        )
    seasons = "one season" if count == 1 else f"means of {count} seasons"
    return f"Four small charts with a row for each plan, {seasons}. " + "; ".join(said) + "."


def _table(frame: DataFrame, plans: Mapping[str, str]) -> DataFrame:
    figures = spread(frame).set_index(["measure", "plan"])
    many = len(set(frame["season"])) > 1
    columns: dict[str, list[str]] = {"Plan": list(plans.values())}
    for panel in PANELS:
        for lane in panel.lanes:
            name = f"{panel.heading}, {lane.words} ({panel.axis})" if lane.words else f"{panel.heading} ({panel.axis})"
            columns[name] = [_cell(figures.loc[(lane.measure, slug)], many) for slug in plans]
    return pd.DataFrame(columns)


def _cell(figure: pd.Series, many: bool) -> str:
    mean = short_number(float(figure["mean"]))
    if not many:
        return mean
    return f"{mean} ({short_number(float(figure['low']))} to {short_number(float(figure['high']))})"
