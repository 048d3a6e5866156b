"""Two pages hold what they can: what found no room is said, and never drawn."""

import re

import pytest
from matplotlib import rc_context

from dashboard.charts.printed.pictures import sheet_of
from dashboard.charts.printed.sheet import settings_of
from dashboard.handout.contents import MOST_PAGES, handout, handouts
from dashboard.handout.files import file_of
from dashboard.handout.findings import Findings
from dashboard.handout.fullness import fullest
from dashboard.handout.pictures import Blanks, Pictures, measure_scenes, style_of_measures
from dashboard.handout.sources import source_sentences
from dashboard.language.tongue import LANGUAGES, _, speaking
from dashboard.paper.blocks import images_of
from dashboard.paper.typeset import page_count
from tests.dashboard.test_handout import DAY, all_plans, findings_of
from tests.dashboard.test_printed import texts_of

HELD = {
    "the list of beds": "Beds:",
    "what each plan does": "Nothing more than all plans do",
    "the calendar": "Picture: A strip of days",
    "the dots of the seasons": "One mark is one season",
    "what became of the eggs": "Picture: What became of a thousand eggs",
    "the list of sources": "Named most often:",
}
"""What may find no room → words that stand on the page where it does."""


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("findings", [findings_of(), all_plans(5), all_plans(12)], ids=["three", "five", "twelve"])
def test_what_found_no_room_is_said_and_nothing_else(findings, size):
    text = " ".join(file_of(handout(findings, size, day=DAY), size, "txt").decode().split())
    said = text.partition("Two pages have no room for ")[2].partition(".")[0]
    for what, words in HELD.items():
        assert (what in said) != (words in text), what


def test_where_no_egg_was_laid_none_is_missed():
    found = handout(findings_of(without=("eggs",)), day=DAY)
    assert "of the eggs" not in file_of(found, "letter", "txt").decode()


@pytest.mark.parametrize("count", [3, 12])
def test_blanks_are_no_higher_than_the_pictures_they_stand_for(count):
    pictures = Pictures(all_plans(count), is_grey=False)
    blanks = Blanks(pictures)
    pairs = zip(
        [blanks.calendar, *blanks.measures, blanks.ends],
        [pictures.calendar, *pictures.measures, pictures.ends],
        strict=True,
    )
    for blank, picture in pairs:
        assert steepness(blank.svg) <= steepness(picture.svg) + 0.001


def steepness(svg):
    """Return height over width of a drawing: on a paper it is set to the width of a column."""
    wide, tall = (float(re.search(rf'\b{side}="([\d.]+)(pt|in)"', svg.decode())[1]) for side in ("width", "height"))
    return tall / wide


def test_nothing_that_two_pages_cannot_hold_is_drawn(monkeypatch):
    findings = all_plans(12)

    def lived_again(_findings):
        raise AssertionError("twelve seasons were lived again for a calendar without room")

    monkeypatch.setattr(Findings, "days", lived_again)
    assert page_count(handout(findings, day=DAY)) <= MOST_PAGES


@pytest.mark.parametrize("count", [3, 4, 12])
@pytest.mark.parametrize("language", LANGUAGES)
def test_words_of_half_a_page_stand_apart_and_no_mean_lies_on_a_mark(language, count):
    with speaking(language):
        findings = all_plans(count)
        style = style_of_measures(findings, is_grey=True)
        for scene in measure_scenes(findings):
            with rc_context(settings_of(style)):
                figure = sheet_of(scene, style, None).figure
                figure.draw_without_rendering()
            check_apart(figure)


def check_apart(figure):
    boxes = [text.get_window_extent() for text in texts_of(figure)]
    for place, box in enumerate(boxes):
        assert not any(box.padded(-0.5).overlaps(other.padded(-0.5)) for other in boxes[place + 1 :])
    (axes,) = figure.axes
    marks = [
        axes.transData.transform(at)
        for dots in axes.collections
        if len(dots.get_offsets())
        for at in dots.get_offsets()
    ]
    means = [text.get_window_extent() for text in axes.texts]
    assert not [box for box in means for x, y in marks if box.contains(x, y)]


NEEDS = {"has_sources": 2, "has_ends": 5, "has_beds": 3, "has_calendar": 6, "has_measures": 5, "has_deeds": 4}


@pytest.mark.parametrize(
    ("lines", "gone"),
    [
        (25, set()),
        (24, {"has_sources"}),
        (21, {"has_ends"}),
        (14, {"has_ends", "has_calendar"}),
        (4, {"has_ends", "has_beds", "has_calendar", "has_measures", "has_sources"}),
        (6, {"has_ends", "has_beds", "has_calendar", "has_measures"}),
        (-1, set(NEEDS)),
    ],
)
def test_what_is_small_comes_back_where_something_large_had_to_go(lines, gone):
    def is_held(full):
        return sum(need for part, need in NEEDS.items() if getattr(full, part)) <= lines

    found = fullest(is_held)
    assert {part for part in NEEDS if not getattr(found, part)} == gone
    assert fullest(is_held, found) == found


WORDS_ALONE_IN_SPANISH = {
    "la lista de camas": "Camas:",
    "lo que hace cada plan": "Nada más que lo que hacen todos los planes",
    "la lista de fuentes": "Las más nombradas:",
}


def test_files_without_pages_keep_what_is_words_alone():
    findings = all_plans(12)
    with speaking("es"):
        printed, whole = handouts(findings, day=DAY)
        on_pages, at_length = (" ".join(file_of(one, "letter", "txt").decode().split()) for one in (printed, whole))
    said = on_pages.partition("no hay lugar para ")[2].partition(".")[0]
    gone = [words for what, words in WORDS_ALONE_IN_SPANISH.items() if what in said]
    assert gone
    assert not any(words in on_pages for words in gone)
    assert all(words in at_length for words in gone)
    assert images_of(whole.blocks) == images_of(printed.blocks)


@pytest.mark.parametrize(("language", "left_out"), [("en", "This file leaves out"), ("es", "Este archivo deja fuera")])
def test_a_file_without_pages_speaks_of_none(language, left_out):
    with speaking(language):
        printed, whole = handouts(all_plans(12), day=DAY)
        two_pages = _("Two pages have no room for {what}.").partition("{")[0]
        on_pages, at_length = (" ".join(file_of(one, "letter", "txt").decode().split()) for one in (printed, whole))
    assert two_pages in on_pages
    assert left_out not in on_pages
    assert two_pages not in at_length
    assert at_length.count(left_out) == 1


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_three_plans_leave_room_for_the_calendar_in_every_language(language, size):
    with speaking(language, "us"):
        text = file_of(handout(findings_of(), size, day=DAY), size, "txt").decode()
        assert _("A strip of days for each plan, season {season}. {said}.").partition("{")[0] in " ".join(text.split())


def test_spanish_sources_keep_no_english_beside_their_names():
    with speaking("es"):
        said = " ".join(source_sentences(has_list=True))
    assert "Dively y otros (2020)" in said
    assert "(sin fecha)" in said
    assert not re.search(r"and others|undated", said)
