"""From the bytes of a TOML file to its raw values; what cannot be read is told with file and line."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from sim.errors import ScenarioError

_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def decoded(content: bytes, name: str) -> str:
    """Return the text of a file; a byte-order mark in front, as some editors put it, does no harm."""
    if content.startswith(_UTF16_MARKS):
        raise ScenarioError(f"{name}, line 1: the file is saved as UTF-16; allowed: UTF-8.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise ScenarioError(f"{name}, line {line}: a character is not saved as UTF-8; allowed: UTF-8.") from None


def parsed(text: str, name: str, wanted: str) -> dict[str, Any]:
    """Return the raw values of a TOML text; ``wanted`` says what the file should hold, for one that is empty."""
    if not text.strip():
        raise ScenarioError(f"{name}, line 1: the file is empty; allowed: {wanted}.")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        place = re.search(r"^(.*) \(at (?:line (\d+), column (\d+)|end of document)\)$", str(error), re.DOTALL)
        what = (place[1] if place else str(error)).strip().rstrip(".")
        line = place[2] if place and place[2] else str(len(text.splitlines()))
        column = f" at column {place[3]}" if place and place[3] else ""
        raise ScenarioError(
            f"{name}, line {line}: this is not TOML ({what}{column}); "
            'allowed: key = value, with text in "quotes", and [table] headings.'
        ) from None
