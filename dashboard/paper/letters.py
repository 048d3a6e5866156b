"""Which letters the shipped fonts can draw; others are replaced, and whoever replaced them can say so."""

from __future__ import annotations

import unicodedata
from functools import cache
from pathlib import Path

REPLACEMENT = "□"
"""Stands for a letter without a shape."""
FONT_FILE = "DejaVuSans.ttf"
"""The font with the most letters; whatever another of our fonts lacks is taken from it."""


@cache
def font_folder() -> Path:
    """Return the folder of the fonts that come with matplotlib: DejaVu, under its free licence."""
    import matplotlib as mpl

    return Path(mpl.get_data_path()) / "fonts" / "ttf"


@cache
def _letters() -> frozenset[int]:
    from matplotlib.ft2font import FT2Font

    return frozenset(FT2Font(str(font_folder() / FONT_FILE)).get_charmap())


def printable(text: str) -> tuple[str, frozenset[str]]:
    """Return the text with every letter that has no shape replaced, and the letters replaced.

    A wide or joined form is written out first where that has a shape, as full-width letters have.
    """
    if text.isascii() and text.isprintable():
        return text, frozenset()
    lacking: set[str] = set()
    return "".join(_shape_of(letter, lacking) for letter in unicodedata.normalize("NFC", text)), frozenset(lacking)


def _shape_of(letter: str, lacking: set[str]) -> str:
    if letter == "\n" or (ord(letter) in _letters() and (letter.isprintable() or letter.isspace())):
        return letter
    if letter.isspace():
        return " "
    plain = unicodedata.normalize("NFKC", letter)
    if plain != letter and all(ord(one) in _letters() for one in plain):
        return plain
    lacking.add(letter)
    return REPLACEMENT
