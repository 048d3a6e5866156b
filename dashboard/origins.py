"""Every number of nature in words: what it is, its value and range, how well it is known, and from where."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from dashboard.citing import full_source, without_keys
from dashboard.language.tongue import _, mark
from sim.parameters import load_parameters
from sim.parameters.spoken import name_in_words
from sim.parameters.table import Parameter

EVIDENCE = {
    "read": mark("● read in a source"),
    "derived": mark("◐ worked out from figures that were read"),
    "common practice": mark("◑ common practice"),
    "memory": mark("○ from memory, or chosen here"),
}
"""Evidence → badge in words; the mark before it is only a mark."""

PARTS = {
    "aphids": (mark("Cabbage aphids"), mark("aphids at their peak")),
    "arrivals": (mark("Who comes, and when"), mark("pests, and through them nearly everything")),
    "birds": (mark("Birds and nests"), mark("bird food taken, nestlings, and insects eaten by birds")),
    "bugs_and_beetles": (mark("Bugs and beetles"), mark("harlequin bugs, flea beetles, cucumber beetles and wilt")),
    "crops": (mark("Crops"), mark("harvest, what is fit to sell, and how damage costs yield")),
    "enemies": (mark("Crawling hunters"), mark("how many eggs and young survive")),
    "energy": (mark("Energy"), mark("the picture of energy from leaf to nestling")),
    "habitat": (mark("Hedgerow, flowers and margin"), mark("enemies, bees and bird food beside the beds")),
    "hosts": (mark("Which crop a pest chooses"), mark("where eggs are laid")),
    "insects": (mark("All insects"), mark("growth, death by cause, and flight of every kind")),
    "labour": (mark("Work and money"), mark("minutes and money")),
    "moths": (mark("Butterflies and moths"), mark("caterpillars, leaf eaten, and caterpillars for birds")),
    "nets": (mark("Nets"), mark("who gets in, light and warmth beneath a net")),
    "parasitoid": (mark("The wasp that is followed"), mark("cabbage white young killed by it")),
    "pollinators": (mark("Bees"), mark("visits to flowers and fruit set")),
    "sprays": (mark("Sprays"), mark("what is killed, for how long, and what drifts")),
    "weather": (mark("Weather"), mark("warmth, rain and light of every season")),
}
"""File of parameters → its title, and what results lean on it."""


BETWEEN = " / "
"""Stands between the numbers of a row."""


@dataclass(frozen=True)
class Origin:
    """One number as the table shows it."""

    key: str
    part: str
    words: str
    value: str
    low: str
    high: str
    unit: str
    evidence: str
    source: str
    note: str
    places: tuple[str, ...] = ()
    """Whom each of a row of numbers is for, in words; empty for a number that stands alone."""

    def holds(self, wanted: str) -> bool:
        """Return whether each word that is looked for begins a word of the row: "hole" finds holes, not "whole"."""
        part, evidence = PARTS[self.part][0], EVIDENCE[self.evidence]
        english = (self.key, part, self.words, *self.places, self.unit, evidence, self.source, self.note)
        text = " ".join((*english, _(part), _(evidence))).lower()
        return all(re.search(rf"(?<![^\W_]){re.escape(word)}", text) for word in wanted.lower().split())


@cache
def origins() -> tuple[Origin, ...]:
    """Return every parameter, in the order of the files."""
    return tuple(_origin(key, entry) for key, entry in load_parameters().items())


def found(wanted: str, part: str, evidence: str) -> list[Origin]:
    """Return the rows that hold all words, of one part and one kind of evidence; empty words ask for all."""
    return [
        row
        for row in origins()
        if (not part or row.part == part) and (not evidence or row.evidence == evidence) and row.holds(wanted)
    ]


@cache
def left_out() -> tuple[tuple[str, str], ...]:
    """Return what the model leaves out and which way that bends the result, from the model's own description."""
    lines = (files("sim") / "MODEL.md").read_text(encoding="utf-8").splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith("| Left out"))
    rows = []
    for line in lines[start + 2 :]:
        if not line.startswith("|"):
            break
        what, bends = (cell.strip() for cell in line.strip("|").split("|"))
        rows.append((what, bends))
    return tuple(rows)


def _origin(key: str, entry: Parameter) -> Origin:
    file, _point, rest = key.partition(".")
    low, high = _ends(entry)
    return Origin(
        key=key,
        part=file,
        words=": ".join(map(name_in_words, rest.split("."))),
        value=_said(entry.value),
        low=low,
        high=high,
        unit=without_keys(entry.unit),
        evidence=entry.evidence,
        source=full_source(entry.source),
        note=without_keys(entry.note),
        places=tuple(map(name_in_words, entry.axis)),
    )


def _said(number: float | tuple[float, ...]) -> str:
    return BETWEEN.join(f"{one:g}" for one in number) if isinstance(number, tuple) else f"{number:g}"


def _ends(entry: Parameter) -> tuple[str, str]:
    lows, highs = ({bound[place] for bound in entry.bounds()} for place in (0, 2))
    if len(lows) == len(highs) == 1:
        return f"{lows.pop():g}", f"{highs.pop():g}"
    return _said(entry.low), _said(entry.high)
