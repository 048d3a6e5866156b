"""What a handout says of where the numbers come from."""

from __future__ import annotations

import re
from collections import Counter

from dashboard.language.tongue import _, mark

MOST_SOURCES = 5
READ_IN_FULL = frozenset({"read", "data", "run", "run as a reference"})
READ_IN_PART = {
    "abstract": mark("abstract read"),
    "abstracts": mark("abstracts read"),
    "summary": mark("summary read"),
    "part": mark("part read"),
    "second hand": mark("second hand"),
    "anecdote": mark("an anecdote"),
    "memory": mark("from memory"),
    "from memory": mark("from memory"),
    "not read": mark("not read"),
}
"""How what was read of a source begins in the list of sources → how a handout says it."""
UNDATED, OTHERS = mark("undated"), mark("and others")
"""Words that the list of sources has among names and in the place of a year."""


def source_sentences(*, has_list: bool) -> list[str]:
    """Return how many sources stand behind the numbers and, if asked, those named most often."""
    from sim.parameters import load_parameters
    from sim.parameters.table import sources

    known, numbers = sources(), load_parameters()
    named = Counter(entry.source for entry in numbers.values() if entry.source in known)
    counted = _(
        "Every number has its unit, its range and how it is known on the screen 'The numbers'. "
        "{named} of the {all} name a source; there are {count} sources."
    ).format(named=named.total(), all=len(numbers), count=len(named))
    if not has_list:
        return [counted]
    listed = [_source(known[key]) for key, _count in named.most_common(MOST_SOURCES)]
    return [counted, _("Named most often: {sources}.").format(sources="; ".join(listed))]


def part_read(read: str) -> str:
    """Return how a source was read where it was not read in full, or nothing; ``read`` as in the list of sources."""
    kind = re.split("[:,;]", read)[0].strip()
    return "" if kind in READ_IN_FULL else _(READ_IN_PART[kind])


def _source(entry: dict[str, str]) -> str:
    author = entry.get("author", "").rstrip(".").replace(OTHERS, _(OTHERS))
    said = f"{author} ({_(entry.get('year', ''))}), {entry.get('title', '').rstrip('.')}"
    part = part_read(entry["read"])
    return f"{said} ({part})" if part else said
