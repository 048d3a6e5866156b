"""What commands that print ask for alike: paper, sizes, colour or grey, language, units, day, and the folder."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from dashboard.commands.asking import some_folder
from dashboard.language.tongue import FIRST_LANGUAGE, FIRST_UNITS, LANGUAGES, UNITS

if TYPE_CHECKING:
    from dashboard.charts.printed.shapes import Style

PAPERS = ("letter", "a4")
SIZES = ("slide", "half_page", "full_page")


def add_print(part: argparse.ArgumentParser) -> None:
    """Ask how it is printed."""
    add_manner(part)
    part.add_argument("--grey", action="store_true", help="for a grey copier: hatches and marks, no colour")


def add_manner(part: argparse.ArgumentParser) -> None:
    """Ask in which language and units it speaks, and for the day that stands on it."""
    part.add_argument("--language", choices=tuple(LANGUAGES), default=FIRST_LANGUAGE, help="language (default: en)")
    part.add_argument("--units", choices=UNITS, default=FIRST_UNITS, help="units (default: metric)")
    part.add_argument("--date", type=_day, default=date.today(), metavar="DAY", help="day to print (default: today)")


def manner_words(choice: argparse.Namespace) -> list[str]:
    """Return what to say to a command that it prints like this again: each answer that is not the usual one."""
    usual = {"language": FIRST_LANGUAGE, "units": FIRST_UNITS, "paper": PAPERS[0]}
    chosen = {name: str(getattr(choice, name, said)) for name, said in usual.items()}
    words = [word for name, said in chosen.items() if said != usual[name] for word in (f"--{name}", said)]
    return [*words, "--grey"] if choice.grey else words


def add_paper(part: argparse.ArgumentParser) -> None:
    """Ask for the size of the paper."""
    part.add_argument("--paper", choices=PAPERS, default=PAPERS[0], help="size of the paper (default: letter)")


def add_folder(part: argparse.ArgumentParser) -> None:
    """Ask for the folder that the files go to."""
    part.add_argument("--out", type=some_folder, metavar="DIR", required=True, help="folder for the files")
    part.add_argument("--overwrite", action="store_true", help="replace the files of an earlier run in DIR")


def add_sizes(part: argparse.ArgumentParser, at_first: str) -> None:
    """Ask for which sizes pictures are drawn."""
    words = f"slide, half_page or full_page; say it again for more (default: {at_first})"
    part.add_argument("--size", choices=SIZES, action="append", help=words)


def styles_of(choice: argparse.Namespace, at_first: Sequence[str]) -> list[Style]:
    """Return the sizes that were asked for, each in colour or in grey."""
    from dashboard.charts.printed.shapes import SHAPES, Style

    return [Style(SHAPES[size], choice.grey) for size in dict.fromkeys(choice.size or at_first)]


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' was found; a day such as 2026-11-25 is allowed") from None
