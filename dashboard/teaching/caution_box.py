"""The cautions of a lesson's papers: what comes first outdoors, and what a plan of the lesson does against it."""

from __future__ import annotations

from collections.abc import Iterator

from dashboard.language.cautions import CAUTIONS, OPEN_FLOWERS, sprays_flowers
from dashboard.language.tongue import _, speaker_note
from dashboard.paper.blocks import Block, Points, Words
from dashboard.teaching.figures import LessonFigures


def caution_heading() -> str:
    """Return what stands over the cautions."""
    return _("Before you do any of this outdoors")


def caution_blocks(figures: LessonFigures, *, are_notes: bool = False) -> Iterator[Block]:
    """Yield the cautions; above them, if so, that a plan of the lesson sprays open flowers.

    Parameters
    ----------
    figures
        The lesson.
    are_notes
        Whether they are set smaller, as paragraphs, where a page is full.
    """
    lesson = figures.lesson
    own = (OPEN_FLOWERS,) if sprays_flowers(figures.garden, (*lesson.plans, lesson.next.plan)) else ()
    said = tuple(map(_, (*own, *CAUTIONS)))
    if are_notes:
        yield from (Words(one, is_note=True) for one in said)
    else:
        yield Points(said)
    if speaker_note():
        yield Words(speaker_note(), is_note=True)
