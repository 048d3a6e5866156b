"""From a sweep to what is printed and handed over: tables, sentences, files, or one JSON record."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from dashboard.charts.imprint import Imprint, garden_words
from dashboard.charts.sweep_picture import SweepPicture, sweep_picture
from dashboard.language.tongue import _
from dashboard.results import COLUMN_WORDS, measures_table, plain_rows, plan_titles
from sim.curve_words import curve_in_words, plans_in_words, point_in_words, too_few_in_words
from sim.export import Results, json_bytes

if TYPE_CHECKING:
    from datetime import date

    import pandas as pd

    from dashboard.charts.printed.shapes import Style
    from sim.scenario import Scenario
    from sim.sweep import Sweep

ALONG_WORDS = {
    "difference": "mean over seasons; in 'along' the same plan here less at the first point, in 'plans' this plan "
    "less the other one here",
    "against": "name of the plan that it is set against at the same point",
    "verdict": "what the seasons say: ahead, behind, level, or too close to call",
}


def sentences(sweep: Sweep, measures: Sequence[str]) -> list[str]:
    """Return what the curves say: each measure under each plan, and the plans against the first."""
    untouched = [plan for plan in sweep.plans if _is_untouched(sweep, measures, plan)]
    warning = too_few_in_words(sweep)
    said = [warning] if warning else []
    for measure in measures:
        said += [curve_in_words(sweep, measure, plan) for plan in sweep.plans if plan not in untouched]
        said += [plans_in_words(sweep, measure, plan) for plan in sweep.plans[1:]]
    return said + [f"'{plan}' is not touched by this: its figures are the same at every point." for plan in untouched]


def _is_untouched(sweep: Sweep, measures: Sequence[str], plan: str) -> bool:
    """Return whether a plan gives the same at every point; a setting of another plan does not change it."""
    first, *others = sweep.comparisons
    return bool(others) and all(
        np.array_equal(sweep.values(first, plan, measure), sweep.values(point, plan, measure), equal_nan=True)
        for measure in measures
        for point in others
    )


def provenance(sweep: Sweep, scenario: Scenario, changes: Sequence[str]) -> dict[str, Any]:
    """Return what produced these numbers, values changed beforehand and what was done to the weather among them."""
    from sim.season import weather_notes

    return {**sweep.provenance, "set": list(changes), "weather_notes": weather_notes(scenario)}


def record(sweep: Sweep, scenario: Scenario, measures: Sequence[str], changes: Sequence[str] = ()) -> dict[str, Any]:
    """Return the measures that were asked for as plain values for JSON."""
    return {
        "run": provenance(sweep, scenario, changes),
        "points": plain_rows(_only(sweep.table, measures)),
        "along": plain_rows(_only(sweep.along, measures)),
        "plans": plain_rows(_only(sweep.paired, measures)),
        "sentences": sentences(sweep, measures),
    }


def results(
    sweep: Sweep,
    scenario: Scenario,
    measures: Sequence[str],
    changes: Sequence[str] = (),
    pictures: Mapping[str, bytes] | None = None,
) -> Results:
    """Return every file of a sweep; its tables hold every measure, its sentences those asked for."""
    run = provenance(sweep, scenario, changes)
    return Results(
        tables={
            "sweep": sweep.table,
            "along": sweep.along,
            "plans": sweep.paired,
            "seasons": sweep.seasons,
            "measures": measures_table(sweep.measures),
        },
        provenance=run,
        descriptions=COLUMN_WORDS | ALONG_WORDS | {setting.name: setting.label for setting in sweep.settings},
        extras={
            "sentences.txt": "".join(f"{said}\n" for said in sentences(sweep, measures)).encode(),
            "scenario.json": json_bytes(scenario.model_dump(mode="json")),
            **(pictures or {}),
        },
    )


def picture_of(sweep: Sweep, scenario: Scenario, measures: Sequence[str]) -> SweepPicture:
    """Return the picture of the measures that were asked for."""
    return sweep_picture(sweep, measures, plan_titles(scenario, sweep.plans), _(scenario.title))


def files_of_picture(
    sweep: Sweep, scenario: Scenario, measures: Sequence[str], name: str, styles: Sequence[Style], day: date | None
) -> dict[str, bytes]:
    """Return the picture in every form, with its words beside it, in the language of the moment.

    Where there are too many points to draw, or no figures, the words come alone.

    Parameters
    ----------
    name
        With which the names of the files begin.
    styles
        Sizes, each in colour or in grey.
    day
        To print at the foot; None leaves it out.
    """
    from dashboard.charts.printed.pictures import FORMS, picture_files

    picture = picture_of(sweep, scenario, measures)
    drawn_in = styles if picture.form != "none" and picture.panels else ()
    imprint = imprint_of(sweep, scenario, day)
    return dict(picture_files(picture, name, drawn_in, imprint, FORMS))


def imprint_of(sweep: Sweep, scenario: Scenario, day: date | None) -> Imprint:
    """Return the small line at the foot of a picture of the sweep."""
    from sim.season import model_version

    return Imprint(garden_words(scenario), sweep.seeds, model_version(), day)


def print_sweep(sweep: Sweep, scenario: Scenario, measures: Sequence[str]) -> None:
    """Print means at every point, what the curves say, and what must be said."""
    from dashboard.commands import tables
    from sim.season import weather_notes

    console = tables.new_console()
    console.print(tables.heading(scenario.title, f": the same {tables.of_seasons(len(sweep.seeds))} at every point\n"))
    label = " and ".join(setting.label for setting in sweep.settings if len(setting.values) > 1)
    means = sweep.table.set_index(["measure", "plan", *sweep.setting_names])
    for measure in measures:
        table = tables.new_table(tables.words_of(measure), *[f"'{plan}'" for plan in sweep.plans])
        for point in sweep.comparisons:
            rows = [means.loc[(measure, plan, *point)] for plan in sweep.plans]
            cells = [tables.range_of(measure, row["mean"], row["low"], row["high"]) for row in rows]
            table.add_row(point_in_words(sweep, point), *cells)
        console.print(table)
    console.print(f"Rows: {label}. Figures: mean (low to high). {tables.RANGE_MEANS}\n")
    for sentence in sentences(sweep, measures):
        console.print(f"- {sentence}")
    tables.print_weather(console, weather_notes(scenario))
    tables.print_limits(console)


def _only(table: pd.DataFrame, measures: Sequence[str]) -> pd.DataFrame:
    return table[table["measure"].isin(measures)]
