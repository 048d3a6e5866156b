"""A paper as a word-processor file: room to write as on the page, nothing parted, all of it black and read aloud."""

import io
import re
from dataclasses import replace
from pathlib import Path

import docx
import pytest
from docx.enum.text import WD_TAB_LEADER
from docx.oxml.ns import qn
from docx.shared import RGBColor

import dashboard.paper
from dashboard.paper.blocks import Box, Grid, Heading, Lines, PageBreak, Pair, Paper, Points, Words
from dashboard.paper.word_file import MARGIN_INCHES, NOTE_POINTS, SIZES_INCHES, word_file_of

SHARE = 0.25
PLANS = Grid(("Plan", "Day", "Pests"), (("net", "May 1", "3"), ("spray", "", "")), "what it holds", widths=(3, 1, 2))
TO_FILL = replace(PLANS, row_height_mm=11.0, caption="")
CARDS = (Box("Card 1", (Words("one"),), height_share=0.47), Box("Card 2", (Words("two"),), height_share=0.47))


def opened(*blocks, size="letter", **held):
    return docx.Document(io.BytesIO(word_file_of(Paper("T", blocks, **held), size)))


def wide_inches(size):
    return SIZES_INCHES[size][0] - 2 * MARGIN_INCHES


@pytest.mark.parametrize("size", list(SIZES_INCHES))
def test_a_frame_to_draw_in_is_as_high_as_on_the_page(size):
    document = opened(Box("Draw here", (), level=3, height_share=SHARE), size=size)
    (room,) = document.tables
    assert [len(room.rows), len(room.columns)] == [1, 1]
    assert room.rows[0].height.inches == pytest.approx(SHARE * (SIZES_INCHES[size][1] - 2 * MARGIN_INCHES), abs=0.01)
    assert "Draw here" in [part.text for part in document.paragraphs if part.style.name == "Heading 3"]


def test_a_box_that_holds_words_has_no_empty_frame():
    assert not opened(Box("Cautions", (Words("Look first."),))).tables


@pytest.mark.parametrize("size", list(SIZES_INCHES))
def test_columns_are_as_wide_as_on_the_page_and_fill_it(size):
    (table,) = opened(PLANS, size=size).tables
    for row in table.rows:
        wide = [cell.width.inches for cell in row.cells]
        assert sum(wide) == pytest.approx(wide_inches(size), abs=0.01)
        assert wide[0] == pytest.approx(3 * wide[1], abs=0.01)
        assert wide[2] == pytest.approx(2 * wide[1], abs=0.01)
    assert not table.autofit


def test_rows_to_write_in_are_high_and_the_header_is_not():
    header, *rows = opened(TO_FILL).tables[0].rows
    assert [round(row.height.mm) for row in rows] == [11, 11]
    assert header.height is None


def test_lines_to_write_on_reach_across_and_no_sign_of_them_is_read_aloud():
    document = opened(Words("Because …"), Lines(2), Pair((Lines(1),), ()))
    lines = [part for part in document.paragraphs if part.paragraph_format.tab_stops]
    assert [part.text for part in lines] == ["\t"] * 3
    for line in lines:
        (stop,) = line.paragraph_format.tab_stops
        assert stop.leader == WD_TAB_LEADER.LINES
        assert stop.position.inches == pytest.approx(wide_inches("letter"), abs=0.01)


def test_cards_are_parted_by_a_line_to_cut_along():
    def cuts(*blocks):
        stops = [stop for part in opened(*blocks).paragraphs for stop in part.paragraph_format.tab_stops]
        return [stop.leader for stop in stops]

    assert cuts(*CARDS) == [WD_TAB_LEADER.DASHES]
    assert cuts(CARDS[0], PageBreak(), CARDS[1]) == []


def test_a_new_page_begins_with_its_heading_and_no_empty_line():
    document = opened(Words("one"), PageBreak(), Heading("Two"), PageBreak(), TO_FILL)
    assert [part.text for part in document.paragraphs if part.paragraph_format.page_break_before] == ["Two", ""]
    assert [part.text for part in document.paragraphs[:3]] == ["T", "one", "Two"]


def test_what_leads_up_to_a_table_or_to_lines_stays_with_it():
    document = opened(Words("far"), Points(("point",)), Words("near"), PLANS, Words("question"), Lines(2), Words("end"))
    kept = {part.text: part.paragraph_format.keep_with_next for part in document.paragraphs if part.text.strip()}
    assert {words for words, is_kept in kept.items() if is_kept} == {"near", "what it holds", "question"}


def test_a_short_table_stays_on_one_page_and_no_row_is_ever_parted():
    long = replace(PLANS, rows=PLANS.rows * 10)
    for grid, is_kept in ((PLANS, True), (long, False)):
        (table,) = opened(grid).tables
        *rows, last = table.rows
        assert {bool(cell.paragraphs[0].paragraph_format.keep_with_next) for cell in rows[0].cells} == {is_kept}
        assert not last.cells[0].paragraphs[0].paragraph_format.keep_with_next
        body = table.part.element.body
        assert len(body.xpath(".//w:cantSplit")) == len(table.rows)
        assert len(body.xpath(".//w:tblHeader")) == 1


def test_nothing_is_too_small_or_in_a_colour_that_a_copier_loses():
    document = opened(Heading("Section"), Heading("Part", 3), PLANS, text_points=14.0)
    styles = {part.style.name: part.style for part in document.paragraphs}
    assert {"Heading 1", "Heading 2", "Heading 3", "Caption"} <= set(styles)
    for name, style in styles.items():
        assert style.font.color.rgb in {None, RGBColor(0, 0, 0)}, name
        assert style.font.size.pt >= (NOTE_POINTS if name == "Caption" else 14), name


def test_every_page_has_its_number():
    (section,) = opened(Words("one"), foot="where it comes from").sections
    foot = section.footer.paragraphs[0]
    fields = foot.paragraph_format.element.xpath("./w:fldSimple")
    assert [field.get(qn("w:instr")) for field in fields] == ["PAGE", "NUMPAGES"]
    assert foot.text.endswith("where it comes from")


def test_what_the_library_keeps_for_itself_is_left_alone():
    for file in Path(dashboard.paper.__path__[0]).glob("word_*.py"):
        assert not re.findall(r"(?<!self)\._[a-z]\w*", file.read_text()), file.name
