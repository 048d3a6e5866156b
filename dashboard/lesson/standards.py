"""Codes of teaching standards: a file a framework or state, what a learner does in our own words, and what was read.

A lesson addresses part of a standard; whether a class meets it is for its teacher to say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path

from dashboard.language.tongue import mark
from sim.errors import ScenarioError, refusal, tell
from sim.scenario.reading import text_of
from sim.scenario.toml_text import parsed

ADDRESSES = mark("addresses part of")
"""What a lesson does with a standard; never more."""
_WANTED = tell('framework = "…", and [standards] with CODE = {{ does = "…", known = "…" }}')


@dataclass(frozen=True)
class Standard:
    """One code of a framework: what learners do, in our own words, and how the wording is known.

    ``called`` is its word where a framework has no codes but words, which other languages say in theirs.
    """

    code: str
    framework: str
    does: str
    known: str
    called: str = ""


def standards_of(own_files: Sequence[str] = (), folder: Path | None = None) -> dict[str, Standard]:
    """Return every standard by ``file:code``, those of the program and those of a teacher's own files."""
    found = dict(_ready())
    for name in own_files:
        path = (folder or Path.cwd()) / name
        text = text_of(path, tell("There is no file of standards '{name}' beside the lesson.", name=name))
        found |= _read(text, path.stem, path.name)
    return found


@cache
def _ready() -> dict[str, Standard]:
    folder = files("lessons") / "standards"
    names = sorted(item.name for item in folder.iterdir() if item.name.endswith(".toml"))
    found: dict[str, Standard] = {}
    for name in names:
        found |= _read((folder / name).read_text(encoding="utf-8"), name.removesuffix(".toml"), name)
    return found


def _read(text: str, short: str, name: str) -> dict[str, Standard]:
    raw = parsed(text, name, _WANTED)
    try:
        return {
            f"{short}:{code}": Standard(
                code, str(raw["framework"]), str(entry["does"]), str(entry["known"]), str(entry.get("called", ""))
            )
            for code, entry in raw["standards"].items()
        }
    except (KeyError, TypeError, AttributeError):
        said = tell("{name}: this is no file of standards", name=name)
        raise ScenarioError(refusal(said, _WANTED)) from None
