"""Every error that a user can cause, in one family.

    LeafnestError                     one clear sentence: where, what was found, what is allowed
    ├── ScenarioError                 a scenario file or a change to one
    ├── WeatherError                  a weather file or a request for weather
    ├── ParameterError                a value for a number of nature
    ├── OutputError                   a folder or file that results should go to
    └── RunError                      a run that cannot be done as asked

The command prints the sentence and ends with exit status 2. Faults of our own stay ordinary Python
exceptions, so that they are seen and mended.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable


class LeafnestError(Exception):
    """A mistake in what was handed to us, told in one sentence."""


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
    return f" Did you mean {' or '.join(repr(word) for word in close)}?" if close else ""
