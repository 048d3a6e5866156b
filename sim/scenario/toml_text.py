"""From the bytes of a TOML file to its raw values; what cannot be read is told with file and line."""

from __future__ import annotations

import re
import sys
import tomllib
from typing import Any

from sim.errors import ScenarioError, Sentence, tell

_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")

_SLIPS: dict[str, str] = {
    slip: slip
    for slip in (
        tell("Cannot overwrite a value"),
        tell("Expected '=' after a key in a key/value pair"),
        tell("Expected newline or end of document after a statement"),
        tell("Invalid initial character for a key part"),
        tell("Invalid statement"),
        tell("Invalid value"),
        tell("Unclosed array"),
        tell("Unclosed inline table"),
        tell("Unescaped '\\' in a string"),
        tell("Unterminated string"),
    )
}
"""What Python's reader of TOML says most, so that another language has it, too."""

_SLIPS_IN_PATHS = ("Unescaped '\\' in a string", "Invalid hex value")
"""What it says of a path as Windows writes it: TOML takes what stands behind a ``\\`` for a sign."""


def _slip(said: str) -> str:
    """Return what Python's reader says, as a sentence that other languages have; what is rare stays as it says it."""
    if said in _SLIPS:
        return _SLIPS[said]
    if sign := re.fullmatch(r"Illegal character (.+)", said):
        return tell("Illegal character {sign}", sign=sign[1])
    if name := re.fullmatch(r"Cannot declare \((.+?),?\) twice", said):
        return tell("Cannot declare {name} twice", name=name[1])
    if sign := re.match(r"Expected ('[^']+'|\".+\")", said):
        return tell("Expected {sign}", sign=sign[1])
    return said


def about_paths(said: Sentence) -> Sentence:
    """Return what is said of a path, or of text that may be one, with how it is written on every system."""
    return tell("{said} A path is written with '/', not with '\\', also on Windows.", said=said)


def decoded(content: bytes, name: str) -> str:
    """Return the text of a file; a byte-order mark in front, as some editors put it, does no harm."""
    if content.startswith(_UTF16_MARKS):
        raise ScenarioError(tell("{name}, line 1: the file is saved as UTF-16; allowed: UTF-8.", name=name))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise ScenarioError(
            tell("{name}, line {line}: a character is not saved as UTF-8; allowed: UTF-8.", name=name, line=line)
        ) from None


def parsed(text: str, name: str, wanted: str) -> dict[str, Any]:
    """Return the raw values of a TOML text; ``wanted`` says what the file should hold, for one that is empty."""
    if not text.strip():
        raise ScenarioError(tell("{name}, line 1: the file is empty; allowed: {wanted}.", name=name, wanted=wanted))
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise ScenarioError(
            tell("{name}: brackets stand in brackets too often; allowed: {wanted}.", name=name, wanted=wanted)
        ) from None
    except tomllib.TOMLDecodeError as error:
        place = re.search(r"^(.*) \(at (?:line (\d+), column (\d+)|end of document)\)$", str(error), re.DOTALL)
        what = (place[1] if place else str(error)).strip().rstrip(".")
        line = place[2] if place and place[2] else str(len(text.splitlines()))
        column = tell(" at column {number}", number=place[3]) if place and place[3] else ""
        said = tell(
            "{name}, line {line}: this is not TOML ({what}{column}); allowed: key = value, with text in "
            '"quotes", and [table] headings.',
            name=name,
            line=line,
            what=_slip(what),
            column=column,
        )
        raise ScenarioError(about_paths(said) if what.startswith(_SLIPS_IN_PATHS) else said) from None
    except ValueError:  # of a whole number that Python declines to read, since that takes ever longer
        raise ScenarioError(
            tell(
                "{name}, line {line}: a number has more than {most} digits; allowed: fewer.",
                name=name,
                line=_line_of_long_number(text),
                most=sys.get_int_max_str_digits(),
            )
        ) from None


def _line_of_long_number(text: str) -> int:
    """Return where the first number stands that is too long to be read."""
    most = sys.get_int_max_str_digits()
    runs = (run for run in re.finditer(r"\d[\d_]*", text) if len(run[0].replace("_", "")) > most)
    first = next(runs, None)
    return text.count("\n", 0, first.start() if first else 0) + 1
