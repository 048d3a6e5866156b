"""Screens for a room with a projector: one sentence that holds three numbers, one picture, and nothing at its side."""

from __future__ import annotations

from typing import Any

import streamlit as st

from dashboard.language.spoken import BY_MEASURE, Spoken, spoken_in
from dashboard.language.tongue import _, mark
from dashboard.lesson.lesson import Lesson
from dashboard.page.dress import show_cautions, show_limits
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, comparison_from, run_step_by_step
from dashboard.page.view import show_view_switch
from dashboard.page.visit import (
    garden_in_hand,
    gardens,
    offer_as_moved,
    plan_titles,
    questions_in_hand,
    tell_what_was_moved,
    titles_in_hand,
)
from dashboard.seasons.wishes import wishes
from dashboard.teaching.tapping import SAID, said_beside_came, tapped_measure, tapped_plans

COUNTS = {1: mark("One"), 5: mark("Five"), 20: mark("Twenty"), 100: mark("A hundred")}
COUNT_AT_FIRST = 5


def end_page(lesson: Lesson, *, can_be_moved: bool = False) -> None:
    """Show, below the controls, what no screen leaves out: what was moved elsewhere, what this is not, and cautions."""
    if can_be_moved:
        offer_as_moved(lesson)
    else:
        tell_what_was_moved(lesson)
    show_limits()
    show_cautions()


def show_comparison(lesson: Lesson) -> None:
    """Show how often one plan was ahead of another, and one measure of all plans."""
    place = st.empty()
    measures = spoken_in(garden_in_hand(lesson))
    tapped = tapped_measure(lesson)
    with st.container(horizontal=True, vertical_alignment="bottom", key="room controls"):
        measure = st.selectbox(
            _("What shall we look at?"),
            measures,
            measures.index(tapped) if lesson.ready and tapped in measures else 0,
            format_func=lambda name: BY_MEASURE[name].title,
            key="measure",
            persist_state="session",
        )
        before = st.session_state.get("count", COUNT_AT_FIRST)  # as chosen on the screen for one person
        count = st.selectbox(
            _("How many seasons?"),
            list(COUNTS),
            list(COUNTS).index(before if before in COUNTS else COUNT_AT_FIRST),
            format_func=lambda one: _(COUNTS[one]),
            key=f"room count {before}",
            persist_state="session",
        )
        titles = titles_in_hand(lesson)
        others = list(titles)[1:] or list(titles)  # a file of one's own may have one plan
        newest = next(iter(reversed(tapped_plans(lesson))), others[0])
        other = st.selectbox(
            _("Which plan against the first?"),
            others,
            others.index(newest),
            format_func=titles.__getitem__,
            key=f"room other {newest}",
        )
        show_view_switch()
    waiting = st.empty()
    end_page(lesson, can_be_moved=True)
    seasons = range(lesson.season, lesson.season + count)
    garden = garden_in_hand(lesson)
    wished = {plan: wishes(garden, [plan], seasons) for plan in lesson.plans}
    run_step_by_step(
        wished,
        lambda found, is_all: _show_measure(lesson, BY_MEASURE[measure], other, found, is_all, place.container()),
        bar=waiting,
    )


def _show_measure(lesson: Lesson, spoken: Spoken, other: str, seasons: Seasons, is_all: bool, place: Any) -> None:
    """Show who was ahead; of a plan about which a tap was made, guess and answer in the same sentence and picture."""
    from dashboard.charts.room_picture import Tap, draw_seasons, tap_words
    from dashboard.charts.seasons_picture import seasons_scene
    from dashboard.charts.sentences import short_verdict

    comparison = comparison_from(garden_in_hand(lesson), seasons)
    titles = titles_in_hand(lesson)
    scene = seasons_scene(comparison.seasons, titles, spoken)
    rows = comparison.paired[(comparison.paired["measure"] == spoken.measure) & (comparison.paired["plan"] == other)]
    with place:
        if not scene.frame.empty and len(titles) == 1:
            st.title(spoken.title, anchor=False)
            place_chart(draw_seasons(scene), scene.alt)
            return
        if scene.frame.empty or rows.empty:
            st.title(_("Nothing of this kind in this garden: look at something else."))
            return
        row = rows.iloc[0]
        guess, tap, alt = "", None, scene.alt
        if spoken.measure == tapped_measure(lesson) and other in tapped_plans(lesson):
            tap = Tap(other, lesson.taps[other], _(SAID[lesson.taps[other]]))
            guess = said_beside_came(lesson, other, comparison, other, is_for_room=True) if is_all else tap.said
            alt = f"{scene.alt} {tap_words(scene, tap)}"
        said = _("{what}. Seasons in which '{plan}' was ahead of '{first}': {ahead}. Level: {level}. Behind: {behind}.")
        counts = said.format(
            what=spoken.title,
            plan=titles[other],
            first=titles[lesson.plans[0]],
            ahead=int(row["ahead"]),
            level=int(row["level"]),
            behind=int(row["behind"]),
        )
        verdict = "" if guess else short_verdict(row)  # beside a guess, what came of it says that
        st.title(f"{guess} {counts} {verdict}".strip(), anchor=False)
        place_chart(draw_seasons(scene, tap), alt)


def show_guess_outcome(lesson: Lesson) -> None:
    """Show guess and outcome of one question."""
    asked = questions_in_hand(lesson)
    place = st.empty()
    with st.container(horizontal=True, vertical_alignment="bottom", key="room controls"):
        question = st.selectbox(
            _("Which question?"), list(asked), format_func=lambda one: _(asked[one][0]), key="room question"
        )
        show_view_switch()
    waiting = st.empty()
    end_page(lesson)
    wished = {plan: wishes(gardens()[lesson.garden], [plan], [lesson.season]) for plan in lesson.guessed_plans}
    run_step_by_step(
        wished, lambda found, _is_all: _show_guess(lesson, question, found, place.container()), bar=waiting
    )


def _show_guess(lesson: Lesson, question: str, seasons: Seasons, place: Any) -> None:
    from dashboard.charts.guess_picture import guess_scene
    from dashboard.charts.room_picture import draw_guess
    from dashboard.charts.scene import ranks

    spoken = BY_MEASURE[questions_in_hand(lesson)[question][1]]
    values = [seasons[plan, lesson.season].summary.get(spoken.measure, 0.0) for plan in lesson.guessed_plans]
    guessed = lesson.guess.ranks[question]
    scene = guess_scene(spoken, plan_titles(lesson, lesson.guessed_plans), guessed, values, lesson.season)
    right = sum(one == taken for one, taken in zip(guessed, ranks(values), strict=True))
    said = _("{what}, season {season}: {right} of {count} plans stand where the guess put them.")
    with place:
        unit = "" if spoken.unit.lower() in spoken.title.lower() else f" ({spoken.unit})"
        st.title(
            said.format(what=f"{spoken.title}{unit}", season=lesson.season, right=right, count=len(values)),
            anchor=False,
        )
        place_chart(draw_guess(scene), scene.alt)
