"""Survival stage by stage on the screen, for the comparison and for where it all went."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from dashboard.language.tongue import _
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons
from dashboard.page.taking import offer_picture


def show_stages(titles: Mapping[str, str], seasons: Seasons, garden: str, kind: str = "", *, is_all: bool) -> None:
    """Show how many of a thousand eggs of a kind, or of all plant-eaters, reach each stage under each plan.

    Parameters
    ----------
    titles
        Slug → title of the plans, in order.
    seasons
        What was lived so far.
    garden
        Its title, for the foot of the picture to take away.
    kind
        Whose eggs; of all where nothing is said.
    is_all
        Whether all seasons are there, so that the picture can be taken.
    """
    from dashboard.charts.stages_picture import draw, stages_scene
    from dashboard.seasons.ends import EVERY_KIND, kinds, mean_ends

    kind = kind or EVERY_KIND
    lived = {plan: [one for (name, _season), one in seasons.items() if name == plan] for plan in titles}
    scene = stages_scene({plan: mean_ends(lived[plan], kinds()[kind]) for plan in titles}, titles, kind)
    if scene.frame.empty:
        return
    place_chart(draw(scene), scene.alt, has_few_marks=True)
    st.markdown(scene.caption)
    if is_all:
        offer_picture(scene, "stages", garden, sorted({season for _plan, season in seasons}))
    with st.expander(_("Survival as a table")):
        st.table(scene.table, hide_index=True, alt=scene.alt)
