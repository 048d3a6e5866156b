"""What is wrong with a file is said in Spanish from end to end."""

from __future__ import annotations

import pytest

from dashboard.brought.own_files import Brought
from dashboard.codes.letters import read_letters
from dashboard.language.saying import say_error, say_sentence
from dashboard.language.tongue import speaking
from dashboard.lesson.reading import read_lesson_text
from dashboard.sharing.share import Share
from sim.errors import LeafnestError, tell, tell_many
from sim.parameters import load_parameters
from sim.scenario import load_scenario
from sim.scenario.files import read_scenario_text
from sim.weather.files import read_weather

GOOD = "name = 'x'"


def said_in_spanish(do, *given, **named):
    with pytest.raises(LeafnestError) as caught:
        do(*given, **named)
    with speaking("es"):
        return say_error(caught.value)


def weather_said(tmp_path, text):
    file = tmp_path / "days.csv"
    file.write_text(text, encoding="utf-8")
    return said_in_spanish(read_weather, file, latitude_deg=40.0, elevation_m=10.0)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "mine.toml, línea 1: el archivo está vacío; se admite: un escenario como el que escribe “leafnest new”."),
        (
            "name = 3 3",
            "mine.toml, línea 1: esto no es TOML (falta un fin de línea después de un valor en la columna 10); "
            'se admite: clave = valor, con texto entre "comillas", y títulos [tabla].',
        ),
    ],
)
def test_a_file_that_is_no_scenario(text, said):
    assert said_in_spanish(read_scenario_text, text, "mine.toml", None) == said


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ('a = "x\n"', "un signo que no se admite, '\\n'"),
        ("a = 'x", 'falta "\'"'),
        ("[a\nb = 1", "falta ']'"),
        ("[a]\n[a]", "'a' no se puede declarar dos veces"),
        ('a = "\\q"', "una barra inversa sin escapar en un texto"),
    ],
)
def test_a_slip_in_a_file(text, why):
    assert f"esto no es TOML ({why}" in said_in_spanish(read_scenario_text, text, "mine.toml", None)


def test_a_key_that_is_not_known_and_those_near_it():
    garden = load_scenario("teaching_garden")
    assert said_in_spanish(garden.with_changes, {"pests.arivals": 2}) == (
        f"No hay ningún ajuste 'pests.arivals' en el escenario '{garden.name}'. ¿Quiso decir 'pests.arrivals'?"
    )
    assert "¿Quiso decir 'pests.cabbage_white' o " in said_in_spanish(garden.with_changes, {"pests.cabbage_moth": 2})


def test_a_value_out_of_range():
    garden = load_scenario("teaching_garden")
    assert said_in_spanish(garden.with_changes, {"pests.arrivals": -1}) == (
        f"Escenario '{garden.name}': 'pests.arrivals' es -1; se admite: un número de 0 a 1000."
    )


def test_a_plan_that_is_not_there():
    said = said_in_spanish(load_scenario("teaching_garden").actions_of, "nett")
    assert said.startswith("No hay ningún plan 'nett' en '")
    assert "; se admite: " in said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "No se puede usar el archivo de clima 'days.csv': el archivo está vacío."),
        (
            "date,tmin_c,tmax_c,rain_mm\n2024-05-01,20,10,0\n",
            "No se puede usar el archivo de clima 'days.csv': línea 2: tmin 20 °C pasa de tmax 10 °C; "
            "como mucho pueden ser iguales.",
        ),
        (
            "date,tmin_c,tmax_c,rain_mm\n2024-05-01,x,10,0\n",
            "No se puede usar el archivo de clima 'days.csv': línea 2: tmin es 'x'; se admite un número o nada.",
        ),
    ],
)
def test_a_weather_file(tmp_path, text, said):
    assert weather_said(tmp_path, text) == said


def test_a_lesson_with_a_key_that_is_not_known():
    said = said_in_spanish(read_lesson_text, "titel = 'x'\n", "mine.toml", None)
    assert said.startswith("mine.toml, línea 1: aquí no existe la clave 'titel'; se admite: ")
    assert "¿Quiso decir 'title'" in said


def test_a_number_of_nature_out_of_its_range():
    table = load_parameters()
    key = next(iter(table))
    said = said_in_spanish(table.with_changes, {key: 1e12})
    assert "; su rango es de " in said


def test_one_is_told_otherwise_than_several(tmp_path):
    """A table whose only row has one cell, and one whose only row has two."""
    head = "date,tmin_c,tmax_c,rain_mm\n"
    assert "línea 2: hay una celda y el encabezado tiene 4." in weather_said(tmp_path, f"{head}2024-05-01\n")
    assert "línea 2: hay 2 celdas y el encabezado tiene 4." in weather_said(tmp_path, f"{head}2024-05-01,3\n")


def test_each_language_has_its_own_rule_for_one():
    for count, english, spanish in ((1, "one plan", "un plan"), (2, "2 plans", "2 planes"), (0, "0 plans", "0 planes")):
        said = tell_many("one plan", "{count} plans", count)
        assert say_sentence(said) == english
        with speaking("es"):
            assert say_sentence(said) == spanish


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("", "El código tiene 0 letras; un código tiene 8 por lo menos y 600 como máximo."),
        ("a", "El código tiene una letra; un código tiene 8 por lo menos y 600 como máximo."),
        ("a!", "El código tiene “!”; un código lleva cifras"),
    ],
)
def test_a_code_that_is_none(code, said):
    assert said_in_spanish(read_letters, code).startswith(said)


def test_a_file_that_is_too_large():
    said = said_in_spanish(Brought, "mine.toml", b" " * (3 << 20))
    assert said.startswith("mine.toml tiene 3.0 MB; se permiten 2 MB.")


def test_a_computer_in_no_network(monkeypatch):
    monkeypatch.setattr("dashboard.sharing.share.local_addresses", list)
    assert said_in_spanish(Share().start).startswith("Esta computadora no está en ninguna red.")


def test_an_error_keeps_its_words_until_a_language_is_spoken(monkeypatch):
    """Raised in Spanish and shown in English: the page that shows it chooses."""
    monkeypatch.setattr("dashboard.sharing.share.local_addresses", list)
    with speaking("es"), pytest.raises(LeafnestError) as caught:
        Share().start()
    assert say_error(caught.value).startswith("This computer is in no network.")


def test_english_stays_as_it_is_told():
    sentence = tell("There is no parameter '{key}'.{near}", key="x", near="")
    assert say_sentence(sentence) == sentence


def test_a_text_that_is_no_sentence_is_not_looked_up():
    with speaking("es"):
        assert say_sentence("nothing") == "nothing"
        assert say_sentence(tell("nothing")) == "nada"


def test_a_rule_without_a_count_has_nothing_and_not_no_figure():
    plan = {"name": "x", "title": "X", "actions": [{"do": "spray_at_threshold", "product": "bt"}]}
    said = said_in_spanish(load_scenario("leaf_bed").with_changes, {"plans": [plan]})
    assert " tiene: nada; se admite: al menos uno de " in said
