"""Every sentence of ours that a screen or a paper may say, found where it is written, in English."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any, TypeAlias

from babel.messages.extract import extract_from_dir

from sim.cast import Bee, Bird, Crop, Fate, Predator, Product, Species, Stage
from sim.measures import MEASURES, spoken
from sim.scenario import load_scenario, scenario_names

ROOT = Path(__file__).parents[2]
KEYWORDS: dict[str, tuple[int, ...] | None] = {"_": None, "mark": None, "many": (1, 2)}
SAID_IN_LESSONS = frozenset(
    {"title", "about", "for_whom", "aims", "situation", "word", "means", "open_question", "question", "prompt", "say"}
    | {"says", "who", "what", "click", "meets", "does", "framework"}
)
"""Fields of a lesson file whose texts a class reads."""

Text: TypeAlias = str | tuple[str, str]
"""A sentence, or one for one and one for several."""


def texts() -> dict[Text, list[str]]:
    """Return each text with the places where it is written, in a steady order."""
    found: dict[Text, list[str]] = {}
    for text, place in (*_in_code(), *_in_gardens(), *_in_lessons(), *_in_model()):
        places = found.setdefault(text, [])
        if text and place not in places:
            places.append(place)
    return {text: places for text, places in found.items() if text}


def _in_code() -> Iterator[tuple[Text, str]]:
    options = {"**.py": {"encoding": "utf-8"}}
    for room in ("dashboard",):
        rows = extract_from_dir(
            ROOT / room, method_map=[("**.py", "python")], options_map=options, keywords=KEYWORDS, comment_tags=()
        )
        for file, _line, text, _comments, _context in sorted(rows, key=lambda row: (row[0], row[1])):
            yield (text if isinstance(text, str) else (text[0], text[1])), f"{room}/{Path(file).as_posix()}"


def _in_gardens() -> Iterator[tuple[Text, str]]:
    for name in scenario_names():
        garden, place = load_scenario(name), f"scenarios/{name}.toml"
        yield garden.title, place
        yield garden.about, place
        for bed in garden.beds:
            yield bed.name.replace("_", " "), place
        for plan in garden.plans:
            yield plan.title, place
            yield plan.about, place


def _in_lessons() -> Iterator[tuple[Text, str]]:
    """Yield what lesson files say, each text in one line, as they are read."""
    for file in sorted(ROOT.glob("lessons/**/*.toml")):
        place = file.relative_to(ROOT).as_posix()
        for text in _said(tomllib.loads(file.read_text(encoding="utf-8")), is_said=False):
            yield text, place


def _said(part: Any, *, is_said: bool) -> Iterator[str]:
    if isinstance(part, dict):
        for field, inner in part.items():
            yield from _said(inner, is_said=field in SAID_IN_LESSONS)
    elif isinstance(part, list):
        for inner in part:
            yield from _said(inner, is_said=is_said)
    elif isinstance(part, str) and is_said:
        yield " ".join(part.split())


def _in_model() -> Iterator[tuple[Text, str]]:
    """Yield what ``sim`` says in English and screens say again: measures, creatures, fates, what is left out."""
    for measure in MEASURES.values():
        for text in (measure.words, measure.unit, measure.group):
            yield text, "sim/measures.py"
    for names in (Species, Predator, Fate, Crop, Product, Bee, Bird):
        for name in names:
            yield spoken(name), "sim/cast.py"
    for stage in (Stage.EGG, Stage.PUPA, Stage.ADULT):
        yield spoken(stage), "sim/cast.py"
    from dashboard.origins import left_out

    for row in left_out():
        for cell in row:
            yield cell, "sim/MODEL.md"


def glossary(language: str) -> dict[str, dict[str, str]]:
    """Return the trade's terms: English word → its word, under the language's code, and how it is known."""
    file = files("dashboard") / "words" / f"terms_{language}.toml"
    terms: dict[str, dict[str, str]] = tomllib.loads(file.read_text(encoding="utf-8"))["terms"]
    return terms
