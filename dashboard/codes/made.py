"""Which model and which garden a link or a code was made with: so that changed defaults are told, never silent."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from dashboard.codes.bits import print_of
from dashboard.codes.letters import ALPHABET
from dashboard.language.tongue import _
from sim.errors import Sentence, tell
from sim.scenario import Scenario

RELEASE_BITS = 4
GARDEN_BITS = 10
FILE_BITS = 30
FILE_PREFIX = "file."
"""Begins the name of a garden that a visitor brought; its fingerprint follows."""


@cache
def release() -> str:
    """Return the version of the model whose results may differ from another's, such as ``0.1``."""
    try:
        whole = version("leafnest")
    except PackageNotFoundError:  # run from its sources, where the version stands beside them
        project = Path(__file__).resolve().parents[2] / "pyproject.toml"
        whole = tomllib.loads(project.read_text(encoding="utf-8"))["project"]["version"]
    return ".".join(whole.split(".")[:2])


def release_number() -> int:
    """Return the last part of the release as a number that fits into a code."""
    last = release().split(".")[-1]
    return int(last) % (1 << RELEASE_BITS) if last.isdigit() else 0


_prints: dict[str, int] = {}


def garden_print(garden: Scenario) -> int:
    """Return a number that changes with any value of the garden or of nature; words do not count."""
    from sim.store import model_identity

    if garden.fingerprint in _prints:
        return _prints[garden.fingerprint]
    silent = {"title": "", "about": ""}
    plans = tuple(plan.model_copy(update=silent) for plan in garden.plans)
    bare = garden.model_copy(update={**silent, "plans": plans})
    number = _prints[garden.fingerprint] = print_of(f"{bare.fingerprint} {model_identity()['parameters']}", GARDEN_BITS)
    return number


def file_print(name: str) -> int:
    """Return the number by which a code knows a garden that a visitor brought."""
    return int(name.removeprefix(FILE_PREFIX), 16) >> (48 - FILE_BITS)


def file_mark(number: int) -> str:
    """Return that number as letters to be read: ``7K3Q0Z``."""
    return "".join(ALPHABET[number >> 5 * place & 31] for place in reversed(range(FILE_BITS // 5)))


def made_word(name: str, garden: Scenario) -> str:
    """Return the word of a link that says what it was made with: ``0.1-3F``, or ``0.1`` for a garden of one's own."""
    if name.startswith(FILE_PREFIX):
        return release()
    number = garden_print(garden)
    return f"{release()}-{ALPHABET[number >> 5]}{ALPHABET[number & 31]}"


def differences(word: str, name: str, garden: Scenario) -> list[str]:
    """Return a sentence if a link was made with another model or another garden of this name."""
    if not word or word == made_word(name, garden):
        return []
    made = word.rsplit("-", 1)[0]
    return [other_release(made) if made != release() else other_garden(garden)]


def other_release(made: str) -> str:
    """Return the sentence for another version of the model."""
    return _(
        "This was made with version {made} of the model; here is version {now}, so results may differ, "
        "also where nothing was changed."
    ).format(made=made[:12], now=release())


def other_garden(garden: Scenario) -> str:
    """Return the sentence for a garden that has changed since."""
    return _(
        "The garden '{garden}' or a number of the model has changed since this was made: what was not set by hand may "
        "differ, so look at plans and settings again."
    ).format(garden=garden.title)


def wanted_lesson(mark: str) -> Sentence:
    """Return the sentence that asks for a lesson of somebody's own."""
    return tell(
        "This is about a lesson of somebody's own, with the mark {mark}. Open that very file with "
        "'leafnest lesson open', then type the code again.",
        mark=mark,
    )


def wanted_file(mark: str) -> Sentence:
    """Return the sentence that asks for a file."""
    return tell(
        "This is about a file of somebody's own, with the mark {mark}. Give that file under 'A file of your own', "
        "then open the link or type the code again.",
        mark=mark,
    )
