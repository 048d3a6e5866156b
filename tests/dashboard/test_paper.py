"""A paper is a list of blocks: set as a tagged PDF, its words are data, and what a font lacks is replaced and told."""

import re
import struct
from dataclasses import replace

import pytest

from dashboard.paper.blocks import (
    Box,
    Grid,
    Heading,
    Image,
    Lines,
    PageBreak,
    Pair,
    Paper,
    Points,
    Words,
    images_of,
)
from dashboard.paper.letters import REPLACEMENT, printable
from dashboard.paper.typeset import on_fewest_pages, page_count, pages_of, pdf_of, pdf_of_svg, png_of_svg
from tests.dashboard.reading import fonts_of, language_of, open_pdf, page_sizes, tags_of, words_of

SVG = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="300" height="80"><rect width="300" height="80" fill="#ddd"/>'
    b'<text x="20" y="40" font-family="DejaVu Sans" font-size="16">drawn words</text></svg>'
)
PAPER = Paper(
    title="First the title",
    blocks=(
        Words("Then a **strong** word."),
        Heading("Section two"),
        Points(("point three", "point four"), is_numbered=True),
        Image(SVG, "a grey field", "caption five"),
        Grid(("Plan", "Harvest"), (("row six", "7"), ("", "")), "table caption", row_height_mm=9),
        Lines(2),
        Pair((Words("left eight"),), (Words("right nine"),)),
        Box("Box ten", (Words("inside eleven"),)),
        PageBreak(),
        Words("page two twelve"),
    ),
    foot="where it comes from",
)


@pytest.mark.parametrize(("size", "points"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_a_paper_comes_in_both_sizes_and_is_read_in_its_order(size, points):
    content = pdf_of(PAPER, size)
    assert page_sizes(content) == [points, points]
    text = " ".join(words_of(content).split())
    order = [
        "First the title", "strong", "Section two", "point three", "point four", "drawn words", "caption five",
        "table caption", "Harvest", "row six", "left eight", "right nine", "Box ten", "inside eleven",
        "page two twelve",
    ]  # fmt: skip
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert text.count("where it comes from") == 2


def test_a_paper_says_its_language_and_its_structure():
    content = pdf_of(replace(PAPER, language="es"))
    kinds = [tag.kind for tag in tags_of(content)]
    assert language_of(content) == "es"
    assert kinds.count("H1") == 1
    assert {"H2", "L", "LI", "Figure", "Table", "THead", "TH", "TD", "Caption"} <= set(kinds)
    assert [tag.alt for tag in tags_of(content) if tag.kind == "Figure"] == ["a grey field"]


def test_every_font_is_inside_the_file_and_has_a_free_licence():
    fonts = fonts_of(pdf_of(PAPER))
    assert all(fonts.values())
    assert {name.partition("-")[0] for name in fonts} == {"LibertinusSerif", "DejaVuSans"}


def test_a_picture_without_words_is_refused():
    with pytest.raises(RuntimeError, match="alt text"):
        pdf_of(Paper("T", (Image(SVG, ""),)))


def test_the_same_paper_gives_the_same_bytes():
    assert pdf_of(PAPER) == pdf_of(PAPER)
    assert pages_of(PAPER) == pages_of(PAPER)


def test_words_are_never_markup_of_the_typesetter():
    text = 'Bed #1 *not bold* $x$ @all `code` <tag> "quotes" \\ // no comment = no heading'
    assert "#1 *not bold* $x$ @all `code` <tag>" in words_of(pdf_of(Paper("T", (Words(text),))))


def test_letters_without_a_shape_are_replaced_and_told():
    paper = Paper("Garden 中", (Words("one 🐛"), Grid(("a",), (("ﬁ \uff21 ñ",),))), foot="庭")
    kept = paper.with_letters_at_hand()
    assert kept.lacking == {"中", "🐛", "庭"}
    assert kept.title == f"Garden {REPLACEMENT}"
    text = words_of(pdf_of(paper))
    assert f"one {REPLACEMENT}" in text
    assert "ñ" in text


def test_a_wide_letter_is_written_plainly_and_a_strange_space_is_a_space():
    assert printable("\uff21\u3000b\tc") == ("A b c", frozenset())


def test_a_card_fills_its_share_of_the_page_and_two_stand_on_one():
    card = Box("Card", (Words("x"),), height_share=0.46)
    assert len(pages_of(Paper("Cards", (card, card)))) == 1
    assert len(pages_of(Paper("Cards", (card, card, card)))) == 2


def test_a_box_longer_than_a_page_is_not_cut():
    content = pdf_of(Paper("T", (Box("Long", (Points(tuple(f"point number {n}" for n in range(90))),)),)))
    assert len(page_sizes(content)) > 1
    assert "point number 89" in words_of(content)


def test_words_that_lead_up_to_a_table_stay_on_its_page():
    parted = (Heading("A stop"), Words("first the question"), Words("then the hint"))
    table = Grid(("Plan", "Pests"), (("in the table", "1"), ("last row", "2")))
    for count in range(25, 40):  # so that the foot of the page comes at every place
        pages = open_pdf(pdf_of(Paper("T", (*[Words("filler")] * count, *parted, table)))).pages
        (page,) = [page.extract_text() for page in pages if "in the table" in page.extract_text()]
        assert all(words in page for words in ("A stop", "first the question", "then the hint", "last row")), count


def test_no_line_breaks_inside_an_option_of_a_command():
    for count in range(40):  # so that the end of the line comes at every letter
        text = words_of(pdf_of(Paper("T", (Words("x" * 50 + " " + "y" * count + " --seasons 20"),))))
        assert "--seasons" in text, count


def test_a_last_page_of_a_few_lines_is_saved_and_no_other_paper_is_set_closer():
    def paper(count):
        return Paper("T", (Words("what is said"),) * count)

    one = max(count for count in range(30, 60) if page_count(paper(count)) == 1)
    assert on_fewest_pages(paper(one)) == paper(one)
    close = on_fewest_pages(paper(one + 1))
    assert (page_count(paper(one + 1)), page_count(close)) == (2, 1)
    assert words_of(pdf_of(close)).count("what is said") == one + 1
    assert sizes_of(close) == sizes_of(paper(one + 1))
    assert on_fewest_pages(paper(round(1.5 * one))) == paper(round(1.5 * one))


def sizes_of(paper):
    """Return the sizes of letters on the first page of a paper, in points."""
    content = open_pdf(pdf_of(paper)).pages[0].get_contents().get_data().decode("latin-1")
    return set(re.findall(r"/f\d+ ([\d.]+) Tf", content))


def test_pictures_are_found_wherever_they_stand():
    image = Image(SVG, "one")
    assert images_of((Box("b", (image,)), Pair((image,), (Box("c", (image,)),)))) == [image] * 3


def test_a_drawing_alone_becomes_a_tagged_pdf_of_its_own_size_and_an_image():
    content = pdf_of_svg(SVG, title="Its title", alt="its words")
    assert page_sizes(content) == [(225, 60)]
    assert [tag.alt for tag in tags_of(content) if tag.kind == "Figure"] == ["its words"]
    width, height = struct.unpack(">II", png_of_svg(SVG, 192)[16:24])
    assert (width, height) == (600, 160)
