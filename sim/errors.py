"""Every error that a user can cause, in one family.

    LeafnestError                     one clear sentence: where, what was found, what is allowed
    ├── ScenarioError                 a file in TOML, of a garden or a lesson, or a change to a garden
    ├── WeatherError                  a weather file or a request for weather
    ├── ParameterError                a value for a number of nature
    ├── OutputError                   a folder or file that results should go to
    └── RunError                      a run that cannot be done as asked

The command prints the sentence and ends with exit status 2. Faults of our own stay ordinary Python
exceptions, so that they are seen and mended.

A sentence is English text that remembers how it was put together (``tell``), so that whoever shows it can say it in
another language: its template is looked up, and what stands in its places is put in again.
"""

from __future__ import annotations

import difflib
import errno
import os
from collections.abc import Iterable, Sequence
from typing import Any


class Sentence(str):
    """An English sentence, with the templates and the values that it was made of.

    Attributes
    ----------
    templates
        The sentence with named places in braces, as ``str.format`` takes them; or two, for one thing and for several.
    values
        What stands in each place; a value may be a sentence, or an error that holds one. Of two templates, ``count``
        says which.
    """

    __slots__ = ("templates", "values")
    templates: tuple[str, ...]
    values: dict[str, Any]

    def __new__(cls, templates: tuple[str, ...], values: dict[str, Any]) -> Sentence:
        """Put the values into the template."""
        template = templates[0 if values.get("count") == 1 else -1]
        made = super().__new__(cls, template.format(**values))
        made.templates, made.values = templates, values
        return made

    def __reduce__(self) -> tuple[type[Sentence], tuple[tuple[str, ...], dict[str, Any]]]:
        return Sentence, (self.templates, self.values)  # a worker's error comes back pickled


def tell(template: str, /, **values: Any) -> Sentence:
    """Return the sentence that a template gives with these values in its places."""
    return Sentence((template,), values)


def tell_many(one: str, several: str, /, count: int, **values: Any) -> Sentence:
    """Return the sentence for one thing or for several; how many there are stands in the place ``count``."""
    return Sentence((one, several), {"count": count, **values})


class LeafnestError(Exception):
    """A mistake in what was handed to us, told in one sentence."""

    def __init__(self, sentence: Sentence) -> None:
        super().__init__(sentence)
        self.sentence = sentence


class ScenarioError(LeafnestError):
    """A garden or a lesson, a plan or a change that cannot be used as it stands."""


class WeatherError(LeafnestError):
    """A weather file that cannot be used as it stands."""


class ParameterError(LeafnestError):
    """A value for a parameter that is unknown or out of its range."""


class OutputError(LeafnestError):
    """A place for results that cannot be written."""


class RunError(LeafnestError):
    """A run that cannot be done as asked."""


def refusal(found: Sentence, allowed: str, near: str = "") -> Sentence:
    """Return the sentence that says what was found, what is allowed and, as a question, what may have been meant."""
    return tell("{found}; allowed: {allowed}.{near}", found=found, allowed=allowed, near=near)


def unknown(found: Sentence, name: str, known: Iterable[str], *, is_listed: bool = True) -> Sentence:
    """Return the sentence for a name that is not known: what is allowed, and which name may have been meant.

    Parameters
    ----------
    found
        What was found, such as ``There is no plan 'nett'``.
    name
        The name in it.
    known
        The names that are allowed.
    is_listed
        Whether they are few enough to be listed.
    """
    known = list(known)
    near = near_names(name, known)
    return refusal(found, ", ".join(known), near) if is_listed else tell("{found}.{near}", found=found, near=near)


def near_names(name: str, known: Iterable[str], count: int = 3) -> str:
    """Return `` Did you mean …?`` for a name that is not known, or an empty text."""
    close = difflib.get_close_matches(name, list(known), n=count, cutoff=0.5)
    return tell(" Did you mean {names}?", names=quoted(close, is_choice=True)) if close else ""


def quoted(names: Sequence[str], *, is_choice: bool) -> Sentence:
    """Return names, each in quotes, to choose from or all of them: ``'net' or 'nets'``, ``'net' and 'nets'``."""
    said = tell("'{name}'", name=names[0])
    for name in names[1:]:
        if is_choice:
            said = tell("{those} or '{name}'", those=said, name=name)
        else:
            said = tell("{those} and '{name}'", those=said, name=name)
    return said


_FAULTS = {
    errno.ENOENT: tell("No such file or directory"),
    errno.EACCES: tell("Permission denied"),
    errno.EPERM: tell("Operation not permitted"),
    errno.EISDIR: tell("Is a directory"),
    errno.ENOTDIR: tell("Not a directory"),
    errno.EEXIST: tell("File exists"),
    errno.EROFS: tell("Read-only file system"),
    errno.ENOSPC: tell("No space left on device"),
    errno.EFBIG: tell("File too large"),
    errno.ENAMETOOLONG: tell("File name too long"),
}
"""What the machine says, where it says so often; in its words, so that another language has them, too."""


def why_of(fault: OSError) -> str:
    """Return why a file could not be read or written."""
    return _FAULTS.get(fault.errno or 0) or fault.strerror or str(fault)


def in_words(name: str) -> str:
    """Return the name of a file as text: in a locale that has no letters beyond ASCII it comes as bytes in disguise."""
    return os.fsencode(name).decode("utf-8", "replace")


def on_disk(name: str) -> str:
    """Return the name in a text as the machine takes it: the other way round."""
    return os.fsdecode(name.encode("utf-8", "surrogateescape"))
