"""Every error that a user can cause, in one family.

    LeafnestError                     one clear sentence: where, what was found, what is allowed
    ├── ScenarioError                 a scenario file or a change to one
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
from collections.abc import Iterable
from typing import Any


class Sentence(str):
    """An English sentence, with the template and the values that it was made of.

    Attributes
    ----------
    template
        The sentence with named places in braces, as ``str.format`` takes them.
    values
        What stands in each place; a value may be a sentence, or an error that holds one.
    """

    __slots__ = ("template", "values")
    template: str
    values: dict[str, Any]

    def __new__(cls, template: str, values: dict[str, Any]) -> Sentence:
        """Put the values into the template."""
        made = super().__new__(cls, template.format(**values))
        made.template, made.values = template, values
        return made

    def __reduce__(self) -> tuple[type[Sentence], tuple[str, dict[str, Any]]]:  # a worker's error comes back pickled
        return Sentence, (self.template, self.values)


def tell(template: str, /, **values: Any) -> Sentence:
    """Return the sentence that a template gives with these values in its places."""
    return Sentence(template, values)


class LeafnestError(Exception):
    """A mistake in what was handed to us, told in one sentence."""

    @property
    def sentence(self) -> str:
        """What is wrong, as a ``Sentence`` wherever one was given."""
        return self.args[0] if self.args and isinstance(self.args[0], str) else str(self)


class ScenarioError(LeafnestError):
    """A scenario, a plan or a change that cannot be used as it stands."""


class WeatherError(LeafnestError):
    """A weather file that cannot be used as it stands."""


class ParameterError(LeafnestError):
    """A value for a parameter that is unknown or out of its range."""


class OutputError(LeafnestError):
    """A place for results that cannot be written."""


class RunError(LeafnestError):
    """A run that cannot be done as asked."""


def near_names(name: str, known: Iterable[str], count: int = 3) -> str:
    """Return `` Did you mean …?`` for a name that is not known, or an empty text."""
    close = difflib.get_close_matches(name, list(known), n=count, cutoff=0.5)
    return tell(" Did you mean {names}?", names=either(close)) if close else ""


def either(names: list[str]) -> Sentence:
    """Return names to choose from, each in quotes: ``'net' or 'nets'``."""
    said = tell("'{name}'", name=names[0])
    for name in names[1:]:
        said = tell("{those} or '{name}'", those=said, name=name)
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
}
"""What the machine says, where it says so often; in its words, so that another language has them, too."""


def why_of(fault: OSError) -> str:
    """Return why a file could not be read or written."""
    return _FAULTS.get(fault.errno or 0) or fault.strerror or str(fault)
