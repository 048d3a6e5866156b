"""Sources and notes as a reader meets them: who wrote it and when, and no bare keys."""

from __future__ import annotations

import re
from functools import cache

from sim.parameters import load_parameters
from sim.parameters.spoken import key_in_words, name_in_words
from sim.parameters.table import sources

_WORD = re.compile(r"(?<![\w.])[a-z][a-z0-9_]*(?:\.[a-z0-9_]+)*(?!\w)")


def full_source(key: str) -> str:
    """Return a source in full, with what was read of it; nothing for ``none``."""
    if key == "none":
        return ""
    entry = sources()[key]
    return f"{entry['author']} ({entry['year']}). {entry['title']}. {entry['where']}. Read: {entry['read']}"


def without_keys(note: str) -> str:
    """Return a note with each source's key as author and year, and each number's key in words."""
    return _WORD.sub(lambda found: _in_words(found[0], opens=note[: found.start()].endswith("(")), note)


def sources_in(note: str) -> set[str]:
    """Return the keys of the sources that a note names."""
    return {
        found[0] for found in _WORD.finditer(note) if _is_source(found[0], opens=note[: found.start()].endswith("("))
    }


def _is_source(word: str, *, opens: bool) -> bool:
    """Return whether a word is a source's key; ``opens`` says that it opens a bracket.

    A key of letters only, such as ``hook``, is also a word: it counts as a key where it opens a bracket.
    """
    return word in sources() and (opens or not word.isalpha())


def _in_words(word: str, *, opens: bool) -> str:
    """Return what a key stands for, or the word as it is."""
    if _is_source(word, opens=opens):
        return _author_and_year(word)
    if word in _numbers():
        return f"“{key_in_words(word)}”"
    return name_in_words(word) if "_" in word and "." not in word else word


@cache
def _numbers() -> frozenset[str]:
    """Return the keys of all numbers, since the table itself raises when asked for one that is not in it."""
    return frozenset(load_parameters())


def _author_and_year(key: str) -> str:
    entry = sources()[key]
    has_year = any(letter.isdigit() for letter in entry["year"])
    return f"{entry['author']}, {entry['year']}" if has_year else entry["author"]
