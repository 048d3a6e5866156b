"""On which line of a TOML file a key stands, so that a mistake can be shown where it is."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

Path = tuple[str | int, ...]

_HEADER = re.compile(r"\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$")
_ENTRY = re.compile(r"""\s*((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)\s*=\s*(.*)$""")
_KEY_PART = re.compile(r"""[\w-]+|"[^"]*"|'[^']*'""")


def key_lines(text: str) -> dict[Path, int]:
    """Return the line, from 1, of every key, table and list item that begins on a line of its own."""
    lines: dict[Path, int] = {}
    tables: dict[Path, int] = {}
    table: Path = ()
    items: Path | None = None
    for number, line in _lines_of_structure(text):
        header, entry = _HEADER.match(line), _ENTRY.match(line)
        if items is not None:
            items = _next_item(lines, items, line, number)
        elif header:
            table = _table_path(header[2], header[1] == "[[", tables)
            lines.setdefault(table, number)
        elif entry:
            path = table + _parts(entry[1])
            lines.setdefault(path, number)
            items = (*path, 0) if _opens_list(entry[2]) else None
    return lines


def line_of(path: Iterable[str | int], lines: dict[Path, int]) -> int | None:
    """Return the line of a key, or of the nearest thing around it that has one."""
    wanted = tuple(path)
    while wanted and wanted not in lines and (*wanted, 0) not in lines:
        wanted = wanted[:-1]
    return lines.get(wanted, lines.get((*wanted, 0)))


def _lines_of_structure(text: str) -> Iterator[tuple[int, str]]:
    """Yield numbered lines without comments, blank lines and the insides of texts that run over lines."""
    quotes = ""
    for number, line in enumerate(text.splitlines(), start=1):
        is_inside = bool(quotes)
        for mark in ('"""', "'''"):
            if (not quotes or quotes == mark) and line.count(mark) % 2:
                quotes = "" if quotes else mark
        if not is_inside and line.strip() and not line.lstrip().startswith("#"):
            yield number, line


def _parts(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in _KEY_PART.findall(dotted))


def _table_path(dotted: str, is_list: bool, tables: dict[Path, int]) -> Path:
    path: Path = ()
    parts = _parts(dotted)
    for place, part in enumerate(parts, start=1):
        path = (*path, part)
        if is_list and place == len(parts):
            tables[path] = tables.get(path, -1) + 1
        if path in tables:
            path = (*path, tables[path])
    return path


def _opens_list(value: str) -> bool:
    bare = value.split("#")[0]
    return bare.lstrip().startswith("[") and bare.count("[") > bare.count("]")


def _next_item(lines: dict[Path, int], item: Path, line: str, number: int) -> Path | None:
    """Note the item that begins on this line and return the place of the next one; None after the closing bracket."""
    if line.lstrip().startswith("]"):
        return None
    lines.setdefault(item, number)
    place = item[-1]
    assert isinstance(place, int)
    return (*item[:-1], place + 1)
