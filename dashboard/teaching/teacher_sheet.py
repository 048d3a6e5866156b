"""The teacher's sheet of a lesson: how it runs, what to ask, and what this model answers, with its doubts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from dashboard.language.cautions import MODEL_WORDS
from dashboard.language.tongue import _, mark
from dashboard.lesson.boards import BOARDS
from dashboard.lesson.ideas import Idea, ideas
from dashboard.lesson.lesson_file import Timing
from dashboard.lesson.standards import ADDRESSES, Standard, standards_of
from dashboard.paper.blocks import Block, Box, Grid, Heading, Points, Words
from dashboard.seasons.moments import MOMENTS
from dashboard.teaching.answers import (
    graph_questions,
    ranges_grid,
    reasons_said,
    second_round_grid,
    standing_sentences,
    stop_grid,
    title_and_unit,
)
from dashboard.teaching.caution_box import caution_blocks, caution_heading
from dashboard.teaching.figures import LessonFigures, spoken_of

SCREENS = {
    "garden": mark("Choose a garden"),
    "guess": mark("Make a guess"),
    "watch": mark("Watch it grow"),
    "compare": mark("Compare"),
    "went": mark("Where it all went"),
    "try": mark("Try it yourself"),
    "take": mark("Take it home"),
    "numbers": mark("The numbers"),
}
"""Address of a screen → what it is called."""
RUBRIC = (
    mark("0: a claim only."),
    mark("1: a claim and one number from the run."),
    mark("2: two numbers, and a path through the food web that leads from the one to the other."),
    mark("3: as 2, with a step that is not direct, and one thing that the model cannot tell."),
)


def teacher_blocks(figures: LessonFigures, standards: Mapping[str, Standard] | None = None) -> tuple[Block, ...]:
    """Return what stands on the teacher's sheet, in reading order."""
    known = standards_of() if standards is None else standards
    return (
        *_opening(figures),
        *_timings(figures),
        Box(caution_heading(), (*caution_blocks(figures), Words(_(MODEL_WORDS)))),  # at the end nobody would look
        *_guesses(figures),
        *_pauses(figures),
        *_second_round(figures),
        *_closing(figures),
        *_ideas(figures),
        *_standards(figures, known),
    )


def _opening(figures: LessonFigures) -> Iterator[Block]:
    lesson = figures.lesson
    yield Words(f"**{_(lesson.title)}** {_(lesson.about)}")
    told = _("For: {whom}. Garden: {garden}. Plans: {plans}.")
    plans = " · ".join(figures.titles.values())
    yield Words(told.format(whom=_(lesson.for_whom), garden=_(figures.garden.title), plans=plans))
    yield Heading(_("Aims"))
    yield Points(tuple(map(_, lesson.aims)))
    yield Heading(_("The situation, to be read aloud"))
    yield Words(_(lesson.situation))
    yield Heading(_("One season for each seat"))
    told = _(
        "The class watches season {season}. Seat 1 has that season, seat 2 the next, and so on: {count} seats, "
        "{count} seasons of the same plans with other weather and other luck. All figures here come from those seasons."
    )
    if figures.garden.place.weather_file is not None:
        told = _(
            "The class watches season {season}. Seat 1 has that season, seat 2 the next, and so on: {count} seats, "
            "{count} seasons of the same plans. The weather comes from a file and is the same in all of them; only "
            "luck differs, so real years lie farther apart. All figures here come from those seasons."
        )
    yield Words(told.format(season=lesson.season, count=lesson.seats))


def _timings(figures: LessonFigures) -> Iterator[Block]:
    yield Heading(_("How it runs"))
    for timing in sorted(figures.lesson.timings, key=lambda one: one.minutes):
        yield Heading(_("{minutes} minutes: {who}").format(minutes=timing.minutes, who=_(timing.who)), level=3)
        yield _timing_grid(timing)
    told = _(
        "No devices, or the projector fails: the cards hold the situation, the guess, the stops and every seat's "
        "result. Go on with them from where you are. Times are common practice; try them once by yourself."
    )
    yield Words(told)


def _timing_grid(timing: Timing) -> Grid:
    header = (_("Minutes"), _("What happens"), _("What to click"))
    rows = tuple((f"{step.minutes}", _(step.what), _(step.click)) for step in timing.steps)
    return Grid(header, rows, widths=(0.9, 4.1, 3))


def _guesses(figures: LessonFigures) -> Iterator[Block]:
    yield Heading(_("The two guesses, and what the seasons gave"))
    yield Words(_("Keep this page to yourself until the guess is locked. A guess is not graded."))
    for one in figures.lesson.guesses:
        yield Heading(_(one.question), level=3)
        yield ranges_grid(figures, one.measure)
        yield Points(tuple(standing_sentences(figures, one.measure)))
    told = _(
        "Ahead means better for a gardener: more of what is wanted, less of what is not. A plan is called ahead or "
        "behind only if a sign test over these seasons says so; otherwise it is too close to call."
    )
    yield Words(told, is_note=True)


def _pauses(figures: LessonFigures) -> Iterator[Block]:
    yield Heading(_("The stops"))
    for number, place in enumerate(figures.pauses_by_day, 1):
        pause = figures.lesson.pauses[place]
        event = _(MOMENTS[pause.event].words)
        yield Heading(_("Stop {number}: {event}").format(number=number, event=event), level=3)
        yield Words(_("Ask: {question}").format(question=_(pause.question)))
        yield Words(_("For you: {prompt}").format(prompt=_(pause.prompt)))
        yield stop_grid(figures, place)


def _second_round(figures: LessonFigures) -> Iterator[Block]:
    change = figures.lesson.next
    yield Heading(_("The second round"))
    yield Words(_(change.say))
    told = _("Plan: {plan}. {prompt} First one tap: more, about the same, or less.")
    yield Words(told.format(plan=_(figures.garden.plan(change.plan).title), prompt=_(change.prompt)))
    yield second_round_grid(figures)


def _closing(figures: LessonFigures) -> Iterator[Block]:
    yield Heading(_("Questions at the end, with this model's answers"))
    shown = {one.measure for one in figures.lesson.guesses}
    for question in figures.lesson.closing:
        yield Heading(_(question.question), level=3)
        if question.measure in shown:
            told = _("Figures: {what}, above.").format(what=title_and_unit(question.measure))
            yield Points((*reasons_said(figures, question), told))
            continue
        shown.add(question.measure)
        yield ranges_grid(figures, question.measure)
        yield Points((*reasons_said(figures, question), *standing_sentences(figures, question.measure)[1:]))
    yield Heading(_("The student's graph"), level=3)
    yield Points(tuple(f"{question} **{answer}**" for question, answer in graph_questions(figures)), is_numbered=True)
    yield Heading(_("The open question"), level=3)
    yield Words(_(figures.lesson.open_question))
    yield Words(_("No single answer. Look for:"))
    yield Points(tuple(map(_, RUBRIC)))


def _ideas(figures: LessonFigures) -> Iterator[Block]:
    yield Heading(_("Ideas that learners bring, and how the season meets them"))
    for word in figures.lesson.ideas:
        yield from _idea(figures, ideas()[word])
    told = _("Where these ideas were described: {sources}.")
    sources = "; ".join(
        f"{_(idea.source)} ({_(idea.known)})" for idea in dict.fromkeys(ideas()[word] for word in figures.lesson.ideas)
    )
    yield Words(told.format(sources=sources), is_note=True)


def _idea(figures: LessonFigures, idea: Idea) -> Iterator[Block]:
    yield Words(f"**“{_(idea.says)}”** {_(idea.meets)} {_figures_of_idea(figures, idea)}".strip())


def _figures_of_idea(figures: LessonFigures, idea: Idea) -> str:
    screen = _("Screen: {screen}.").format(screen=_(SCREENS[idea.screen]))
    if idea.look:
        screen = f"{screen} {_('Question there: {question}').format(question=_(BOARDS[idea.look]))}"
    if not idea.measure or idea.measure not in figures.comparison.measures:
        return screen
    ranges = "; ".join(f"{title} {figures.range_of(plan, idea.measure)}" for plan, title in figures.titles.items())
    spoken = spoken_of(idea.measure)
    told = _("{screen} {what} ({unit}), lowest to highest season: {ranges}.")
    return told.format(screen=screen, what=spoken.title, unit=spoken.axis, ranges=ranges)


def _standards(figures: LessonFigures, known: Mapping[str, Standard]) -> Iterator[Block]:
    found = [known[word] for word in figures.lesson.standards]
    yield Heading(_("Standards that it serves"))
    for framework in dict.fromkeys(one.framework for one in found):
        mine = [one for one in found if one.framework == framework]
        addresses = _("This lesson {addresses} {framework}.").format(addresses=_(ADDRESSES), framework=_(framework))
        yield Words(addresses)
        rows = tuple((_(one.called) if one.called else one.code, _(one.does)) for one in mine)
        yield Grid((_("Code"), _("What learners do, in our words")), rows, widths=(1, 5))
        ways = "; ".join(dict.fromkeys(_(one.known) for one in mine))
        yield Words(_("How the wording is known: {ways}.").format(ways=ways), is_note=True)
