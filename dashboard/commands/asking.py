"""What several commands ask for alike, and do alike before and after a run."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from dashboard.commands.stopping import note_written

if TYPE_CHECKING:
    from sim.export import Results
    from sim.scenario import Scenario

PICTURES = "summary.png, summary.svg and summary.pdf"


def add_scenario(part: argparse.ArgumentParser) -> None:
    """Ask for the garden, and for values in it to be changed."""
    part.add_argument("scenario", metavar="SCENARIO", help="a name from 'leafnest scenarios', or a TOML file")
    part.add_argument(
        "--set",
        metavar="KEY=VALUE",
        action="append",
        default=[],
        dest="changes",
        help="change a value of the garden, such as pests.arrivals=2; say it again for more",
    )


def add_seed(part: argparse.ArgumentParser) -> None:
    """Ask for the first season's number."""
    part.add_argument(
        "--seed",
        type=count,
        default=1,
        metavar="N",
        help="the (first) season's luck: weather and arrivals (default: 1)",
    )


def add_outputs(part: argparse.ArgumentParser) -> None:
    """Ask where results go."""
    part.add_argument("--json", action="store_true", help="print JSON instead of tables")
    part.add_argument(
        "--out", type=some_folder, metavar="DIR", help="also write tables (CSV) and the picture (PNG, SVG) here"
    )
    part.add_argument("--overwrite", action="store_true", help="replace the results of an earlier run in DIR")


def whole_number(text: str, low: int, high: int) -> int:
    """Read a whole number within limits.

    Raises
    ------
    argparse.ArgumentTypeError
        If it is none, or lies outside them.
    """
    is_short = len(text) <= len(str(high))  # Python reads no number of thousands of digits
    if not text.isascii() or not text.isdigit() or not is_short or not low <= int(text) <= high:
        raise argparse.ArgumentTypeError(f"'{text}' was found; a whole number from {low} to {high} is allowed")
    return int(text)


def count(text: str) -> int:
    """Read a whole number from 1."""
    return whole_number(text, 1, 1_000_000)


def some_name(text: str) -> str:
    """Read a name; an empty one, as a shell makes of a variable that is not set, is no way of leaving it out.

    Raises
    ------
    argparse.ArgumentTypeError
        If it is empty.
    """
    if not text.strip():
        raise argparse.ArgumentTypeError(f"'{text}' was found; a name is needed, or leave the option out")
    return text


def some_folder(text: str) -> Path:
    """Read the name of a folder.

    Raises
    ------
    argparse.ArgumentTypeError
        If it is empty, which would mean the folder that the person is in.
    """
    return Path(some_name(text))


def scenario_of(choice: argparse.Namespace) -> Scenario:
    """Return the garden that was asked for, with the changes that were asked for."""
    from sim.scenario import load_scenario
    from sim.settings import change_from

    scenario = load_scenario(choice.scenario)
    changes = {key: value for text in choice.changes for key, value in change_from(text).items()}
    return scenario.with_changes(changes) if changes else scenario


def prepare(choice: argparse.Namespace) -> None:
    """See that the results have a place, and tell a first-time user why this start takes longer."""
    if choice.out:
        from sim.export import check_destination

        check_destination(choice.out, overwrite=choice.overwrite)
    from dashboard.server.settings import FIRST_START_SECONDS
    from sim.compiled import IS_COMPILED
    from sim.rules_cache import is_warm

    if IS_COMPILED and not is_warm():
        print(f"First start: preparing the rules, about {FIRST_START_SECONDS} s…", file=sys.stderr)


def hand_over(
    choice: argparse.Namespace, results: Callable[[], Results], show: Callable[[], None], pictures: str = PICTURES
) -> int:
    """Write the results where a place was named for them, then print them; what a disk refuses is printed all the same.

    Parameters
    ----------
    choice
        What was asked for.
    results
        Makes the files.
    show
        Prints; it comes last, since a reader may leave in the middle of it.
    pictures
        Names of the pictures among the files.

    Returns
    -------
    int
        The exit status.

    Raises
    ------
    OutputError
        If they cannot be written.
    """
    from sim.errors import OutputError

    try:
        _write(choice, results, pictures)
    except OutputError:
        with suppress(OutputError, BrokenPipeError):  # that the files are not there is what must be told
            show()
        raise
    show()
    return 0


def _write(choice: argparse.Namespace, results: Callable[[], Results], pictures: str) -> None:
    if choice.out:
        from sim.export import write_results

        folder = write_results(choice.out, results(), overwrite=choice.overwrite)
        note_written(choice, folder)
        print(f"Written: {folder} (picture: {pictures})", file=sys.stderr)


def write_new(file: Path, text: str) -> None:
    """Write a text file that is not there yet, whole or not at all.

    Raises
    ------
    OutputError
        If it is there already, or cannot be written.
    """
    from sim.errors import OutputError, tell
    from sim.writing import write_whole, writing

    if os.path.lexists(file):  # a link that leads nowhere is somebody's, too
        raise OutputError(tell("{file} is there already; choose another name.", file=file))
    with writing(file):
        write_whole(file, text.encode())
