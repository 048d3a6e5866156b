"""Lesson files: each ready one is whole and explains itself; a mistake is told in one sentence with its line."""

import re
from datetime import date

import pytest

from dashboard.command import main
from dashboard.lesson.boards import BOARDS
from dashboard.lesson.ideas import ideas
from dashboard.lesson.lesson_file import Event, LessonFile
from dashboard.lesson.reading import lesson_names, lesson_text, load_lesson, read_lesson_text, ready_lesson
from dashboard.lesson.standards import standards_of
from dashboard.seasons.moments import MOMENTS
from dashboard.teaching.teacher_sheet import SCREENS
from sim.errors import LeafnestError, ScenarioError
from tests.dashboard.own_things import scenario_toml, weather_csv
from tests.house.files import ROOT

TEXT = lesson_text("late_cover")
APP = (ROOT / "dashboard" / "app.py").read_text(encoding="utf-8")


def test_at_least_three_lessons_are_ready_the_first_one_first():
    assert len(lesson_names()) >= 3
    assert lesson_names()[0] == "net_spray_or_leave"


@pytest.mark.parametrize("name", lesson_names())
def test_a_ready_lesson_is_whole(name):
    lesson, garden = load_lesson(name)
    assert set(lesson.plans) <= set(garden.plan_names)
    assert len(lesson.pauses) == 4
    assert {timing.minutes for timing in lesson.timings} == {20, 45, 90}
    assert lesson.ideas
    assert any(word.startswith("ngss:MS") for word in lesson.standards)
    assert any(word.startswith("ngss:HS") for word in lesson.standards)
    assert any(word.startswith("ipm:") for word in lesson.standards)


@pytest.mark.parametrize("name", lesson_names())
def test_a_ready_lesson_explains_itself_and_holds_no_figure_of_a_result(name):
    text = lesson_text(name)
    assert text.startswith("# A lesson, in plain text.")
    for part in ("guesses", "pauses", "next", "closing"):
        before = text[: text.index(f"[{part}]")].rstrip("[\n ").splitlines()[-1]
        assert before.startswith("#"), f"nothing explains [{part}]"
    lesson = ready_lesson(name)
    said = [reason.says for question in lesson.closing for reason in question.why]
    assert not re.search(r"\d", " ".join(said))


def test_the_moments_that_a_file_may_name_are_those_that_a_season_is_searched_for():
    assert set(Event.__args__) == set(MOMENTS)


def test_every_idea_names_a_screen_that_speaks_to_it_and_says_how_it_is_known():
    for word, idea in ideas().items():
        assert idea.screen in SCREENS, word
        assert not idea.look or (idea.screen == "went" and idea.look in BOARDS), word
        assert idea.known, word
        assert idea.source, word
    used = {word for name in lesson_names() for word in ready_lesson(name).ideas}
    assert used == set(ideas())


def test_screens_are_called_as_they_are():
    for address, title in SCREENS.items():
        name = "garden_name" if address == "garden" else f'"{address}"'  # the first screen's differs between servers
        assert f'title=_("{title}"), url_path={name}' in APP


def test_standards_are_addressed_in_part_and_never_met():
    for path in [
        *(ROOT / "lessons").rglob("*.toml"),
        *ROOT.glob("dashboard/lesson/*.py"),
        *ROOT.glob("dashboard/teaching/*.py"),
    ]:
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"meets? (the |this |a )?standard|standards? (is|are) met", text, re.IGNORECASE), path.name
    for standard in standards_of().values():
        assert standard.known


MISTAKES = [
    ('garden = "leaf_bed"', 'garden = "leef_bed"', ", line ", "'garden' has 'leef_bed', which cannot be used"),
    ('"late_net"]', '"lat_net"]', ", line ", "'plans.2' is 'lat_net'; allowed: plans of the garden, nothing, net"),
    ('"late_net"]', '"lat_net"]', "", "Did you mean 'late_net' or"),
    (
        'measure = "marketable_kg"',
        'measure = "kilos"',
        "",
        "'guesses.0.measure' is 'kilos'; allowed: one of marketable",
    ),
    (
        'event = "hatch"',
        'event = "hatching"',
        "",
        "'pauses.2.event' is 'hatching'; allowed: 'first_egg', 'first_damage'",
    ),
    ('fallback_day = "04-08"', 'fallback_day = "04-31"', "", "is '04-31'; allowed: a day that every year has"),
    (
        'fallback_day = "04-08"',
        'fallback_day = "12-10"',
        "",
        "'pauses.0.fallback_day' is '12-10'; allowed: a day of the garden's season, 03-01 to 11-15",
    ),
    ("seats = 24", "seats = 1", "", "'seats' is 1; allowed: a whole number from 2 to 60."),
    ("seats = 24", "seets = 24", "", "there is no key 'seets' here; allowed: name, title"),
    (
        'minutes = 6, what = "Look',
        'minutes = 7, what = "Look',
        "",
        "has steps of 21 minutes in all; allowed: steps that add up to 20",
    ),
    (
        "late_net < net",
        "late_net is less",
        "",
        "is 'late_net is less'; allowed: two plans of the lesson with one of > < ~ =",
    ),
    ("late_net < net", "late_net < hand_picking", "", "'closing.0.why.0.holds' is 'late_net < hand_picking'"),
    (".actions.1.days", ".actions.9.days", "", "'next.changes' has a change that cannot be made"),
    ('["near_and_now"', '["near"', "", "'ideas' has 'near'; allowed: separate_chains"),
    ('"ipm:monitor"', '"ipm:watch"', "", "'standards' has 'ipm:watch'; allowed:"),
    ('title = "Covered two weeks late"', "", "", "'title' is missing; allowed: text in quotes."),
    ('title = "Covered two weeks late"', 'title = "  "', "", "'title' is '  '; allowed: text in quotes."),
    (
        "minutes = 90\n",
        "minutes = 60\n",
        "",
        "'timings' has timings of 20, 45, 60 minutes; allowed: one timing each of 20, 45 and 90",
    ),
]


@pytest.mark.parametrize(("right", "wrong", "where", "told"), MISTAKES, ids=[wrong[:30] for _, wrong, _, _ in MISTAKES])
def test_a_mistake_is_told_in_one_sentence_with_its_line(right, wrong, where, told):
    assert right in TEXT
    with pytest.raises(LeafnestError) as caught:
        read_lesson_text(TEXT.replace(right, wrong, 1), "mine.toml")
    said = str(caught.value)
    assert said.startswith("mine.toml")
    assert where in said
    assert told in said
    assert "\n" not in said


def test_a_lesson_of_ones_own_has_its_own_garden_and_standards_beside_it(tmp_path):
    from sim.scenario import new_scenario_text

    (tmp_path / "plot.toml").write_text(new_scenario_text(), encoding="utf-8")
    (tmp_path / "our_state.toml").write_text(
        'framework = "Our state"\n[standards]\nLS1 = { does = "count", known = "read" }\n', encoding="utf-8"
    )
    text = TEXT.replace('"leaf_bed"', '"plot.toml"').replace("late_net", "look_and_spray")
    text = re.sub(r"^changes = .*$", 'changes = { "pests.arrivals" = 2.0 }', text, flags=re.MULTILINE)
    text = text.replace(
        'standards = ["ngss:MS-LS2-2"', 'standards_files = ["our_state.toml"]\nstandards = ["our_state:LS1"'
    )
    (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
    lesson, garden = load_lesson(tmp_path / "mine.toml")
    assert lesson.name == "mine"
    assert garden.title == "My garden"
    assert "our_state:LS1" in lesson.standards


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (None, "There is no file of standards 'our_state.toml' beside the lesson."),
        (b"[standards]\nLS1 = {}\n", "our_state.toml: this is no file of standards; allowed: framework = "),
        (b'framework = "x"\nstandards = 3\n', "our_state.toml: this is no file of standards; allowed: framework = "),
        (b'framework = "x\n', "our_state.toml, line 1: this is not TOML"),
        ('framework = "ñ"\n'.encode("latin-1"), "our_state.toml, line 1: a character is not saved as UTF-8"),
        (b"", "our_state.toml, line 1: the file is empty; allowed: framework = "),
    ],
)
def test_a_file_of_standards_that_cannot_be_used_is_told(content, told, tmp_path):
    if content is not None:
        (tmp_path / "our_state.toml").write_bytes(content)
    with pytest.raises(ScenarioError) as caught:
        standards_of(["our_state.toml"], tmp_path)
    assert str(caught.value).startswith(told)


def test_a_lesson_can_be_copied_and_checked_from_the_command_line(tmp_path, capsys):
    file = tmp_path / "My lesson.toml"
    assert main(["lesson", "new", str(file), "--from", "cucumbers_and_bees"]) == 0
    assert main(["lesson", "check", str(file)]) == 0
    assert "all well" in capsys.readouterr().out
    assert main(["lesson", "new", str(file)]) == 2
    assert "is there already" in capsys.readouterr().err
    file.write_text(file.read_text(encoding="utf-8").replace("first_bloom", "first_blom"), encoding="utf-8")
    assert main(["lesson", "check", str(file)]) == 2
    assert "My lesson.toml, line " in capsys.readouterr().err
    assert main(["lesson"]) == 0
    listed = capsys.readouterr().out
    assert all(name in listed for name in lesson_names())


def test_the_check_of_a_lesson_reads_the_weather_file_of_its_garden(tmp_path, capsys):
    place = {'climate = "warm_humid"': 'weather_file = "days.csv"\nlatitude_deg = 40.0'}
    (tmp_path / "mine.toml").write_bytes(scenario_toml(replaced=place))
    file = tmp_path / "own.toml"
    file.write_text(TEXT.replace('garden = "leaf_bed"', 'garden = "mine.toml"'), encoding="utf-8")
    (tmp_path / "days.csv").write_bytes(weather_csv(date(2025, 1, 1)))
    assert main(["lesson", "check", str(file)]) == 0
    (tmp_path / "days.csv").write_bytes(weather_csv(date(2019, 1, 1)))
    assert main(["lesson", "check", str(file)]) == 2
    assert "2025-03-01 to 2025-11-15 was asked for" in capsys.readouterr().err


def test_a_lesson_is_never_changed_in_place():
    with pytest.raises(ValueError, match="frozen"):
        LessonFile.model_validate(ready_lesson("late_cover").model_dump()).title = "x"
