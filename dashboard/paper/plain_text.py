"""A paper as plain text, for those who listen to it, mail it or translate it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from dashboard.language.tongue import _
from dashboard.paper.blocks import (
    Block,
    Box,
    Grid,
    Heading,
    Image,
    Lines,
    Pair,
    Paper,
    Points,
    Words,
    plain_words,
)

WIDTH = 80
UNDERLINES = {1: "=", 2: "-", 3: "."}


def plain_text_of(paper: Paper) -> str:
    """Return the paper as text: pictures by their words, tables a line a cell."""
    parts = [_heading(paper.title, 1), *_parts(paper.blocks), paper.foot]
    return "\n\n".join(part for part in parts if part) + "\n"


def _parts(blocks: Sequence[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Heading):
            yield _heading(block.words, block.level)
        elif isinstance(block, Words):
            yield _filled(block.words)
        elif isinstance(block, Points):
            signs = [f"{number}. " if block.is_numbered else "- " for number in range(1, len(block.items) + 1)]
            yield "\n".join(_filled(item, sign) for sign, item in zip(signs, block.items, strict=True))
        elif isinstance(block, Image):
            yield _filled(_("Picture: {words}").format(words=block.alt))
        elif isinstance(block, Grid):
            yield _table(block)
        elif isinstance(block, Lines):
            yield "\n".join("_" * WIDTH for _line in range(block.count))
        elif isinstance(block, Box):
            yield _heading(block.title, block.level)
            yield from _parts(block.blocks)
        elif isinstance(block, Pair):
            yield from _parts((*block.left, *block.right))


def _heading(words: str, level: int) -> str:
    return f"{plain_words(words)}\n{UNDERLINES[level] * min(WIDTH, len(words))}"


def _filled(words: str, sign: str = "") -> str:
    return textwrap.fill(
        f"{sign}{plain_words(words)}", WIDTH, subsequent_indent=" " * len(sign), break_long_words=False
    )


def _table(grid: Grid) -> str:
    """Return each row as its first cell and, below it, every other with what it is."""
    lines = [_filled(grid.caption)] if grid.caption else []
    for row in grid.rows:
        lines.append(_filled(f"{grid.header[0]}: {row[0]}", "- "))
        lines += [_filled(f"{name}: {cell}", "  ") for name, cell in zip(grid.header[1:], row[1:], strict=True)]
    return "\n".join(lines)
