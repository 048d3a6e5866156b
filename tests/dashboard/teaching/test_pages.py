"""The papers of a lesson, page by page: none is turned for a few lines, names stay whole, there is room to write."""

import io

import docx
import pytest
from PIL import Image as Picture

from dashboard.language.tongue import LANGUAGES, speaking
from dashboard.lesson.reading import lesson_names
from dashboard.paper.blocks import Box, Lines, Paper
from dashboard.paper.typeset import on_fewest_pages, pages_of, pdf_of
from dashboard.teaching.answers import stop_grid
from dashboard.teaching.sheets import paper_of, sheet_file
from tests.dashboard.reading import words_of
from tests.dashboard.teaching.invented_lesson import invented

FOOT_SHARE = 0.07
"""Of a page's height, at its end: the line that stands on every page."""
LEAST_FILLED = 0.25
"""Of a page's height: a last page that holds less is turned for a few lines."""


@pytest.fixture(scope="module", params=lesson_names())
def figures(request):
    return invented(request.param)


def filled(page):
    """Return down to which share of its height a page is printed."""
    picture = Picture.open(io.BytesIO(page)).convert("L")
    above_foot = picture.crop((0, 0, picture.width, round(picture.height * (1 - FOOT_SHARE))))
    return above_foot.point(lambda grey: 255 * (grey < 200)).getbbox()[3] / picture.height


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_no_last_page_of_the_teachers_sheet_is_turned_for_a_few_lines(figures, language, size):
    with speaking(language, "us"):
        paper = paper_of("teacher", figures)
    pages = pages_of(on_fewest_pages(paper, size), size, 20)
    assert filled(pages[-1]) >= LEAST_FILLED
    assert sheet_file(paper, size, "pdf") == pdf_of(on_fewest_pages(paper, size), size)


def test_a_plan_keeps_to_one_line_where_a_stop_is_told(figures):
    lines = words_of(pdf_of(Paper("T", (stop_grid(figures, 0),)))).splitlines()
    for title in figures.titles.values():
        assert any(title in line for line in lines), title


def test_the_card_of_the_guess_has_lines_for_its_reason(figures):
    (guess,) = [
        block for block in paper_of("cards", figures).blocks if isinstance(block, Box) and "guess" in block.title
    ]
    assert isinstance(guess.blocks[-1], Lines)


def test_a_students_sheet_that_was_changed_has_room_to_draw_too(figures):
    document = docx.Document(io.BytesIO(sheet_file(paper_of("student", figures), "letter", "docx")))
    frames = [table.rows[0] for table in document.tables if len(table.rows) == len(table.columns) == 1]
    assert [round(row.height.inches, 1) for row in frames] == [1.6]
