"""What commands that print ask for alike: sizes, colour or grey, language, units and the day to print."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from dashboard.tongue import LANGUAGES, UNITS

if TYPE_CHECKING:
    from dashboard.charts.printed.shapes import Style

SIZES = ("slide", "half_page", "full_page")


def add_print(part: argparse.ArgumentParser) -> None:
    """Ask how it is printed."""
    part.add_argument("--language", choices=tuple(LANGUAGES), default="en", help="language (default: en)")
    part.add_argument("--units", choices=UNITS, default="metric", help="units (default: metric)")
    part.add_argument("--date", type=_day, default=date.today(), metavar="DAY", help="day to print (default: today)")
    part.add_argument("--grey", action="store_true", help="for a grey copier: hatches and marks, no colour")


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
