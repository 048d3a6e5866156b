"""What the model gave for each pattern when the page about them was last made, kept with the program."""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path

from sim.patterns.table import Finding, patterns
from sim.writing import write_whole, writing

FILE = "found.json"


@cache
def stored_findings() -> tuple[tuple[Finding, ...], int]:
    """Return a finding for each pattern that the file knows, in the table's order, and the seasons of each."""
    stored = json.loads((files("sim.patterns") / FILE).read_text(encoding="utf-8"))
    figures = {name: float(said) for name, said in stored["figures"].items()}
    return tuple(Finding(one, figures[one.name]) for one in patterns() if one.name in figures), int(stored["seasons"])


def keep_findings(found: Sequence[Finding], seasons: int, path: Path | None = None) -> None:
    """Replace the findings that come with the program.

    Raises
    ------
    OutputError
        If the file cannot be written.
    """
    path = path or Path(__file__).parent / FILE
    # Figures are words, since a figure may be endless or none, and JSON knows neither.
    stored = {"seasons": seasons, "figures": {one.pattern.name: f"{one.value:.6g}" for one in found}}
    with writing(path):
        write_whole(path, f"{json.dumps(stored, indent=1)}\n".encode())
    stored_findings.cache_clear()
