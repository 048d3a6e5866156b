"""Cause and effect over the days of the season, on the screen."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from dashboard.charts.imprint import garden_words
from dashboard.language.tongue import _, mark
from dashboard.lesson.lesson import Lesson
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, lived_under, season_numbers
from dashboard.page.taking import offer_picture
from dashboard.page.view import show_with_picture
from dashboard.page.visit import gardens
from dashboard.seasons.daily import TITLES
from dashboard.seasons.delays import CHAINS
from sim.scenario import Scenario

FED = "fed"
NO_DEEDS = mark("Under these plans no bed is covered or sprayed in the first season.")


def ask_chain() -> str:
    """Ask what to follow through the season."""
    chain: str = st.selectbox(
        _("What shall we follow through the season?"),
        list(CHAINS),
        format_func=lambda one: _(CHAINS[one][0]),
        key="chain",
        persist_state="session",
    )
    return chain


def show_days(lesson: Lesson, titles: Mapping[str, str], chain: str, seasons: Seasons, is_all: bool) -> None:
    """Show cause and effect over the days of the season, and say how long the effect took."""
    import numpy as np

    from dashboard.charts.days_picture import days_scene, deeds_scene, draw, draw_deeds
    from dashboard.seasons.daily import has_any
    from dashboard.seasons.delays import delay_sentences

    days = {
        plan: np.stack([lived.days for lived in lived_under(plan, seasons) if lived.days is not None])
        for plan in titles
    }
    words, chained = CHAINS[chain]
    series = [one for one in chained if has_any(days, one)]
    first_day = gardens()[lesson.garden].first_date
    st.header(_("When it happened: {what}").format(what=_(words).lower()))
    deeds = deeds_scene(days, titles, first_day)
    scenes = [days_scene(days, one, titles, first_day) for one in series]
    empty = [none_said(one, gardens()[lesson.garden]) for one in chained if one not in series]
    garden = garden_words(gardens()[lesson.garden])
    has_deeds = not deeds.frame.empty
    show_with_picture(
        lambda: place_chart(draw_deeds(deeds), deeds.alt) if has_deeds else st.markdown(_(NO_DEEDS)),
        lambda: st.markdown(
            "\n".join(f"- {said}" for said in [*delay_sentences(days, series, titles, first_day), *empty])
        ),
    )
    if is_all and has_deeds:
        offer_picture(deeds, "deeds", garden, season_numbers(seasons)[:1])
    for one, scene in zip(series, scenes, strict=True):
        place_chart(draw(scene), scene.alt)
        if is_all:
            offer_picture(scene, f"days_{one}", garden, season_numbers(seasons))
    captions = [scene.caption for scene in (*([deeds] if has_deeds else []), *scenes[:1])]
    if captions:
        st.markdown(" ".join(captions))
    if scenes and len(titles) > 1:
        st.markdown(
            _(
                "Clear: in the sign test over the seasons, for seven days on end, and by a twentieth of the widest gap "
                "or more. Look far from the cause, and weeks later."
            )
        )
    with st.expander(_("The same as tables")):
        for scene in [deeds, *scenes]:
            st.markdown(f"**{scene.title}**")
            st.table(scene.table, hide_index=True, alt=scene.alt)


def none_said(series: str, garden: Scenario) -> str:
    """Return the sentence that stands for the picture of a series of which there is none on any day, and why."""
    said = _("{what}: none on any day of these seasons.").format(what=_(TITLES[series]))
    return f"{said} {_('No nests in reach.')}" if series == FED and not garden.birds.nests else said
