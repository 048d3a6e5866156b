"""Survival, stage by stage: of a thousand eggs, how many hatch, grow, pupate and grow up, under each plan."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import altair as alt
import pandas as pd

from dashboard.charts.dressing import LINES, TEXT_PX, dress, in_lines, layered, look_range
from dashboard.charts.ends_picture import whole_or_few
from dashboard.charts.palette import GRID, INK
from dashboard.charts.scene import Scene
from dashboard.language.tongue import _
from dashboard.seasons.ends import A_THOUSAND, reached, with_doubt_of_mixture
from sim.compiled import Floats

HEIGHT_PX = 320
STAGE_LETTERS = 8


def stages_scene(ends: Mapping[str, Floats], plans: Mapping[str, str], kind: str) -> Scene:
    """Return the picture.

    Parameters
    ----------
    ends
        Plan → mean count, shape (stages, fates), of those laid on the crops.
    plans
        Slug → title, in order.
    kind
        Whose eggs, in marked words.
    """
    counts = {plan: reached(ends[plan]) for plan in plans}
    rows = [
        (plans[plan], _(words), A_THOUSAND * count / counts[plan]["egg"])
        for plan in plans
        if counts[plan]["egg"] > 0
        for words, count in counts[plan].items()
    ]
    frame = pd.DataFrame(rows, columns=["plan", "stage", "of_1000"])
    stages = list(dict.fromkeys(frame["stage"]))
    table = pd.DataFrame({_("Of 1,000 eggs reach"): stages})
    said = []
    for title in plans.values():
        mine = frame[frame["plan"] == title].set_index("stage")["of_1000"]
        table[title] = [whole_or_few(float(mine[stage])) if stage in mine else "0" for stage in stages]
        parts = ", ".join(f"{stage} {whole_or_few(float(mine[stage]))}" for stage in stages if stage in mine)
        said.append(f"{title}: {parts or _('no eggs')}")
    caption = _("A line falls where many die. Kinds without a pupa go straight from young to adult.")
    return Scene(
        title=_("Survival, stage by stage: {whom}").format(whom=_(kind)),
        caption=with_doubt_of_mixture(caption, kind),
        alt=_("Of a thousand eggs of {whom}, how many reach each stage. {said}.").format(
            whom=_(kind), said="; ".join(said)
        ),
        plans=plans,
        frame=frame,
        table=table,
        axis=_("of 1,000 eggs"),
        kind="stages",
    )


def draw(scene: Scene) -> Any:
    """Return the picture for the screen."""
    frame = scene.frame.assign(stage=scene.frame["stage"].map(lambda words: in_lines(words, STAGE_LETTERS)))
    labels = dict(scene.plans)
    x = alt.X(
        "stage:N",
        sort=None,
        title=None,
        scale=alt.Scale(domain=list(dict.fromkeys(frame["stage"])), type="point", padding=0.3),
        axis=alt.Axis(labelExpr=LINES, labelAngle=0, labelColor=INK, ticks=False, labelPadding=8, labelLimit=110),
    )
    y = alt.Y(
        "of_1000:Q",
        title=scene.axis,
        scale=alt.Scale(domain=[0, A_THOUSAND], nice=False),
        axis=alt.Axis(tickCount=5, gridColor=GRID),
    )
    legend = alt.Legend(orient="bottom", columns=1, title=None, labelFontSize=TEXT_PX, labelLimit=340, symbolSize=140)
    colour = alt.Color("plan:N", scale=look_range(scene, labels, "colour"), legend=legend)
    shape = alt.Shape("plan:N", scale=look_range(scene, labels, "on_screen"), legend=legend)
    base = alt.Chart(frame)
    lines = base.mark_line(strokeWidth=2.5).encode(x=x, y=y, color=colour)
    marks = base.mark_point(filled=True, size=110, opacity=1).encode(
        x=x, y=y, color=colour, shape=shape, tooltip=["plan:N", "stage:N", alt.Tooltip("of_1000:Q", format=".0f")]
    )
    return dress(layered(lines, marks), width="container", height=HEIGHT_PX, title=scene.title)
