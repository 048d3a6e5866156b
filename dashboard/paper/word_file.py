"""A paper as a word-processor file (.docx), for those who want to change its words."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from dashboard.paper.blocks import (
    Block,
    Box,
    Grid,
    Heading,
    Image,
    Lines,
    PageBreak,
    Pair,
    Paper,
    PaperSize,
    Points,
    Words,
    runs_of,
)
from dashboard.paper.typeset import png_of_svg

if TYPE_CHECKING:
    from docx.document import Document

SIZES_INCHES = {"letter": (8.5, 11.0), "a4": (8.27, 11.69)}
MARGIN_INCHES = 0.7
FONT = "Liberation Serif"
NOTE_POINTS, FOOT_POINTS = 10, 9
DOTS_PER_INCH = 200
FIXED_DAY = datetime(2025, 1, 1, tzinfo=UTC)
"""The file says this day, so that the same paper gives the same bytes; the paper's own foot says when it was made."""


def word_file_of(paper: Paper, size: PaperSize = "letter") -> bytes:
    """Return the paper as a .docx file with headings, headed tables and alternative texts."""
    import docx
    from docx.shared import Inches, Pt

    from dashboard.paper.archive import zip_again

    kept = paper.with_letters_at_hand()
    document = docx.Document()
    section = document.sections[0]
    section.page_width, section.page_height = (Inches(side) for side in SIZES_INCHES[size])
    section.left_margin = section.right_margin = section.top_margin = section.bottom_margin = Inches(MARGIN_INCHES)
    style: Any = document.styles["Normal"]
    style.font.name, style.font.size = FONT, Pt(kept.text_points)
    _set_language(style, kept.language)
    _set_properties(document, kept)
    document.add_heading(kept.title, level=1)
    writer = _Writer(document, SIZES_INCHES[size][0] - 2 * MARGIN_INCHES)
    writer.write(kept.blocks, 1.0)
    foot = section.footer.paragraphs[0]
    foot.add_run(kept.foot).font.size = Pt(FOOT_POINTS)
    file = io.BytesIO()
    document.save(file)
    return zip_again(file.getvalue())


def _set_language(style: Any, language: str) -> None:
    from docx.oxml.ns import qn
    from docx.oxml.parser import OxmlElement

    element = OxmlElement("w:lang")
    element.set(qn("w:val"), {"en": "en-US", "es": "es-US"}.get(language, language))
    style.element.get_or_add_rPr().append(element)


def _set_properties(document: Document, paper: Paper) -> None:
    told = document.core_properties
    told.title, told.author, told.language, told.comments = paper.title, "Leaf to Nest", paper.language, ""
    told.created = told.modified = FIXED_DAY
    told.last_modified_by = "Leaf to Nest"


class _Writer:
    def __init__(self, document: Document, wide_inches: float) -> None:
        self.document = document
        self.wide_inches = wide_inches

    def write(self, blocks: tuple[Block, ...], share: float) -> None:
        for block in blocks:
            self._write_one(block, share)

    def _write_one(self, block: Block, share: float) -> None:
        from docx.enum.text import WD_BREAK

        if isinstance(block, Heading):
            self.document.add_heading(block.words, level=block.level)
        elif isinstance(block, Words):
            self._add(self.document.add_paragraph(), block.words, NOTE_POINTS if block.is_note else None)
        elif isinstance(block, Points):
            for item in block.items:
                kind = "List Number" if block.is_numbered else "List Bullet"
                self._add(self.document.add_paragraph(style=kind), item)
        elif isinstance(block, Image):
            self._picture(block, share)
        elif isinstance(block, Grid):
            self._table(block)
        elif isinstance(block, Lines):
            for _line in range(block.count):
                self.document.add_paragraph("_" * 70)
        elif isinstance(block, Box):
            self.document.add_heading(block.title, level=block.level)
            self.write(block.blocks, share)
        elif isinstance(block, Pair):
            self.write(block.left, share * block.left_share)
            self.write(block.right, share * (1 - block.left_share))
        elif isinstance(block, PageBreak):
            self.document.add_paragraph().add_run().add_break(WD_BREAK.PAGE)

    def _add(self, paragraph: Any, text: str, points: int | None = None) -> None:
        from docx.shared import Pt

        for part, is_bold in runs_of(text):
            run = paragraph.add_run(part)
            run.bold = is_bold or None
            if points:
                run.font.size = Pt(points)

    def _picture(self, image: Image, share: float) -> None:
        from docx.shared import Inches

        paragraph = self.document.add_paragraph()
        run = paragraph.add_run()
        wide = self.wide_inches * share * image.width_share
        shape = run.add_picture(io.BytesIO(png_of_svg(image.svg, DOTS_PER_INCH)), width=Inches(wide))
        told = shape._inline.docPr
        told.set("descr", image.alt)
        if image.caption:
            self._add(self.document.add_paragraph(style="Caption"), image.caption)

    def _table(self, grid: Grid) -> None:
        from docx.enum.text import WD_ALIGN_PARAGRAPH
        from docx.oxml.ns import qn
        from docx.oxml.parser import OxmlElement
        from docx.shared import Mm

        if grid.caption:
            self._add(self.document.add_paragraph(style="Caption"), grid.caption)
        table = self.document.add_table(rows=0, cols=len(grid.header), style="Table Grid")
        for number, row in enumerate((tuple(f"**{words}**" for words in grid.header), *grid.rows)):
            line = table.add_row()
            if number and grid.row_height_mm:
                line.height = Mm(grid.row_height_mm)
            for place, (cell, words) in enumerate(zip(line.cells, row, strict=True)):
                self._add(cell.paragraphs[0], words)
                if place and grid.are_figures_right:
                    cell.paragraphs[0].alignment = WD_ALIGN_PARAGRAPH.RIGHT
        repeated = OxmlElement("w:tblHeader")
        repeated.set(qn("w:val"), "true")
        table.rows[0]._tr.get_or_add_trPr().append(repeated)
