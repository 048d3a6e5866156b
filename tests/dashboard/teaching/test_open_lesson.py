"""A lesson on the screens: opened by a choice or its link, with its own questions; later changes ask for one tap."""

import os
import re
from dataclasses import replace
from datetime import date

import pytest

from dashboard.command import main
from dashboard.lesson.address import address_of, lesson_from
from dashboard.lesson.lesson import Guess, Lesson, first_lesson
from dashboard.lesson.opened import FIRST_OFFERED, open_lessons, opened, own_gardens, pauses_of, questions_of
from dashboard.lesson.reading import lesson_names, lesson_text
from dashboard.paper.typeset import pdf_of
from dashboard.teaching.figures import figures_of
from dashboard.teaching.sheets import paper_of
from dashboard.teaching.tapping import later_plans, slot_of_changes
from sim.scenario import load_scenario, scenario_names
from tests.dashboard.reading import words_of
from tests.dashboard.test_page import app, button, one_desk, text_of  # noqa: F401
from tests.dashboard.test_page import opened as shown

GARDENS = {name: load_scenario(name) for name in scenario_names()}
A_DAY = date(2026, 3, 1)
LOCKED = {"harvest_order": "1.2.3", "birds_order": "1.2.3", "locked": "yes"}


def there_and_back(lesson: Lesson) -> Lesson:
    back, complaints = lesson_from(address_of(lesson, GARDENS), GARDENS)
    assert not complaints
    return back


@pytest.mark.parametrize("name", lesson_names())
def test_a_short_link_opens_a_ready_lesson(name):
    lesson, complaints = lesson_from({"lesson": [name]}, GARDENS)
    assert not complaints
    assert lesson == opened(name)
    assert set(address_of(lesson, GARDENS)) == {"v", "lesson"}


def test_a_link_keeps_the_guess_the_taps_and_what_was_led_already():
    lesson = replace(
        opened("late_cover"),
        guess=Guess(ranks={"harvest": (1, 2, 3), "birds": (3, 2, 1)}, is_locked=True),
        taps={"net_some": "less", "c0123abcd": "same"},
        led=("garden", "guess"),
    )
    assert there_and_back(lesson) == lesson
    other = lesson.with_plans(("nothing", "net_some"))
    assert there_and_back(other) == other


def test_a_lesson_that_is_not_here_is_told_and_left_out():
    lesson, complaints = lesson_from({"lesson": ["late_covr"]}, GARDENS)
    assert lesson == first_lesson(GARDENS)
    assert complaints[0].endswith(", so that part was left out. Did you mean 'late_cover'?")


def test_another_garden_leaves_the_lesson():
    lesson, complaints = lesson_from({"lesson": ["late_cover"], "garden": ["cucumber_bed"]}, GARDENS)
    assert not complaints
    assert lesson == first_lesson(GARDENS, "cucumber_bed")


def test_a_lesson_brings_its_own_questions_and_free_play_has_two_of_the_screens():
    assert [measure for _, measure in questions_of(opened("cucumbers_and_bees"), GARDENS["cucumber_bed"]).values()] == [
        "marketable_kg",
        "flower_visits_count",
    ]
    assert [
        measure for _, measure in questions_of(first_lesson(GARDENS), GARDENS[first_lesson(GARDENS).garden]).values()
    ] == [
        "marketable_kg",
        "bird_food_reachable_g",
    ]
    assert len(pauses_of(opened("late_cover"))) == 4
    assert not pauses_of(first_lesson(GARDENS))


def test_a_plan_that_is_added_to_a_lesson_keeps_the_guess_about_the_others():
    locked = replace(opened("late_cover"), guess=Guess({"harvest": (1, 2, 3), "birds": (1, 2, 3)}, is_locked=True))
    added = locked.with_plans((*locked.plans, "net_some"))
    assert added.guess.ranks == locked.guess.ranks
    assert added.guessed_plans == locked.plans
    assert later_plans(added) == ["net_some"]
    assert added.with_plans(locked.plans) == locked
    assert replace(locked, ready="").with_plans(("nothing", "net")).guess == Guess()


def test_a_tap_belongs_to_its_change():
    lesson = replace(opened("late_cover"), tried_plan="net", changes={"pests.arrivals": 2.0})
    assert slot_of_changes(lesson) == slot_of_changes(replace(lesson, led=("try",)))
    assert slot_of_changes(lesson) != slot_of_changes(replace(lesson, changes={"pests.arrivals": 3.0}))


def test_a_lesson_of_ones_own_is_the_first_to_be_offered(tmp_path, monkeypatch):
    text = lesson_text("late_cover").replace("Covered two weeks late", "Our own net")
    text = text.replace('garden = "leaf_bed"', 'garden = "our_bed.toml"')
    (tmp_path / "our_lesson.toml").write_text(text, encoding="utf-8")
    bed = (lesson_garden := load_scenario("leaf_bed")) and _text_of("leaf_bed").replace("Leaf bed", "Our bed")
    assert lesson_garden
    (tmp_path / "our_bed.toml").write_text(bed, encoding="utf-8")
    monkeypatch.setenv(FIRST_OFFERED, str(tmp_path / "our_lesson.toml"))
    open_lessons.cache_clear()
    try:
        assert next(iter(open_lessons())) == "our_lesson"
        assert opened("our_lesson").garden == "our_bed"
        assert own_gardens()["our_bed"].title == "Our bed"
    finally:
        open_lessons.cache_clear()


def test_a_ready_lesson_that_was_asked_for_is_the_first_to_be_offered(monkeypatch):
    asked_for = lesson_names()[-1]
    monkeypatch.setenv(FIRST_OFFERED, asked_for)
    open_lessons.cache_clear()
    try:
        assert next(iter(open_lessons())) == asked_for
        assert sorted(open_lessons()) == sorted(lesson_names())
    finally:
        open_lessons.cache_clear()


@pytest.mark.parametrize("given", ["late_cover", "ours.toml"])
def test_the_command_opens_a_lesson_by_its_name_or_its_file(given, tmp_path, monkeypatch):
    (tmp_path / "ours.toml").write_text(lesson_text("late_cover"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(FIRST_OFFERED, "")
    served = []
    monkeypatch.setattr("dashboard.server.settings.serve", lambda **_: served.append(os.environ[FIRST_OFFERED]))
    assert main(["lesson", "open", given, "--no-browser"]) == 0
    assert served == ["late_cover" if given == "late_cover" else str((tmp_path / "ours.toml").resolve())]


def test_the_command_tells_a_lesson_that_is_not_there(capsys):
    assert main(["lesson", "open", "late_covr"]) == 2
    assert "There is no lesson or file 'late_covr'; allowed: " in (told := capsys.readouterr().err)
    assert told.endswith("Did you mean 'late_cover'?\n")


def _text_of(garden: str) -> str:
    from importlib.resources import files

    return (files("scenarios") / f"{garden}.toml").read_text(encoding="utf-8")


def test_a_lesson_is_opened_from_the_first_screen_and_says_its_situation(app):  # noqa: F811
    page = shown(app, "garden")
    page = page.radio(key="lesson chosen").set_value("late_cover").run()
    assert not page.exception
    assert page.selectbox(key="garden chosen 1").value == "leaf_bed"
    assert "Ten collards and ten kale plants" in text_of(page)
    assert "late_cover" in page.query_params["lesson"]


def test_each_screen_leads_once(app):  # noqa: F811
    page = shown(app, "garden", lesson="late_cover")
    assert any("Read the situation aloud" in box.value for box in page.info)
    page = page.switch_page("screens/guess.py").run()
    assert any("Answer both questions" in box.value for box in page.info)
    page = page.switch_page("screens/garden.py").run()
    assert not any("Read the situation aloud" in box.value for box in page.info)


def test_a_lesson_asks_its_own_questions(app):  # noqa: F811
    page = shown(app, "guess", lesson="late_cover")
    assert [one.value for one in page.subheader][:2] == [
        "Which plan gives most harvest fit to sell?",
        "Which plan has most pests at their peak?",
    ]


def test_a_later_plan_asks_for_one_tap_before_comparing(app):  # noqa: F811
    page = shown(app, "compare", lesson="late_cover", plans="nothing.net.net_some", **LOCKED)
    assert not page.header
    page = button(page, "Less").click().run()
    assert not page.exception
    assert any("You said: less. The seasons said:" in box.value for box in page.info)
    assert "net_some:less" in page.query_params["taps"]


def test_where_it_went_is_not_told_before_the_tap(app):  # noqa: F811
    page = shown(app, "went", lesson="late_cover", plans="nothing.net.net_some", **LOCKED)
    assert "Before you see it" in text_of(page)
    assert not page.header


def test_a_plan_that_was_added_is_watched_after_its_tap_only(app, monkeypatch):  # noqa: F811
    watched = []
    monkeypatch.setattr(
        "dashboard.seasons.filming.film_wishes", lambda _garden, plans, _season: watched.append(plans) or {}
    )
    monkeypatch.setattr("dashboard.page.running.run_step_by_step", lambda *_, **_more: None)
    nothing = {"id": "none", "plans": [], "dates": [], "days": 0}
    monkeypatch.setattr("dashboard.player.payload.payload", lambda *_, **_more: nothing)
    monkeypatch.setattr("dashboard.player.component.show_player", lambda *_, **_more: None)
    page = shown(app, "watch", lesson="late_cover", plans="nothing.net.net_some", **LOCKED)
    assert watched == [["nothing", "net"]]
    page = page.selectbox(key="watch second").set_value("net_some").run()
    assert "Before you see it" in text_of(page)
    assert len(watched) == 1
    page = button(page, "More").click().run()
    assert not page.exception
    assert watched[-1] == ["nothing", "net_some"]
    assert "stands beside what came" in text_of(page)


def test_a_room_is_asked_for_its_tap_too(app):  # noqa: F811
    page = shown(app, "compare", lesson="late_cover", plans="nothing.net.net_some", view="room", **LOCKED)
    assert "Before you see it" in text_of(page)
    page = button(page, "Less").click().run()
    assert not page.exception
    assert "Before you see it" not in text_of(page)


def test_the_second_round_of_a_lesson_is_set_with_one_click_and_asks_for_one_tap(app):  # noqa: F811
    page = shown(app, "try_out", lesson="late_cover", **LOCKED)
    page = button(page, "Set this change").click().run()
    assert not page.header
    page = button(page, "About the same").click().run()
    assert page.header[0].value == "What it changed, 20 seasons"
    told = next(box.value for box in page.info if "You said: about the same. The seasons said:" in box.value)
    assert re.search(r"The size: [\d.]+ kg (more|less) in a mean season, about one part in \d+", told)


def test_a_change_that_was_set_is_not_offered_again(app, monkeypatch):  # noqa: F811
    monkeypatch.setattr("dashboard.page.running.run_step_by_step", lambda *_args, **_more: None)
    page = shown(app, "try_out", lesson="sprays_and_nestlings", **LOCKED)
    page = button(page, "Set this change").click().run()
    assert page.query_params["set"] == "plans.spray_at_threshold.actions.2.caterpillar_infested_share:0.2"
    assert [one.label for one in page.button if one.label == "Set this change"] == []
    page = button(page, "Less").click().run()
    assert [one.label for one in page.button if one.label == "Set this change"] == []
    assert page.slider[0].value == 0.2
    page = page.slider[0].set_value(0.3).run()
    assert button(page, "Set this change")


def test_the_sheets_of_a_lesson_are_made_on_the_screen_from_its_seats(app, monkeypatch):  # noqa: F811
    from dashboard.lesson import opened as opened_module
    from dashboard.teaching import taking_sheets

    few = {name: (lesson.model_copy(update={"seats": 2}), garden) for name, (lesson, garden) in open_lessons().items()}
    monkeypatch.setattr(opened_module, "open_lessons", lambda: few)
    given = []
    show = taking_sheets._show_files
    monkeypatch.setattr(taking_sheets, "_show_files", lambda *parts: (given.append(parts), show(*parts)))
    page = shown(app, "home", lesson="late_cover")
    page = button(page, "Make the sheets").click().run()
    assert not page.exception
    files = [one.label for one in page.get("download_button")][-3:]
    assert files == ["Teacher's sheet", "Student's sheet", "Cards, two to a page"]
    lesson, followed, seasons, size, form, _place = given[-1]
    assert form == "pdf"
    pdf = taking_sheets.sheet_file(lesson, followed, seasons, "teacher", size, form, A_DAY)
    by_command = paper_of("teacher", figures_of(*few["late_cover"]), A_DAY)
    assert words_of(pdf) == words_of(pdf_of(by_command, size))


def test_without_a_lesson_the_screen_says_where_to_open_one(app):  # noqa: F811
    assert "Open a lesson on the first screen" in text_of(shown(app, "home"))


def test_a_lesson_goes_from_the_locked_guess_to_the_season_itself(app):  # noqa: F811
    words = {"harvest_order": "2.1.3", "harvest_hands": "3.9.1", "birds_order": "1.2.3", "locked": "yes"}
    page = shown(app, "guess", lesson="late_cover", **words)
    assert page.get("page_link")[0].proto.label == "Next: watch the season"
    steps = [one.value for one in page.info]
    assert "Watch the season now. Guess and season stand side by side after it." in steps
    assert not any("lock the guess" in step for step in steps)
    assert not page.get("vega_lite_chart")
    assert "Hands: Do nothing about pests: 3; Net from planting to last picking: 9" in text_of(page)
    page = button(page, "Show what the season gave").click().run()
    assert len(page.get("vega_lite_chart")) == 2
    assert "shown" in page.query_params["locked"]
    assert "Hands: Do nothing about pests: 3" in text_of(page)
    page = page.text_area[0].set_value("the net came too late").run()
    assert "the net came too late" in page.query_params["reason"]
    page = button(page, "Guess again").click().run()
    assert "reason" not in page.query_params


def test_the_season_of_a_lesson_leads_back_to_guess_and_outcome(app):  # noqa: F811
    page = shown(app, "watch", lesson="late_cover", harvest_order="2.1.3", birds_order="1.2.3", locked="yes")
    assert not any(one.proto.label == "Next: compare more seasons" for one in page.get("page_link"))
    page = button(page, "what did you say, and what came?").click().run()
    assert page.title[0].value == "What do you expect?"
    assert len(page.get("vega_lite_chart")) == 2
