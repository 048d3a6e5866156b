"""What stands on a paper, apart from how it is written, so that PDF, word-processor file and plain text never differ.

Text may hold ``**bold**`` stretches and nothing else: it is data, never markup of the typesetter.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, Literal, TypeAlias

from dashboard.paper.letters import printable

PaperSize = Literal["letter", "a4"]


@dataclass(frozen=True)
class Heading:
    """A heading below the title: 2 for a section, 3 for a part of one; levels are never skipped."""

    words: str
    level: Literal[2, 3] = 2


@dataclass(frozen=True)
class Words:
    """A paragraph; ``is_note`` sets it smaller (10 pt)."""

    words: str
    is_note: bool = False


@dataclass(frozen=True)
class Points:
    """A list, one idea a point."""

    items: tuple[str, ...]
    is_numbered: bool = False


@dataclass(frozen=True)
class Image:
    """A picture.

    Parameters
    ----------
    svg
        The drawing; its letters are set in the fonts of :mod:`dashboard.paper.letters`.
    alt
        What it says to those who cannot see it; never empty.
    caption
        Words below it.
    width_share
        Of the width of the text, 0 to 1.
    """

    svg: bytes
    alt: str
    caption: str = ""
    width_share: float = 1.0


@dataclass(frozen=True)
class Grid:
    """A table with a row of headers; an empty cell is room to write in.

    Parameters
    ----------
    header
        Words over each column.
    rows
        Cells, as many as headers.
    caption
        What the table holds.
    widths
        Relative widths of the columns; even if empty.
    row_height_mm
        At least; more than the text needs leaves room for handwriting.
    are_figures_right
        Whether every column but the first is set to the right.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    widths: tuple[float, ...] = ()
    row_height_mm: float = 0.0
    are_figures_right: bool = False


@dataclass(frozen=True)
class Lines:
    """Empty lines to write on."""

    count: int = 2


@dataclass(frozen=True)
class Box:
    """Blocks inside a frame under a heading of their own, such as cautions or a card.

    Parameters
    ----------
    height_share
        Of the page's text height, for cards; 0 lets the box be as high as what it holds. Only a box that is longer
        than a page goes on over the next one.
    """

    title: str
    blocks: tuple[Block, ...]
    level: Literal[2, 3] = 2
    height_share: float = 0.0


@dataclass(frozen=True)
class Pair:
    """Blocks side by side; they are read left, then right."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]
    left_share: float = 0.5


@dataclass(frozen=True)
class PageBreak:
    """What follows begins a new page."""


Block: TypeAlias = Heading | Words | Points | Image | Grid | Lines | Box | Pair | PageBreak


@dataclass(frozen=True)
class Paper:
    """A paper: its title, what stands on it, and the small line at the foot of each page.

    Parameters
    ----------
    title
        Stands over the first page and in the file's properties.
    blocks
        In reading order.
    foot
        Where it comes from: program, version, garden, seasons, date.
    language
        Code such as ``en`` or ``es``, for hyphens and screen readers.
    text_points
        Size of what is to be read.
    is_black
        Whether every letter and line is black, so that a copy of a copy can be read.
    is_close
        Whether there is less room between paragraphs and in tables; letters and lines stay as they are.
    lacking
        Letters that were replaced, for its fonts have no shape for them.
    """

    title: str
    blocks: tuple[Block, ...]
    foot: str = ""
    language: str = "en"
    text_points: float = 12.0
    is_black: bool = False
    is_close: bool = False
    lacking: frozenset[str] = frozenset()

    def with_letters_at_hand(self) -> Paper:
        """Return the paper with letters that its fonts lack replaced; ``lacking`` tells which they were."""
        keeper = _Keeper()
        kept: Paper = keeper.keep(self)
        return replace(kept, lacking=frozenset(keeper.lacking))


class _Keeper:
    """Goes through everything that a paper holds and replaces letters without a shape."""

    def __init__(self) -> None:
        self.lacking: set[str] = set()

    def keep(self, held: Any) -> Any:
        if isinstance(held, str):
            text, lacking = printable(held)
            self.lacking |= lacking
            return text
        if isinstance(held, tuple):
            return tuple(self.keep(one) for one in held)
        if is_dataclass(held) and not isinstance(held, type):
            return replace(held, **{one.name: self.keep(getattr(held, one.name)) for one in fields(held)})
        return held


_BOLD = re.compile(r"\*\*(.+?)\*\*")


def runs_of(text: str) -> list[tuple[str, bool]]:
    """Return stretches of a text, each with whether it is bold."""
    parts = _BOLD.split(text)
    return [(part, place % 2 == 1) for place, part in enumerate(parts) if part]


def plain_words(text: str) -> str:
    """Return a text without its marks for bold."""
    return _BOLD.sub(r"\1", text)


def images_of(blocks: Sequence[Block]) -> list[Image]:
    """Return every picture, in reading order."""
    found: list[Image] = []
    for block in blocks:
        if isinstance(block, Image):
            found.append(block)
        elif isinstance(block, Box):
            found += images_of(block.blocks)
        elif isinstance(block, Pair):
            found += images_of(block.left) + images_of(block.right)
    return found
