"""Bargains on the screen: picked from those of the garden, their terms, and whether the seasons strike them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.language.tongue import _, mark
from dashboard.lesson.lesson import Lesson
from dashboard.page.again import fresh
from dashboard.page.running import Seasons, run_step_by_step
from dashboard.plans.bargains import SEASONS, Bargain, bargains_of, verdict_sentence
from dashboard.seasons.wishes import wishes
from sim.scenario import Scenario

NONE = ""
NONE_WORDS = mark("none, just trying")


def ask_bargain(lesson: Lesson) -> Lesson:
    """Offer the bargains of the garden and show the terms of the one that is picked; return the lesson with it."""
    known = bargains_of(lesson.garden)
    if not known:
        return replace(lesson, bargain="")
    titles = {NONE: _(NONE_WORDS), **{name: _(one.title) for name, one in known.items()}}
    name = st.selectbox(
        _("A bargain to strike, if you like"),
        list(titles),
        list(titles).index(lesson.bargain if lesson.bargain in titles else NONE),
        format_func=titles.__getitem__,
        key=fresh(f"bargain of {lesson.garden}"),
        persist_state="session",
    )
    if name != NONE:
        show_terms(known[name])
    return replace(lesson, bargain=name)


def show_terms(bargain: Bargain) -> None:
    """Say what a bargain is about and what must hold."""
    st.markdown(_(bargain.about))
    terms = "\n".join(f"- {term.words}" for term in bargain.terms)
    told = _("All of this must hold in the same season, in {needed} of {seasons} seasons:")
    st.markdown(f"{told.format(needed=bargain.held_in_20, seasons=SEASONS)}\n\n{terms}")


def settle(lesson: Lesson, garden: Scenario, bargain: Bargain, place: DeltaGenerator) -> None:
    """Run the plan as it is and show how the bargain stands."""
    seasons = range(lesson.season, lesson.season + SEASONS)
    wished = {lesson.tried_plan: wishes(garden, [lesson.tried_plan], seasons)}
    with place:
        spot = st.empty()

        def show(found: Seasons, _is_all: bool) -> None:
            with spot.container():
                show_bargain(bargain, summaries_of(found, lesson.tried_plan))

        run_step_by_step(wished, show)


def summaries_of(seasons: Seasons, name: str) -> list[Mapping[str, float]]:
    """Return the measures of each season under a name."""
    return [lived.summary for (one, _season), lived in seasons.items() if one == name]


def show_bargain(bargain: Bargain, summaries: Sequence[Mapping[str, float]]) -> None:
    """Show how the bargain stands: a sentence, and a row a term."""
    import pandas as pd

    st.subheader(_("The bargain: {title}").format(title=_(bargain.title)))
    st.markdown(verdict_sentence(bargain, summaries))
    rows = []
    for term in bargain.terms:
        values = [value for value in map(term.value_in, summaries) if value is not None]
        mean = sum(values) / len(values) if values else None
        rows.append((term.words, term.say(mean), str(sum(map(term.holds_in, summaries)))))
    columns = [_("What must hold"), _("Mean"), _("Seasons in which it held")]
    st.table(pd.DataFrame(rows, columns=columns), hide_index=True, alt=verdict_sentence(bargain, summaries))
