"""The summary picture: harvest, pests and bird food side by side for each plan, one mark a season."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

import pandas as pd

from dashboard.charts.picture import NO_FIGURE, Lane, Panel, Picture, short_number

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
        "grams: in reach on a mean day with nestlings; fed to nests in all",
        (Lane("bird_food_reachable_g", "in reach"), Lane("bird_food_delivered_g", "fed in all")),
    ),
)
"""What is drawn, from left to right."""

SPOKEN = {
    "harvest_kg": "{} kg picked",
    "marketable_kg": "{} kg of it fit to sell",
    "egg_to_adult_share": "{} of 100 pest eggs grow up",
    "pests_alive_peak_count": "{} pests at the peak",
    "bird_food_reachable_g": "{} g of bird food in reach on a mean day with nestlings",
    "bird_food_delivered_g": "{} g fed to nests in all",
}
"""How a reader who cannot see the picture is told a figure."""

TABLE_WORDS = {
    "harvest_kg": "Harvest: picked, kg",
    "marketable_kg": "Harvest: fit to sell, kg",
    "egg_to_adult_share": "Pests: of 100 eggs, this many adults",
    "pests_alive_peak_count": "Pests: most alive at once",
    "bird_food_reachable_g": "Birds: food in reach on a mean day with nestlings, g",
    "bird_food_delivered_g": "Birds: fed to nests in all, g",
}
"""The first column of the table under the picture."""

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
    panels = _panels_with_figures(seasons)
    frame = _tidy(seasons, panels, plans)
    count = int(seasons["seed"].nunique())
    return Picture(
        title=f"What each plan gave: {garden}",
        caption=_caption(count, panels),
        alt=_alt_sentence(frame, panels, plans, count),
        panels=panels,
        plans=dict(plans),
        frame=frame,
        table=_table(frame, panels, plans),
    )


def spread(frame: DataFrame) -> DataFrame:
    """Return mean, low and high over seasons for each panel, lane and plan of a picture's frame."""
    values = frame.groupby(["panel", "lane", "measure", "plan"], sort=False)["value"]
    return pd.DataFrame(
        {"mean": values.mean(), "low": values.quantile(LOW_QUANTILE), "high": values.quantile(HIGH_QUANTILE)}
    ).reset_index()


def _panels_with_figures(seasons: DataFrame) -> tuple[Panel, ...]:
    """Return the panels and lanes of which at least one season has a figure; a garden without nests feeds none."""
    known = set(seasons.loc[seasons["value"].notna(), "measure"])
    kept = [replace(panel, lanes=tuple(lane for lane in panel.lanes if lane.measure in known)) for panel in PANELS]
    return tuple(panel for panel in kept if panel.lanes)


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
    missing = ", ".join(panel.heading.lower() for panel in PANELS if panel.heading not in drawn)
    absent = f" No figures in this garden: {missing}." if missing else ""
    if count == 1:
        limits = "luck alone can turn the order round. Not a forecast for your garden."
        return f"One season of a teaching model: {limits}{absent}"
    return (
        f"Each small mark is one season, {count} for each plan, with the same weather and arrivals for all. "
        "Big mark: the mean. Thick line: 8 of 10 seasons. A teaching model, not a forecast for your garden." + absent
    )


def _alt_sentence(frame: DataFrame, panels: tuple[Panel, ...], plans: Mapping[str, str], count: int) -> str:
    means = spread(frame).set_index(["measure", "plan"])["mean"]
    lanes = [lane for panel in panels for lane in panel.lanes]
    said = []
    for slug, title in plans.items():
        figures = [
            SPOKEN[lane.measure].format(short_number(float(means[lane.measure, slug])))
            for lane in lanes
            if (lane.measure, slug) in means.index
        ]
        said.append(f"{title}: {', '.join(figures)}")
    seasons = "one season" if count == 1 else f"means of {count} seasons"
    headings = ", ".join(panel.heading.lower() for panel in panels)
    return f"Small charts with a row for each plan: {headings}; {seasons}. {'; '.join(said)}."


def _table(frame: DataFrame, panels: tuple[Panel, ...], plans: Mapping[str, str]) -> DataFrame:
    figures = spread(frame).set_index(["measure", "plan"])
    many = len(set(frame["season"])) > 1
    columns: dict[str, list[str]] = {"Plan": list(plans.values())}
    for panel in panels:
        for lane in panel.lanes:
            columns[TABLE_WORDS[lane.measure]] = [_cell(figures, lane.measure, slug, many) for slug in plans]
    return pd.DataFrame(columns)


def _cell(figures: DataFrame, measure: str, slug: str, many: bool) -> str:
    if (measure, slug) not in figures.index:
        return NO_FIGURE
    mean, low, high = (short_number(float(figures.loc[(measure, slug), part])) for part in ("mean", "low", "high"))
    return f"{mean} ({low} to {high})" if many else mean
