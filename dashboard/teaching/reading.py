"""Read lessons: those that come with the program by name, and a teacher's own by path, checked like scenarios."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from pydantic import ValidationError

from dashboard.teaching.ideas import ideas
from dashboard.teaching.lesson_file import LessonFile
from dashboard.teaching.standards import standards_of
from sim.errors import LeafnestError, near_names, tell, why_of
from sim.scenario import Scenario, load_scenario, scenario_names
from sim.scenario.lines import key_lines, line_of
from sim.scenario.messages import first_mistake, in_file
from sim.scenario.toml_text import decoded, parsed

FIRST_LESSON = "net_spray_or_leave"
_SUFFIX = ".toml"
_WANTED = tell("a lesson, as 'leafnest lesson new' writes it")


class LessonError(LeafnestError):
    """A lesson file that cannot be used as it stands."""


def lesson_names() -> tuple[str, ...]:
    """Return the names of the lessons that come with the program, the first one first."""
    names = sorted(item.name.removesuffix(_SUFFIX) for item in _package().iterdir() if item.name.endswith(_SUFFIX))
    return (FIRST_LESSON, *(name for name in names if name != FIRST_LESSON))


@cache
def ready_lesson(name: str) -> LessonFile:
    """Return a lesson that comes with the program."""
    return read_lesson_text(lesson_text(name), f"{name}{_SUFFIX}")


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
    if path.is_dir():
        raise LessonError(tell("'{text}' is a folder; a lesson is a TOML file.", text=text))
    if not path.is_file():
        known = lesson_names()
        raise LessonError(
            tell(
                "There is no lesson or file '{text}'; lessons here: {known}.{near}",
                text=text,
                known=", ".join(known),
                near=near_names(text, known),
            )
        )
    try:
        content = path.read_bytes()
    except OSError as error:
        raise LessonError(tell("'{text}' cannot be read: {why}.", text=text, why=why_of(error))) from None
    folder = path.resolve().parent
    lesson = read_lesson_text(decoded(content, path.name), path.name, folder)
    return lesson, _garden_loader(folder)(lesson.garden)


def lesson_text(name: str | None = None) -> str:
    """Return the text of a lesson that comes with the program; each explains itself, to start one's own from.

    Raises
    ------
    LessonError
        If there is none of that name.
    """
    known = lesson_names()
    if name is not None and name not in known:
        raise LessonError(
            tell(
                "There is no lesson '{name}'; lessons here: {known}.{near}",
                name=name,
                known=", ".join(known),
                near=near_names(name, known),
            )
        )
    return (_package() / f"{name or FIRST_LESSON}{_SUFFIX}").read_text(encoding="utf-8")


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
    lines = key_lines(text)

    def line(location: tuple[str | int, ...]) -> int | None:
        return line_of(location, lines)

    try:
        lesson = LessonFile.model_validate(raw, context={"load_garden": _garden_loader(folder)})
    except ValidationError as error:
        sentence = first_mistake(error, LessonFile, raw, line)
        raise LessonError(in_file(name, sentence)) from None
    _check_names(lesson, name, folder, line)
    return lesson


def _check_names(
    lesson: LessonFile, name: str, folder: Path | None, line: Callable[[tuple[str | int, ...]], int | None]
) -> None:
    """Refuse ideas and standards that no file of theirs has."""
    known = {"ideas": tuple(ideas()), "standards": tuple(standards_of(lesson.standards_files, folder))}
    for key, allowed in known.items():
        for place, word in enumerate(getattr(lesson, key)):
            if word not in allowed:
                number = line((key, place))
                raise LessonError(
                    tell(
                        "{name}{line}: '{key}' has '{word}'; allowed: {known}.{near}",
                        name=name,
                        line=tell(", line {number}", number=number) if number else "",
                        key=key,
                        word=word,
                        known=", ".join(allowed),
                        near=near_names(word, allowed),
                    )
                )


def _garden_loader(folder: Path | None) -> Callable[[str], Scenario]:
    def load(garden: str) -> Scenario:
        if garden in scenario_names() or folder is None:
            return load_scenario(garden)
        return load_scenario(folder / garden)

    return load


def _slug_of(file_name: str) -> str:
    stem = file_name.removesuffix(_SUFFIX).lower()
    slug = "".join(letter if letter.isascii() and letter.isalnum() else "_" for letter in stem).strip("_")
    return slug if slug[:1].isalpha() else f"lesson_{slug}".rstrip("_")


def _package() -> Traversable:
    return files("lessons")
