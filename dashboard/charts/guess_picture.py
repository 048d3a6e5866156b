"""Guess and outcome in one picture: the place that each plan was given and the place that it took."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import TEXT_PX, dress, layered, look_range, plan_labels, rows_of, tips
from dashboard.charts.palette import GRID, INK, PAPER, QUIET_INK
from dashboard.charts.scene import Scene, order_words, ordinal, ranks
from dashboard.language.saying import numbers_apart
from dashboard.language.spoken import Spoken
from dashboard.language.tongue import _, many

ROW_PX = 70
AROUND_PX = 110
GUESSED, TAKEN = "guess", "season"


def guess_scene(
    spoken: Spoken, plans: Mapping[str, str], guessed: Sequence[int], values: Sequence[float], season: int
) -> Scene:
    """Return the picture of one question.

    Parameters
    ----------
    spoken
        The measure that answers it.
    plans
        Slug → title, in order.
    guessed
        The rank that each plan was given, 1 for most.
    values
        What each plan gave, in the model's unit.
    season
        Number of the season.
    """
    taken = ranks(values)
    titles = list(plans.values())
    figures = numbers_apart([value * spoken.factor for value in values])
    right = sum(one == other for one, other in zip(guessed, taken, strict=True))
    orders = _("Guessed, most first: {guessed}. Season {season} gave: {taken}.").format(
        guessed=order_words(titles, guessed), season=season, taken=order_words(titles, taken)
    )
    hits = many(
        "{right} of {count} plans stands where the guess put it.",
        "{right} of {count} plans stand where the guess put them.",
        right,
    ).format(right=right, count=len(titles))
    rows = [
        {"plan": slug, "kind": kind, "place": place, "figure": figure if kind == TAKEN else ""}
        for slug, *places, figure in zip(plans, guessed, taken, figures, strict=True)
        for kind, place in zip((GUESSED, TAKEN), places, strict=True)
    ]
    table = pd.DataFrame(
        {
            _("Plan"): titles,
            _("Guessed"): [ordinal(place) for place in guessed],
            _("Season {season}").format(season=season): [ordinal(place) for place in taken],
            f"{spoken.title}, {spoken.axis}": figures,
        }
    )
    said = [
        _("{plan}: guessed {place}, came {came} with {figure}").format(
            plan=title, place=ordinal(one), came=ordinal(other), figure=figure
        )
        for title, one, other, figure in zip(titles, guessed, taken, figures, strict=True)
    ]
    return Scene(
        title=spoken.title,
        caption=f"{orders} {hits}",
        alt=_("Guess and outcome for {what} in {unit}. {said}.").format(
            what=spoken.title.lower(), unit=spoken.axis, said="; ".join(said)
        ),
        plans=plans,
        frame=pd.DataFrame(rows),
        table=table,
        axis=_("place: 1 is most"),
        kind="guess",
    )


def draw(scene: Scene) -> Any:
    """Return the picture: a row a plan, a hollow mark for the guess, a full one for the season."""
    labels = plan_labels(scene.plans)
    frame = scene.frame.assign(Plan=scene.frame["plan"].map(labels))
    frame["said"] = frame["figure"].mask(frame["kind"] == GUESSED, _("guess"))
    wide = frame.pivot_table(index="Plan", columns="kind", values="place").reset_index()
    count = len(labels)
    x = alt.X(
        "place:Q",
        title=scene.axis,
        scale=alt.Scale(domain=[0.6, count + 0.4], nice=False, reverse=False),
        axis=alt.Axis(values=list(range(1, count + 1)), format="d", gridColor=GRID),
    )
    y = rows_of(labels)
    colour = alt.Color("Plan:N", scale=look_range(scene, labels, "colour"), legend=None)
    shape = alt.Shape("Plan:N", scale=look_range(scene, labels, "on_screen"), legend=None)
    shown = tips(Plan=_("Plan"), place=_("Place"))
    line = (
        alt.Chart(wide)
        .mark_rule(strokeWidth=3, strokeDash=[6, 4])
        .encode(x=alt.X(f"{GUESSED}:Q", title=scene.axis), x2=f"{TAKEN}:Q", y=y, color=colour)
    )
    points = alt.Chart(frame)
    guessed = (
        points.transform_filter(f"datum.kind == '{GUESSED}'")
        .mark_point(size=260, strokeWidth=3, fill=PAPER, opacity=1)
        .encode(x=x, y=y, stroke=colour, shape=shape, tooltip=shown)
    )
    taken = (
        points.transform_filter(f"datum.kind == '{TAKEN}'")
        .mark_point(size=120, filled=True, opacity=1)
        .encode(x=x, y=y, color=colour, shape=shape, tooltip=shown)
    )
    words = {
        GUESSED: points.transform_filter(f"datum.kind == '{GUESSED}'").mark_text(
            dy=-19, fontSize=TEXT_PX - 1, color=QUIET_INK
        ),
        TAKEN: points.transform_filter(f"datum.kind == '{TAKEN}'").mark_text(
            dy=20, fontSize=TEXT_PX, color=INK, fontWeight="bold"
        ),
    }
    texts = [layer.encode(x=x, y=y, text=alt.Text("said:N")) for layer in words.values()]
    chart = layered(line, guessed, taken, *texts)
    return dress(chart, width="container", height=AROUND_PX + ROW_PX * count, title=scene.title)
