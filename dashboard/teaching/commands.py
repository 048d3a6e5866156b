"""The parts of the command about lessons: list them, check a file, begin one of your own, and print its papers."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from dashboard.commands.asking import some_name
from dashboard.commands.printing import add_folder, add_manner, add_paper


def add_commands(parts: Any, port: Callable[[str], int]) -> None:
    """Add ``lesson`` and ``sheets`` to the command's parts; ``port`` reads a port."""
    lesson = parts.add_parser("lesson", help="list the lessons; check one, or begin one of your own")
    lesson.set_defaults(run=_list)
    deeds = lesson.add_subparsers(title="deeds", metavar="DEED", parser_class=type(lesson))
    check = deeds.add_parser("check", help="check a lesson file: one sentence for a mistake, with its line")
    check.add_argument("file", metavar="FILE", help="a lesson in TOML, or a name from 'leafnest lesson'")
    check.set_defaults(run=_check)
    new = deeds.add_parser("new", help="write a lesson file that explains itself, to be edited")
    new.add_argument("file", metavar="FILE", type=Path, help="where to write it; must not exist")
    new.add_argument(
        "--from", type=some_name, dest="start", metavar="LESSON", help="the lesson to begin with (default: the first)"
    )
    new.set_defaults(run=_new)
    teach = deeds.add_parser("open", help="open the dashboard with this lesson on its first screen")
    teach.add_argument("file", metavar="FILE", help="a lesson in TOML, or a name from 'leafnest lesson'")
    teach.add_argument("--port", type=port, help="port of the dashboard (default: the first free one from 8501)")
    teach.add_argument("--no-browser", action="store_true", help="do not open a browser window")
    teach.set_defaults(run=_open)
    _add_sheets(parts)


def _add_sheets(parts: Any) -> None:
    sheets = parts.add_parser("sheets", help="print a lesson: teacher's sheet, student's sheet and cards, as PDF")
    sheets.add_argument("lesson", metavar="LESSON", help="a name from 'leafnest lesson', or a lesson file")
    add_paper(sheets)
    add_manner(sheets)
    add_folder(sheets)
    sheets.set_defaults(run=_sheets)


def _list(choice: argparse.Namespace) -> int:
    from dashboard.commands.tables import heading, new_console
    from dashboard.lesson.reading import lesson_names, load_lesson

    console = new_console()
    for name in lesson_names():
        lesson, garden = load_lesson(name)
        console.print(heading(name, f"  {lesson.title}"), soft_wrap=True)
        console.print(f"  {lesson.about} For: {lesson.for_whom}.")
        console.print(f"  {garden.title}. Plans: {', '.join(lesson.plans)}.\n", soft_wrap=True)
    return 0


def _check(choice: argparse.Namespace) -> int:
    from dashboard.lesson.reading import load_lesson

    _lesson, garden = load_lesson(choice.file)
    if garden.place.weather_file is not None:
        from sim.season import check_weather  # brings in the compiler; other gardens do without

        check_weather(garden)
    print(f"{choice.file}: all well.")
    return 0


def _new(choice: argparse.Namespace) -> int:
    from dashboard.commands.asking import write_new
    from dashboard.lesson.reading import lesson_text

    write_new(choice.file, lesson_text(choice.start))
    print(f"Written: {choice.file}. Edit it, then: leafnest lesson check {choice.file}")
    return 0


def _open(choice: argparse.Namespace) -> int:
    import os

    from dashboard.lesson.opened import FIRST_OFFERED
    from dashboard.lesson.reading import lesson_names, load_lesson
    from dashboard.server.settings import serve

    _lesson, garden = load_lesson(choice.file)
    if garden.place.weather_file is not None:
        from sim.season import check_weather

        check_weather(garden)
    os.environ[FIRST_OFFERED] = choice.file if choice.file in lesson_names() else str(Path(choice.file).resolve())
    serve(port=choice.port, opens_browser=not choice.no_browser)
    return 0


def _sheets(choice: argparse.Namespace) -> int:
    from dashboard.commands.asking import prepare
    from dashboard.commands.tables import progress_bar
    from dashboard.language.tongue import speaking
    from dashboard.lesson.reading import load_lesson
    from sim.export import write_results

    lesson, garden = load_lesson(choice.lesson)
    prepare(choice)
    from dashboard.lesson.standards import standards_of
    from dashboard.teaching.figures import figures_of
    from dashboard.teaching.sheets import sheet_results

    standards = standards_of(lesson.standards_files, Path(choice.lesson).resolve().parent)
    with progress_bar(f"{lesson.title}: {len(lesson.plans)} plans, {lesson.seats} seasons each") as progress:
        figures = figures_of(lesson, garden, progress)
    with speaking(choice.language, choice.units):
        results = sheet_results(figures, choice.paper, choice.date, standards)
    folder = write_results(choice.out, results, overwrite=choice.overwrite)
    print(
        f"Written: {folder} (teacher, student and cards, each as PDF, .docx and plain text; the seasons as CSV)",
        file=sys.stderr,
    )
    return 0
