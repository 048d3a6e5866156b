"""What a word-processor file says in its own marks alone: the library that writes it has no names for these."""

from __future__ import annotations

from typing import Any


def say_language(style: Any, language: str) -> None:
    """Let words in this style be read aloud, and looked up, in a language such as ``en`` or ``es``."""
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    spoken = OxmlElement("w:lang")
    spoken.set(qn("w:val"), {"en": "en-US", "es": "es-US"}.get(language, language))
    style.font.element.get_or_add_rPr().append(spoken)


def say_picture(run: Any, alt: str) -> None:
    """Let the picture in a run be read aloud as these words."""
    for told in run.font.element.xpath(".//wp:docPr"):
        told.set("descr", alt)


def repeat_row(cell: Any) -> None:
    """Let the row of a cell stand again over the rest of its table on the next page, and be read as headers."""
    for row in _rows_of(cell):
        row.get_or_add_trPr().append(_mark("w:tblHeader"))


def keep_row(cell: Any) -> None:
    """Let the row of a cell stand on one page."""
    for row in _rows_of(cell):
        row.get_or_add_trPr().insert(0, _mark("w:cantSplit"))


def add_page_number(paragraph: Any) -> None:
    """Add the page's number and how many there are: ``2 / 4``."""
    for between, counted in (("", "PAGE"), (" / ", "NUMPAGES")):
        paragraph.add_run(between)
        paragraph.paragraph_format.element.append(_field(counted))


def _field(counted: str) -> Any:
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    field, run, words = (OxmlElement(name) for name in ("w:fldSimple", "w:r", "w:t"))
    field.set(qn("w:instr"), counted)
    words.text = "1"  # until the word processor counts
    run.append(words)
    field.append(run)
    return field


def _rows_of(cell: Any) -> Any:
    return cell.paragraphs[0].paragraph_format.element.xpath("./ancestor::w:tr[1]")


def _mark(name: str) -> Any:
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    mark = OxmlElement(name)
    mark.set(qn("w:val"), "true")
    return mark
