"""Colours and marks of plans: Okabe and Ito's set for all kinds of colour sight, kept to those that pass 3:1 on white.

Several of them look alike on a copier, so a plan also has its own mark, and its name stands beside it.
Source: Okabe & Ito, Color Universal Design (values as in several public files); contrast by the WCAG 2 formula.
"""

from __future__ import annotations

from dataclasses import dataclass

INK = "#1b1b1b"
QUIET_INK = "#4a4a4a"
GRID = "#d9d9d4"
PAPER = "#ffffff"


@dataclass(frozen=True)
class Look:
    """Colour and mark of one plan, by the names that Altair and matplotlib give to marks; and a hatch for paper."""

    colour: str
    on_screen: str
    on_paper: str
    hatch: str = ""


LOOKS = (
    Look("#1b1b1b", "circle", "o"),
    Look("#0072b2", "square", "s", "///"),
    Look("#d55e00", "triangle-up", "^", "..."),
    Look("#009e73", "diamond", "D", "xxx"),
    Look("#7a4b00", "triangle-down", "v", "---"),
    Look("#00696b", "triangle-right", ">", "\\\\\\"),
    Look("#b0558c", "triangle-left", "<", "ooo"),
)


def look_of(number: int) -> Look:
    """Return the look of the plan with this number in the picture; after seven they come round again."""
    return LOOKS[number % len(LOOKS)]


def contrast_on_white(colour: str) -> float:
    """Return the contrast ratio (1 to 21) of a ``#rrggbb`` colour on white, by the WCAG 2 formula."""
    channels = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)
