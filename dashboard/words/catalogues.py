"""Catalogues of words: brought up to date with what is said, and looked over for what a reader would stumble on."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po, write_po

from dashboard.language.tongue import CATALOGUES, FIRST_LANGUAGE, LANGUAGES
from dashboard.words.gathering import Text, texts

COMMAND = "python -m dashboard.words"
_PLACE = re.compile(r"\{[^{}]*\}")
_PLURALS = {"es": "nplurals=2; plural=(n != 1);"}
"""How many forms our catalogues have. Babel's rule for Spanish has two or, from 2.19 on, three: ours stays."""
_HEADER = "Words of Leaf to Nest. Renewed by: python -m dashboard.words"


def file_of(language: str) -> Path:
    """Return the file of a language's catalogue."""
    return CATALOGUES / f"{language}.po"


def read_catalogue(language: str) -> Catalog:
    """Return the catalogue of a language, empty if there is none yet."""
    file = file_of(language)
    if not file.is_file():
        return _empty(language)
    with file.open("rb") as opened:
        return read_po(opened, locale=language)


def renewed(language: str) -> Catalog:
    """Return the catalogue with an entry for every text, empty where new; texts that nobody says any more are gone."""
    old = read_catalogue(language)
    new = _empty(language)
    for text, places in texts().items():
        known = old.get(_key(text))
        said = known.string if known is not None and known.id == text else ("" if isinstance(text, str) else ("", ""))
        new.add(text, said, locations=[(place, 1) for place in places], flags=known.flags if known else ())
    return new


def _empty(language: str) -> Catalog:
    catalogue = Catalog(locale=language, header_comment=f"# {_HEADER}", fuzzy=False)
    catalogue.mime_headers = [("Plural-Forms", _PLURALS[language])]
    return catalogue


def catalogue_text(catalogue: Catalog) -> str:
    """Return a catalogue as the text of its file: no dates and no line numbers, so that equal words are equal bytes."""
    file = io.BytesIO()
    write_po(file, catalogue, width=118, omit_header=True, include_lineno=False)
    header = (
        f'# {_HEADER}\nmsgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n'
        f'"Language: {catalogue.locale}\\n"\n"Plural-Forms: {catalogue.plural_forms}\\n"\n\n'
    )
    return header + file.getvalue().decode("utf-8").strip() + "\n"


def languages() -> list[str]:
    """Return the languages that need a catalogue."""
    return [language for language in LANGUAGES if language != FIRST_LANGUAGE]


def faults(language: str) -> Iterator[tuple[Text, str]]:
    """Yield each text that is not said, is marked fuzzy, or whose places in braces differ, and what is amiss."""
    catalogue = read_catalogue(language)
    known: dict[str, Text] = {}
    for text in texts():
        if known.setdefault(_key(text), text) != text:
            yield text, "begins as another text with another plural does"
        found = catalogue.get(_key(text))
        if found is None or found.id != text or not all(_forms(found) or ("",)):
            yield text, "has no words yet"
        elif found.fuzzy:
            yield text, "is marked fuzzy"
        elif (
            any(places_in(form) != places_in(_other(text)) for form in _forms(found)[1:])
            or (places_in(_forms(found)[0]) - places_in(_other(text)))
            or (isinstance(text, str) and places_in(_forms(found)[0]) != places_in(text))
        ):
            yield text, "has other places in braces"


def places_in(text: str) -> set[str]:
    """Return the places in braces of a text."""
    return set(_PLACE.findall(text))


def _key(text: Text) -> str:
    return text if isinstance(text, str) else text[0]


def _other(text: Text) -> str:
    return text if isinstance(text, str) else text[1]


def _forms(message: Message) -> tuple[str, ...]:
    return (message.string,) if isinstance(message.string, str) else tuple(message.string or ())
