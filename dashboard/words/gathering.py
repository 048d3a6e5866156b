"""Every sentence of ours that a screen or a paper may say, found where it is written, in English."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeAlias

from sim.cast import Bee, Bird, Crop, Fate, Predator, Product, Species, Stage
from sim.measures import MEASURES, spoken
from sim.patterns.table import patterns
from sim.scenario import load_scenario, scenario_names

ROOT = Path(__file__).parents[2]
KEYWORDS = {"_": 1, "mark": 1, "many": 2, "tell": 1, "tell_many": 2}
"""What says a text → how many texts it takes."""
SAID_IN_LESSONS = frozenset(
    {"title", "about", "for_whom", "aims", "situation", "word", "means", "open_question", "question", "prompt", "say"}
    | {"says", "who", "what", "click", "meets", "does", "framework", "known", "called", "source"}
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
    for file in sorted([*(ROOT / "dashboard").rglob("*.py"), *(ROOT / "sim").rglob("*.py")]):
        place = file.relative_to(ROOT).as_posix()
        calls = [one for one in ast.walk(ast.parse(file.read_text(encoding="utf-8"))) if isinstance(one, ast.Call)]
        for call in sorted(calls, key=lambda one: (one.lineno, one.col_offset)):
            if isinstance(call.func, ast.Name) and call.func.id in KEYWORDS:
                yield from ((text, place) for text in _texts_of(call, KEYWORDS[call.func.id]))


def _texts_of(call: ast.Call, count: int) -> Iterator[Text]:
    """Yield the text that a call says, also one that stands inside an f-string or is chosen by a condition."""
    said = call.args[:count]
    if count > 1:
        texts = [one.value for one in said if isinstance(one, ast.Constant) and isinstance(one.value, str)]
        if len(texts) == count:
            yield (texts[0], texts[1])
        return
    for one in said:
        for choice in (one.body, one.orelse) if isinstance(one, ast.IfExp) else (one,):
            if isinstance(choice, ast.Constant) and isinstance(choice.value, str):
                yield choice.value


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
    """Yield what lesson files and bargains say, each text in one line, as they are read."""
    for file in sorted([*ROOT.glob("lessons/**/*.toml"), ROOT / "dashboard" / "plans" / "bargains.toml"]):
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
    for pattern in patterns():
        for text in (pattern.level, pattern.what, pattern.expected):
            yield text, "sim/patterns/patterns.toml"
    from dashboard.origins import left_out

    for row in left_out():
        for cell in row:
            yield cell, "sim/MODEL.md"
