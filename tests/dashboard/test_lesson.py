"""A lesson and its address say the same; whatever an address says, a lesson comes of it."""

import json
from dataclasses import replace
from urllib.parse import urlencode

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.charts.scene import ranks as ranks_of
from dashboard.lesson.address import MADE, address_of, lesson_from
from dashboard.lesson.lesson import CARED, QUESTIONS, Guess, first_lesson
from dashboard.lesson.opened import opened
from sim.scenario import load_scenario, scenario_names

GARDENS = {name: load_scenario(name) for name in scenario_names()}


@st.composite
def lessons(draw):
    lesson = first_lesson(GARDENS, draw(st.sampled_from(list(GARDENS))))
    names = GARDENS[lesson.garden].plan_names
    plans = draw(st.lists(st.sampled_from(names), min_size=2, max_size=4, unique=True))
    order = st.permutations(range(1, len(plans) + 1)).map(tuple)
    asked = draw(st.sets(st.sampled_from(list(QUESTIONS))))
    guess = Guess(
        {one: draw(order) for one in QUESTIONS if one in asked},
        because=draw(st.sampled_from(["", "birds & bees", "¿por qué?"])),
    )
    guess = replace(guess, is_locked=guess.is_whole and draw(st.booleans()))
    guess = replace(guess, is_shown=guess.is_locked and draw(st.booleans()))
    changes = draw(st.sampled_from([{}, {"pests.arrivals": 2.0}, {"place.wetter": 0.5, "birds.use_of_garden": 0.0}]))
    cares = draw(st.dictionaries(st.sampled_from(CARED), st.integers(0, 3)))
    season = draw(st.integers(1, 9999))
    return replace(lesson, plans=tuple(plans), season=season, guess=guess, changes=changes, cares=cares)


@given(lessons())
def test_an_address_leads_back_to_its_lesson(lesson):
    assert lesson_from(address_of(lesson, GARDENS), GARDENS) == (lesson, [])


def test_the_first_lesson_says_only_what_it_was_made_with():
    assert list(address_of(first_lesson(GARDENS), GARDENS)) == [MADE]


def test_an_address_grows_with_what_is_changed_and_stays_short():
    lesson = replace(first_lesson(GARDENS), changes={"pests.arrivals": 2.0}, tried_plan="net")
    words = address_of(lesson, GARDENS)
    assert len(words.pop(MADE)[0]) < 10
    assert urlencode(words, doseq=True) == "try=net&set=pests.arrivals%3A2.0"


WORDS = st.sampled_from(
    [
        "garden",
        "plans",
        "season",
        "harvest_order",
        "birds_order",
        "harvest_hands",
        "because",
        "locked",
        "try",
        "set",
        "other",
    ]
)
ANYTHING = st.one_of(
    st.text(max_size=30), st.sampled_from(["1.2.3", "net.nothing", "net", "yes", "pests.arrivals:2", "-1", "²"])
)


@given(st.dictionaries(WORDS, st.lists(ANYTHING, max_size=3)))
def test_any_address_gives_a_lesson_that_can_be_run(words):
    lesson, complaints = lesson_from(words, GARDENS)
    garden = GARDENS[lesson.garden].with_changes(lesson.changes)
    assert 2 <= len(lesson.plans) <= 4
    assert set(lesson.plans) <= set(garden.plan_names)
    assert 1 <= lesson.season <= 9999
    assert all(len(ranks) == len(lesson.plans) for ranks in lesson.guess.ranks.values())
    assert not lesson.guess.is_locked or lesson.guess.is_whole
    assert all(told.endswith(".") or told.endswith("?") for told in complaints)


@pytest.mark.parametrize(
    ("word", "said", "told"),
    [
        ("garden", "leaf_bedd", "leaf_bed"),
        ("plans", "net", "2 to 4 plans"),
        ("plans", "net.nett", "2 to 4 plans"),
        ("plans", "net.nothing.nett", "2 to 4 plans"),
        ("season", "0", "from 1 to 9999"),
        ("harvest_order", "1.2.9", "3 whole numbers from 1 to 3"),
        ("harvest_order", "1.2", "3 whole numbers from 1 to 3"),
        ("try", "nett", "net"),
        ("cares", "marketable_kg:9", "an answer from 0 to 3"),
        ("cares", "marketable_kg:much", "an answer from 0 to 3"),
        ("cares", "happiness:2", "a measure that is asked about"),
        ("set", "pests.arivals:2", "pests.arrivals"),
        ("set", "pests.arrivals:two", "cannot be read"),
        ("set", "pests.arrivals:-2", "pests.arrivals"),
        ("set", "pests.arrivals:" + "[" * 5000, "cannot be read"),
        ("set", "plans.net.actions.cover.days_after_planting:10000000000", "from 0 to 730"),
    ],
)
def test_each_word_that_is_not_understood_is_told(word, said, told):
    _, complaints = lesson_from({word: [said]}, GARDENS)
    assert len(complaints) == 1
    assert told in complaints[0]


def test_other_plans_and_another_season_make_an_old_guess_void():
    ranks = dict.fromkeys(QUESTIONS, (1, 2, 3))
    lesson = replace(first_lesson(GARDENS), guess=Guess(ranks, is_locked=True))
    assert not lesson.with_plans(["net", "nothing"]).guess.ranks
    assert not lesson.with_season(2).guess.ranks
    assert lesson.with_season(1) is lesson.with_plans(lesson.plans) is lesson
    open_guess = replace(lesson, guess=Guess(ranks))
    assert open_guess.with_season(2).guess.ranks == ranks


def test_a_lesson_that_comes_back_to_the_plans_of_its_guess_is_the_lesson_it_was():
    lesson = opened("late_cover")
    ranks = dict.fromkeys(QUESTIONS, tuple(range(1, len(lesson.plans) + 1)))
    lesson = replace(lesson, guess=Guess(ranks, is_locked=True))
    others = lesson.with_plans(lesson.plans[::-1])
    assert others.guessed_plans == lesson.plans  # a guess that is locked stays about its own plans
    assert others.with_plans(lesson.plans) == lesson


def test_a_guess_that_is_not_whole_is_not_locked():
    for words in ({"locked": ["yes"]}, {"locked": ["shown"], "harvest_order": ["1.2.3"]}):
        lesson, _ = lesson_from(words, GARDENS)
        assert (lesson.guess.is_locked, lesson.guess.is_shown) == (False, False)


def test_an_order_that_is_begun_names_some_plans_of_the_guess_and_not_all():
    plans = first_lesson(GARDENS).plans
    lesson, complaints = lesson_from({"harvest_begun": [".".join(plans[:2])]}, GARDENS)
    assert (lesson.guess.begun, complaints) == ({"harvest": plans[:2]}, [])
    for said in (".".join(plans), "nobody"):
        lesson, complaints = lesson_from({"harvest_begun": [said]}, GARDENS)
        assert lesson.guess.begun == {}
        assert "plans of the guess, not all of them" in complaints[0]


def test_a_plan_is_shown_as_it_was_moved_only_where_something_was():
    assert not lesson_from({"moved": ["shown"]}, GARDENS)[0].as_moved
    assert lesson_from({"moved": ["shown"], "set": ["pests.arrivals:2"]}, GARDENS)[0].as_moved


def test_a_link_brings_no_more_of_a_reason_or_of_screens_than_there_is_room_for():
    words = {"because": ["b" * 500], "reason": ["r" * 500], "led": [".".join(["watch"] * 30)]}
    lesson, _ = lesson_from(words, GARDENS)
    assert (len(lesson.guess.because), len(lesson.guess.reason), len(lesson.led)) == (300, 300, 20)
    assert lesson_from({"led": ["watch.<b>.2.try"]}, GARDENS)[0].led == ("watch", "try")


def test_a_link_brings_forty_taps_at_most():
    said = [f"round_{number}:more" for number in range(50)]
    assert list(lesson_from({"taps": said}, GARDENS)[0].taps) == [f"round_{number}" for number in range(40)]


@given(st.lists(st.integers(0, 30), min_size=2, max_size=4))
def test_most_hands_come_first_and_equal_hands_share(hands):
    ranks = ranks_of(hands)
    assert min(ranks) == 1
    for one, own in zip(hands, ranks, strict=True):
        for other, others in zip(hands, ranks, strict=True):
            assert (one > other) == (own < others)


def test_changes_in_an_address_are_plain_values():
    words = address_of(replace(first_lesson(GARDENS), changes={"beds.cucumbers.self_fruitful": True}), GARDENS)
    assert words["set"] == [f"beds.cucumbers.self_fruitful:{json.dumps(True)}"]


def test_the_question_the_bargain_and_the_curve_in_hand_are_in_the_address():
    lesson = replace(
        first_lesson(GARDENS, "cucumber_bed"),
        look="spring",
        bargain="cucumbers_without_bees",
        curve="labour_minutes",
        along="pests.arrivals",
        changes={"pests.arrivals": 2.0},
    )
    assert lesson_from(address_of(lesson, GARDENS), GARDENS) == (lesson, [])


@pytest.mark.parametrize(("word", "said"), [("bargain", "no_such"), ("curve", "happiness"), ("look", "elsewhere")])
def test_what_is_in_hand_and_not_known_is_told(word, said):
    lesson, complaints = lesson_from({word: [said]}, GARDENS)
    assert getattr(lesson, word) == ""
    assert len(complaints) == 1


def test_a_setting_of_a_link_moves_its_slider_however_its_key_is_spelled():
    words = {
        "garden": ["leaf_bed"],
        "try": ["late_net"],
        "set": ["plans.late_net.actions.cover.days_after_planting:35"],
    }
    lesson, complaints = lesson_from(words, GARDENS)
    assert not complaints
    (key,) = lesson.changes
    assert lesson.changes[key] == 35
    assert GARDENS["leaf_bed"].plan("late_net").actions[int(key.split(".")[3])].do == "cover"
