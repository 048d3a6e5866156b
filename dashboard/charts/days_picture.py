"""One thing over the days of a season under each plan and, on the same clock, when nets and sprays were on."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

import altair as alt
import numpy as np
import pandas as pd

from dashboard.charts.dressing import LINES, dress, layered, legend_below, look_range, plan_labels
from dashboard.charts.palette import GRID, INK, look_of
from dashboard.charts.scene import Scene
from dashboard.language.saying import say_date, say_month, short_number
from dashboard.language.tongue import _, many, mark
from dashboard.seasons.daily import PLACE, TITLES, as_measured, smooth, unit_of
from sim.compiled import Floats

HEIGHT_PX = 250
ROW_PX = 58
AROUND_PX = 76
AXIS_ROOM_PX = 130
"""The same room at the left of every picture, so that the days of all stand below each other."""
MARK_EVERY_DAYS = 21
MONTHS_APART_PX = 5
"""Where names of months would come closer, every other is left out."""
ROOM_ABOVE = 1.08
NET, SPRAY = mark("net on"), mark("spray")
_HALF = 1 / 2


def days_scene(days: Mapping[str, Floats], series: str, plans: Mapping[str, str], first_day: date) -> Scene:
    """Return the picture of one series.

    Parameters
    ----------
    days
        Plan → shape (seasons, days, series).
    series
        Which one.
    plans
        Slug → title, in order.
    first_day
        Of the season.
    """
    means = {plan: as_measured(smooth(days[plan][:, :, PLACE[series]].mean(axis=0)), series) for plan in plans}
    frame = pd.concat(
        [pd.DataFrame({"plan": plan, "day": np.arange(len(row)), "value": row}) for plan, row in means.items()],
        ignore_index=True,
    )
    title, unit = _(TITLES[series]), unit_of(series)
    months = _months(first_day, len(next(iter(means.values()))))
    table = pd.DataFrame({_("From"): [words for _day, words in months]})
    ends = [*(day for day, _words in months[1:]), len(next(iter(means.values())))]
    for plan, words in plans.items():
        table[words] = [
            short_number(float(means[plan][start:end].mean())) for (start, _w), end in zip(months, ends, strict=True)
        ]
    said = []
    for plan, words in plans.items():
        top = int(np.argmax(means[plan]))
        told = _("{plan}: most, {amount}, around {day}")
        day = say_date(first_day + timedelta(days=top))
        said.append(told.format(plan=words, amount=short_number(float(means[plan][top])), day=day))
    count = len(next(iter(days.values())))
    seasons = many("one season", "mean of {count} seasons", count).format(count=count)
    return Scene(
        title=f"{title} ({unit})",
        caption=_("Mean of the week that ends on each day; {seasons}.").format(seasons=seasons),
        alt=_("{what}, {unit}, over the season, {seasons}. {said}.").format(
            what=title, unit=unit, seasons=seasons, said="; ".join(said)
        ),
        plans=plans,
        frame=frame.assign(first_day=first_day.isoformat()),
        table=table,
        axis=unit,
        kind="days",
    )


def deeds_scene(days: Mapping[str, Floats], plans: Mapping[str, str], first_day: date) -> Scene:
    """Return the picture of the days on which beds were under a net or sprayed, in the first of the seasons."""
    rows, said, cells = [], [], []
    for plan, words in plans.items():
        covered = days[plan][0, :, PLACE["covered"]] > _HALF
        sprayed = np.flatnonzero(days[plan][0, :, PLACE["sprayed"]] > _HALF)
        spans = _spans(covered)
        rows += [(words, NET, start, end) for start, end in spans]
        rows += [(words, SPRAY, int(day), int(day) + 1) for day in sprayed]
        nets = ", ".join(
            _("{first} to {last}").format(
                first=say_date(first_day + timedelta(days=start)), last=say_date(first_day + timedelta(days=end - 1))
            )
            for start, end in spans
        )
        cells.append((words, nets or _("never"), str(len(sprayed))))
        told = _("{plan}: beds under a net {nets}; days with a spray: {sprays}")
        said.append(told.format(plan=words, nets=cells[-1][1], sprays=cells[-1][2]))
    frame = pd.DataFrame(rows, columns=["plan", "deed", "day", "end"])
    count = days[next(iter(plans))].shape[1]
    return Scene(
        title=_("Nets and sprays"),
        caption=_("A bar: some bed lies under a net. A tick: some bed is sprayed. First season."),
        alt=_("When nets were on and sprays were used. {said}.").format(said="; ".join(said)),
        plans=plans,
        frame=frame.assign(first_day=first_day.isoformat(), days=count),
        table=pd.DataFrame(cells, columns=[_("Plan"), _("Beds under a net"), _("Days with a spray")]),
        axis=f"{first_day.isoformat()}/{(first_day + timedelta(days=count - 1)).isoformat()}",
        kind="deeds",
    )


def draw(scene: Scene) -> Any:
    """Return the lines of one series."""
    frame = scene.frame.assign(Plan=scene.frame["plan"].map(scene.plans))
    labels = dict(scene.plans)
    highest = float(frame["value"].max())
    x = day_axis(frame)
    y = alt.Y(
        "value:Q",
        title=None,
        scale=alt.Scale(domain=[0, ROOM_ABOVE * (highest if highest > 0 else 1)], nice=False),
        axis=alt.Axis(tickCount=4, gridColor=GRID, minExtent=AXIS_ROOM_PX, maxExtent=AXIS_ROOM_PX),
    )
    legend = legend_below(-AXIS_ROOM_PX, symbol_size=120, label_px=340)
    colour = alt.Color("Plan:N", scale=look_range(scene, labels, "colour"), legend=legend)
    shape = alt.Shape("Plan:N", scale=look_range(scene, labels, "on_screen"), legend=legend)
    base = alt.Chart(frame)
    lines = base.mark_line(strokeWidth=2.5).encode(x=x, y=y, color=colour)
    marks = (
        base.transform_filter(f"datum.day % {MARK_EVERY_DAYS} == 0")
        .mark_point(filled=True, size=80, opacity=1)
        .encode(x=x, y=y, color=colour, shape=shape, tooltip=["Plan:N", alt.Tooltip("value:Q", format=",.3~g")])
    )
    return dress(layered(lines, marks), width="container", height=HEIGHT_PX, title=scene.title)


def draw_deeds(scene: Scene) -> Any:
    """Return the strip of nets and sprays, a row a plan."""
    frame = scene.frame
    labels = plan_labels(dict(zip(scene.plans.values(), scene.plans.values(), strict=True)))
    names = list(labels.values())
    frame = frame.assign(plan=frame["plan"].map(labels))
    x = day_axis(frame, int(frame["days"].max()) if len(frame) else None)
    y = alt.Y(
        "plan:N",
        title=None,
        scale=alt.Scale(domain=names),
        axis=alt.Axis(
            labelExpr=LINES,
            labelLineHeight=15,
            labelLimit=AXIS_ROOM_PX,
            ticks=False,
            domain=False,
            minExtent=AXIS_ROOM_PX,
            maxExtent=AXIS_ROOM_PX,
        ),
    )
    colours = alt.Scale(domain=names, range=[look_of(scene.number_of(plan)).colour for plan in scene.plans])
    colour = alt.Color("plan:N", scale=colours, legend=None)
    base = alt.Chart(frame)
    nets = base.transform_filter(f"datum.deed == '{NET}'").mark_bar(height=10, opacity=0.75)
    sprays = base.transform_filter(f"datum.deed == '{SPRAY}'").mark_tick(thickness=3, size=ROW_PX // 2, opacity=1)
    chart = layered(nets.encode(x=x, x2=alt.X2("end:Q"), y=y, color=colour), sprays.encode(x=x, y=y, color=colour))
    height = AROUND_PX + ROW_PX * len(names)
    return dress(chart, width="container", height=height, title=scene.title)


def day_axis(frame: pd.DataFrame, days: int | None = None) -> alt.X:
    """Return the axis of days, marked at the beginning of each month in the words of the language."""
    first_day = date.fromisoformat(str(frame["first_day"].iloc[0])) if len(frame) else date(2025, 3, 1)
    last = days or int(frame["day"].max()) + 1 if len(frame) else 1
    months = _months(first_day, last)
    words = " : ".join(f"datum.value == {day} ? {said!r}" for day, said in months) + " : ''"
    return alt.X(
        "day:Q",
        title=None,
        scale=alt.Scale(domain=[0, last], nice=False),
        axis=alt.Axis(
            values=[day for day, _said in months], labelExpr=words, labelAngle=0, labelOverlap=True,
            labelSeparation=MONTHS_APART_PX, gridColor=GRID, labelColor=INK, labelAlign="left",
        ),
    )  # fmt: skip


def _months(first_day: date, days: int) -> list[tuple[int, str]]:
    """Return (day, words) of each first of a month; in short, or a phone has room for two of them."""
    every = [(day, first_day + timedelta(days=day)) for day in range(days)]
    return [(day, say_month(one)) for day, one in every if one.day == 1]


def _spans(is_on: np.ndarray) -> list[tuple[int, int]]:
    """Return (first, behind the last) of each run of days on which something is so."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], is_on.astype(int), [0]])))
    return [(int(start), int(end)) for start, end in zip(edges[::2], edges[1::2], strict=True)]
