"""The screens without a browser: each opens, says its question, answers, and keeps the lesson; nothing leaves."""

import socket
import sys
from importlib.resources import files

import pytest
from streamlit.testing.v1 import AppTest

import dashboard.seasons.work
from dashboard.brought.own_files import Brought, Station, garden_with_weather
from dashboard.lesson.lesson import Lesson
from dashboard.lesson.lesson_code import code_of, lesson_of_code
from dashboard.page.taking import offer_one_of, offer_picture
from dashboard.seasons.work import Desk
from dashboard.server.settings import SETTINGS, free_port
from sim.errors import RunError
from sim.scenario import load_scenario, scenario_names
from sim.season import weather_notes
from sim.sensitivity.ranking import leans_on, stored_ranking
from sim.workers import here
from tests.dashboard.own_things import weather_csv

QUESTIONS = {
    "garden": "Which garden shall we look at?",
    "guess": "What do you expect?",
    "watch": "What happens on the way to the harvest?",
    "compare": "Which plan gives what?",
    "went": "Where did it all go?",
    "try_out": "What would you change?",
    "home": "What will you take home?",
    "origin": "Where do the numbers come from?",
}
CAUTIONS = ("label is the law", "wildlife rescue", "open flowers", "allergic", "extension office")


@pytest.fixture(scope="module")
def one_desk():
    return Desk(here(), 1)


@pytest.fixture
def app(monkeypatch, one_desk):
    """The whole app, whose seasons are run in this process; what it leaves on the screen can all be taken away.

    A projector shows no controls: its pictures stand on the plain screen, too.
    """
    offered = taken_note_of(monkeypatch)
    monkeypatch.setattr(dashboard.seasons.work, "desk", lambda: one_desk)
    monkeypatch.setattr("dashboard.page.running.desk", lambda: one_desk)
    page = AppTest.from_file(str(files("dashboard") / "app.py"), default_timeout=180)
    yield page
    if "room" in page.query_params.get("view", ""):
        return
    shown = [chart.proto.alt for chart in page.get("vega_lite_chart")]
    assert [alt for alt in shown if not any(one.alt in alt for one in offered)] == []


def taken_note_of(monkeypatch):
    """Return the list of pictures that screens offer to be taken away, filled as they do."""
    offered = []

    def noting_one(scene, *words):
        offered.append(scene)
        return offer_picture(scene, *words)

    def noting_many(scenes, *words):
        offered.extend(scenes.values())
        return offer_one_of(scenes, *words)

    for name, module in list(sys.modules.items()):
        for word, noting in (("offer_picture", noting_one), ("offer_one_of", noting_many)):
            if name.startswith("dashboard.") and hasattr(module, word):
                monkeypatch.setattr(module, word, noting)
    return offered


def opened(app, screen, **words):
    for word, value in words.items():
        app.query_params[word] = value
    page = app.run()
    if screen != "garden":
        page = page.switch_page(f"screens/{screen}.py").run()
    assert not page.exception
    return page


def text_of(page):
    return " ".join(part.value for part in page.markdown)


def button(page, words):
    return next(one for one in page.button if one.label.endswith(words))


@pytest.mark.parametrize("screen", QUESTIONS)
def test_each_screen_asks_its_question_and_says_what_it_is_not(app, screen):
    page = opened(app, screen, garden="leaf_bed")
    assert page.title[0].value == QUESTIONS[screen]
    assert any("This is a model" in box.value for box in page.info)


@pytest.mark.parametrize("screen", QUESTIONS)
def test_cautions_stand_where_nets_and_sprays_do(app, screen):
    words = text_of(opened(app, screen, garden="leaf_bed"))
    assert all(caution in words for caution in CAUTIONS)


def test_another_garden_begins_anew_and_its_plans_are_told(app):
    page = opened(app, "garden", season="7")
    assert page.number_input[0].value == 7
    page.selectbox[0].set_value("cucumber_bed").run()
    assert not page.exception
    assert page.number_input[0].value == 1
    assert "Twelve cucumber plants" in text_of(page)
    assert "Do nothing about pests" in [part.label for part in page.expander]


def test_a_code_that_is_typed_opens_its_setting_and_a_slip_is_told(app):
    known = {name: load_scenario(name) for name in scenario_names()}
    code = code_of(Lesson("leaf_bed", ("late_net", "nothing"), season=12), known)
    page = opened(app, "garden")
    page = page.text_input(key="code typed").set_value(code[:-1] + ("0" if code[-1] != "0" else "1")).run()
    assert "has a slip" in page.warning[0].value
    assert page.selectbox[0].value == "teaching_garden"
    page = page.text_input(key="code typed").set_value(f" {code.lower().replace('-', ' ')} ").run()
    assert not page.exception
    assert page.selectbox[0].value == "leaf_bed"
    assert page.multiselect[0].value == ["late_net", "nothing"]
    assert page.number_input[0].value == 12
    assert code in [one.value for one in page.code]


def test_a_page_that_is_drawn_again_reads_no_weather_file_again(app, monkeypatch, tmp_path):
    name, garden = garden_with_weather(
        load_scenario("leaf_bed"), Brought("near.csv", weather_csv()), Station(45.0), tmp_path
    )
    monkeypatch.setattr("dashboard.page.visit._shipped", lambda: {name: garden})
    read = []

    def noting(scenario):
        read.append(scenario)
        return weather_notes(scenario)

    monkeypatch.setattr("sim.season.weather_notes", noting)
    page = opened(app, "garden", garden=name)
    told = [box.value for box in page.info]
    assert len(read) == 1
    assert [box.value for box in page.run().info] == told
    assert len(read) == 1


@pytest.mark.parametrize("is_warm", [True, False])
def test_a_cold_start_is_explained_on_the_first_page(app, monkeypatch, is_warm):
    monkeypatch.setattr("sim.rules_cache.is_warm", lambda: is_warm)
    page = opened(app, "garden")
    assert any("First start" in one.value for one in page.caption) is not is_warm
    assert any("about a minute, this once" in one.value for one in page.caption) is not is_warm


def test_a_link_with_a_code_opens_its_setting(app):
    known = {name: load_scenario(name) for name in scenario_names()}
    code = code_of(Lesson("leaf_bed", ("late_net", "nothing"), season=12), known)
    page = opened(app, "garden", code=code.replace("-", ""))
    assert page.selectbox[0].value == "leaf_bed"
    assert page.number_input[0].value == 12


def test_one_plan_alone_is_not_enough(app):
    page = opened(app, "garden")
    page.multiselect[0].set_value(["net"]).run()
    assert "at least two plans" in page.warning[0].value


def told_of_link(page):
    return [one.value for one in page.warning if one.value.startswith("The link says")]


def test_a_link_that_is_not_understood_is_told_once(app):
    page = opened(app, "garden", garden="leaf_bedd", season="none")
    told = told_of_link(page)
    assert len(told) == 2
    assert "leaf_bedd" in told[0]
    assert not told_of_link(page.run())


def test_each_seat_can_read_its_own_season(app):
    page = opened(app, "compare", garden="leaf_bed", season="4")
    tables = [one.value for one in page.table if "Season" in one.value.columns]
    assert [list(one["Season"]) for one in tables] == [["4", "5", "6", "7", "8"]]


def test_comparing_shows_sentences_picture_and_table_of_one_measure(app):
    page = opened(app, "compare", garden="leaf_bed")
    assert len(page.get("vega_lite_chart")) == 1
    assert page.table[0].value.shape == (3, 4)
    assert "of 5;" in text_of(page)
    assert "differs from 'Do nothing about pests' in one kind of thing: the net" in text_of(page)
    page = page.selectbox(key="measure").set_value(page.selectbox(key="measure").options[-1]).run()
    assert page.header[0].value == "Money spent, 5 seasons"
    page = page.segmented_control(key="count").set_value(1).run()
    assert page.header[0].value == "Money spent, 1 season"


def test_the_class_sets_what_it_cares_about_and_nothing_is_set_for_it(app):
    page = opened(app, "compare", garden="leaf_bed")
    assert "Nothing is set, so nothing is said." in text_of(page)
    assert "of 20 seasons came out in that order" in text_of(page)
    page = page.segmented_control(key="cares marketable_kg").set_value(3).run()
    assert not page.exception
    assert "By what you care about, in twenty seasons:" in text_of(page)
    assert len(page.get("vega_lite_chart")) == 2


def test_survival_is_shown_stage_by_stage_with_its_measure(app):
    page = opened(app, "compare", garden="leaf_bed")
    page = page.selectbox(key="measure").set_value("egg_to_adult_share").run()
    assert not page.exception
    assert len(page.get("vega_lite_chart")) == 2
    assert any("Of 1,000 eggs reach" in table.value.columns for table in page.table)


def test_a_seat_is_a_season(app):
    page = opened(app, "compare", garden="leaf_bed", season="11")
    page = page.segmented_control(key="count").set_value(0).run()
    page = page.number_input(key="seats").set_value(4).run()
    assert page.header[0].value == "Harvest fit to sell, 4 seasons"
    assert "the first seat has season 11, the last 14" in " ".join(one.value for one in page.caption)


LOOKS = {"eggs": 3 + 1, "short": 1, "days": 4, "energy": 3, "spring": 1}
"""Questions of where it all went, and the pictures that answer each under three plans."""


@pytest.mark.parametrize(("look", "pictures"), LOOKS.items())
def test_each_question_of_where_it_all_went_has_its_pictures_by_its_own_address(app, look, pictures):
    page = opened(app, "went", garden="leaf_bed", look=look)
    assert len(page.get("vega_lite_chart")) == pictures
    assert page.table


def test_what_became_of_the_eggs_has_a_column_a_plan_and_is_asked_kind_by_kind(app):
    page = opened(app, "went", garden="leaf_bed")
    ends = page.table[0].value
    assert set(ends.columns[1:]) == {
        "Do nothing about pests",
        "Net from planting to last picking",
        "Spray every week by the calendar",
    }
    assert sum(one.label.startswith("The creatures behind") for one in page.expander) == 3
    page = page.selectbox(key="kind").set_value("cabbage white").run()
    assert "cabbage white" in page.header[0].value


def test_the_first_spray_is_told_where_days_are(app):
    assert "The first spray is on" in text_of(opened(app, "went", garden="leaf_bed", look="days"))


def test_next_spring_is_set_beside_a_second_year_that_nothing_was_left_to(app):
    words = text_of(opened(app, "went", garden="leaf_bed", look="spring"))
    assert "wait for next spring" in words
    assert "The second year then has" in words


def test_a_number_is_followed_to_the_creatures_behind_it(app):
    page = opened(app, "went", garden="leaf_bed", look="follow")
    assert not page.get("vega_lite_chart")
    page = page.selectbox(key="followed").set_value("killed by a spray").run()
    assert not page.exception
    assert "Who is behind 'killed by a spray', season 1" in [one.value for one in page.subheader]
    assert page.get("vega_lite_chart")
    assert "mg: sprayed." in text_of(page)


def test_a_moved_slider_is_answered_and_kept(app):
    page = opened(app, "try_out", garden="leaf_bed")
    assert "Nothing is changed yet" in text_of(page)
    page = page.multiselect[0].set_value(["pests.arrivals"]).run()
    page = page.slider[0].set_value(3.0).run()
    assert not page.exception
    assert page.number_input[0].value == 3.0
    assert page.header[0].value == "What it changed, 20 seasons"
    assert "Pests that come, times a usual year: 1 → 3" in text_of(page)
    assert len(page.get("vega_lite_chart")) == 4
    page = page.number_input[0].set_value(0.0).run()
    assert page.slider[0].value == 0.0
    assert "1 → 0" in text_of(page)
    page = page.slider[0].set_value(1.0).run()
    assert "Nothing is changed yet" in text_of(page)


def test_the_code_on_the_page_is_of_what_was_moved_last(app):
    known = {name: load_scenario(name) for name in scenario_names()}
    page = opened(app, "try_out", garden="leaf_bed")
    page = page.multiselect[0].set_value(["pests.arrivals"]).run()
    for times in (3.0, 2.0):
        page = page.slider[0].set_value(times).run()
        said = next(one.value for one in page.caption if "Code: " in one.value)
        lesson, complaints = lesson_of_code(said.partition("Code: ")[2].rstrip("."), known)
        assert (lesson.changes, complaints) == ({"pests.arrivals": times}, [])


def test_a_bargain_is_picked_and_settled_by_twenty_seasons(app):
    page = opened(app, "try_out", garden="cucumber_bed", **{"try": "net"})
    page = page.selectbox(key="bargain of cucumber_bed").set_value("cucumbers_without_bees").run()
    assert "Not struck yet" in text_of(page)
    page = page.multiselect[0].set_value(["beds.cucumbers.self_fruitful"]).run()
    page = page.toggle[0].set_value(True).run()
    assert not page.exception
    assert "The bargain is struck" in text_of(page)


def test_a_curve_is_drawn_for_what_is_moved_when_it_is_asked_for(app):
    page = opened(app, "try_out", garden="leaf_bed", **{"try": "net", "set": 'beds.collards.planted:"05-01"'})
    page = page.toggle(key="curve").set_value(True).run()
    assert not page.exception
    assert page.header[-1].value == "What if, 20 seasons"
    assert "On average most at" in text_of(page)


def test_a_link_brings_back_a_change_and_two_are_warned_of(app):
    page = opened(
        app, "try_out", garden="leaf_bed", **{"try": "net", "set": ["pests.arrivals:2.0", "place.wetter:2.0"]}
    )
    assert "2 things differ" in page.warning[0].value
    assert [one.value for one in page.slider] == [2.0, 2.0]


def test_free_play_asks_for_no_guess_before_an_answer(app):
    page = opened(app, "try_out", garden="leaf_bed", **{"try": "net", "set": "pests.arrivals:5.0"})
    assert page.header[0].value == "What it changed, 20 seasons"


def test_a_number_is_found_by_its_words(app):
    page = opened(app, "origin")
    page = page.text_input(key="wanted").set_value("cabbage white egg peak").run()
    assert page.table[1].value.shape == (1, 4)
    assert "degree-day" in page.table[1].value.iloc[0, 1]
    page = page.text_input(key="wanted").set_value("no such words").run()
    assert "No number holds all these words" in text_of(page)


def test_results_lean_on_numbers_and_patterns_that_are_missed_are_shown(app):
    page = opened(app, "origin")
    assert "With every number moved at once, the first stays first in" in text_of(page)
    leaning = next(table.value for table in page.table if "Share of the spread" in table.value.columns)
    assert all("±" in share for share in leaning["Share of the spread"])
    assert "The model meets" in text_of(page)
    page = page.segmented_control(key="patterns shown").set_value("only those that it misses").run()
    patterns = [table.value for table in page.table if "Met?" in table.value.columns]
    assert patterns
    assert {said for table in patterns for said in table["Met?"]} == {"✗ no"}


def test_a_result_says_beside_it_how_far_its_order_can_be_trusted_and_on_what_it_leans(app):
    page = opened(app, "compare")
    said = next(one for one in page.expander if one.label == "How far can this be trusted?")
    lines = [one.value for one in said.markdown]
    orders = stored_ranking()["orders"]["marketable_kg"]
    first, second, share = orders["pairs"][0]
    assert (first, second) == ("spray_weekly", "net")
    assert "- 'Spray every week by the calendar' stays above 'Net from planting to last picking' in " in lines[2]
    assert f"in {round(100 * share)} of 100 tries" in lines[2]
    heaviest = leans_on("marketable_kg", "net", 1)[0]
    assert (
        f"**Net from planting to last picking** leans most on *{heaviest.name}* (known within a factor of" in lines[3]
    )


def test_a_result_that_was_not_studied_claims_no_trust(app):
    page = opened(app, "compare")
    page = page.selectbox(key="measure").set_value("labour_minutes").run()
    assert "How far can this be trusted?" not in [one.label for one in page.expander]


def test_the_server_is_for_this_machine_alone_and_sends_nothing():
    assert SETTINGS["server.address"] == "localhost"
    assert SETTINGS["browser.gatherUsageStats"] is False
    assert SETTINGS["server.enableXsrfProtection"] is True


def test_no_screen_shows_its_own_documentation():
    """Streamlit writes bare texts of a script on the page unless told not to."""
    assert SETTINGS["runner.magicEnabled"] is False


def test_a_port_in_use_is_told():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(RunError, match=f"Port {port} is in use"):
            free_port(port)
        assert free_port(None) != port
