"""Short codes: the whole setting there and back, and a slip of the tongue or the finger is always found."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from dashboard.codes import made
from dashboard.codes.bits import BitReader, BitWriter, print_of
from dashboard.codes.letters import ALPHABET, BLOCK_LETTERS, CodeError, read_letters, spell
from dashboard.lesson import lesson_code
from dashboard.lesson.address import address_of, lesson_from
from dashboard.lesson.lesson import QUESTIONS, Guess, first_lesson
from dashboard.lesson.lesson_code import canonical, code_of, lesson_of_code
from dashboard.lesson.opened import FIRST_OFFERED, open_lessons, opened
from dashboard.lesson.reading import lesson_names, lesson_text
from sim.scenario import load_scenario, scenario_names
from sim.scenario.changes import settings as settings_of

GARDENS = {name: load_scenario(name) for name in scenario_names()}
DIGITS = st.lists(st.integers(0, 31), min_size=1, max_size=BLOCK_LETTERS * 2 + 5)
CHANGES = st.dictionaries(
    st.sampled_from(["pests.arrivals", "place.wetter", "birds.use_of_garden", "bees.honey_bees", "bees.small_bees"]),
    st.sampled_from([0.25, 0.3, 0.7, 1.9999999, 2.0, 1 / 3]),
)


@st.composite
def lessons(draw):
    lesson = first_lesson(GARDENS, draw(st.sampled_from(list(GARDENS))))
    names = GARDENS[lesson.garden].plan_names
    plans = draw(st.lists(st.sampled_from(names), min_size=2, max_size=4, unique=True))
    changes = draw(CHANGES)
    return replace(
        lesson,
        plans=tuple(plans),
        season=draw(st.integers(1, 9999)),
        changes=changes,
        tried_plan=draw(st.sampled_from(names)) if changes else "",
    )


def letters(code):
    return code.replace("-", "")


@given(lessons())
def test_a_code_leads_back_to_its_lesson(lesson):
    assert lesson_of_code(code_of(lesson, GARDENS), GARDENS) == (lesson, [])


@given(st.sampled_from(list(GARDENS)), st.integers(1, 9999))
def test_a_ready_lesson_has_ten_letters_at_most(garden, season):
    lesson = replace(first_lesson(GARDENS, garden), season=season)
    assert len(letters(code_of(lesson, GARDENS))) <= 10
    three_others = replace(first_lesson(GARDENS, garden), plans=GARDENS[garden].plan_names[2:5])
    assert len(letters(code_of(three_others, GARDENS))) <= 10


@pytest.mark.parametrize("name", open_lessons())
def test_a_lesson_that_is_followed_comes_back_as_that_lesson(name):
    lesson = opened(name)
    code = code_of(lesson, GARDENS)
    assert len(letters(code)) <= 10
    assert lesson_of_code(code, GARDENS) == (lesson, [])
    moved = replace(lesson, season=77, plans=lesson.plans[::-1])
    assert lesson_of_code(code_of(moved, GARDENS), GARDENS) == (moved, [])


def test_the_first_sixteen_seasons_take_two_letters_less_than_those_after_them():
    """Four bits hold sixteen numbers; the others take fourteen, and a letter is five."""
    of = {
        season: len(letters(code_of(replace(first_lesson(GARDENS), season=season), GARDENS))) for season in (1, 16, 17)
    }
    assert of == {1: of[1], 16: of[1], 17: of[1] + 2}


def test_a_code_for_a_season_after_the_last_is_refused():
    code = code_of(replace(first_lesson(GARDENS), season=10_000), GARDENS)
    assert lesson_of_code(code, GARDENS) == (None, ["The code names a season after 9999, the last there is."])


def test_a_code_that_names_a_plan_twice_is_refused():
    code = code_of(replace(first_lesson(GARDENS), plans=("net", "nothing", "net")), GARDENS)
    lesson, said = lesson_of_code(code, GARDENS)
    assert lesson is None
    assert said == ["The code names 3 plans, or one twice; 2 to 4 are allowed."]


def test_a_code_with_letters_too_many_is_refused():
    digits = read_letters(code_of(first_lesson(GARDENS), GARDENS))
    lesson, said = lesson_of_code(spell([*digits, 1]), GARDENS)
    assert lesson is None
    assert len(said) == 1


def test_plans_far_down_a_long_list_travel_too():
    """A plan's place takes four bits, and more from the sixteenth plan on."""
    garden = GARDENS["leaf_bed"]
    many = [garden.plans[0].model_copy(update={"name": f"plan{n}", "title": f"Plan {n}"}) for n in range(40)]
    gardens = {"leaf_bed": garden.model_copy(update={"plans": tuple(many)})}
    for places in ((0, 14), (15, 16), (39, 15)):
        plans = tuple(f"plan{place}" for place in places)
        lesson = replace(first_lesson(gardens), plans=plans, tried_plan=plans[0], changes={"pests.arrivals": 2.0})
        assert lesson_of_code(code_of(lesson, gardens), gardens) == (lesson, [])


def test_a_code_grows_with_each_changed_setting():
    plain = first_lesson(GARDENS)
    lengths = [len(letters(code_of(plain, GARDENS)))]
    for count in (1, 2, 3):
        changes = dict(list({"pests.arrivals": 2.0, "place.wetter": 0.5, "bees.honey_bees": 3.0}.items())[:count])
        lengths.append(len(letters(code_of(replace(plain, tried_plan="net", changes=changes), GARDENS))))
    assert lengths == sorted(set(lengths))


def test_a_guess_is_not_in_a_code():
    lesson = first_lesson(GARDENS)
    guessed = replace(lesson, guess=Guess(dict.fromkeys(QUESTIONS, (3, 1, 2)), because="…", is_locked=True))
    assert code_of(guessed, GARDENS) == code_of(lesson, GARDENS)


@pytest.mark.parametrize("garden", GARDENS)
def test_any_setting_at_any_value_it_holds_comes_back(garden):
    """Not only what the screens offer: each key of the garden is carried, whatever kind of value it has."""
    scenario = GARDENS[garden]
    keys = settings_of(scenario)
    for key in list(keys)[::7]:
        changes = canonical({key: _plain(keys[key])}, scenario)
        lesson = replace(first_lesson(GARDENS, garden), tried_plan="net", changes=changes)
        back, said = lesson_of_code(code_of(lesson, GARDENS), GARDENS)
        assert back == lesson, said


def _plain(value):
    return [*map(_plain, value)] if isinstance(value, tuple) else value


def test_all_actions_of_one_kind_are_said_once_and_come_back_as_they_were():
    lesson = first_lesson(GARDENS)
    garden = GARDENS[lesson.garden]
    changes = canonical({"plans.spray_weekly.actions.spray.product": "bt"}, garden)
    assert len(changes) > 1
    lesson = replace(lesson, tried_plan="spray_weekly", changes=changes)
    code = code_of(lesson, GARDENS)
    assert lesson_of_code(code, GARDENS) == (lesson, [])
    one = replace(lesson, changes=dict([next(iter(changes.items()))]))
    assert len(letters(code)) <= len(letters(code_of(one, GARDENS))) + 1


@given(DIGITS)
def test_letters_there_and_back(digits):
    assert read_letters(spell(digits)) == digits
    assert read_letters(spell(digits).lower().replace("-", " ").replace("0", "o").replace("1", "l")) == digits


@settings(max_examples=30, deadline=None)
@given(DIGITS)
@example([0] * BLOCK_LETTERS)
@example(list(range(32)) * 2)
def test_one_wrong_letter_is_always_found(digits):
    plain = letters(spell(digits))
    for place, right in enumerate(plain):
        for wrong in ALPHABET:
            if wrong != right:
                with pytest.raises(CodeError):
                    read_letters(plain[:place] + wrong + plain[place + 1 :])


@settings(max_examples=30, deadline=None)
@given(DIGITS)
@example(list(range(32)) * 2)
def test_any_two_letters_that_changed_places_are_always_found(digits):
    plain = letters(spell(digits))
    for one, other in combinations(range(len(plain)), 2):
        if plain[one] != plain[other]:
            swapped = list(plain)
            swapped[one], swapped[other] = plain[other], plain[one]
            with pytest.raises(CodeError):
                read_letters("".join(swapped))


@given(st.one_of(st.text(max_size=40), st.text(ALPHABET, max_size=40), DIGITS.map(spell)))
def test_whatever_is_typed_gives_a_lesson_or_sentences(typed):
    lesson, said = lesson_of_code(typed, GARDENS)
    assert lesson is not None or said
    assert all(sentence.endswith((".", "?")) for sentence in said)
    if lesson is not None:
        GARDENS[lesson.garden].with_changes(lesson.changes)


@given(st.lists(st.one_of(st.none(), st.booleans(), st.integers(), st.floats(allow_nan=False), st.text(max_size=9))))
def test_any_plain_value_comes_back(values):
    writer = BitWriter()
    for value in values:
        writer.put_value(value, ["insect_mesh"])
    reader = BitReader(writer.digits())
    assert [repr(reader.take_value(["insect_mesh"])) for _ in values] == [repr(value) for value in values]
    reader.end()


def test_another_version_of_the_model_is_said(monkeypatch):
    code, words = code_of(first_lesson(GARDENS), GARDENS), address_of(first_lesson(GARDENS), GARDENS)
    monkeypatch.setattr(made, "release", lambda: "0.9")
    monkeypatch.setattr(lesson_code, "release", lambda: "0.9")
    monkeypatch.setattr(lesson_code, "release_number", made.release_number)
    lesson, said = lesson_of_code(code, GARDENS)
    assert lesson == first_lesson(GARDENS)
    assert "version 0.1 of the model; here is version 0.9" in said[0]
    _, told = lesson_from(words, GARDENS)
    assert "version 0.1 of the model; here is version 0.9" in told[0]


def test_a_changed_default_is_said_never_silent():
    lesson = first_lesson(GARDENS)
    code, words = code_of(lesson, GARDENS), address_of(lesson, GARDENS)
    later = {**GARDENS, lesson.garden: GARDENS[lesson.garden].with_changes({"pests.flea_beetle": 1.5})}
    found, said = lesson_of_code(code, later)
    assert found == lesson
    assert "has changed since this was made" in said[0]
    assert "has changed since this was made" in lesson_from(words, later)[1][0]
    reworded = {**GARDENS, lesson.garden: GARDENS[lesson.garden].model_copy(update={"about": "Other words."})}
    assert lesson_of_code(code, reworded) == (lesson, [])


def test_a_garden_that_is_added_moves_no_code():
    code = code_of(first_lesson(GARDENS, "leaf_bed"), GARDENS)
    more = {"a_new_one": GARDENS["market_garden"], **GARDENS}
    assert lesson_of_code(code, more)[0].garden == "leaf_bed"


def test_a_file_travels_as_its_fingerprint_and_is_asked_for():
    own = GARDENS["leaf_bed"].with_changes({"pests.arrivals": 4.0})
    name = f"{made.FILE_PREFIX}{own.fingerprint}"
    mine = {**GARDENS, name: own}
    lesson = replace(first_lesson(mine, name), season=3)
    code = code_of(lesson, mine)
    assert lesson_of_code(code, mine) == (lesson, [])
    assert len(letters(code)) <= 10
    found, said = lesson_of_code(code, GARDENS)
    assert found is None
    mark = made.file_mark(made.file_print(name))
    assert f"with the mark {mark}" in said[0]
    assert f"with the mark {mark}" in lesson_from(address_of(lesson, mine), GARDENS)[1][0]


MADE_BEFORE = {
    "1GEP-6001": ("net_spray_or_leave", {}),
    "1QQP-6000": ("cucumbers_and_bees", {}),
    "1P2Q-P005": ("late_cover", {}),
    "1HJP-60GD": ("sprays_and_nestlings", {}),
    "1P2Q-QR0K-M421-Z5ZX-408C": ("late_cover", {"pests.arrivals": 2.0}),
}
"""Codes on paper since November 2026, and what they open."""


@pytest.mark.parametrize("code", MADE_BEFORE)
def test_a_code_on_paper_opens_what_it_opened(code):
    lesson, _said = lesson_of_code(code, GARDENS)  # a garden that has changed since is told
    assert (lesson.ready, lesson.changes) == MADE_BEFORE[code]


def test_a_code_with_a_day_that_no_calendar_holds_says_so_and_opens_the_rest():
    lesson, said = lesson_of_code("14X8-0G21-GDAG-KGGR-WQHR-T4G", GARDENS)
    assert (lesson.garden, lesson.tried_plan, lesson.changes) == ("teaching_garden", "net", {})
    assert "is 10000000000; allowed: a whole number from 0 to 730." in said[-1]


def test_a_code_with_lists_in_lists_is_refused():
    deep = BitWriter()
    deep.put_text("[" * 5000)
    with pytest.raises(CodeError, match="a value that cannot be read"):
        BitReader(deep.digits()).take_json()


def test_no_two_ready_lessons_or_gardens_have_one_print():
    for names in (lesson_names(), scenario_names()):
        assert len({print_of(name, 7) for name in names}) == len(names)


@pytest.fixture
def own_lesson(tmp_path, monkeypatch):
    """A way to open a lesson of one's own from its text; returns its name."""

    def opening(text):
        file = tmp_path / "ours.toml"
        file.write_text(text, encoding="utf-8")
        monkeypatch.setenv(FIRST_OFFERED, str(file))
        open_lessons.cache_clear()
        return next(iter(open_lessons()))

    yield opening
    open_lessons.cache_clear()


def test_a_lesson_of_ones_own_travels_as_the_print_of_its_file(own_lesson):
    text = lesson_text("late_cover").replace("Covered two weeks late", "Our own net")
    name = own_lesson(text)
    assert name not in lesson_names()
    code = code_of(opened(name), GARDENS)
    assert lesson_of_code(code, GARDENS) == (opened(name), [])
    own_lesson(text.replace("Our own net", "Our other net"))
    lesson, said = lesson_of_code(code, GARDENS)
    assert lesson is None
    assert "leafnest lesson open" in said[0]
