"""The curve on the screen: offered for what is moved, run after every first answer, given up when something moves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.charts.imprint import garden_words
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import _, many
from dashboard.lesson.lesson import CURVED, Lesson
from dashboard.page.again import fresh
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, comparison_from, run_step_by_step
from dashboard.page.taking import offer_picture
from dashboard.seasons.wishes import Wish, wishes
from dashboard.seasons.work import STEPS
from sim.errors import LeafnestError
from sim.scenario import Scenario

if TYPE_CHECKING:
    from dashboard.plans.choices import Choice


def ask_curve(lesson: Lesson, moved: Sequence[Choice]) -> Lesson:
    """Offer the curve of one moved choice; return the lesson with what it is drawn of and along."""
    if not moved:
        return lesson
    wished = st.toggle(
        _("Draw a curve: what if it were more, or less?"),
        bool(lesson.curve),
        key=fresh("curve"),
        persist_state="session",
    )
    if not wished:
        return replace(lesson, curve="", along="")
    left, right = st.columns(2)
    words = {choice.keys[0]: choice.words for choice in moved}
    first = lesson.along if lesson.along in words else next(iter(words))
    along = left.selectbox(
        _("Along what?"),
        list(words),
        list(words).index(first),
        format_func=words.__getitem__,
        key=fresh(f"along {'.'.join(words)}"),
    )
    measure = right.selectbox(
        _("Of what?"),
        CURVED,
        CURVED.index(lesson.curve or CURVED[0]),
        format_func=lambda one: BY_MEASURE[one].title,
        key=fresh("curve of"),
        persist_state="session",
    )
    return replace(lesson, curve=measure, along=along if len(words) > 1 else "")


def curve_asked(lesson: Lesson, moved: Sequence[Choice]) -> tuple[Choice, str] | None:
    """Return the moved choice and the measure that a curve is drawn of, or None if no curve is wished."""
    if not lesson.curve or not moved:
        return None
    return next((choice for choice in moved if choice.keys[0] == lesson.along), moved[0]), lesson.curve


def draw_curve(lesson: Lesson, garden: Scenario, asked: tuple[Choice, str], place: DeltaGenerator) -> None:
    """Run the plan at each value of the choice, and show the curve after one, five and twenty seasons."""
    from dashboard.plans.curves import changes_at, values_along

    choice, measure = asked
    seasons = range(lesson.season, lesson.season + STEPS[-1])
    wished: dict[str, list[Wish]] = {}
    values: list[object] = []
    for value in values_along(choice, choice.value_in(lesson.changes)):
        try:
            scenario = garden.with_changes(changes_at(choice, value, lesson.changes))
        except LeafnestError:
            continue  # a value that the garden cannot have, such as a net taken off before it goes on, is left out
        wished[str(len(values))] = wishes(scenario, [lesson.tried_plan], seasons)
        values.append(value)
    with place:
        spot = st.empty()
        run_step_by_step(
            wished,
            lambda found, is_all: show_curve(garden, choice, values, measure, found, spot.container(), is_all=is_all),
            is_extra=True,
        )


def show_curve(
    garden: Scenario,
    choice: Choice,
    values: Sequence[object],
    measure: str,
    seasons: Seasons,
    place: DeltaGenerator,
    *,
    is_all: bool,
) -> None:
    """Show sentences, picture and table of the seasons so far."""
    from dashboard.charts.curve_picture import curve_scene, draw
    from dashboard.plans.curves import curve_sentences, place_of

    comparison = comparison_from(garden, seasons)
    spoken = BY_MEASURE[measure]
    with place:
        count = len(comparison.seeds)
        st.header(many("What if, {count} season", "What if, {count} seasons", count).format(count=count))
        if measure not in comparison.measures:
            st.markdown(_("Nothing of this kind in this garden: look at something else."))
            return
        said = [choice.say(value) for value in values]
        places = [place_of(choice, value, number) for number, value in enumerate(values)]
        scene = curve_scene(comparison.seasons, places, said, list(values).index(choice.now), choice.words, spoken)
        st.markdown("\n".join(f"- {one}" for one in curve_sentences(comparison, choice, said, spoken)))
        place_chart(draw(scene), scene.alt)
        st.markdown(scene.caption)
        if is_all:
            offer_picture(scene, "curve", garden_words(garden), comparison.seeds)
        st.table(scene.table, hide_index=True, alt=scene.alt)
