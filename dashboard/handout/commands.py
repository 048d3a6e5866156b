"""The parts of the command about what people take home: handouts and pictures."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dashboard.commands.asking import add_scenario, add_seed, count, some_name
from dashboard.commands.printing import SIZES, add_folder, add_paper, add_print, add_sizes, manner_words, styles_of

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings
    from sim.export import Results

PLANS_AT_FIRST = 3
SEASONS_AT_FIRST = 20
MOST_COMMAND_LETTERS = 400
OUT = "handout"
"""A folder that is asked for; the maker's own is nobody else's."""


def add_commands(parts: Any) -> None:
    """Add ``handout`` and ``picture`` to the command's parts."""
    paper = parts.add_parser("handout", help="a handout of one or two pages: tagged PDF, .docx and plain text")
    _add_comparison(paper)
    add_paper(paper)
    paper.add_argument(
        "--address", type=some_name, metavar="URL", help="public address of your dashboard; prints a square code for it"
    )
    paper.set_defaults(run=_handout)
    picture = parts.add_parser(
        "picture", help="pictures for slides, newsletters and print: PNG, SVG, tagged PDF, words"
    )
    _add_comparison(picture)
    picture.add_argument(
        "--show",
        metavar="NAME",
        action="append",
        help="summary, ends, energy, calendar, stages, starving, deeds, days_caterpillars and other days, or a measure "
        "such as marketable_kg; say it again for more (default: summary)",
    )
    add_sizes(picture, "all three")
    picture.set_defaults(run=_picture)


def _add_comparison(part: argparse.ArgumentParser) -> None:
    add_scenario(part)
    part.add_argument(
        "--plan",
        metavar="NAME",
        action="append",
        dest="plans",
        help=f"a plan; say it again for more (default: the first {PLANS_AT_FIRST} of the scenario)",
    )
    part.add_argument(
        "--seasons",
        type=count,
        default=SEASONS_AT_FIRST,
        metavar="N",
        help=f"seasons for each plan (default: {SEASONS_AT_FIRST})",
    )
    add_seed(part)
    add_print(part)
    add_folder(part)


def _handout(choice: argparse.Namespace) -> int:
    from dashboard.handout.files import handout_files
    from dashboard.paper.public_address import public_address

    address = public_address(choice.address) if choice.address else ""

    def files(findings: Findings) -> dict[str, bytes]:
        return handout_files(findings, choice.paper, day=choice.date, is_grey=choice.grey, address=address)

    return _make(choice, files)


def _picture(choice: argparse.Namespace) -> int:
    from dashboard.charts.imprint import Imprint, garden_words
    from dashboard.charts.printed.pictures import picture_files
    from dashboard.handout.scenes import OF_ONE_SEASON, check_names, scene_of
    from sim.season import model_version

    names = list(dict.fromkeys(choice.show or ["summary"]))
    check_names(names)
    styles = styles_of(choice, SIZES)

    def files(findings: Findings) -> dict[str, bytes]:
        made: dict[str, bytes] = {}
        for name in names:
            scene = scene_of(findings, name)
            seasons = findings.numbers[:1] if name in OF_ONE_SEASON else findings.numbers
            imprint = Imprint(garden_words(findings.garden), seasons, model_version(), choice.date)
            made |= picture_files(scene, name, styles, imprint)
        return made

    return _make(choice, files)


def _make(choice: argparse.Namespace, files_of: Callable[[Findings], dict[str, bytes]]) -> int:
    """Live the seasons, make the files in the language asked for, and write them whole or not at all."""
    import sys

    from dashboard.commands.asking import prepare
    from dashboard.language.tongue import speaking
    from sim.export import write_results

    prepare(choice)
    findings = _findings(choice)
    with speaking(choice.language, choice.units):
        files = files_of(findings)
    folder = write_results(choice.out, _results(findings, files), overwrite=choice.overwrite)
    print(f"Written: {folder} ({', '.join(sorted(files))})", file=sys.stderr)
    return 0


def _findings(choice: argparse.Namespace) -> Findings:
    from dashboard.commands import tables
    from dashboard.commands.asking import scenario_of
    from dashboard.handout.findings import Findings, gather
    from sim.comparison import plans_of

    garden = scenario_of(choice)
    plans = plans_of(garden, choice.plans or garden.plan_names[:PLANS_AT_FIRST])
    numbers = range(choice.seed, choice.seed + choice.seasons)
    with tables.progress_bar(f"{len(plans)} plans, {choice.seasons} seasons each") as progress:
        seasons = gather(garden, plans, numbers, progress)
    return Findings(garden, seasons, tuple(choice.changes), _code(choice, plans), _command(choice, plans))


def _code(choice: argparse.Namespace, plans: tuple[str, ...]) -> str:
    """Return the code that the dashboard knows, or nothing for a garden or plans that a code cannot hold."""
    from dashboard.lesson.lesson import LAST_SEASON, MOST_PLANS, Lesson
    from dashboard.lesson.lesson_code import code_of
    from sim.scenario import load_scenario, scenario_names
    from sim.settings import change_from

    is_known = choice.scenario in scenario_names() and 1 < len(plans) <= MOST_PLANS and choice.seed <= LAST_SEASON
    if not is_known:
        return ""
    changes = {key: value for text in choice.changes for key, value in change_from(text).items()}
    gardens = {name: load_scenario(name) for name in scenario_names()}
    return code_of(Lesson(choice.scenario, plans, choice.seed, changes=changes), gardens)


def _command(choice: argparse.Namespace, plans: tuple[str, ...]) -> str:
    import shlex

    words = ["leafnest", "handout", Path(choice.scenario).name]  # a folder of the maker's is nobody else's
    words += [word for plan in plans for word in ("--plan", plan)]
    words += ["--seasons", str(choice.seasons), "--seed", str(choice.seed)]
    words += [word for text in choice.changes for word in ("--set", text)]
    words += manner_words(choice)
    words += ["--address", choice.address] if getattr(choice, "address", "") else []
    words += ["--out", OUT]  # the day is left out: made again, it says the day of that
    said = shlex.join(words)
    return said if len(said) <= MOST_COMMAND_LETTERS else ""


def _results(findings: Findings, files: dict[str, bytes]) -> Results:
    from dashboard.results import run_of
    from sim.export import Results

    return Results({}, run_of(findings.comparison, findings.garden), extras=files)
