"""Commands that say how far to trust the model: ``leafnest sensitivity`` and ``leafnest patterns``."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dashboard.commands.asking import some_folder, some_name
from dashboard.commands.pages import check_page, write_page
from dashboard.commands.stopping import also_unread, note_written

if TYPE_CHECKING:
    from sim.jobs import Progress

GARDEN = "teaching_garden"
PLANS = ("nothing", "net", "spray_weekly")


def add_commands(parts: Any, count: Callable[[str], int]) -> None:
    """Add both commands to the reader of the command line; ``count`` reads a whole number from 1."""
    sensitivity = parts.add_parser("sensitivity", help="say which numbers of nature the results lean on")
    sensitivity.add_argument("--plan", type=some_name, metavar="NAME", help="only this plan")
    sensitivity.add_argument("--measure", type=some_name, metavar="NAME", help="only this measure")
    sensitivity.add_argument("--json", action="store_true", help="print the stored ranking as JSON")
    sensitivity.add_argument(
        "--remake",
        type=some_folder,
        metavar="DIR",
        help="run the study anew, keeping its seasons in DIR and going on from those already there; needs SALib",
    )
    sensitivity.add_argument("--taste", action="store_true", help="with --remake: the smallest run, only to try it")
    sensitivity.add_argument(
        "--keep", action="store_true", help="with --remake: replace the ranking that comes with the program"
    )
    sensitivity.add_argument("--page", type=Path, metavar="FILE", help="also write the page about it (Markdown) here")
    sensitivity.set_defaults(run=_sensitivity)

    patterns = parts.add_parser("patterns", help="hold the model against patterns that others have published")
    patterns.add_argument("names", metavar="PATTERN", nargs="*", help="only these (default: all)")
    patterns.add_argument("--list", action="store_true", help="list the patterns without running them")
    patterns.add_argument("--seasons", type=count, default=24, metavar="N", help="seasons for each (default: 24)")
    patterns.add_argument("--page", type=Path, metavar="FILE", help="also write the page about it (Markdown) here")
    patterns.add_argument("--keep", action="store_true", help="replace the findings that come with the program")
    patterns.set_defaults(run=_patterns)


def _sensitivity(choice: argparse.Namespace) -> int:
    from dashboard.commands import leanings, tables
    from sim.errors import RunError, tell
    from sim.sensitivity import ranking

    if (choice.taste or choice.keep) and not choice.remake:
        raise RunError(tell("--taste and --keep say how to remake the ranking; add --remake DIR, or leave them out."))
    check_page(choice.page, leanings.TITLE)
    if choice.remake:
        made = _remake(choice.remake, is_taste=choice.taste)
        ranking.write_ranking(made, choice.remake / ranking.FILE)
        if choice.keep:
            ranking.keep_ranking(made)
        note_written(choice, choice.remake / ranking.FILE)
        print(f"Written: {choice.remake / ranking.FILE}", file=sys.stderr)
    else:
        made = ranking.stored_ranking()
    leanings.chosen(made, choice.plan, choice.measure)  # a name that is not there is told before a page is written
    if choice.page:
        write_page(choice.page, leanings.page_of(made))
        note_written(choice, choice.page)
    if choice.json:
        tables.print_json(made)
    else:
        leanings.print_leanings(made, plan=choice.plan, measure=choice.measure)
    return 0


def _remake(folder: Path, *, is_taste: bool) -> dict[str, Any]:
    from dashboard.commands.tables import progress_bar
    from sim import load_scenario
    from sim.sensitivity.study import TASTE, Effort, Study, make_ranking
    from sim.sensitivity.uncertain import least_certain

    garden = load_scenario(GARDEN)
    with progress_bar("sensitivity") as report:

        def stage(_: str) -> Progress:
            return report

        effort = TASTE if is_taste else Effort()
        study = Study(garden, PLANS, effort, store=folder, progress=stage)
        made = make_ranking(study)
        made["least_certain"] = least_certain(study)
    return made


def _patterns(choice: argparse.Namespace) -> int:
    from dashboard.commands import pattern_page
    from sim.errors import RunError, tell
    from sim.patterns.found import keep_findings
    from sim.patterns.table import findings, named

    wanted = named(choice.names)
    if choice.list:
        pattern_page.print_list(wanted)
        return 0
    if choice.keep and choice.names:
        raise RunError(tell("--keep needs all patterns, and some were named; leave the names out."))
    check_page(choice.page, pattern_page.TITLE)
    seeds = tuple(range(1, choice.seasons + 1))
    found = []
    for finding in findings(wanted, seeds):
        found.append(finding)
        with also_unread(choice.page, choice.keep):
            pattern_page.print_finding(finding)
    if choice.keep:
        keep_findings(found, choice.seasons)
    if choice.page:
        write_page(choice.page, pattern_page.page_of(found, choice.seasons))
        note_written(choice, choice.page)
    print(pattern_page.summary_of(found))
    return 0
