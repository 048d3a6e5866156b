"""A lesson's papers on a screen: made from the seasons of its seats, set only when a file is asked for."""

from __future__ import annotations

from datetime import date
from functools import partial
from typing import TYPE_CHECKING

import streamlit as st

from dashboard.handout.on_screen import FILES
from dashboard.language.tongue import _, in_these_words, mark
from dashboard.lesson.lesson import Lesson
from dashboard.lesson.opened import lesson_file_of
from dashboard.page.running import Seasons, comparison_from, run_step_by_step
from dashboard.page.visit import gardens, is_shown_as_moved
from dashboard.seasons.wishes import wishes
from dashboard.sharing.role import is_class_server

if TYPE_CHECKING:
    from streamlit.delta_generator import DeltaGenerator

    from dashboard.lesson.lesson_file import LessonFile
    from dashboard.paper.blocks import PaperSize

PAPER_NAMES = {"letter": mark("US Letter"), "a4": mark("A4")}
SHEETS = {"teacher": mark("Teacher's sheet"), "student": mark("Student's sheet"), "cards": mark("Cards, two to a page")}
_WANTED = "sheets wanted"


def offer_sheets(lesson: Lesson) -> None:
    """Offer the papers of the lesson that is open; without one, say where to open one."""
    st.header(_("Sheets and cards for a class"))
    followed = lesson_file_of(lesson)
    if followed is None:
        st.markdown(_("Open a lesson on the first screen; its sheets and cards stand here then."))
        return
    told = _(
        "A teacher's sheet with the answers, a sheet for each team, and cards for a lesson without devices. They are "
        "made from {count} seasons, one for each seat, so every figure is this tool's own."
    )
    st.markdown(told.format(count=followed.seats))
    if is_shown_as_moved(lesson):
        st.caption(_("These papers hold the lesson's plans as they stand, not as you moved them."))
    size = st.segmented_control(
        _("Paper"),
        list(PAPER_NAMES),
        default="letter",
        format_func=lambda name: _(PAPER_NAMES[name]),
        required=True,
        key="paper size",
        persist_state="session",
    )
    form = st.segmented_control(
        _("As which file?"),
        list(FILES),
        default="pdf",
        format_func=lambda name: _(FILES[name][0]),
        required=True,
        key="sheet form",
        persist_state="session",
    )
    if st.button(_("Make the sheets"), type="primary"):
        st.session_state[_WANTED] = lesson.ready
    if st.session_state.get(_WANTED) == lesson.ready:
        _make(lesson, followed, "a4" if size == "a4" else "letter", str(form))


def _make(lesson: Lesson, followed: LessonFile, size: PaperSize, form: str) -> None:
    from dashboard.teaching.figures import AS_CHANGED, AS_IT_WAS

    garden = gardens()[lesson.garden]
    changed = garden.with_changes(followed.next.changes)
    plans = {plan: wishes(garden, [plan], followed.seasons) for plan in followed.plans}
    second = {
        AS_IT_WAS: wishes(garden, [followed.next.plan], followed.seasons),
        AS_CHANGED: wishes(changed, [followed.next.plan], followed.seasons),
    }
    place = st.container()
    run_step_by_step(
        plans | second,
        lambda seasons, is_all: _show_files(lesson, followed, seasons, size, form, place) if is_all else None,
        is_paper=True,
    )


def _show_files(
    lesson: Lesson, followed: LessonFile, seasons: Seasons, size: PaperSize, form: str, place: DeltaGenerator
) -> None:
    sheets = {kind: words for kind, words in SHEETS.items() if kind != "teacher" or not is_class_server()}
    for column, (kind, words) in zip(place.columns(len(sheets)), sheets.items(), strict=True):
        column.download_button(
            _(words),
            in_these_words(partial(sheet_file, lesson, followed, seasons, kind, size, form)),
            f"{followed.name}_{kind}.{form}",
            FILES[form][1],
            on_click="ignore",
            width="stretch",
            key=f"sheet {kind}",
        )


def sheet_file(
    lesson: Lesson,
    followed: LessonFile,
    seasons: Seasons,
    kind: str,
    size: PaperSize,
    form: str,
    day: date | None = None,
) -> bytes:
    """Return one of the papers as a file, with a day printed on it: today's, where none is given."""
    from dashboard.lesson.opened import standards_known
    from dashboard.teaching.figures import AS_CHANGED, AS_IT_WAS, LessonFigures, stops_of
    from dashboard.teaching.sheets import paper_of, sheet_file

    garden = gardens()[lesson.garden]
    first = {key: lived for key, lived in seasons.items() if key[0] in followed.plans}
    second = {key: lived for key, lived in seasons.items() if key[0] in (AS_IT_WAS, AS_CHANGED)}
    figures = LessonFigures(
        followed,
        garden,
        comparison_from(garden, first),
        comparison_from(garden, second),
        stops_of(followed, garden),
    )
    return sheet_file(paper_of(kind, figures, day or date.today(), standards_known(followed)), size, form)
