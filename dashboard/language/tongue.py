"""The language that screens and papers speak, and the units they measure in: every sentence of ours passes here.

``_("…")`` says a sentence in the language of this visit; ``mark("…")`` marks one that is said later, by ``_`` again.
Figures stand in named places (``_("{count} seasons").format(count=…)``), so that a translator can move them.

Words of other languages stand in ``dashboard/words``, a catalogue a language, read when that language is first spoken.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, wraps
from gettext import GNUTranslations, NullTranslations
from pathlib import Path
from typing import ParamSpec, TypeVar

FIRST_LANGUAGE = "en"
LANGUAGES = {"en": "English", "es": "Español"}
"""Code → the language's own name for itself, which is said alike in every language."""
FIRST_UNITS = "metric"
UNITS = ("metric", "us")
CATALOGUES = Path(__file__).parents[1] / "words"

Given = ParamSpec("Given")
Returned = TypeVar("Returned")

_language: ContextVar[str | None] = ContextVar("language", default=None)
_units: ContextVar[str | None] = ContextVar("units", default=None)


class _Manner:
    """How a visit wants to be spoken to, asked for where no ``speaking`` says it: set once, by the page."""

    language: Callable[[], str] = staticmethod(lambda: FIRST_LANGUAGE)
    units: Callable[[], str] = staticmethod(lambda: FIRST_UNITS)


def current_language() -> str:
    """Return the code of the language spoken now: of :func:`speaking`, else of the visit, else ``en``."""
    return _language.get() or _Manner.language()


def current_units() -> str:
    """Return ``metric`` or ``us``, the units measured in now: of :func:`speaking`, else of the visit."""
    return _units.get() or _Manner.units()


def ask_visit(language: Callable[[], str], units: Callable[[], str]) -> None:
    """Set who is asked for language and units outside :func:`speaking`: a page, which knows its visitor."""
    _Manner.language, _Manner.units = staticmethod(language), staticmethod(units)


@contextmanager
def speaking(language: str, units: str | None = None) -> Iterator[None]:
    """Speak another language inside the ``with`` block. Threads that begin inside do not inherit it."""
    spoken, measured = _language.set(language), _units.set(units or _units.get())
    try:
        yield
    finally:
        _language.reset(spoken)
        _units.reset(measured)


def in_these_words(function: Callable[Given, Returned]) -> Callable[Given, Returned]:
    """Return the function so that it speaks as now wherever it is called: another thread, or a later download."""
    language, units = current_language(), current_units()

    @wraps(function)
    def said(*args: Given.args, **named: Given.kwargs) -> Returned:
        with speaking(language, units):
            return function(*args, **named)

    return said


def mark(text: str) -> str:
    """Return the text as it is: it is a sentence of ours, translated where it is said."""
    return text


def _(text: str) -> str:
    """Return the sentence in the language spoken now."""
    return _catalogue(current_language()).gettext(text) if text else text


def many(one: str, several: str, count: int) -> str:
    """Return the sentence for one or for several, by the rules of the language spoken now."""
    return _catalogue(current_language()).ngettext(one, several, count)


def speaker_note() -> str:
    """Return what stands beside words of safety in a language that no speaker has checked, else an empty text."""
    is_first = current_language() == FIRST_LANGUAGE
    return "" if is_first else _("Not yet checked by a person who speaks this language.")


@cache
def _catalogue(language: str) -> NullTranslations:
    file = CATALOGUES / f"{language}.po"
    if language == FIRST_LANGUAGE or language not in LANGUAGES or not file.is_file():
        return NullTranslations()
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    with file.open("rb") as opened:
        catalogue = read_po(opened, locale=language)
    compiled = io.BytesIO()
    write_mo(compiled, catalogue)
    compiled.seek(0)
    return GNUTranslations(compiled)
