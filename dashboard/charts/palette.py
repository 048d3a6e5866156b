"""Colours and marks of plans: Okabe and Ito's set for all kinds of colour sight, kept to those that pass 3:1 on white.

Several of them look alike on a copier, so a plan also has its own mark, and its name stands beside it. On a dark page
each has a lighter neighbour that passes on dark ground.
Source: Okabe & Ito, Color Universal Design (values as in several public files); contrast by the WCAG 2 formula.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

INK = "#1b1b1b"
QUIET_INK = "#4a4a4a"
GRID = "#d9d9d4"
JOINING = "#8a8a86"
"""Of thin lines between what belongs together."""
BROAD_JOINING = "#b4b4ae"
PAPER = "#ffffff"
DARK_PAPER = "#0e1117"
"""Ground of a dark page, and of its pictures."""


@dataclass(frozen=True)
class Look:
    """Colour and mark of one plan, by the names that Altair and matplotlib give to marks; and a hatch for paper."""

    colour: str
    on_screen: str
    on_paper: str
    hatch: str = ""


def _ring(*radii: float, corners: int) -> str:
    """Return the outline of a mark as Vega reads it: corners around the middle in turn so far away, the first up."""
    points = [(radii[corner % len(radii)], 2 * math.pi * corner / corners - math.pi / 2) for corner in range(corners)]
    places = [f"{far * math.cos(turn):.3f},{far * math.sin(turn):.3f}" for far, turn in points]
    return f"M{'L'.join(places)}Z"


_STAR, _CROSS = _ring(1.2, 0.48, corners=10), _ring(0.55, 1.2, corners=8)
_PENTAGON, _HEXAGON, _THIN_DIAMOND = _ring(1.0, corners=5), _ring(1.0, corners=6), _ring(1.2, 0.6, corners=4)
LOOKS = (
    Look("#1b1b1b", "circle", "o"),
    Look("#0072b2", "square", "s", "///"),
    Look("#d55e00", "triangle-up", "^", "..."),
    Look("#009e73", "diamond", "D", "xxx"),
    Look("#7a4b00", "triangle-down", "v", "---"),
    Look("#00696b", "triangle-right", ">", "\\\\\\"),
    Look("#b0558c", "triangle-left", "<", "ooo"),
    Look("#009e73", _STAR, "*", "///..."),
    Look("#b0558c", _CROSS, "X", "xxx..."),
    Look("#7a4b00", _PENTAGON, "p", "\\\\\\..."),
    Look("#00696b", _THIN_DIAMOND, "d", "---..."),
    Look("#0072b2", _HEXAGON, "h", "ooo..."),
)
"""No more colours can be told apart by all kinds of colour sight: five come twice, with another mark and hatch."""


ON_DARK_PAPER = {
    PAPER: DARK_PAPER,
    INK: "#f2f2ee",
    QUIET_INK: "#c8c8c2",
    GRID: "#3b3f46",
    JOINING: "#8f9298",
    BROAD_JOINING: "#6a6e75",
    "#0072b2": "#56b4e9",
    "#d55e00": "#ff8f4d",
    "#009e73": "#2fd3a2",
    "#7a4b00": "#d6a650",
    "#00696b": "#7fd6d8",
    "#b0558c": "#e596c7",
}
"""Colour of a picture on white → the same on dark paper. No picture has another colour."""


def look_of(number: int) -> Look:
    """Return the look of the plan with this number in the picture; after the last they come round again."""
    return LOOKS[number % len(LOOKS)]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio (1 to 21) of two ``#rrggbb`` colours, by the WCAG 2 formula."""
    dim, bright = sorted((_luminance(one), _luminance(other)))
    return (bright + 0.05) / (dim + 0.05)


def _luminance(colour: str) -> float:
    channels = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
