"""Cards for the lesson without devices, two to a page: black on white, so that a copy of a copy can still be read."""

from __future__ import annotations

from collections.abc import Iterator
from string import ascii_uppercase

from dashboard.language.tongue import _
from dashboard.paper.blocks import Block, Box, Grid, Lines, PageBreak, Points, Words
from dashboard.seasons.moments import MOMENTS
from dashboard.teaching.answers import stop_grid, title_and_unit
from dashboard.teaching.caution_box import caution_blocks
from dashboard.teaching.figures import LessonFigures

CARD_POINTS = 14.0
"""Size of letters: a card is read by a group around a table."""
SEATS_A_CARD = 8
CARD_SHARE = 0.47
"""Of the height of a page's text: two cards and the gap between them."""
REASON_LINES = 2
NO_BREAK = "\u00a0"
"""Holds a number to the word before it, so that it never begins a line alone."""


def card_blocks(figures: LessonFigures) -> tuple[Block, ...]:
    """Return the cards in the order in which they are laid out."""
    blocks: list[Block] = []
    cards = list(_cards(figures))
    for number, (title, held) in enumerate(cards):
        if number and number % 2 == 0:
            blocks.append(PageBreak())
        heading = _("Card {number} of {count}: {title}").format(number=number + 1, count=len(cards), title=title)
        blocks.append(Box(heading, tuple(held), height_share=CARD_SHARE))
    return tuple(blocks)


def _cards(figures: LessonFigures) -> Iterator[tuple[str, list[Block]]]:
    lesson = figures.lesson
    plans = [figures.garden.plan(name) for name in lesson.plans]
    yield (
        _("the garden"),
        [Words(_(lesson.situation)), Points(tuple(f"**{_(plan.title)}.** {_(plan.about)}" for plan in plans))],
    )
    yield _("the guess"), _guess(figures)
    for number, place in enumerate(figures.pauses_by_day, 1):
        pause = lesson.pauses[place]
        event = _(MOMENTS[pause.event].words)
        title = _("stop {number}, {event}").format(number=number, event=event)
        yield title, [Words(f"**{_(pause.question)}**"), stop_grid(figures, place)]
    yield _("the second round"), _second_round(figures)
    for first in range(1, lesson.seats + 1, SEATS_A_CARD):
        seats = range(first, min(first + SEATS_A_CARD, lesson.seats + 1))
        title = _("what the seasons gave, seats {first} to {last}").format(first=seats[0], last=seats[-1])
        yield title, _outcomes(figures, seats)
    yield _("for the teacher only"), _prompts(figures)
    yield _("before you do any of this outdoors"), list(caution_blocks(figures))


def _guess(figures: LessonFigures) -> list[Block]:
    questions = Points(tuple(_(one.question) for one in figures.lesson.guesses), is_numbered=True)
    hands = (_("Hands, question 1"), _("Hands, question 2"))
    header = (_("Plan"), *(NO_BREAK.join(words.rsplit(" ", 1)) for words in hands))
    rows = tuple((title, "", "") for title in figures.titles.values())
    return [
        Words(_("Before anybody sees a result: one hand for each question. Count, and write it down.")),
        questions,
        Grid(header, rows, widths=(2, 1, 1), row_height_mm=9),
        Words(_("We think so because …")),
        Lines(REASON_LINES),
    ]


def _second_round(figures: LessonFigures) -> list[Block]:
    change = figures.lesson.next
    return [
        Words(f"**{_(change.say)}**"),
        Words(_("First the hands: more to sell, about the same, or less?")),
        Grid((_("More"), _("About the same"), _("Less")), (("", "", ""),), row_height_mm=12),
        Words(_("The answer is on the teacher's sheet, under 'The second round'.")),
    ]


def _outcomes(figures: LessonFigures, seats: range) -> list[Block]:
    lesson = figures.lesson
    letters = dict(zip(lesson.plans, ascii_uppercase, strict=False))
    said = [title_and_unit(one.measure) for one in lesson.guesses]
    key = " ".join(f"**{letter}**: {figures.titles[plan]}." for plan, letter in letters.items())
    header = (_("Seat"), _("Season"), *(f"{number} {letter}" for number in (1, 2) for letter in letters.values()))
    rows = tuple(
        (
            f"{seat}",
            f"{lesson.season + seat - 1}",
            *(figures.of_seat(seat, plan, one.measure) for one in lesson.guesses for plan in lesson.plans),
        )
        for seat in seats
    )
    return [
        Words(f"**1**: {said[0]}. **2**: {said[1]}. {key}"),
        Grid(header, rows, widths=(1.2, 1.6, *(1,) * (len(header) - 2)), are_figures_right=True),
    ]


def _prompts(figures: LessonFigures) -> list[Block]:
    prompts = [
        _("Stop {number}: {prompt}").format(number=number, prompt=_(figures.lesson.pauses[place].prompt))
        for number, place in enumerate(figures.pauses_by_day, 1)
    ]
    last = _("If the projector fails: lay out the next card, and go on. Nothing of the lesson is lost.")
    return [Points((*prompts, last))]
