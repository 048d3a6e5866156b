"""The language that screens and papers speak: every sentence of ours passes here.

``_("…")`` says a sentence in the language of this visit; ``mark("…")`` marks one that is said later, by ``_`` again.
Figures stand in named places (``_("{count} seasons").format(count=…)``), so that a translator can move them.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from gettext import NullTranslations

FIRST_LANGUAGE = "en"
_language: ContextVar[str] = ContextVar("language", default=FIRST_LANGUAGE)


def current_language() -> str:
    """Return the code of the language spoken now, ``en`` unless :func:`speaking` says otherwise."""
    return _language.get()


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Speak another language inside the ``with`` block. Threads that begin inside do not inherit it."""
    token = _language.set(language)
    try:
        yield
    finally:
        _language.reset(token)


def mark(text: str) -> str:
    """Return the text as it is: it is a sentence of ours, translated where it is said."""
    return text


def _(text: str) -> str:
    """Return the sentence in the language spoken now."""
    return _catalogue(_language.get()).gettext(text)


def many(one: str, several: str, count: int) -> str:
    """Return the sentence for one or for several, by the rules of the language spoken now."""
    return _catalogue(_language.get()).ngettext(one, several, count)


@cache
def _catalogue(language: str) -> NullTranslations:
    return NullTranslations()
