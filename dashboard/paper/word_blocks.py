"""Blocks of a paper as paragraphs, tables and pictures of a word-processor file."""

from __future__ import annotations

import io
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from dashboard.paper.blocks import (
    Block,
    Box,
    Grid,
    Heading,
    Image,
    Lines,
    PageBreak,
    Pair,
    Points,
    Words,
)
from dashboard.paper.typeset import png_of_svg
from dashboard.paper.word_marks import say_picture
from dashboard.paper.word_tables import add_room, add_runs, add_table

NOTE_POINTS, AFTER_NOTE_POINTS = 10, 2
DOTS_PER_INCH = 200
LINE_MM = 3.0
"""Room above a line to write on, beside the height of its letters."""
AFTER_TABLE_POINTS = 6


class Writer:
    """Writes blocks into a document.

    Parameters
    ----------
    document
        It is added to.
    wide_inches, high_inches
        Of the text on a page.
    """

    def __init__(self, document: Any, wide_inches: float, high_inches: float) -> None:
        self.document = document
        self.wide_inches, self.high_inches = wide_inches, high_inches
        self.begins_page = self.is_after_table = False

    def write(self, blocks: Sequence[Block], share: float = 1.0) -> None:
        """Write blocks in their order, over this share of the text's width."""
        for place, (before, block) in enumerate(pairwise((None, *blocks))):
            if _is_card(before) and _is_card(block):
                self._rule("DASHES")  # to cut along
            if isinstance(block, Words):
                self._words(block, leads_on=_leads_to_room(blocks[place + 1 :]))
            elif block is not None:
                self._write_one(block, share)

    def _write_one(self, block: Block, share: float) -> None:
        if isinstance(block, Heading):
            self._heading(block.words, block.level)
        elif isinstance(block, Points):
            for item in block.items:
                add_runs(self._paragraph("List Number" if block.is_numbered else "List Bullet"), item)
        elif isinstance(block, Image):
            self._picture(block, share)
        elif isinstance(block, Grid):
            self._table(block, share)
        elif isinstance(block, Lines):
            for left in reversed(range(block.count)):
                self._rule("LINES", is_last=left == 0)
        elif isinstance(block, Box):
            self._box(block, share)
        elif isinstance(block, Pair):
            self.write(block.left, share * block.left_share)
            self.write(block.right, share * (1 - block.left_share))
        elif isinstance(block, PageBreak):
            self.begins_page = True

    def _paragraph(self, style: str = "Normal") -> Any:
        from docx.shared import Pt

        paragraph = self.document.add_paragraph(style=style)
        if self.begins_page:
            paragraph.paragraph_format.page_break_before = True
        elif self.is_after_table and not style.startswith("Heading"):  # a heading brings room of its own
            paragraph.paragraph_format.space_before = Pt(AFTER_TABLE_POINTS)
        self.begins_page = self.is_after_table = False
        return paragraph

    def _heading(self, words: str, level: int) -> None:
        self._paragraph(f"Heading {level}").add_run(words)

    def _words(self, block: Words, *, leads_on: bool) -> None:
        from docx.shared import Pt

        paragraph = self._paragraph()
        add_runs(paragraph, block.words, NOTE_POINTS if block.is_note else None)
        if block.is_note:
            paragraph.paragraph_format.space_after = Pt(AFTER_NOTE_POINTS)
        paragraph.paragraph_format.keep_with_next = leads_on or None

    def _rule(self, leader: str, *, is_last: bool = True) -> None:
        """Add a line across the page; as a tab it is not read aloud sign by sign."""
        from docx.enum.text import WD_TAB_ALIGNMENT, WD_TAB_LEADER
        from docx.shared import Inches, Mm

        paragraph = self._paragraph()
        shape = paragraph.paragraph_format
        shape.space_before, shape.keep_with_next = Mm(LINE_MM), None if is_last else True
        shape.tab_stops.add_tab_stop(Inches(self.wide_inches), WD_TAB_ALIGNMENT.RIGHT, WD_TAB_LEADER[leader])
        paragraph.add_run("\t")

    def _box(self, box: Box, share: float) -> None:
        self._heading(box.title, box.level)
        self.write(box.blocks, share)
        if box.height_share and not box.blocks:
            add_room(self.document, self.high_inches * box.height_share, self.wide_inches * share)
            self.is_after_table = True

    def _picture(self, image: Image, share: float) -> None:
        from docx.shared import Inches

        run = self._paragraph().add_run()
        wide = self.wide_inches * share * image.width_share
        run.add_picture(io.BytesIO(png_of_svg(image.svg, DOTS_PER_INCH)), width=Inches(wide))
        say_picture(run, image.alt)
        if image.caption:
            add_runs(self._paragraph("Caption"), image.caption)

    def _table(self, grid: Grid, share: float) -> None:
        if grid.caption or self.begins_page:  # a table by itself cannot begin a page
            caption = self._paragraph("Caption")
            add_runs(caption, grid.caption)
            caption.paragraph_format.keep_with_next = True
        add_table(self.document, grid, self.wide_inches * share)
        self.is_after_table = True


def _is_card(block: Block | None) -> bool:
    return isinstance(block, Box) and bool(block.height_share and block.blocks)


def _leads_to_room(following: Sequence[Block]) -> bool:
    """Return whether words lead up to a table or to lines to write on, so that they stay with them."""
    after = next((block for block in following if not isinstance(block, Words)), None)
    return isinstance(after, Grid | Lines)
