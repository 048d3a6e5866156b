"""The papers of a lesson: figures are those of the run, the guess stands before the graph, all can read them."""

import dataclasses
import io
import re
from datetime import date

import numpy as np
import pytest
from PIL import Image as Picture
from PIL import ImageFilter, ImageOps

from dashboard.charts.printed.shapes import Shape
from dashboard.command import main
from dashboard.language.cautions import CAUTIONS, OPEN_FLOWERS
from dashboard.language.tongue import LANGUAGES, _, speaking
from dashboard.lesson.boards import BOARDS
from dashboard.lesson.ideas import ideas
from dashboard.lesson.lesson_code import lesson_of_code
from dashboard.lesson.lesson_file import ClosingQuestion
from dashboard.lesson.opened import opened
from dashboard.lesson.reading import lesson_names, lesson_text, load_lesson
from dashboard.paper.blocks import Box, Grid, Heading, Image, PageBreak, Words, images_of, plain_words
from dashboard.paper.typeset import pages_of, pdf_of
from dashboard.teaching import graphs
from dashboard.teaching.answers import graph_questions, ranges_grid, reasons_said, second_round_grid, stop_grid
from dashboard.teaching.figures import figures_of
from dashboard.teaching.sheets import KINDS, paper_of
from dashboard.teaching.teacher_sheet import SCREENS
from sim.comparison import Comparison, compare
from sim.scenario import load_scenario, scenario_names
from tests.dashboard.reading import open_pdf, page_sizes, tags_of, words_of
from tests.dashboard.teaching.invented_lesson import invented
from tests.dashboard.test_plain_words import HIGHEST_GRADE, MOST_WORDS_ON_AVERAGE, grades, sentences_in

DAY = date(2026, 4, 1)
LEAST_COLOUR = 16
"""Of 255: below it a grey has a tint that no eye sees."""


def every(blocks):
    """Yield blocks in reading order, those inside frames too."""
    for block in blocks:
        yield block
        if isinstance(block, Box):
            yield from every(block.blocks)


def said(paper):
    """Return every word of a paper, in reading order."""
    words = [paper.title]
    for block in every(paper.blocks):
        for field in dataclasses.fields(block):
            words += _texts(getattr(block, field.name))
    return plain_words(" ".join(words))


def _texts(held):
    if isinstance(held, str):
        return [held]
    return [text for one in held for text in _texts(one)] if isinstance(held, tuple) else []


@pytest.fixture(scope="module")
def lived():
    lesson, garden = load_lesson("late_cover")
    return figures_of(lesson.model_copy(update={"seats": 3}), garden)


@pytest.fixture(scope="module", params=lesson_names())
def figures(request):
    return invented(request.param)


def test_the_figures_are_those_of_the_comparison(lived):
    garden, lesson = lived.garden, lived.lesson
    again = compare(garden, lesson.plans, [1, 2, 3])
    assert again.seasons.equals(lived.comparison.seasons)
    values = again.seasons[again.seasons["measure"] == "marketable_kg"].pivot_table(
        index="plan", columns="seed", values="value"
    )
    for plan, row in zip(lesson.plans, ranges_grid(lived, "marketable_kg").rows, strict=True):
        first, low, high, mean = values.loc[plan, 1], *(values.loc[plan].agg(["min", "max", "mean"]))
        assert row == (
            lived.titles[plan],
            f"{first:.0f}",
            " to ".join(dict.fromkeys((f"{low:.0f}", f"{high:.0f}"))),
            f"{mean:.0f}",
        )


def test_the_second_round_is_that_change_alone(lived):
    lesson, garden = lived.lesson, lived.garden
    changed = compare(garden.with_changes(lesson.next.changes), [lesson.next.plan], [1, 2, 3])
    mean = changed.table.set_index("measure").loc["marketable_kg", "mean"]
    assert second_round_grid(lived).rows[0][2] == f"{mean:.0f}"


def test_the_second_round_says_what_most_seasons_say_and_that_the_mean_does_not(figures):
    measure = figures.lesson.guesses[0].measure
    base, place = figures.second, figures.second.measures.index(measure)
    values = base.values.copy()
    values[1, :, place] = values[0, :, place] + np.array([-30.0] * 5 + [1.0] * 19)
    second = Comparison(base.plans, base.seeds, base.measures, values)
    row = second_round_grid(dataclasses.replace(figures, second=second)).rows[0]
    assert row[3:] == ("19 / 0 / 5", "More, in most seasons. The mean fell, for the few others changed most.")


def test_a_stop_is_the_day_of_its_moment_or_the_lessons_own_and_says_which(lived):
    bare, netted = lived.stops["nothing"], lived.stops["net"]
    assert not bare[1].has_come  # nothing is turned away where there is no net
    assert bare[1].day.strftime("%m-%d") == lived.lesson.pauses[1].fallback_day
    assert netted[1].has_come
    assert "never seen" in said(paper_of("teacher", lived))


def test_stops_stand_on_every_paper_in_the_order_of_their_days():
    figures = invented("net_spray_or_leave")
    late_first = {
        plan: tuple(dataclasses.replace(stop, day=date(2025, 5, 28 - place)) for place, stop in enumerate(stops))
        for plan, stops in figures.stops.items()
    }
    figures = dataclasses.replace(figures, stops=late_first)
    questions = [pause.question for pause in reversed(figures.lesson.pauses)]
    for kind in KINDS:
        words = said(paper_of(kind, figures))
        places = [words.index(question) for question in questions]
        assert places == sorted(places)
    cards = said(paper_of("cards", figures))
    assert cards.index("Stop 1: ") < cards.index(figures.lesson.pauses[-1].prompt) < cards.index("Stop 2: ")


def test_a_stop_that_one_plan_sees_comes_on_its_day_there_and_not_on_the_lessons_own():
    figures = invented("net_spray_or_leave")
    first, second, *rest = figures.stops["nothing"]
    never = dataclasses.replace(second, day=date(2025, 1, 1), has_come=False)
    came = dataclasses.replace(second, day=date(2025, 12, 1), has_come=True)
    stops = dict.fromkeys(figures.stops, (first, never, *rest)) | {"net": (first, came, *rest)}
    assert dataclasses.replace(figures, stops=stops).pauses_by_day == [0, 2, 3, 1]


@pytest.mark.parametrize("kind", KINDS)
def test_every_paper_has_the_cautions_and_tells_a_plan_that_does_against_them(figures, kind):
    words = said(paper_of(kind, figures))
    assert all(plain_words(caution) in words for caution in CAUTIONS)
    assert (plain_words(OPEN_FLOWERS) in words) == ("spray_weekly" in figures.lesson.plans)


def test_each_seat_has_its_season_on_one_card(lived):
    paper = paper_of("cards", lived)
    grids = [block for block in every(paper.blocks) if isinstance(block, Grid) and block.header[0] == "Seat"]
    rows = [row for grid in grids for row in grid.rows]
    assert [row[:2] for row in rows] == [("1", "1"), ("2", "2"), ("3", "3")]
    for seat, row in enumerate(rows, 1):
        wanted = [lived.of_seat(seat, plan, one.measure) for one in lived.lesson.guesses for plan in lived.lesson.plans]
        assert list(row[2:]) == wanted


def test_a_reason_is_said_only_if_the_seasons_bear_it_out(figures):
    this, that = figures.lesson.plans[:2]
    why = [{"holds": f"{this} {sign} {that}", "says": f"because {sign}"} for sign in "<>~="]
    question = ClosingQuestion.model_validate({"question": "Q?", "measure": "marketable_kg", "why": why})
    sentences = reasons_said(figures, question)
    assert sum(one.startswith("because") for one in sentences) == 1
    assert "3 more answers stand in the lesson's file" in sentences[-1]


def test_the_answers_to_the_graph_are_computed(figures):
    measure = figures.lesson.guesses[0].measure
    values = {plan: figures.values(plan, measure) for plan in figures.lesson.plans}
    highest = max(values, key=lambda plan: values[plan].max())
    answers = [answer for _, answer in graph_questions(figures)]
    assert answers[0].startswith(figures.titles[highest])
    firsts = [max(values, key=lambda plan: values[plan][season]) for season in range(figures.lesson.seats)]
    assert f"{figures.titles[firsts[0]]} in {firsts.count(firsts[0])}" in answers[2]


def test_a_lesson_addresses_part_of_standards_and_meets_none(figures):
    words = said(paper_of("teacher", figures))
    assert "addresses part of Next Generation Science Standards" in words
    assert not re.search(r"\bmeets (the|a|this)? ?standard", words)
    assert all(word.partition(":")[2] in words for word in figures.lesson.standards)


def test_each_idea_of_learners_stands_there_with_the_screen_that_speaks_to_it(figures):
    words = said(paper_of("teacher", figures))
    for word in figures.lesson.ideas:
        idea = ideas()[word]
        assert idea.says in words
        assert f"Screen: {SCREENS[idea.screen]}." in words
        assert not idea.look or f"Question there: {BOARDS[idea.look]}" in words


def test_the_teachers_sheet_runs_in_three_lengths_and_says_cautions_and_limits(figures):
    words = said(paper_of("teacher", figures))
    assert all(f"{minutes} minutes: " in words for minutes in (20, 45, 90))
    assert all(part in words for part in ("label is the law", "wildlife rescue", "licensed", "This is a model"))
    assert " safe " not in words


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_stop_stands_on_one_page_with_its_table_and_cautions_fill_none_alone(figures, language):
    with speaking(language):
        paper = paper_of("teacher", figures, DAY)
        pages = [" ".join(page.extract_text().split()) for page in open_pdf(pdf_of(paper)).pages]
        hints = [" ".join(_(pause.prompt).split()) for pause in figures.lesson.pauses]
        headers = [" ".join(" ".join(stop_grid(figures, place).header).split()) for place in range(len(hints))]
        cautions, guesses = _("Before you do any of this outdoors"), _("The two guesses, and what the seasons gave")
    for hint, header in zip(hints, headers, strict=True):
        (page,) = [page for page in pages if hint in page]
        assert header in page[page.index(hint) :]
    told = " ".join(pages)
    assert told.index(cautions) < told.index(guesses)
    assert not any(page.startswith(cautions) for page in pages)


def test_the_guess_stands_before_the_graph_and_no_name_is_asked_for(figures):
    paper = paper_of("student", figures)
    blocks = list(every(paper.blocks))
    guess = next(place for place, block in enumerate(blocks) if block == Heading("1. Predict"))
    pictures = [place for place, block in enumerate(blocks) if isinstance(block, Image)]
    breaks = [place for place, block in enumerate(blocks) if isinstance(block, PageBreak)]
    assert guess < pictures[0] < pictures[1]
    assert sum(guess < place < pictures[1] for place in breaks) == 2  # the graph is on the second leaf
    assert not re.search(r"\b(your )?name\b", said(paper).lower())
    assert "Our team's animal" in said(paper)


def test_each_number_asks_for_a_because_and_two_rows_are_left_for_plans_of_ones_own(figures):
    paper = paper_of("student", figures)
    assert said(paper).count("ecause …") >= 2 + len(graph_questions(figures))
    table = next(block for block in every(paper.blocks) if isinstance(block, Grid) and "kg" in " ".join(block.header))
    assert table.rows[-2:] == (("",) * len(table.header),) * 2


def test_the_students_sheet_is_said_in_plain_words(figures):
    parts = [block.words for block in every(paper_of("student", figures).blocks) if isinstance(block, Words)]
    parts += [
        cell
        for block in every(paper_of("student", figures).blocks)
        if isinstance(block, Grid)
        for cell in _texts(block.rows)
    ]
    sentences = [sentence for part in parts for sentence in sentences_in(part)]
    a_sentence, *by_formula = grades(sentences)
    print(figures.lesson.name, len(sentences), round(a_sentence, 1), *(round(grade, 1) for grade in by_formula))
    assert a_sentence <= MOST_WORDS_ON_AVERAGE
    assert max(by_formula) <= HIGHEST_GRADE


@pytest.mark.parametrize("kind", KINDS)
def test_a_paper_is_tagged_large_enough_and_of_the_size_asked_for(figures, kind):
    paper = paper_of(kind, figures, DAY)
    assert paper.text_points >= 12
    for size, points in (("letter", (612, 792)), ("a4", (595, 842))):
        content = pdf_of(paper, size)
        assert set(page_sizes(content)) == {points}
    figures_tagged = [tag.alt for tag in tags_of(content) if tag.kind == "Figure"]
    assert figures_tagged == [image.alt for image in images_of(paper.blocks)]
    assert all(figures_tagged)
    assert figures.lesson.name in words_of(content)
    assert paper.lacking == frozenset()


def test_letters_in_the_graphs_are_as_large_as_on_the_paper():
    shapes = [one for one in vars(graphs).values() if isinstance(one, Shape)]
    assert shapes
    assert all(one.text_points >= 12 and one.foot_points >= 9 and one.width_inches <= 7.1 for one in shapes)


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_cards_come_two_to_a_page_and_the_student_has_two_leaves(figures, size):
    cards = paper_of("cards", figures, DAY)
    boxes = sum(isinstance(block, Box) for block in cards.blocks)
    assert len(page_sizes(pdf_of(cards, size))) == -(-boxes // 2)
    assert len(page_sizes(pdf_of(paper_of("student", figures, DAY), size))) == 4


def test_what_goes_through_a_copier_is_black_on_white():
    for kind in ("cards", "student"):
        paper = paper_of(kind, invented("late_cover"), DAY)
        assert paper.is_black
        for page in pages_of(paper, "letter", 50):
            picture = Picture.open(io.BytesIO(page)).convert("HSV")
            assert picture.getchannel("S").getextrema()[1] < LEAST_COLOUR


def test_a_card_can_be_read_after_it_was_copied_twice():
    """Each copy blurs and knows four greys; letters and lines must still be dark, the paper white."""
    page = pages_of(paper_of("cards", invented("late_cover"), DAY), "letter", 110)[3]
    picture = Picture.open(io.BytesIO(page)).convert("L")
    dark = sum(picture.point(lambda grey: 255 * (grey < 128)).histogram()[255:])
    for _copy in range(2):
        picture = ImageOps.posterize(picture.filter(ImageFilter.GaussianBlur(0.9)), 2)
        picture = picture.point(lambda grey: 255 if grey > 170 else grey)
    left = sum(picture.point(lambda grey: 255 * (grey < 150)).histogram()[255:])
    assert left > 0.8 * dark


def test_the_same_lesson_gives_the_same_bytes(figures):
    first, second = (pdf_of(paper_of("student", figures, DAY)) for _ in range(2))
    assert first == second


def test_the_code_at_the_foot_opens_the_lesson_itself(figures):
    lesson, _garden = load_lesson(figures.lesson.name)
    foot = paper_of("student", dataclasses.replace(figures, lesson=lesson), DAY).foot
    gardens = {name: load_scenario(name) for name in scenario_names()}
    assert lesson_of_code(foot.rpartition("code ")[2], gardens) == (opened(lesson.name), [])


def test_the_command_writes_all_papers_or_nothing(tmp_path, capsys):
    file = tmp_path / "ours.toml"
    file.write_text(lesson_text("late_cover").replace("seats = 24", "seats = 2 "), encoding="utf-8")
    order = ["sheets", str(file), "--paper", "a4", "--language", "es", "--date", "2026-04-01", "--out"]
    assert main([*order, str(tmp_path / "out")]) == 0
    assert {f"{kind}.{form}" for kind in KINDS for form in ("pdf", "docx", "txt")} < {
        path.name for path in (tmp_path / "out").iterdir()
    }
    assert page_sizes((tmp_path / "out" / "cards.pdf").read_bytes())[0] == (595, 842)
    assert main([*order, str(tmp_path / "out")]) == 2
    assert "already holds results" in capsys.readouterr().err
    file.write_text("title = 3", encoding="utf-8")
    assert main([*order, str(tmp_path / "other")]) == 2
    assert not (tmp_path / "other").exists()


def test_sheets_of_a_garden_with_a_weather_file_promise_no_other_weather():
    figures = invented("late_cover")
    assert "other weather" in said(paper_of("teacher", figures))
    place = figures.garden.place.model_copy(update={"climate": None, "weather_file": "days.csv", "latitude_deg": 40.0})
    of_file = dataclasses.replace(figures, garden=figures.garden.model_copy(update={"place": place}))
    for kind in KINDS:
        assert "other weather" not in said(paper_of(kind, of_file))
    assert "same weather, other luck" in said(paper_of("student", of_file))
