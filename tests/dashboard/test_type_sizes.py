"""Letters on paper are measured where they stand: in the finished file, whatever the picture was made at."""

import pytest

from dashboard.charts.printed.pictures import parts_of, picture_file
from dashboard.charts.printed.shapes import FULL_PAGE, HALF_PAGE, SLIDE, Style
from dashboard.handout.contents import handout
from dashboard.language.tongue import speaking
from dashboard.paper.blocks import Box, Image, Pair, Paper, Points, Words, plain_words
from dashboard.paper.typeset import pdf_of
from dashboard.teaching.sheets import KINDS, paper_of
from tests.dashboard.invented_scenes import scenes_of
from tests.dashboard.reading import lettering_of
from tests.dashboard.teaching.invented_lesson import invented
from tests.dashboard.test_handout import DAY, all_plans, findings_of
from tests.dashboard.test_printed import IMPRINT, TITLES

LEAST, TO_BE_READ, ON_A_SLIDE = 9.0, 12.0, 24.0
"""Points: of notes, axes and the line at the foot; of what is to be read; of words and figures on a slide."""
SLIDE_FOOT, SLIDE_CAPTION = 14.0, 18.0
NEARLY = 0.02
"""Points that rounding may take away."""
PAPERS = ("letter", "a4")


def told(blocks):
    """Yield what is to be read: every sentence that is not a note."""
    for block in blocks:
        if isinstance(block, Words) and not block.is_note:
            yield plain_words(block.words)
        elif isinstance(block, Points):
            yield from map(plain_words, block.items)
        elif isinstance(block, Box):
            yield from told(block.blocks)
        elif isinstance(block, Pair):
            yield from told((*block.left, *block.right))


def close(text):
    return "".join(text.split())


def check_sizes(paper, size):
    letters = lettering_of(pdf_of(paper, size))
    small = [(text, points) for text, points in letters if points < LEAST - NEARLY]
    assert not small
    large = close("".join(text for text, points in letters if points >= TO_BE_READ - NEARLY))
    assert not [words for words in told(paper.blocks) if close(words) not in large]


@pytest.mark.parametrize("size", PAPERS)
@pytest.mark.parametrize("findings", [findings_of(), all_plans(12)], ids=["three plans", "twelve plans"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_letters_of_a_handout(language, findings, size):
    with speaking(language):
        check_sizes(handout(findings, size, day=DAY), size)


@pytest.mark.parametrize("size", PAPERS)
@pytest.mark.parametrize("kind", KINDS)
def test_letters_of_the_papers_of_a_lesson(kind, size):
    check_sizes(paper_of(kind, invented("net_spray_or_leave"), DAY), size)


@pytest.mark.parametrize("shape", [SLIDE, HALF_PAGE, FULL_PAGE], ids=lambda shape: shape.name)
@pytest.mark.parametrize("kind", ["seasons", "calendar", "ends"])
def test_letters_of_a_picture(kind, shape):
    style = Style(shape)
    for _name, part in parts_of(scenes_of(TITLES)[kind], style, IMPRINT):
        sizes = {round(points) for _text, points in lettering_of(picture_file(part, "pdf", style, IMPRINT))}
        assert min(sizes) >= (SLIDE_FOOT if shape is SLIDE else LEAST)
        if shape is SLIDE:
            assert min(sizes - {SLIDE_FOOT, SLIDE_CAPTION}) >= ON_A_SLIDE


def test_a_picture_made_for_a_wider_page_is_found_out():
    svg = (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="10in" height="1in" viewBox="0 0 720 72">'
        b'<text x="20" y="40" font-family="DejaVu Sans" font-size="9">small words</text></svg>'
    )
    with pytest.raises(AssertionError):
        check_sizes(Paper("T", (Image(svg, "words"),)), "a4")
