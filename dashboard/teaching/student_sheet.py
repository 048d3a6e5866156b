"""The student's sheet: predict on the first leaf, observe; then, on the second leaf, read a graph and explain.

No name stands on it: a team draws an animal. The graph comes after the guess; each number asks for a because.
"""

from __future__ import annotations

from collections.abc import Iterator

from dashboard.language.tongue import _, many
from dashboard.paper.blocks import Block, Box, Grid, Heading, Image, Lines, PageBreak, Points, Words
from dashboard.seasons.moments import MOMENTS
from dashboard.teaching.answers import graph_questions, title_and_unit
from dashboard.teaching.caution_box import caution_blocks, caution_heading
from dashboard.teaching.figures import LessonFigures, spoken_of

WRITING_MM = 8.0
"""Height of a row to write in."""
STOP_MM = 11.0
RESULT_MM = 6.5
BLANK_ROWS = 2
DRAWING_SHARE = 0.17


def student_blocks(figures: LessonFigures, empty: Image, graph: Image) -> tuple[Block, ...]:
    """Return what stands on the student's sheet, in reading order.

    Parameters
    ----------
    figures
        The lesson with what its seasons gave.
    empty
        Axes without a mark, to draw into.
    graph
        The same axes with a dot a season.
    """
    return (
        *_opening(figures),
        *_predict(figures),
        PageBreak(),
        *_observe(figures, empty),
        PageBreak(),
        *_read(figures, graph),
        PageBreak(),
        *_explain(figures),
    )


def _opening(figures: LessonFigures) -> Iterator[Block]:
    lesson = figures.lesson
    yield Grid((_("Our team's animal"), _("Our seat"), _("Our season")), (("", "", ""),), row_height_mm=WRITING_MM)
    yield Heading(_("The garden"))
    yield Words(_(lesson.situation))
    yield Heading(_("What each gardener does"), level=3)
    plans = [figures.garden.plan(name) for name in lesson.plans]
    yield Points(tuple(f"**{_(plan.title)}.** {_(plan.about)}" for plan in plans))
    if lesson.words:
        yield Heading(_("New words"), level=3)
        yield Points(tuple(f"**{_(one.word)}**: {_(one.means)}" for one in lesson.words))


def _predict(figures: LessonFigures) -> Iterator[Block]:
    lesson = figures.lesson
    yield Heading(_("1. Predict"))
    yield Words(_("Do this before you see any result. Give each plan a place: 1 is most."))
    yield Points(tuple(_(one.question) for one in lesson.guesses), is_numbered=True)
    header = (_("Plan"), *(_("Place, question {number}").format(number=n + 1) for n in range(len(lesson.guesses))))
    rows = tuple((title, *("",) * len(lesson.guesses)) for title in figures.titles.values())
    yield Grid(header, rows, widths=(2, *(1,) * len(lesson.guesses)), row_height_mm=WRITING_MM)
    for number in range(len(lesson.guesses)):
        yield Words(_("Question {number}: I think so because …").format(number=number + 1))
        yield Lines(1)


def _observe(figures: LessonFigures, empty: Image) -> Iterator[Block]:
    lesson = figures.lesson
    yield Heading(_("2. Observe"))
    stops = many(
        "The season stops once. Talk, then write a few words.",
        "The season stops {count} times. Talk, then write a few words.",
        len(lesson.pauses),
    )
    yield Words(stops.format(count=len(lesson.pauses)))
    yield _stops_to_fill(figures)
    yield Heading(_("What our season gave"), level=3)
    yield Words(_("Read it from your screen or your card. The two empty rows are for plans of your own."))
    yield _results_to_fill(figures)
    yield Heading(_("Draw your dots"), level=3)
    yield Words(_("One dot for each plan. Then add the dots of the seats beside you, in another shape."))
    yield empty


def _stops_to_fill(figures: LessonFigures) -> Grid:
    header = (_("Stop"), _("Question"), _("What we saw, because …"))
    pauses = [figures.lesson.pauses[place] for place in figures.pauses_by_day]
    rows = tuple((_(MOMENTS[one.event].words), _(one.question), "") for one in pauses)
    return Grid(header, rows, widths=(1.5, 3, 3.5), row_height_mm=STOP_MM)


def _results_to_fill(figures: LessonFigures) -> Grid:
    asked = [spoken_of(one.measure) for one in figures.lesson.guesses]
    told = _("{what}, {unit}")
    header: tuple[str, ...] = (_("Plan"), *(told.format(what=one.title, unit=one.unit) for one in asked))
    plans = (*figures.titles.values(), *("",) * BLANK_ROWS)
    rows = tuple((title, *("",) * len(asked)) for title in plans)
    return Grid(header, rows, widths=(2, *(1.4,) * len(asked)), row_height_mm=RESULT_MM)


def _read(figures: LessonFigures, graph: Image) -> Iterator[Block]:
    measure = figures.lesson.guesses[0].measure
    yield Heading(_("3. Read the graph"))
    told = _("{what}. Each dot is one season: same plan, other weather, other luck.")
    if figures.garden.place.weather_file is not None:
        told = _("{what}. Each dot is one season: same plan, same weather, other luck.")
    yield Words(told.format(what=title_and_unit(measure)))
    yield graph
    for number, (question, _answer) in enumerate(graph_questions(figures), 1):
        yield Words(f"{number}. {question} {_('Because …')}")
        yield Lines(2)


def _explain(figures: LessonFigures) -> Iterator[Block]:
    yield Heading(_("4. Explain"))
    for start in (_("I said …"), _("I saw …"), _("The reason is …")):
        yield Words(start)
        yield Lines(2)
    yield Heading(_("One question that no graph answers"), level=3)
    yield Words(_(figures.lesson.open_question))
    yield Lines(2)
    yield Box(_("Draw who eats whom here. Arrows point to the eater."), (), level=3, height_share=DRAWING_SHARE)
    yield Box(caution_heading(), tuple(caution_blocks(figures, are_notes=True)))
