"""Tables of the pages that commands write, in Markdown."""

from __future__ import annotations


def head_of(*names: str) -> list[str]:
    """Return the lines that a table begins with: the names of its columns, and the rule below them."""
    return [row_of(*names), row_of(*["---"] * len(names))]


def row_of(*cells: str) -> str:
    """Return a line of a table; a bar in a cell would part it, so a stroke stands there."""
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"
