"""Where the energy went: discs whose area is energy, to the same scale for every plan, arrows to the eater."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import TEXT_PX, dress, in_lines, layered, tips
from dashboard.charts.palette import INK, QUIET_INK, look_of
from dashboard.charts.scene import Scene
from dashboard.language.saying import short_number
from dashboard.language.tongue import _, mark


@dataclass(frozen=True)
class Disc:
    """One place in the web: its measure, words, place in the picture, and the measures that eat from it."""

    measure: str
    words: str
    across: float
    up: float
    eaters: tuple[str, ...] = ()


DISCS = (
    Disc("eaten_by_insects_kj", mark("leaf that insects ate"), 0, 1, ("insects_grown_kj",)),
    Disc("insects_grown_kj", mark("insects grew"), 1, 1, ("insects_to_enemies_kj", "insects_to_birds_kj")),
    Disc("insects_to_enemies_kj", mark("to small hunters and wasps"), 2, 2),
    Disc("insects_to_birds_kj", mark("to birds"), 2, 0, ("garden_to_nestlings_kj",)),
    Disc("garden_to_nestlings_kj", mark("garden food to nestlings"), 3, 0),
    Disc("hedgerow_to_nestlings_kj", mark("hedgerow food to nestlings"), 3, 1),
    Disc("territory_to_nestlings_kj", mark("food from farther away to nestlings"), 3, 2),
)
"""What is drawn, from leaf to nestling."""
BEFORE = {
    "light_caught_mj": mark("light caught by the crops, MJ"),
    "plants_grown_kj": mark("energy in what the crops grew, kJ"),
}
"""Too large to draw beside the others; told in words and in the table."""
LARGEST_AREA_PX = 7_000
SMALLEST_AREA_PX = 12
HEIGHT_PX = 460
ACROSS, UP = (-0.45, 3.45), (-0.8, 3.1)
"""What of the picture's plane is seen."""
WORDS_APART_PX = 5
LINE_PX = 16
WORD_LETTERS, TOP_LETTERS = 12, 14
"""Above the top row no arrow is in the way of longer lines."""
ARROW_GAP, FALLING_GAP = 0.27, 0.46
"""Share of the way between two discs that an arrow leaves free at its end, and at its beginning; an arrow that falls
begins farther off, below the words of its disc."""
HEAD_TURN_DEG = 45
GOES_ALONG = mark("food")
"""What goes along each arrow, said on it."""
ALONG_UP_PX = -9
ASIDE = 0.17
"""So far to the side, in the picture's plane, words stand of an arrow that rises or falls."""


def energy_scene(means: Mapping[str, Mapping[str, float]], plans: Mapping[str, str]) -> Scene:
    """Return the picture.

    Parameters
    ----------
    means
        Plan → measure → mean energy of a season.
    plans
        Slug → title, in order.
    """
    rows = [
        (plan, disc.measure, _(disc.words), disc.across, disc.up, means[plan].get(disc.measure, 0.0))
        for plan in plans
        for disc in _drawn(means)
    ]
    frame = pd.DataFrame(rows, columns=["plan", "measure", "words", "across", "up", "kj"])
    frame["said"] = frame["kj"].map(lambda value: f"{short_number(value)} kJ")
    words = {measure: _(text) for measure, text in BEFORE.items()}
    words |= {disc.measure: f"{_(disc.words)}, kJ" for disc in _drawn(means)}
    table = pd.DataFrame({_("Energy of the season"): list(words.values())})
    for plan, title in plans.items():
        table[title] = [short_number(means[plan].get(measure, 0.0)) for measure in words]
    figures = dict(zip(zip(frame["plan"], frame["words"], strict=True), frame["said"], strict=True))
    said = [
        f"{title}: {', '.join(f'{_(disc.words)} {figures[plan, _(disc.words)]}' for disc in _drawn(means))}"
        for plan, title in plans.items()
    ]
    return Scene(
        title=_("Energy, from leaf to nestling"),
        caption=_(
            "The area of a disc is energy, on one scale for all plans. Arrows point the way that food goes: to the "
            "eater. Food for nestlings from farther away does not come out of the garden. Insects that fly in bring "
            "mass that grew elsewhere, and some young feed on roots, so insects may hold more than the leaf eaten here."
        ),
        alt=_("The garden's food web in kilojoules a season. {said}.").format(said="; ".join(said)),
        plans=plans,
        frame=frame,
        table=table,
        axis="kJ",
        kind="energy",
    )


def _drawn(means: Mapping[str, Mapping[str, float]]) -> list[Disc]:
    """Return the discs that hold something under some plan; a garden without a hedgerow shows none."""
    return [disc for disc in DISCS if any(figures.get(disc.measure, 0.0) > 0 for figures in means.values())]


def share_sentence(means: Mapping[str, float], title: str) -> str:
    """Return how much of what the crops grew insects ate."""
    grown, eaten = means.get("plants_grown_kj", 0.0), means.get("eaten_by_insects_kj", 0.0)
    if grown <= 0:
        return _("**{plan}**: nothing grew.").format(plan=title)
    said = _("**{plan}**: the crops grew {grown} kJ. Of each 1,000 kJ, insects ate {eaten}.")
    return said.format(plan=title, grown=short_number(grown), eaten=short_number(1000 * eaten / grown))


def draw(scene: Scene, plan: str) -> Any:
    """Return the web of one plan."""
    largest = float(scene.frame["kj"].max()) or 1.0
    frame = scene.frame[scene.frame["plan"] == plan]
    area_px = SMALLEST_AREA_PX + (LARGEST_AREA_PX - SMALLEST_AREA_PX) * frame["kj"] / largest
    reach = ((area_px / math.pi) ** 0.5 + WORDS_APART_PX) * (UP[1] - UP[0]) / HEIGHT_PX
    is_on_top = frame["up"] == frame["up"].max()  # words stand above the top row, out of the arrows' way
    letters = is_on_top.map({True: TOP_LETTERS, False: WORD_LETTERS})
    labels = pd.Series(list(map(in_lines, frame["words"], letters)), frame.index) + "\n" + frame["said"]
    frame = frame.assign(
        label=labels,
        up_px=-LINE_PX * labels.str.count("\n"),  # lines grow downwards from the first; the last ends above the disc
        on_top=is_on_top,
        words_at=frame["up"] + reach.where(is_on_top, -reach),
    )
    x = alt.X("across:Q", axis=None, scale=alt.Scale(domain=list(ACROSS), nice=False))
    y = alt.Y("up:Q", axis=None, scale=alt.Scale(domain=list(UP), nice=False))
    colour = look_of(scene.number_of(plan)).colour
    discs = (
        alt.Chart(frame[frame["kj"] > 0])
        .mark_point(shape="circle", filled=True, color=colour, opacity=0.9)
        .encode(
            x=x,
            y=y,
            size=alt.Size(
                "kj:Q", scale=alt.Scale(domain=[0, largest], range=[SMALLEST_AREA_PX, LARGEST_AREA_PX]), legend=None
            ),
            tooltip=tips(words=_("What"), said=_("Energy")),
        )
    )
    style: dict[str, Any] = {"fontSize": TEXT_PX, "color": INK, "lineBreak": "\n", "lineHeight": LINE_PX}
    at = alt.Y("words_at:Q", axis=None)
    words = [
        alt.Chart(frame[frame["on_top"]]).mark_text(**style, baseline="line-bottom", dy=alt.ExprRef("datum.up_px")),
        alt.Chart(frame[~frame["on_top"]]).mark_text(**style, baseline="top"),
    ]
    arrows = _arrows(set(frame["measure"]))
    lines = (
        alt.Chart(arrows)
        .mark_rule(color=QUIET_INK, strokeWidth=2)
        .encode(x=x, x2=alt.X2("across_end"), y=y, y2=alt.Y2("up_end"))
    )
    heads = (
        alt.Chart(arrows)
        .mark_point(shape="triangle-right", filled=True, size=130, color=QUIET_INK, opacity=1)
        .encode(
            x=alt.X("across_end:Q", axis=None),
            y=alt.Y("up_end:Q", axis=None),
            angle=alt.Angle("turn:Q", scale=None),
        )
    )
    along = (
        alt.Chart(arrows)
        .mark_text(fontSize=TEXT_PX - 1, color=QUIET_INK, fontStyle="italic", dy=ALONG_UP_PX)
        .encode(x=alt.X("across_middle:Q", axis=None), y=alt.Y("up_middle:Q", axis=None), text=alt.Text("said:N"))
    )
    chart = layered(lines, heads, along, discs, *(one.encode(x=x, y=at, text=alt.Text("label:N")) for one in words))
    return dress(chart, width="container", height=HEIGHT_PX, title=scene.plans[plan])


def _arrows(drawn: set[str]) -> pd.DataFrame:
    at = {disc.measure: disc for disc in DISCS}
    rows = []
    for disc in DISCS:
        for eater in [eater for eater in disc.eaters if {disc.measure, eater} <= drawn]:
            other = at[eater]
            across, up = other.across - disc.across, other.up - disc.up
            begin, end = FALLING_GAP if up < 0 else ARROW_GAP, 1 - ARROW_GAP
            middle = (begin + end) / 2
            rows.append(
                {
                    "across": disc.across + begin * across,
                    "up": disc.up + begin * up,
                    "across_end": disc.across + end * across,
                    "up_end": disc.up + end * up,
                    "turn": -HEAD_TURN_DEG * up,
                    "across_middle": disc.across + middle * across - ASIDE * up,
                    "up_middle": disc.up + middle * up,
                    "said": _(GOES_ALONG),
                }
            )
    return pd.DataFrame(rows)
