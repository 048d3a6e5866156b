"""Read lessons: those that come with the program by name, and a teacher's own by path, checked like scenarios."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from dashboard.lesson.ideas import ideas
from dashboard.lesson.lesson_file import LessonFile
from dashboard.lesson.standards import standards_of
from sim.errors import ScenarioError, tell, unknown
from sim.scenario import Scenario, load_scenario, scenario_names
from sim.scenario.lines import key_lines, line_of
from sim.scenario.messages import in_file, in_line
from sim.scenario.reading import SUFFIX, checked, names_in, text_of
from sim.scenario.toml_text import parsed

FIRST_LESSON = "net_spray_or_leave"
_WANTED = tell("a lesson, as 'leafnest lesson new' writes it")


def lesson_names() -> tuple[str, ...]:
    """Return the names of the lessons that come with the program, the first one first."""
    return names_in(_package(), FIRST_LESSON)


@cache
def ready_lesson(name: str) -> LessonFile:
    """Return a lesson that comes with the program."""
    return read_lesson_text(lesson_text(name), f"{name}{SUFFIX}")


def load_lesson(name_or_path: str | Path) -> tuple[LessonFile, Scenario]:
    """Return a lesson and its garden, by name or by path.

    Raises
    ------
    LeafnestError
        If there is none, or if it cannot be used as it stands; the sentence names file, line and key.
    """
    text = str(name_or_path)
    if isinstance(name_or_path, str) and text in lesson_names():
        lesson = ready_lesson(text)
        return lesson, load_scenario(lesson.garden)
    path = Path(name_or_path)
    absent = unknown(tell("There is no lesson or file '{name}'", name=text), text, lesson_names())
    folder = path.resolve().parent
    lesson = read_lesson_text(text_of(path, absent), path.name, folder)
    return lesson, _garden_loader(folder)(lesson.garden)


def lesson_text(name: str | None = None) -> str:
    """Return the text of a lesson that comes with the program; each explains itself, to start one's own from.

    Raises
    ------
    ScenarioError
        If there is none of that name.
    """
    known = lesson_names()
    if name is not None and name not in known:
        raise ScenarioError(unknown(tell("There is no lesson '{name}'", name=name), name, known))
    return (_package() / f"{name or FIRST_LESSON}{SUFFIX}").read_text(encoding="utf-8")


def read_lesson_text(text: str, name: str, folder: Path | None = None) -> LessonFile:
    """Return the lesson that a TOML text describes.

    Parameters
    ----------
    text
        The text of a lesson file.
    name
        What to call the file in messages; without its ending it becomes the lesson's name.
    folder
        Where the garden and files of standards are looked for, if they are files.
    """
    raw = parsed(text, name, _WANTED)
    raw.setdefault("name", _slug_of(name))
    lesson = checked(LessonFile, raw, text, name, {"load_garden": _garden_loader(folder)})
    _check_names(lesson, text, name, folder)
    return lesson


def _check_names(lesson: LessonFile, text: str, name: str, folder: Path | None) -> None:
    """Refuse ideas and standards that no file of theirs has."""
    known = {"ideas": tuple(ideas()), "standards": tuple(standards_of(lesson.standards_files, folder))}
    for key, allowed in known.items():
        for place, word in enumerate(getattr(lesson, key)):
            if word not in allowed:
                sentence = unknown(tell("'{key}' has '{word}'", key=key, word=word), word, allowed)
                line = line_of((key, place), key_lines(text))
                raise ScenarioError(in_file(name, in_line(line, sentence)))


def _garden_loader(folder: Path | None) -> Callable[[str], Scenario]:
    def load(garden: str) -> Scenario:
        if garden in scenario_names() or folder is None:
            return load_scenario(garden)
        return load_scenario(folder / garden)

    return load


def _slug_of(file_name: str) -> str:
    stem = file_name.removesuffix(SUFFIX).lower()
    slug = "".join(letter if letter.isascii() and letter.isalnum() else "_" for letter in stem).strip("_")
    return slug if slug[:1].isalpha() else f"lesson_{slug}".rstrip("_")


def _package() -> Traversable:
    return files("lessons")
