"""What is wrong with a file is said in Spanish from end to end."""

from __future__ import annotations

import pytest

from dashboard.saying import say_error, say_sentence
from dashboard.teaching.reading import read_lesson_text
from dashboard.tongue import speaking
from sim.errors import LeafnestError, tell
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
        f"No hay ningún ajuste 'pests.arivals' en el escenario '{garden.name}'. "
        "¿Quiso decir 'pests.arrivals' o 'pests.harlequin_bug' o 'pests.stay_share'?"
    )


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
        ("", "No se puede usar el archivo de tiempo 'days.csv': el archivo está vacío."),
        (
            "date,tmin_c,tmax_c,rain_mm\n2024-05-01,20,10,0\n",
            "No se puede usar el archivo de tiempo 'days.csv': línea 2: tmin 20 °C pasa de tmax 10 °C; "
            "como mucho pueden ser iguales.",
        ),
        (
            "date,tmin_c,tmax_c,rain_mm\n2024-05-01,x,10,0\n",
            "No se puede usar el archivo de tiempo 'days.csv': línea 2: tmin es 'x'; se admite un número o nada.",
        ),
    ],
)
def test_a_weather_file(tmp_path, text, said):
    assert weather_said(tmp_path, text) == said


def test_a_lesson_with_a_key_that_is_not_known():
    said = said_in_spanish(read_lesson_text, "titel = 'x'\n", "mine.toml", None)
    assert said.startswith("mine.toml, línea 1: no existe la clave 'titel'; aquí se admite: ")
    assert "¿Quiso decir 'title'" in said


def test_a_number_of_nature_out_of_its_range():
    table = load_parameters()
    key = next(iter(table))
    said = said_in_spanish(table.with_changes, {key: 1e12})
    assert "; su rango es de " in said


def test_english_stays_as_it_is_told():
    sentence = tell("There is no parameter '{key}'.{near}", key="x", near="")
    assert say_sentence(sentence) == sentence


def test_a_text_that_is_no_sentence_is_not_looked_up():
    with speaking("es"):
        assert say_sentence("nothing") == "nothing"
        assert say_sentence(tell("nothing")) == "nada"
