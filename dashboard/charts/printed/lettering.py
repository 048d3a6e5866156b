"""Break words into lines that fit a width, measured with the font's own figures, so that nothing is cut or covered."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any

from dashboard.paper.letters import printable

if TYPE_CHECKING:
    from matplotlib.font_manager import FontProperties

FONT = "DejaVu Sans"
"""Comes with matplotlib under a free licence; an SVG names it, a PDF holds it."""
POINTS_PER_INCH = 72.0
LINE_HEIGHT = 1.25
"""Of the size of the letters."""
SLACK = 0.96
"""On a screen letters are set to whole dots, which makes some lines a little wider than the font says."""
NO_BREAK = "\u00a0"
"""Holds a figure and its unit together."""


@cache
def _font(is_bold: bool) -> FontProperties:
    from matplotlib.font_manager import FontProperties

    return FontProperties(family=FONT, weight="bold" if is_bold else "normal", size=POINTS_PER_INCH)  # type: ignore[arg-type]


@cache
def _measurer() -> Any:
    from matplotlib.textpath import TextToPath

    return TextToPath()


@lru_cache(maxsize=4096)
def width_inches(words: str, points: float, *, is_bold: bool = False) -> float:
    """Return how wide words stand at this size."""
    wide, _, _ = _measurer().get_text_width_height_descent(printable(words)[0], _font(is_bold), ismath=False)
    return float(wide) * points / POINTS_PER_INCH / POINTS_PER_INCH


def wrapped(text: str, points: float, room_inches: float, *, is_bold: bool = False) -> str:
    """Return the text in lines no wider than the room; a single word that is wider is broken."""
    lines: list[str] = []
    room = SLACK * room_inches
    for word in _pieces(re.split(r"[ \t\n]+", printable(text)[0].strip()), points, room, is_bold):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_inches(longer, points, is_bold=is_bold) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return "\n".join(lines)


def _pieces(words: list[str], points: float, room_inches: float, is_bold: bool) -> list[str]:
    pieces = []
    for whole in words:
        word = whole
        while len(word) > 1 and width_inches(word, points, is_bold=is_bold) > room_inches:
            most = len(word) - 1
            while most > 1 and width_inches(f"{word[:most]}-", points, is_bold=is_bold) > room_inches:
                most -= 1
            pieces.append(f"{word[:most]}-")
            word = word[most:]
        pieces.append(word)
    return pieces


def shortened(text: str, points: float, room_inches: float, most_lines: int, *, is_bold: bool = False) -> str:
    """Return the text in at most so many lines; what is left out is shown by three dots."""
    words = wrapped(text, points, room_inches, is_bold=is_bold).split("\n")
    if len(words) <= most_lines:
        return "\n".join(words)
    last = words[most_lines - 1]
    while last and width_inches(f"{last}…", points, is_bold=is_bold) > SLACK * room_inches:
        last = last[:-1]
    return "\n".join([*words[: most_lines - 1], f"{last.rstrip()}…"])


def height_inches(text: str, points: float) -> float:
    """Return how high lines of text stand."""
    return (text.count("\n") + 1) * points * LINE_HEIGHT / POINTS_PER_INCH if text else 0.0
