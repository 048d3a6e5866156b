"""The parts of the command about lessons: list them, check a file, and begin one of your own."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import Any


def add_commands(parts: Any, port: Callable[[str], int]) -> None:
    """Add ``lesson`` to the command's parts; ``port`` reads a port."""
    lesson = parts.add_parser("lesson", help="list the lessons; check one, or begin one of your own")
    lesson.set_defaults(run=_list)
    deeds = lesson.add_subparsers(title="deeds", metavar="DEED", parser_class=type(lesson))
    check = deeds.add_parser("check", help="check a lesson file: one sentence for a mistake, with its line")
    check.add_argument("file", metavar="FILE", type=Path, help="a lesson in TOML")
    check.set_defaults(run=_check)
    new = deeds.add_parser("new", help="write a lesson file that explains itself, to be edited")
    new.add_argument("file", metavar="FILE", type=Path, help="where to write it; must not exist")
    new.add_argument("--from", dest="start", metavar="LESSON", help="the lesson to begin with (default: the first)")
    new.set_defaults(run=_new)
    teach = deeds.add_parser("open", help="open the dashboard with a lesson of your own on its first screen")
    teach.add_argument("file", metavar="FILE", type=Path, help="a lesson in TOML")
    teach.add_argument("--port", type=port, help="port of the dashboard (default: the first free one from 8501)")
    teach.add_argument("--no-browser", action="store_true", help="do not open a browser window")
    teach.set_defaults(run=_open)


def _list(choice: argparse.Namespace) -> int:
    from dashboard.tables import new_console
    from dashboard.teaching.reading import lesson_names, load_lesson

    console = new_console()
    for name in lesson_names():
        lesson, garden = load_lesson(name)
        console.print(f"[bold]{name}[/bold]  {lesson.title}", soft_wrap=True)
        console.print(f"  {lesson.about} For: {lesson.for_whom}.")
        console.print(f"  {garden.title}. Plans: {', '.join(lesson.plans)}.\n", soft_wrap=True)
    return 0


def _check(choice: argparse.Namespace) -> int:
    from dashboard.teaching.reading import load_lesson

    load_lesson(choice.file)
    print(f"{choice.file}: all well.")
    return 0


def _new(choice: argparse.Namespace) -> int:
    from dashboard.asking import write_new
    from dashboard.teaching.reading import lesson_text

    write_new(choice.file, lesson_text(choice.start))
    print(f"Written: {choice.file}. Edit it, then: leafnest lesson check {choice.file}")
    return 0


def _open(choice: argparse.Namespace) -> int:
    import os

    from dashboard.settings import serve
    from dashboard.teaching.opened import OWN_LESSON
    from dashboard.teaching.reading import load_lesson

    load_lesson(choice.file)
    os.environ[OWN_LESSON] = str(choice.file.resolve())
    serve(port=choice.port, opens_browser=not choice.no_browser)
    return 0
