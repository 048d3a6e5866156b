"""The screens in another language and in other units: all of a screen changes, and what was chosen stays."""

import ast
import json
import re

import pytest

from dashboard.language.tongue import speaking
from dashboard.page.manner import FIRST
from tests.dashboard.test_page import QUESTIONS, app, one_desk, opened, text_of  # noqa: F401

ENGLISH = re.compile(r"\b(the|and|with|of|is|are|from|season|seasons|nothing|under|which|days)\b", re.IGNORECASE)
STATES = {"try_out": {"try": "net", "set": "pests.arrivals:2.0"}, "guess": {"harvest_order": "2.1.3"}}
LOCKED = {"harvest_order": "2.1.3", "birds_order": "1.2.3", "locked": "yes"}


@pytest.fixture(autouse=True)
def settings_of_the_dashboard(monkeypatch):
    """Show nothing by itself, as the served dashboard does: else notes in the code would stand on the screen."""
    monkeypatch.setattr("streamlit.runtime.scriptrunner.magic.add_magic", lambda body, path: ast.parse(body, path))


def said_on(page):
    """Return every word that a screen says, pictures and lists too; of a table that owns to English only the head."""
    kinds = ["title", "header", "subheader", "markdown", "info", "warning", "error", "caption", "button", "expander"]
    texts = [getattr(part, "value", None) or part.label for kind in kinds for part in getattr(page, kind)]
    for kind in ["selectbox", "multiselect", "segmented_control", "toggle", "number_input", "slider", "text_input"]:
        for part in getattr(page, kind):
            texts += [part.label, *getattr(part, "options", ())]
    for table in page.table:
        frame = table.value
        head = [str(column) for column in frame.columns]
        is_in_english = any("en inglés" in column for column in head)  # numbers and their notes, which say so
        texts += head + ([] if is_in_english else [str(cell) for cell in frame.to_numpy().ravel()])
    for chart in page.get("vega_lite_chart"):
        spec = json.loads(chart.proto.spec)
        texts += [found for found in strings(spec) if " " in found and "datum" not in found]
    return [text for text in texts if text]


def strings(part, field=""):
    if isinstance(part, dict):
        for name, inner in part.items():
            yield from strings(inner, name)
    elif isinstance(part, list):
        for inner in part:
            yield from strings(inner, field)
    elif isinstance(part, str) and field in ("title", "text", "labelExpr", "domain", "said", "label"):
        yield part


@pytest.mark.parametrize(
    ("screen", "words"),
    [*((screen, STATES.get(screen, {})) for screen in QUESTIONS), ("guess", LOCKED)],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_screen_in_spanish_says_nothing_in_english(app, screen, words):  # noqa: F811
    with speaking("es"):  # the test stands in for the browser, which knows the choices by their Spanish words
        page = opened(app, screen, garden="leaf_bed", lang="es", **words)
    assert page.title[0].value.startswith("¿")
    assert "".join(page.query_params["lang"]) == "es"
    english = [text for text in said_on(page) if ENGLISH.search(re.sub(r"`[^`]*`|\w+_\w+", "", text))]
    assert english == []


@pytest.mark.parametrize("screen", ["garden", "compare", "went"])
def test_in_english_the_same_words_are_found(app, screen):  # noqa: F811
    assert any(ENGLISH.search(text) for text in said_on(opened(app, screen, garden="leaf_bed")))


def test_the_switch_changes_the_language_and_keeps_what_was_chosen(app):  # noqa: F811
    page = opened(app, "compare", garden="leaf_bed")
    page = page.selectbox(key="measure").set_value("labour_minutes").run()
    page = page.segmented_control(key="count").set_value(1).run()
    assert page.header[0].value == "Minutes of work, 1 season"
    page = page.segmented_control(key="language chosen").set_value("es").run()
    assert page.header[0].value == "Minutos de trabajo, 1 temporada"
    with speaking("es"):
        page = page.segmented_control(key="language chosen").set_value("en").run()
    assert page.header[0].value == "Minutes of work, 1 season"
    assert "lang" not in page.query_params


def test_units_change_in_words_pictures_and_tables_in_either_language(app):  # noqa: F811
    with speaking("es"):
        page = opened(app, "compare", garden="leaf_bed", units="us", lang="es")
    spec = json.loads(page.get("vega_lite_chart")[0].proto.spec)
    assert "libras en la temporada" in set(strings(spec))
    pounds = [float(one) for one in page.table[0].value.iloc[:, 2]]
    assert " lb " in text_of(page)
    with speaking("es"):
        page = page.segmented_control(key="units chosen").set_value("metric").run()
    kilograms = [float(one) for one in page.table[0].value.iloc[:, 2]]
    assert pounds == pytest.approx([2.2046 * one for one in kilograms], rel=0.05)
    assert "units" not in page.query_params


def test_a_length_moved_in_feet_is_kept_in_meters(app):  # noqa: F811
    page = opened(app, "try_out", garden="leaf_bed", units="us", **{"try": "net", "set": "margin.hedgerow_m:30.0"})
    slider = next(one for one in page.slider if "ft" in one.label)
    assert (slider.value, slider.min, slider.step) == (98.0, 0.0, 1.0)
    assert "".join(page.query_params["set"]) == "margin.hedgerow_m:30.0"
    page = slider.set_value(100.0).run()
    assert "".join(page.query_params["set"]) == "margin.hedgerow_m:30.48"


def test_what_an_address_asks_for_and_is_not_there_is_told(app):  # noqa: F811
    page = opened(app, "garden", lang="tlh", units="cubits")
    told = [box.value for box in page.warning]
    assert any("lang = 'tlh'; allowed: en, es" in one for one in told)
    assert any("units = 'cubits'; allowed: metric, us" in one for one in told)
    assert page.session_state["language"] == FIRST["language"]


def test_a_link_to_hand_on_carries_the_language_along(app):  # noqa: F811
    with speaking("es"):
        page = opened(app, "garden", garden="leaf_bed", lang="es", units="us")
    assert any("lang=es&units=us" in part.value for part in page.code)
