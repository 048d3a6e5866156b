"""A paper as a word-processor file (.docx), for those who want to change its words."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from dashboard.paper.blocks import Paper, PaperSize
from dashboard.paper.word_blocks import NOTE_POINTS, Writer
from dashboard.paper.word_marks import add_page_number, say_language

if TYPE_CHECKING:
    from docx.document import Document

SIZES_INCHES = {"letter": (8.5, 11.0), "a4": (8.27, 11.69)}
MARGIN_INCHES = 0.7
FONT = "Liberation Serif"
TITLE_POINTS, FOOT_POINTS = 18.0, 9
SECTION_MORE_POINTS = 2.0
"""By how much the heading of a section is larger than the text; that of a part is as large, and bold."""
AFTER_POINTS, BEFORE_HEADING_POINTS = 5, 10
FIXED_DAY = datetime(2025, 1, 1, tzinfo=UTC)
"""The file says this day, so that the same paper gives the same bytes; the paper's own foot says when it was made."""


def word_file_of(paper: Paper, size: PaperSize = "letter") -> bytes:
    """Return the paper as a .docx file with headings, headed tables, room to write and alternative texts."""
    import docx
    from docx.shared import Inches

    from dashboard.paper.archive import zip_again

    kept = paper.with_letters_at_hand()
    document = docx.Document()
    section, (wide, high) = document.sections[0], SIZES_INCHES[size]
    section.page_width, section.page_height = Inches(wide), Inches(high)
    section.left_margin = section.right_margin = section.top_margin = section.bottom_margin = Inches(MARGIN_INCHES)
    _dress(document, kept)
    _set_properties(document, kept)
    document.add_heading(kept.title, level=1)
    Writer(document, wide - 2 * MARGIN_INCHES, high - 2 * MARGIN_INCHES).write(kept.blocks)
    _write_foot(section.footer.paragraphs[0], kept.foot)
    file = io.BytesIO()
    document.save(file)
    return zip_again(file.getvalue())


def _dress(document: Document, paper: Paper) -> None:
    """Set sizes, and black for what the library's template has in a light blue that a copier loses."""
    from docx.shared import Pt, RGBColor

    plain: Any = document.styles["Normal"]
    plain.font.name, plain.font.size = FONT, Pt(paper.text_points)
    plain.paragraph_format.space_after, plain.paragraph_format.line_spacing = Pt(AFTER_POINTS), 1.0
    say_language(plain, paper.language)
    text = paper.text_points
    sizes = {"Heading 1": TITLE_POINTS, "Heading 2": text + SECTION_MORE_POINTS, "Heading 3": text}
    for name, points in (sizes | {"Caption": NOTE_POINTS}).items():
        style: Any = document.styles[name]
        style.font.size, style.font.color.rgb = Pt(points), RGBColor(0, 0, 0)
        if name in sizes:
            style.paragraph_format.space_before = Pt(BEFORE_HEADING_POINTS if name != "Heading 1" else 0)
            style.paragraph_format.space_after = Pt(AFTER_POINTS)


def _write_foot(paragraph: Any, foot: str) -> None:
    from docx.shared import Pt

    paragraph.style.font.size = Pt(FOOT_POINTS)
    add_page_number(paragraph)
    paragraph.add_run(f" · {foot}" if foot else "")


def _set_properties(document: Document, paper: Paper) -> None:
    told = document.core_properties
    told.title, told.author, told.language, told.comments = paper.title, "Leaf to Nest", paper.language, ""
    told.created = told.modified = FIXED_DAY
    told.last_modified_by = "Leaf to Nest"
