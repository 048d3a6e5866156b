"""From a season or a comparison to what is handed over: files, or one JSON record."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

import pandas as pd

from dashboard.charts.imprint import Imprint, garden_words
from dashboard.charts.picture import Picture
from dashboard.charts.plan_titles import PlanTitles
from dashboard.charts.summary import summary_picture
from dashboard.day_words import DAY_WORDS
from dashboard.language.tongue import _
from sim.export import Results, json_bytes
from sim.measures import MEASURES

if TYPE_CHECKING:
    from sim.comparison import Comparison
    from sim.scenario import Scenario
    from sim.season import Season

COLUMN_WORDS = {
    "plan": "name of the plan: what the gardener does",
    "against": "name of the plan that it is set against, season by season",
    "measure": "name of a reported number; the table 'measures' says what it is",
    "unit": "unit of the value",
    "value": "the reported number, in the unit of its measure",
    "seed": "number of the season: same number, same weather, arrivals and luck",
    "mean": "mean over the seasons",
    "low": "lower end of Student's interval for the mean, made to hold the true mean in 19 of 20 such samples; it does "
    "so less often where a few seasons stand far out",
    "high": "upper end of that interval",
    "seasons": "how many seasons",
    "spread": "standard deviation between seasons",
    "difference": "mean over seasons of this plan less the other one",
    "share_ahead": "share of seasons in which this plan did better",
    "verdict": "what the seasons say: ahead, behind, level, or too close to call",
    "more_seasons_needed": "seasons that may settle it, a rough reckoning; 0 when settled, blank when none would do",
    "place": "in the beds, or in the margin beside them",
    "entry": "how it came onto the record",
    "ahead": "seasons in which this plan did better",
    "level": "seasons in which both came out the same",
    "behind": "seasons in which this plan did worse",
    "species": "which insect",
    "stage": "stage of life at the end",
    "fate": "how it left the record: one fate each",
    "count": "how many",
    "words": "what the measure is",
    "better": "which way is better for a gardener: more, less or neither",
    "group": "what the measure is about",
}


def plan_titles(scenario: Scenario, plans: Sequence[str]) -> PlanTitles:
    """Return slug → title of these plans, in this order."""
    titles = {plan.name: plan.title for plan in scenario.plans}
    return PlanTitles({name: _(titles[name]) for name in plans}, scenario.plan_names)


def comparison_picture(seasons: pd.DataFrame, scenario: Scenario, plans: Sequence[str]) -> Picture:
    """Return the summary picture of a comparison's long table of seasons."""
    return summary_picture(seasons, plan_titles(scenario, plans), _(scenario.title))


def comparison_results(comparison: Comparison, scenario: Scenario, plans: Sequence[str]) -> Results:
    """Return every file of a comparison."""
    return Results(
        tables={
            "plans": comparison.table,
            "differences": comparison.paired,
            "seasons": comparison.seasons,
            "daily": daily_table(scenario, plans, comparison.seeds[0]),
            "measures": measures_table(comparison.seasons["measure"]),
        },
        provenance=run_of(comparison, scenario),
        descriptions=COLUMN_WORDS | DAY_WORDS,
        extras=_extras(comparison_picture(comparison.seasons, scenario, plans), scenario, comparison.seeds),
    )


def run_of(comparison: Comparison, scenario: Scenario) -> dict[str, Any]:
    """Return what produced a comparison, with what was done to the garden's weather file so that it could be used."""
    from sim.season import weather_notes

    return {**comparison.provenance, "weather_notes": weather_notes(scenario)}


def daily_table(scenario: Scenario, plans: Sequence[str], season: int) -> pd.DataFrame:
    """Return the days of the first season under each plan, lived once more: a comparison keeps no days."""
    from sim.season import run_season

    tables = []
    for plan in plans:
        days = run_season(scenario, plan=plan, seed=season).daily
        days.insert(0, "seed", season)
        days.insert(0, "plan", plan)
        tables.append(days)
    return pd.concat(tables, ignore_index=True)


def season_results(season: Season, scenario: Scenario, plan: str) -> Results:
    """Return every file of one season."""
    seasons = _as_seasons(season, plan)
    return Results(
        tables={
            "daily": season.daily,
            "summary": seasons[["measure", "value"]].assign(unit=[_unit(name) for name in seasons["measure"]]),
            "fates": season.fates,
            "measures": measures_table(seasons["measure"]),
        },
        provenance=season.provenance,
        descriptions=COLUMN_WORDS | {name: measure.words for name, measure in MEASURES.items()} | DAY_WORDS,
        extras=_extras(comparison_picture(seasons, scenario, [plan]), scenario, [season.provenance["seed"]]),
    )


def comparison_record(comparison: Comparison, scenario: Scenario) -> dict[str, Any]:
    """Return a comparison as plain values for JSON."""
    return {
        "run": run_of(comparison, scenario),
        "plans": plain_rows(comparison.table),
        "differences": plain_rows(comparison.paired),
    }


def season_record(season: Season) -> dict[str, Any]:
    """Return a season as plain values for JSON."""
    summary = {name: _plain(value) for name, value in season.summary.items()}
    return {"run": dict(season.provenance), "summary": summary, "fates": plain_rows(season.fates)}


def _as_seasons(season: Season, plan: str) -> pd.DataFrame:
    rows = [(plan, season.provenance["seed"], name, float(value)) for name, value in season.summary.items()]
    return pd.DataFrame(rows, columns=["plan", "seed", "measure", "value"])


def _extras(picture: Picture, scenario: Scenario, seeds: Sequence[int]) -> dict[str, bytes]:
    """Return the picture in each form, without a day, so that the same run gives the same bytes; and the scenario."""
    from dashboard.charts.printed.pictures import picture_file  # a page shares this file and draws without matplotlib
    from dashboard.charts.printed.shapes import Style
    from dashboard.charts.printed.summary_panels import shape_for
    from sim.season import model_version

    imprint, style = Imprint(garden_words(scenario), seeds, model_version()), Style(shape_for(picture))
    return {
        **{f"summary.{form}": picture_file(picture, form, style, imprint) for form in ("png", "svg", "pdf", "txt")},
        "scenario.json": json_bytes(scenario.model_dump(mode="json")),
    }


def packed(results: Results) -> bytes:
    """Return every file of results in one archive."""
    from dashboard.paper.archive import zipped
    from sim.export import files_of

    return zipped(files_of(results))


def measures_table(names: Iterable[str]) -> pd.DataFrame:
    """Return what each of these measures is: unit, words, which way is better, what it is about."""
    known = [MEASURES[name] for name in dict.fromkeys(names) if name in MEASURES]
    return pd.DataFrame(
        [(known_one.name, known_one.unit, known_one.words, known_one.better, known_one.group) for known_one in known],
        columns=["measure", "unit", "words", "better", "group"],
    )


def _unit(name: str) -> str:
    return MEASURES[name].unit if name in MEASURES else ""


def plain_rows(frame: pd.DataFrame) -> list[dict[str, Any]]:
    """Return a table as rows that JSON can hold."""
    return [{str(name): _plain(value) for name, value in row.items()} for row in frame.to_dict("records")]


def _plain(value: Any) -> Any:
    """Return a value that JSON can hold: what is no number becomes null."""
    plain = value.item() if hasattr(value, "item") else value
    return None if isinstance(plain, float) and not math.isfinite(plain) else plain
