"""Set a paper with Typst: a tagged PDF (PDF/UA-1) or images of its pages; no font or file of this machine is used."""

from __future__ import annotations

import dataclasses
import json
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from dashboard.paper.blocks import Block, Box, Grid, Image, Pair, Paper, PaperSize, Points, Words, runs_of
from dashboard.paper.letters import font_folder

ACCESSIBLE = "ua-1"
"""The standard that a file is held to while it is made: a picture without words, or a title left out, is an error."""
PAPER_WORD = {"letter": "us-letter", "a4": "a4"}


def pdf_of(paper: Paper, size: PaperSize = "letter") -> bytes:
    """Return the paper as a tagged PDF; the same paper always gives the same bytes."""
    return _compiled(_files_of(paper, size), "pdf")[0]


def pages_of(paper: Paper, size: PaperSize = "letter", dots_per_inch: int = 110) -> list[bytes]:
    """Return an image (PNG) of each page, as it will be printed."""
    return _compiled(_files_of(paper, size), "png", dots_per_inch)


def page_count(paper: Paper, size: PaperSize = "letter") -> int:
    """Return how many pages the paper takes."""
    return len(pages_of(paper, size, dots_per_inch=10))


def on_fewest_pages(paper: Paper, size: PaperSize = "letter") -> Paper:
    """Return the paper, set closer if that saves a page: a last page is not turned for a few lines."""
    close = dataclasses.replace(paper, is_close=True)
    return close if page_count(close, size) < page_count(paper, size) else paper


def png_of_svg(svg: bytes, dots_per_inch: int = 220) -> bytes:
    """Return a drawing as an image, its letters set in the same fonts as on the paper."""
    page = b'#set page(width: auto, height: auto, margin: 0pt)\n#image("picture.svg")'
    return _compiled({"main.typ": page, "picture.svg": svg}, "png", dots_per_inch)[0]


def pdf_of_svg(svg: bytes, *, title: str, alt: str, language: str = "en") -> bytes:
    """Return a drawing as a tagged PDF of its own size, with its title and its words for those who cannot see it."""
    words = {"title": title, "alt": alt, "language": language}
    page = files("dashboard.paper").joinpath("picture.typ").read_bytes()
    return _compiled({"main.typ": page, "words.json": _json(words), "picture.svg": svg}, "pdf")[0]


def _files_of(paper: Paper, size: PaperSize) -> dict[str, bytes]:
    writer, kept = _Writer(), paper.with_letters_at_hand()
    content = {
        "title": kept.title,
        "foot": kept.foot,
        "language": kept.language,
        "text_points": kept.text_points,
        "is_black": kept.is_black,
        "is_close": kept.is_close,
        "size": PAPER_WORD[size],
        "blocks": [writer.record(block) for block in kept.blocks],
    }
    page = files("dashboard.paper").joinpath("page.typ").read_bytes()
    return {"main.typ": page, "paper.json": _json(content), **writer.pictures}


class _Writer:
    """Turns blocks into plain records for the typesetter, pictures into files beside them."""

    def __init__(self) -> None:
        self.pictures: dict[str, bytes] = {}

    def record(self, block: Block) -> dict[str, Any]:
        kind = type(block).__name__.lower()
        record: dict[str, Any] = {"kind": kind} | {
            one.name: getattr(block, one.name) for one in dataclasses.fields(block)
        }
        if isinstance(block, Words):
            record["words"] = runs_of(block.words)
        elif isinstance(block, Points):
            record["items"] = [runs_of(item) for item in block.items]
        elif isinstance(block, Image):
            record |= {"file": self._file(block.svg), "svg": None}
        elif isinstance(block, Grid):
            record["header"] = [runs_of(cell) for cell in block.header]
            record["rows"] = [[runs_of(cell) for cell in row] for row in block.rows]
            record["widths"] = block.widths or (1,) * len(block.header)
        elif isinstance(block, Box):
            record["blocks"] = [self.record(inner) for inner in block.blocks]
        elif isinstance(block, Pair):
            record |= {side: [self.record(inner) for inner in getattr(block, side)] for side in ("left", "right")}
        return record

    def _file(self, svg: bytes) -> str:
        name = f"picture{len(self.pictures) + 1}.svg"
        self.pictures[name] = svg
        return name


def _json(content: Any) -> bytes:
    return json.dumps(content, ensure_ascii=False).encode()


def _compiled(written: dict[str, bytes], form: Literal["pdf", "png"], dots_per_inch: int = 144) -> list[bytes]:
    import typst

    standards: Any = [ACCESSIBLE] if form == "pdf" else []
    # The typings know no files held in memory; the compiler takes them, and `main.typ` is where it begins.
    sources: Any = written
    made: Any = typst.compile(
        sources, format=form, ppi=dots_per_inch, font_paths=_fonts(), ignore_system_fonts=True, pdf_standards=standards
    )
    return list(made) if isinstance(made, list) else [made]


@cache
def _fonts() -> Any:
    import typst

    return typst.Fonts(include_system_fonts=False, font_paths=[str(font_folder())])
