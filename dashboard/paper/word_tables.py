"""Tables of a word-processor file, and the room in it to draw."""

from __future__ import annotations

from typing import Any

from dashboard.paper.blocks import Grid, runs_of
from dashboard.paper.word_marks import keep_row, repeat_row

MOST_ROWS_KEPT = 12
"""A table no longer than this stays on one page."""
CELL_POINTS = 1
"""Room above and below the words of a cell."""


def add_runs(paragraph: Any, text: str, points: float | None = None) -> None:
    """Add a text with its bold stretches, in another size if one is told."""
    from docx.shared import Pt

    for part, is_bold in runs_of(text):
        run = paragraph.add_run(part)
        run.bold = is_bold or None
        if points:
            run.font.size = Pt(points)


def add_table(document: Any, grid: Grid, wide_inches: float) -> None:
    """Add a table: its header is repeated on each page, no row is parted, an empty cell is as high as was asked."""
    rows = (tuple(f"**{words}**" for words in grid.header), *grid.rows)
    table = _even_table(document, len(rows), grid.widths or (1.0,) * len(grid.header), wide_inches)
    # Cells are asked for once: each time that the library finds them anew takes as long as the table is large.
    for number, (line, row) in enumerate(zip(table.rows, rows, strict=True)):
        cells = line.cells
        for place, (cell, words) in enumerate(zip(cells, row, strict=True)):
            _fill(cell, words, is_right=bool(place) and grid.are_figures_right)
            cell.paragraphs[0].paragraph_format.keep_with_next = number + 1 < len(rows) <= MOST_ROWS_KEPT + 1
        if number and grid.row_height_mm:
            _open_for_writing(line, cells, grid.row_height_mm)
        keep_row(cells[0])
    repeat_row(table.rows[0].cells[0])


def add_room(document: Any, high_inches: float, wide_inches: float) -> None:
    """Add an empty frame to draw in."""
    from docx.shared import Inches

    table = _even_table(document, 1, (1.0,), wide_inches)
    table.rows[0].height = Inches(high_inches)
    keep_row(table.rows[0].cells[0])


def _even_table(document: Any, rows: int, widths: tuple[float, ...], wide_inches: float) -> Any:
    """Return a table as wide as the text; the widths stand in its columns and in each cell, for some read only one."""
    from docx.enum.table import WD_TABLE_ALIGNMENT
    from docx.shared import Inches

    table = document.add_table(rows=rows, cols=len(widths), style="Table Grid")
    table.autofit, table.alignment = False, WD_TABLE_ALIGNMENT.CENTER
    sides = [Inches(wide_inches * width / sum(widths)) for width in widths]
    for column, side in zip(table.columns, sides, strict=True):
        column.width = side
    for line in table.rows:
        for cell, side in zip(line.cells, sides, strict=True):
            cell.width = side
    return table


def _fill(cell: Any, words: str, *, is_right: bool) -> None:
    from docx.enum.text import WD_ALIGN_PARAGRAPH
    from docx.shared import Pt

    paragraph = cell.paragraphs[0]
    add_runs(paragraph, words)
    paragraph.paragraph_format.space_before = paragraph.paragraph_format.space_after = Pt(CELL_POINTS)
    if is_right:
        paragraph.alignment = WD_ALIGN_PARAGRAPH.RIGHT


def _open_for_writing(line: Any, cells: Any, high_mm: float) -> None:
    from docx.enum.table import WD_CELL_VERTICAL_ALIGNMENT, WD_ROW_HEIGHT_RULE
    from docx.shared import Mm

    line.height, line.height_rule = Mm(high_mm), WD_ROW_HEIGHT_RULE.AT_LEAST
    for cell in cells:
        cell.vertical_alignment = WD_CELL_VERTICAL_ALIGNMENT.CENTER
