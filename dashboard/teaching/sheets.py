"""The papers of a lesson: teacher's sheet, student's sheet and cards, from one set of figures, as files."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from dashboard.charts.imprint import Imprint, garden_words
from dashboard.handout.files import FORMS, PRINTED, file_of
from dashboard.language.tongue import _, current_language
from dashboard.lesson.standards import Standard
from dashboard.paper.blocks import Block, Paper, PaperSize
from dashboard.paper.typeset import on_fewest_pages
from dashboard.teaching.card_sheet import CARD_POINTS, card_blocks
from dashboard.teaching.figures import LessonFigures
from dashboard.teaching.graphs import graph_to_draw, graph_to_read
from dashboard.teaching.student_sheet import student_blocks
from dashboard.teaching.teacher_sheet import teacher_blocks

if TYPE_CHECKING:
    from sim.export import Results

KINDS = ("teacher", "student", "cards")
"""The three papers, by the names of their files."""
TEXT_POINTS = 12.0


def paper_of(
    kind: str, figures: LessonFigures, day: date | None = None, standards: Mapping[str, Standard] | None = None
) -> Paper:
    """Return one of the papers, in the language and the units spoken now.

    Parameters
    ----------
    kind
        One of ``KINDS``.
    figures
        The lesson with what its seasons gave.
    day
        When it is made; None leaves the day out.
    standards
        Standards known, with those of the teacher's own files; those of the program if left out.
    """
    imprint = _imprint(figures, day)
    lesson = figures.lesson
    title = _(lesson.title)
    blocks: tuple[Block, ...]
    if kind == "teacher":
        blocks, heading = teacher_blocks(figures, standards), _("Teacher's sheet: {lesson}").format(lesson=title)
    elif kind == "student":
        empty, graph = graph_to_draw(figures, imprint), graph_to_read(figures, imprint)
        blocks, heading = student_blocks(figures, empty, graph), _("Our sheet: {lesson}").format(lesson=title)
    else:
        blocks, heading = card_blocks(figures), _("Cards: {lesson}").format(lesson=title)
    made = _("lesson {name}").format(name=lesson.name)
    code = _code(figures)
    return Paper(
        heading,
        blocks,
        foot=" · ".join(part for part in (imprint.line(), made, code) if part),
        language=current_language(),
        text_points=CARD_POINTS if kind == "cards" else TEXT_POINTS,
        is_black=kind != "teacher",
    )


def sheet_file(paper: Paper, size: PaperSize, form: str) -> bytes:
    """Return one of the papers in one of its forms; on paper it takes no page more than it must."""
    return file_of(on_fewest_pages(paper, size) if form == PRINTED else paper, size, form)


def sheet_results(
    figures: LessonFigures,
    size: PaperSize,
    day: date | None = None,
    standards: Mapping[str, Standard] | None = None,
) -> Results:
    """Return the papers to print, to change and as plain text, with the seasons that they were made from."""
    from dashboard.results import COLUMN_WORDS
    from sim.export import Results

    papers = {kind: paper_of(kind, figures, day, standards) for kind in KINDS}
    return Results(
        tables={"seasons": figures.comparison.seasons, "second_round": figures.second.seasons},
        provenance={**figures.comparison.provenance, "lesson": figures.lesson.name},
        descriptions=COLUMN_WORDS,
        extras={f"{kind}.{form}": sheet_file(paper, size, form) for kind, paper in papers.items() for form in FORMS},
    )


def _code(figures: LessonFigures) -> str:
    """Return the code of a ready lesson, or of garden, plans and season; gardens of one's own travel as files."""
    from dashboard.lesson.lesson import Lesson
    from dashboard.lesson.lesson_code import code_of
    from dashboard.lesson.opened import open_lessons
    from sim.scenario import load_scenario, scenario_names

    lesson = figures.lesson
    if lesson.garden not in scenario_names():
        return ""
    gardens = {name: load_scenario(name) for name in scenario_names()}
    ready = lesson.name if open_lessons().get(lesson.name, (None,))[0] == lesson else ""
    code = code_of(Lesson(lesson.garden, lesson.plans, lesson.season, ready=ready), gardens)
    return _("code {code}").format(code=code)


def _imprint(figures: LessonFigures, day: date | None) -> Imprint:
    from sim.season import model_version

    return Imprint(garden_words(figures.garden), figures.comparison.seeds, model_version(), day)
