"""What became of a thousand eggs under each plan: a bar a fate, to the same scale for every plan."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import TEXT_PX, dress, layered, tips
from dashboard.charts.palette import GRID, INK, look_of
from dashboard.charts.picture import NO_FIGURE
from dashboard.charts.scene import Scene
from dashboard.language.saying import say_number
from dashboard.language.tongue import _
from dashboard.seasons.ends import with_doubt_of_mixture

BAR_PX = 25
AROUND_PX = 96
ROOM_FOR_FIGURES = 1.4
SAID_IN_ALT = 3


def ends_scene(thousands: Mapping[str, Mapping[str, float]], plans: Mapping[str, str], kind: str) -> Scene:
    """Return the picture.

    Parameters
    ----------
    thousands
        Plan → fate in marked words → how many of a thousand eggs; empty where no egg was laid.
    plans
        Slug → title, in order.
    kind
        Whose eggs, in marked words.
    """
    fates = list(dict.fromkeys(fate for ends in thousands.values() for fate, count in ends.items()))
    fates = [fate for fate in fates if any(ends.get(fate, 0) > 0 for ends in thousands.values())]
    rows = [(plan, _(fate), thousands[plan][fate]) for plan in plans if thousands[plan] for fate in fates]
    frame = pd.DataFrame(rows, columns=["plan", "fate", "count"])
    frame["said"] = frame["count"].map(whole_or_few)
    table = pd.DataFrame({_("Of 1,000 eggs"): [_(fate) for fate in fates]})
    for plan, title in plans.items():
        table[title] = [whole_or_few(thousands[plan][fate]) if thousands[plan] else _(NO_FIGURE) for fate in fates]
    said = [f"{title}: {_most(thousands[plan])}" for plan, title in plans.items()]
    caption = _("Eggs laid on the crops; mean of the seasons. Bars have the same scale under every plan.")
    return Scene(
        title=_("Of a thousand eggs of {whom}").format(whom=_(kind)),
        caption=with_doubt_of_mixture(caption, kind),
        alt=_("What became of a thousand eggs of {whom} laid on the crops. {said}.").format(
            whom=_(kind), said="; ".join(said)
        ),
        plans=plans,
        frame=frame,
        table=table,
        axis=_("of 1,000 eggs"),
        kind="ends",
    )


def whole_or_few(count: float) -> str:
    """Return a count out of a thousand: whole, and ``under 1`` for what is rarer than one."""
    return "0" if count == 0 else _("under 1") if count < 1 else say_number(count)


def draw(scene: Scene, plan: str) -> Any:
    """Return the bars of one plan."""
    frame = scene.frame[scene.frame["plan"] == plan]
    fates = list(dict.fromkeys(scene.frame["fate"]))
    end = ROOM_FOR_FIGURES * float(scene.frame["count"].max())
    y = alt.Y(
        "fate:N",
        sort=None,
        scale=alt.Scale(domain=fates),
        title=None,
        axis=alt.Axis(labelLimit=230, ticks=False, domain=False, labelPadding=6),
    )
    x = alt.X(
        "count:Q",
        title=scene.axis,
        scale=alt.Scale(domain=[0, end], nice=False),
        axis=alt.Axis(tickCount=4, gridColor=GRID),
    )
    colour = look_of(scene.number_of(plan)).colour
    bars = (
        alt.Chart(frame)
        .mark_bar(color=colour, size=BAR_PX - 9)
        .encode(y=y, x=x, tooltip=tips(fate=_("How it ended"), said=scene.axis))
    )
    words = (
        alt.Chart(frame)
        .mark_text(align="left", dx=5, fontSize=TEXT_PX, color=INK)
        .encode(y=y, x=x, text=alt.Text("said:N"))
    )
    height = AROUND_PX + BAR_PX * len(fates)
    return dress(layered(bars, words), width="container", height=height, title=scene.plans[plan])


def _most(ends: Mapping[str, float]) -> str:
    if not ends:
        return _("no eggs")
    largest = sorted(ends.items(), key=lambda one: -one[1])[:SAID_IN_ALT]
    return ", ".join(f"{whole_or_few(count)} {_(fate)}" for fate, count in largest)
