"""Say what you expect: an order of the plans, by one person or a show of hands, locked before the season is run."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.boards.room import end_page, show_guess_outcome
from dashboard.charts.imprint import garden_words
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import _, mark
from dashboard.lesson.lesson import MOST_BECAUSE_LETTERS, Guess, Lesson
from dashboard.page.again import fresh
from dashboard.page.dress import show_cautions, show_limits, show_way_on
from dashboard.page.paper import only_on_screen
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, run_step_by_step
from dashboard.page.taking import offer_picture
from dashboard.page.view import is_room_view, show_view_switch
from dashboard.page.visit import (
    gardens,
    keep,
    open_screen,
    plan_titles,
    questions_in_hand,
    show_setting,
    tell_what_was_moved,
)
from dashboard.teaching.on_screen import lead

OWN, HANDS = "own", "hands"
WAYS = {OWN: mark("One guess"), HANDS: mark("Show of hands")}
MOST_HANDS = 999


def page() -> None:
    """Draw the page from top to bottom."""
    lesson = open_screen(_("What do you expect?"))
    if len(lesson.plans) == 1:
        st.markdown(_("This garden has one plan, so there is no order to guess."))
        show_way_on("screens/watch.py", _("Next: watch the season"))
        if is_room_view():
            show_view_switch()
        end_page(lesson)
        return
    if is_room_view():
        show_for_a_room(lesson)
        return
    show_setting(lesson)
    tell_what_was_moved(lesson)
    lesson = lead(lesson, "locked" if lesson.waits_for_season else "outcome" if lesson.guess.is_locked else "guess")
    if lesson.waits_for_season:
        show_locked(lesson)
    elif lesson.guess.is_locked:
        show_outcome(lesson)
    else:
        ask(lesson)
    show_limits()
    show_cautions()


def show_for_a_room(lesson: Lesson) -> None:
    """Ask one question at a time, in letters for a room; then show guess and outcome."""
    if lesson.waits_for_season:
        with st.container(key="room ask"):
            st.title(_("The guess is locked. Watch season {season} now.").format(season=lesson.season), anchor=False)
            offer_outcome(lesson)
        show_view_switch()
        end_page(lesson)
        return
    if lesson.guess.is_locked:
        show_guess_outcome(lesson)
        return
    asked = questions_in_hand(lesson)
    question = next((one for one in asked if one not in lesson.guess.ranks), list(asked)[-1])
    with st.container(key="room ask"):
        st.title(_(asked[question][0]), anchor=False)
        by_hands = ask_way(lesson) == HANDS
        guess = _hands(lesson, lesson.guess, question) if by_hands else _taps(lesson, lesson.guess, question)
        offer_lock(lesson, guess)
    show_view_switch()
    end_page(lesson)


def ask(lesson: Lesson) -> None:
    """Ask for the two orders and lock them."""
    st.markdown(_("Say it before you see it. A guess that turns out wrong teaches more than none."))
    way = ask_way(lesson)
    guess = lesson.guess
    for question, (words, _measure) in questions_in_hand(lesson).items():
        st.subheader(_(words))
        guess = _hands(lesson, guess, question) if way == HANDS else _taps(lesson, guess, question)
    because = st.text_input(
        _("Because … (if you like; no names, please)"),
        guess.because,
        max_chars=MOST_BECAUSE_LETTERS,
        key=fresh("because"),
    )
    offer_lock(lesson, replace(guess, because=because))


def ask_way(lesson: Lesson) -> str:
    """Ask whether one guesses or a class, by a show of hands."""
    way: str = st.segmented_control(
        _("Who guesses?"),
        list(WAYS),
        default=HANDS if lesson.guess.hands else OWN,
        format_func=lambda one: _(WAYS[one]),
        key="way",
        required=True,
    )
    return way


def offer_lock(lesson: Lesson, guess: Guess) -> None:
    """Keep the guess, and let it be locked once it is whole."""
    keep(replace(lesson, guess=guess))
    if not guess.is_whole:
        missing = (
            _("Type in the hands for both questions; then the guess can be locked.")
            if guess.hands
            else _("Give every plan its place in both questions; then the guess can be locked.")
        )
        only_on_screen("missing").caption(missing)
    elif st.button(_("Lock the guess and run season {season}").format(season=lesson.season), type="primary"):
        keep(replace(lesson, guess=replace(guess, is_locked=True)))
        st.rerun()


def _taps(lesson: Lesson, guess: Guess, question: str) -> Guess:
    """Let plans be tapped in order; return the guess with what has been tapped."""
    titles = plan_titles(lesson)
    slot = f"taps {question} {lesson.garden} {lesson.plans}"
    tapped: list[str] = st.session_state.setdefault(slot, _order_of(lesson, guess, question))
    only_on_screen(f"how {question}").markdown(_("Tap the plans: most first. Tap one again to take it back."))
    for column, (plan, title) in zip(st.columns(len(titles)), titles.items(), strict=True):
        place = f"{tapped.index(plan) + 1}. " if plan in tapped else ""
        column.button(
            f"{place}{title}",
            key=f"tap {question} {plan}",
            type="primary" if place else "secondary",
            width="stretch",
            on_click=tapped.remove if place else tapped.append,
            args=(plan,),
        )
    if tapped:
        said = _(", then ").join(titles[plan] for plan in tapped)
        left, right = st.columns([4, 1])
        left.markdown(_("So far, most first: {order}.").format(order=said))
        right.button(_("Begin again"), key=f"again {question}", on_click=tapped.clear, width="stretch")
    ranks, hands, begun = _without(question, guess.ranks, guess.hands, guess.begun)
    if len(tapped) == len(titles):
        ranks[question] = tuple(tapped.index(plan) + 1 for plan in titles)
    elif tapped:
        begun[question] = tuple(tapped)
    return replace(guess, ranks=ranks, hands=hands, begun=begun)


def _without(question: str, *answers: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return what other questions were answered with."""
    return [{name: value for name, value in answer.items() if name != question} for answer in answers]


def _order_of(lesson: Lesson, guess: Guess, question: str) -> list[str]:
    ranks = guess.ranks.get(question, ())
    if len(set(ranks)) > 1:
        return [plan for _rank, plan in sorted(zip(ranks, lesson.plans, strict=False))]
    return list(guess.begun.get(question, ()))


def _hands(lesson: Lesson, guess: Guess, question: str) -> Guess:
    """Let hands be counted; return the guess with the order that the counts give."""
    from dashboard.charts.scene import ranks as ranks_of

    titles = plan_titles(lesson)
    known = guess.hands.get(question, (0,) * len(titles))
    st.markdown(_("Type in how many hands go up for each plan. Equal counts share a place."))
    counts = tuple(
        int(column.number_input(title, 0, MOST_HANDS, count, key=fresh(f"hands {question} {plan}")))
        for column, (plan, title), count in zip(st.columns(len(titles)), titles.items(), known, strict=True)
    )
    ranks, hands, begun = _without(question, guess.ranks, guess.hands, guess.begun)
    if any(counts):
        ranks[question], hands[question] = tuple(ranks_of(counts)), counts
    return replace(guess, ranks=ranks, hands=hands, begun=begun)


def show_locked(lesson: Lesson) -> None:
    """Show the guess that was locked, and lead to the season; the outcome comes after it, or when asked for."""
    st.subheader(_("The guess is locked. Watch season {season} now.").format(season=lesson.season))
    show_way_on("screens/watch.py", _("Next: watch the season"))
    for question, (words, _measure) in questions_in_hand(lesson).items():
        st.markdown(f"**{_(words)}** {guess_in_words(lesson, question)}")
    show_because(lesson)
    offer_outcome(lesson)


def guess_in_words(lesson: Lesson, question: str) -> str:
    """Return the order that was guessed, most first, and the hands that gave it."""
    from dashboard.charts.scene import order_words

    titles = plan_titles(lesson, lesson.guessed_plans)
    said = _("The guess, most first: {order}.").format(
        order=order_words(list(titles.values()), lesson.guess.ranks[question])
    )
    hands = lesson.guess.hands.get(question)
    if not hands:
        return said
    counted = "; ".join(f"{title}: {count}" for title, count in zip(titles.values(), hands, strict=True))
    return f"{said} {_('Hands: {hands}.').format(hands=counted)}"


def offer_outcome(lesson: Lesson) -> None:
    """Let the outcome be seen at once: watching first is better, and nobody is held up."""
    if st.button(_("Show what the season gave")):
        keep(replace(lesson, guess=replace(lesson.guess, is_shown=True)))
        st.rerun()


def show_because(lesson: Lesson) -> None:
    """Show the reason that was given."""
    if lesson.guess.because:
        st.markdown(_("**Because …**"))
        st.text(lesson.guess.because)


def show_outcome(lesson: Lesson) -> None:
    """Run the season and show guess and outcome, one picture a question."""
    from dashboard.seasons.wishes import wishes

    garden = gardens()[lesson.garden]
    places = [st.container() for _question in questions_in_hand(lesson)]
    show_because(lesson)
    lesson = ask_reason(lesson)
    show_way_on("screens/compare.py", _("Next: compare more seasons"))
    if st.button(_("Guess again")):
        keep(replace(lesson, guess=Guess()))
        for slot in [
            slot for slot in st.session_state if str(slot).startswith(("taps ", "hands ", "because", "reason"))
        ]:
            del st.session_state[slot]
        st.rerun()
    wished = {plan: wishes(garden, [plan], [lesson.season]) for plan in lesson.guessed_plans}
    run_step_by_step(wished, lambda seasons, is_all: _show_pictures(lesson, seasons, is_all, places))


def ask_reason(lesson: Lesson) -> Lesson:
    """Give the reason a place beside guess and outcome; it is kept with them."""
    reason = st.text_area(
        _("I said … I saw … because … Say it aloud, then write it here if you like. No names, please."),
        lesson.guess.reason,
        max_chars=MOST_BECAUSE_LETTERS,
        height=68,
        key=fresh("reason"),
    )
    lesson = replace(lesson, guess=replace(lesson.guess, reason=reason or ""))
    keep(lesson)
    return lesson


def _show_pictures(lesson: Lesson, seasons: Seasons, is_all: bool, places: Sequence[DeltaGenerator]) -> None:
    from dashboard.charts.guess_picture import draw, guess_scene

    for (question, (words, measure)), place in zip(questions_in_hand(lesson).items(), places, strict=True):
        values = [seasons[plan, lesson.season].summary.get(measure, 0.0) for plan in lesson.guessed_plans]
        scene = guess_scene(
            BY_MEASURE[measure],
            plan_titles(lesson, lesson.guessed_plans),
            lesson.guess.ranks[question],
            values,
            lesson.season,
        )
        with place:
            st.subheader(_(words))
            place_chart(draw(scene), scene.alt)
            st.markdown(scene.caption)
            if question in lesson.guess.hands:
                st.markdown(guess_in_words(lesson, question))
            st.table(scene.table, hide_index=True, alt=scene.alt)
            if is_all:
                offer_picture(scene, f"guess_{question}", garden_words(gardens()[lesson.garden]), [lesson.season])


if __name__ == "__main__":
    page()
