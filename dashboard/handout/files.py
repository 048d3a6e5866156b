"""The files of a handout: a PDF to print, a word-processor file to change, and plain text."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from dashboard.handout.contents import handouts
from dashboard.paper.plain_text import plain_text_of
from dashboard.paper.typeset import pdf_of
from dashboard.paper.word_file import word_file_of

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings
    from dashboard.paper.blocks import Paper, PaperSize

PRINTED = "pdf"
"""The form that keeps to two pages."""
FORMS = (PRINTED, "docx", "txt")


def handout_files(
    findings: Findings, size: PaperSize, *, day: date | None = None, is_grey: bool = False, address: str = ""
) -> dict[str, bytes]:
    """Return file name → bytes of every form; see :func:`~dashboard.handout.contents.handouts`."""
    printed, whole = handouts(findings, size, day=day, is_grey=is_grey, address=address)
    return {
        "handout.txt" if form == "txt" else f"handout_{size}.{form}": file_of(
            printed if form == PRINTED else whole, size, form
        )
        for form in FORMS
    }


def file_of(paper: Paper, size: PaperSize, form: str) -> bytes:
    """Return the handout in one form."""
    if form == "txt":
        return plain_text_of(paper).encode()
    return pdf_of(paper, size) if form == PRINTED else word_file_of(paper, size)
