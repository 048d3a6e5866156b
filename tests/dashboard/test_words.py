"""Every sentence of ours is said in every language, whole and plain, with numbers and dates as readers write them."""

import re
import subprocess
import sys
import tomllib
from datetime import date
from importlib.resources import files

import pytest
from babel.dates import format_skeleton
from babel.numbers import format_decimal, format_percent

from dashboard.language import saying
from dashboard.language.saying import (
    LOCALES,
    MINUS,
    in_units,
    numbers_apart,
    say_amount,
    say_date,
    say_hour,
    say_list,
    say_number,
    say_setting,
    say_share,
    short_number,
)
from dashboard.language.tongue import LANGUAGES, _, in_these_words, many, speaker_note, speaking
from dashboard.page.dress import CAUTIONS
from dashboard.results import comparison_results
from dashboard.seasons.ends import fate_words
from dashboard.words.catalogues import (
    faults,
    languages,
    places_in,
    read_catalogue,
)
from dashboard.words.gathering import texts
from sim.cast import Fate
from sim.export import csv_bytes
from sim.scenario import load_scenario
from tests.dashboard.invented import comparison


def test_what_is_amiss_is_found(monkeypatch, tmp_path):
    monkeypatch.setattr("dashboard.words.catalogues.CATALOGUES", tmp_path)
    wanted = {"A net": ["here"], "{count} nets": ["here"], "Old": ["here"], ("one", "{count} many"): ["here"]}
    monkeypatch.setattr("dashboard.words.catalogues.texts", lambda: wanted)
    (tmp_path / "es.po").write_text(
        'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n'
        '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
        'msgid "{count} nets"\nmsgstr "{number} mallas"\n\n#, fuzzy\nmsgid "Old"\nmsgstr "Viejo"\n\n'
        'msgid "one"\nmsgid_plural "{count} many"\nmsgstr[0] "uno"\nmsgstr[1] "muchos"\n',
        encoding="utf-8",
    )
    assert dict(faults("es")) == {
        "A net": "has no words yet",
        "{count} nets": "has other places in braces",
        "Old": "is marked fuzzy",
        ("one", "{count} many"): "has other places in braces",
    }


def test_places_are_found():
    assert places_in("{a} and {b:g}") == {"{a}", "{b:g}"}


def test_a_language_is_spoken_only_inside_and_carried_along():
    with speaking("es", "us"):
        assert _("Compare") == "Comparar"
        assert many("every day", "every {count} days", 3).format(count=3) == "cada 3 días"
        later = in_these_words(lambda: (_("Compare"), say_amount(1, "kg")))
    assert _("Compare") == "Compare"
    assert later() == ("Comparar", "2.2 lb")


def test_a_text_that_no_catalogue_holds_is_said_as_it_is():
    with speaking("es"):
        assert _("my own plan") == "my own plan"
        assert _("") == ""
    with speaking("xx"):
        assert _("Compare") == "Compare"


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("day", [date(2025, 6, 12), date(2024, 2, 29), date(2025, 12, 1)])
def test_dates_are_written_as_readers_there_write_them(language, day):
    with speaking(language):
        assert say_date(day) == format_skeleton("MMMMd", day, locale=LOCALES[language])
        assert say_date(day.strftime("%m-%d")) == say_date(day)


@pytest.mark.parametrize(
    ("hour", "english", "spanish"), [(6, "6 AM", "6 a.m."), (18.0, "6 PM", "6 p.m."), (11.5, "11:30 AM", "11:30 a.m.")]
)
def test_hours_are_those_of_a_clock_on_the_wall(hour, english, spanish):
    assert say_hour(hour) == english
    with speaking("es"):
        assert say_hour(hour) == spanish


def test_the_two_ways_to_write_a_day():
    assert say_date("06-12") == "June 12"
    with speaking("es"):
        assert say_date("06-12") == "12 de junio"


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(("value", "decimals"), [(1234567.891, 2), (0.5, 1), (12345, 0), (-7.25, 1)])
def test_numbers_have_the_marks_of_their_readers(language, value, decimals):
    pattern = "#,##0." + "0" * decimals if decimals else "#,##0"
    with speaking(language):
        readers = format_decimal(value, format=pattern, locale=LOCALES[language]).replace("-", MINUS)
        assert say_number(value, decimals) == readers
        assert say_share(0.62) == format_percent(0.62, locale=LOCALES[language])


def test_marks_follow_the_language_and_not_the_machine(monkeypatch):
    monkeypatch.setitem(saying.LOCALES, "es", "es_ES")
    with speaking("es"):
        assert say_number(12345.6, 1) == "12.345,6"


def test_units_switch_apart_from_the_language():
    for language, units, said in (("en", "metric", "3.0 kg"), ("es", "us", "6.6 lb"), ("en", "us", "6.6 lb")):
        with speaking(language, units):
            assert say_amount(3, "kg") == said
    with speaking("es", "us"):
        assert say_amount(25, "m") == "82 pies"
        assert say_amount(20, "c") == "68 °F"
        assert saying.unit_named("g") == "onzas"
    assert in_units(5, "bees") == 5


@pytest.mark.parametrize(
    ("unit", "metric", "us"),
    [("kg", 0.453_592_37, 1), ("g", 28.349_523_125, 1), ("m", 0.3048, 1), ("m2", 0.092_903_04, 1),
     ("cm2", 6.4516, 1), ("mm", 25.4, 1), ("c", 100, 212), ("c", -40, -40), ("c_difference", 5, 9)],
)  # fmt: skip
def test_units_are_turned_as_their_definitions_say(unit, metric, us):
    """International yard and pound agreement of 1959: pound, inch, foot (exact); Fahrenheit's scale. From memory."""
    with speaking("en", "us"):
        assert in_units(metric, unit) == pytest.approx(us, rel=1e-6)
        assert saying.from_units(us, unit) == pytest.approx(metric, rel=1e-6)


def test_what_rounds_to_none_has_no_sign():
    assert [say_number(-0.4), say_number(-0.04, 1), say_number(-0.6)] == ["0", "0.0", f"{MINUS}1"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_one_sign_stands_before_all_that_is_less_than_none(language):
    with speaking(language, "us"):
        said = [short_number(-8), say_number(-1240.5, 1), say_setting(-0.25), say_amount(-30, "c"), say_share(-0.2)]
    assert [text[0] for text in said] == [MINUS] * len(said)
    assert not any("-" in text for text in said)


def test_lists_and_numbers_read_aloud():
    assert say_list(["kale", "lettuce", "collards"]) == "kale, lettuce and collards"
    assert [short_number(value) for value in (1240, 86.2, 7.44, 0.617, 0.001)] == ["1,240", "86", "7.4", "0.62", "0"]
    with speaking("en", "us"):
        assert short_number(0.0353) == "0.035"
    with speaking("es"):
        assert say_list(["repollo", "lechuga"]) == "repollo y lechuga"


def test_numbers_that_differ_do_not_read_alike_beside_their_places():
    assert numbers_apart([17.31, 16.92, 3.2]) == ["17.3", "16.9", "3.2"]
    assert numbers_apart([17.31, 17.34, 17.31]) == ["17.31", "17.34", "17.31"]
    assert numbers_apart([1240.0, 1240.0]) == ["1,240", "1,240"]
    assert numbers_apart([0.0012, 0.0004, 5.0]) == ["0.001", "0.000", "5.0"]


@pytest.mark.parametrize("language", languages())
def test_words_of_safety_say_that_no_speaker_has_checked_them(language):
    assert speaker_note() == ""
    with speaking(language):
        assert speaker_note()
        assert all(_(caution) != caution for caution in CAUTIONS)


@pytest.mark.parametrize("language", languages())
def test_the_trade_speaks_one_word_for_one_thing(language):
    catalogue = read_catalogue(language)
    for english, term in terms_of(language).items():
        assert term["known"] in ("from memory", "common practice, no source", "read")
        entry = catalogue.get(english)
        if entry is not None and entry.string:
            assert entry.string == term[language], english


@pytest.mark.parametrize("language", languages())
def test_no_sentence_falls_back_on_another_word_for_it(language):
    never = [word for term in terms_of(language).values() for word in term.get("never", "").split(", ") if word]
    refused = re.compile(rf"\b({'|'.join(map(re.escape, never))})\b", re.IGNORECASE)
    assert never
    assert {form for form in said_in(language) if refused.search(form)} == set()


def terms_of(language):
    text = (files("dashboard") / "words" / f"terms_{language}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)["terms"]


def said_in(language):
    """Yield every text of a catalogue as it is said, and every form of its plurals."""
    for message in read_catalogue(language):
        yield from [message.string] if isinstance(message.string, str) else message.string


@pytest.mark.parametrize("fate", Fate)
def test_the_end_of_one_insect_is_said_of_one(fate):
    with speaking("es"):
        assert not re.search(r"[ai]eron\b|aron\b", fate_words(fate)), fate_words(fate)


def test_spanish_quotes_are_of_one_kind_and_questions_open_as_they_close():
    for form in said_in("es"):
        assert not set("«»") & set(form), form
        assert form.count("“") == form.count("”"), form
        assert form.count("¿") == form.count("?"), form


def test_texts_are_found_wherever_they_are_said():
    found = texts()
    assert "On {date}:" in found, "a text inside an f-string"
    assert ("one plan", "{count} plans") in found, "a mistake's two sentences"
    assert ("every day", "every {count} days") in found
    assert "dashboard/screens/compare.py" in found["Which plan gives what?"]
    for text in ("Leaf bed", "Net with slack edges", "collards", "eaten by spider", "Covered two weeks late"):
        assert text in found, text


def test_english_reads_no_catalogue():
    script = (
        "import sys; from dashboard.command import parser; from dashboard.language.tongue import _; "
        "parser(); assert _('Compare') == 'Compare'; assert 'babel' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", script], check=True, timeout=60)


def test_files_are_the_same_in_every_language_and_unit(monkeypatch):
    monkeypatch.setattr("dashboard.results._extras", lambda *_: {})
    garden, figures = load_scenario("teaching_garden"), comparison()

    def files():
        results = comparison_results(figures, garden, figures.plans)
        return {name: csv_bytes(table) for name, table in results.tables.items()}, results.descriptions

    english = files()
    with speaking("es", "us"):
        assert files() == english
