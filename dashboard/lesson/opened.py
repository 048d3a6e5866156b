"""Lessons that screens can open: those of the program, and one of a teacher's own that the server was started with.

A lesson that is open gives the screens its garden, its two questions and its pauses. Without one, everything is free
play, with two questions of the screens' own.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from dashboard.language.tongue import mark
from dashboard.lesson.lesson import QUESTIONS, Lesson
from dashboard.lesson.lesson_file import LessonFile, Pause
from dashboard.lesson.reading import lesson_names, load_lesson
from dashboard.lesson.standards import Standard, standards_of
from sim.scenario import Scenario, scenario_names

FIRST_OFFERED = "LEAFNEST_LESSON"
"""Names, for the server and its processes, the lesson to offer first: the file of one's own, or a ready one's name."""
FREE_QUESTIONS = {
    "harvest": mark("Which plan gives most harvest fit to sell?"),
    "birds": mark("Which plan leaves most food in reach of birds with young?"),
}
"""What is asked in free play, by the word of the address."""
WITHOUT_NESTS = {"birds": (mark("Which plan takes most minutes of work?"), "labour_minutes")}
"""What is asked in place of these, in a garden that no bird with young hunts in."""


@cache
def open_lessons() -> Mapping[str, tuple[LessonFile, Scenario]]:
    """Return every lesson that can be opened, by name, the one that was asked for first."""
    ready = {name: load_lesson(name) for name in lesson_names()}
    wanted = os.environ.get(FIRST_OFFERED)
    if not wanted:
        return ready
    if wanted in ready:
        return {wanted: ready[wanted], **ready}
    lesson, garden = load_lesson(Path(wanted))
    name = f"own_{lesson.name}" if lesson.name in ready else lesson.name
    return {name: (lesson.model_copy(update={"name": name}), garden), **ready}


def own_lesson_text(name: str) -> str:
    """Return all that a lesson and its garden say, as one text that changes with any word or value of them."""
    lesson, garden = open_lessons()[name]
    return f"{lesson.model_dump_json()} {garden.fingerprint}"


def own_gardens() -> dict[str, Scenario]:
    """Return the garden of a lesson of one's own, by the name that screens know it by, if it is no ready garden."""
    return {
        garden_name(lesson, garden): garden
        for lesson, garden in open_lessons().values()
        if lesson.garden not in scenario_names()
    }


def garden_name(lesson: LessonFile, garden: Scenario) -> str:
    """Return the name by which screens know the garden of a lesson."""
    if lesson.garden in scenario_names():
        return lesson.garden
    return f"own_{garden.name}" if garden.name in scenario_names() else garden.name


def opened(name: str) -> Lesson:
    """Return what a visitor has who opens a lesson: nothing guessed yet."""
    lesson, garden = open_lessons()[name]
    return Lesson(garden_name(lesson, garden), lesson.plans, lesson.season, ready=name)


def lesson_file_of(lesson: Lesson) -> LessonFile | None:
    """Return the lesson file that a visitor follows, or None in free play."""
    return open_lessons()[lesson.ready][0] if lesson.ready else None


def pauses_of(lesson: Lesson) -> tuple[Pause, ...]:
    """Return where the season stops; nowhere in free play."""
    followed = lesson_file_of(lesson)
    return followed.pauses if followed else ()


def questions_of(lesson: Lesson, garden: Scenario) -> dict[str, tuple[str, str]]:
    """Return the two questions about a garden: word in the address → question, said through ``_``, and measure."""
    followed = lesson_file_of(lesson)
    if followed is None:
        instead = {} if garden.birds.nests else WITHOUT_NESTS
        return {word: instead.get(word, (FREE_QUESTIONS[word], measure)) for word, measure in QUESTIONS.items()}
    return {word: (one.question, one.measure) for word, one in zip(QUESTIONS, followed.guesses, strict=True)}


def standards_known(lesson: LessonFile) -> Mapping[str, Standard]:
    """Return every standard that a lesson can name, those of files beside a lesson of one's own among them."""
    first = os.environ.get(FIRST_OFFERED)
    return standards_of(lesson.standards_files, Path(first).parent if first else None)
