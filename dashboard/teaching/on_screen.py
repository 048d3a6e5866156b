"""An open lesson on the screens: chosen on the first one, its situation and timings told, each screen led once."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st

from dashboard.codes.keys import canonical
from dashboard.language.tongue import _, mark
from dashboard.lesson.lesson import Lesson, first_lesson
from dashboard.lesson.lesson_file import LessonFile
from dashboard.lesson.opened import lesson_file_of, open_lessons, opened
from dashboard.page.again import forget_answers
from dashboard.page.visit import current_lesson, gardens, keep
from dashboard.sharing.role import is_class_server
from sim.errors import LeafnestError

FREE_PLAY = ""
LEADS = {
    "garden": mark("Read the situation aloud. Show what each gardener does. Then go on to the guess."),
    "guess": mark("Answer both questions, by taps or by hands. Say why. Then lock the guess."),
    "locked": mark("Watch the season now. Guess and season stand side by side after it."),
    "outcome": mark("Set guess and season side by side. Say why it came so. Then look at more seasons."),
    "watch": mark("Play the season. It stops by itself, with one question each time."),
    "compare": mark("Was that season unusual? Look at twenty, or at one season for each seat."),
    "went": mark("Tap 'Who was left with less?'. Find who lost, though nobody touched them."),
    "try": mark("Change one thing. Guess once more before you see what it does."),
    "home": mark("Print the sheets and the cards, or take a page along."),
}
"""Screen → what to do there, said once."""
_CHOSEN = "lesson chosen"
_LEADING = "screen that leads"


def choose_lesson() -> None:
    """Offer the lessons, and free play; one that is chosen brings its garden, plans and season."""
    names = [FREE_PLAY, *open_lessons()]
    lessons = {name: lesson for name, (lesson, _garden) in open_lessons().items()}
    st.session_state[_CHOSEN] = current_lesson().ready
    st.radio(
        _("A lesson, or free play?"),
        names,
        format_func=lambda name: _(lessons[name].title) if name else _("Free play"),
        captions=[_(lessons[name].about) if name else _("Any garden, any plans; nobody leads.") for name in names],
        key=_CHOSEN,
        on_change=_open_chosen,
    )


def _open_chosen() -> None:
    name = st.session_state[_CHOSEN]
    before = current_lesson()
    forget_answers()
    keep(replace(opened(name) if name else first_lesson(gardens()), led=before.led))


def show_lesson(lesson: Lesson) -> None:
    """Show the situation, the new words and, for the teacher, how the lesson runs."""
    followed = lesson_file_of(lesson)
    if followed is None:
        return
    st.header(_(followed.title))
    st.markdown(_(followed.situation))
    if followed.words:
        st.markdown("\n".join(f"- **{_(one.word)}**: {_(one.means)}" for one in followed.words))
    if not is_class_server():
        with st.expander(_("For the teacher: how the lesson runs")):
            _show_timings(followed)


def _show_timings(followed: LessonFile) -> None:
    import pandas as pd

    for timing in followed.timings:
        heading = _("{minutes} minutes: {who}").format(minutes=timing.minutes, who=_(timing.who))
        st.markdown(f"**{heading}**")
        rows = [(f"{step.minutes}", _(step.what), _(step.click)) for step in timing.steps]
        frame = pd.DataFrame(rows, columns=[_("Minutes"), _("What happens"), _("What to click")])
        st.table(frame, hide_index=True, alt=heading)


def lead(lesson: Lesson, screen: str) -> Lesson:
    """Say in a lesson what to do on this screen, until the visitor has been on another one; return the lesson."""
    if not lesson.ready:
        return lesson
    left = st.session_state.get(_LEADING, screen)
    if left != screen and left not in lesson.led:
        lesson = replace(lesson, led=(*lesson.led, left))
        keep(lesson)
    st.session_state[_LEADING] = screen
    if screen not in lesson.led:
        st.info(_(LEADS[screen]), icon=":material/signpost:")
    return lesson


def offer_second_round(lesson: Lesson) -> None:
    """Offer, in a lesson, the change that it asks for, to be set with one click."""
    followed = lesson_file_of(lesson)
    if followed is None:
        return
    st.markdown(f"**{_('The second round.')}** {_(followed.next.say)}")
    if not _is_set(lesson, followed) and st.button(_("Set this change")):
        changes = canonical(followed.next.changes, gardens()[lesson.garden])
        forget_answers()
        keep(replace(lesson, tried_plan=followed.next.plan, changes=changes))
        st.rerun()


def _is_set(lesson: Lesson, followed: LessonFile) -> bool:
    """Return whether the garden stands as the lesson wants it, by whatever keys it was brought there."""
    garden = gardens()[lesson.garden]
    try:
        stands = garden.with_changes(lesson.changes)
    except LeafnestError:  # the screen for trying tells why
        return False
    return lesson.tried_plan == followed.next.plan and stands == garden.with_changes(followed.next.changes)
