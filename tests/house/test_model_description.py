"""The model's description says what the code does: its parts, the day's order, fates, numbers, files."""

import re
from fnmatch import fnmatch

import pytest

from sim.cast import HAZARDS, Fate, word
from sim.parameters import load_parameters
from tests.house.describe import GENERATED, LEAST_CERTAIN, MODEL, written_in
from tests.house.files import ROOT

ELEMENTS = [
    "1. Purpose and patterns",
    "2. Entities, state variables and scales",
    "3. Process overview and scheduling",
    "4. Design concepts",
    "5. Initialization",
    "6. Input data",
    "7. Submodels",
]
CONCEPTS = [
    "Basic principles",
    "Emergence",
    "Adaptation",
    "Objectives",
    "Learning",
    "Prediction",
    "Sensing",
    "Interaction",
    "Stochasticity",
    "Collectives",
    "Observation",
]
LEFT_OUT = "What the model leaves out, and which way that bends the result"
FEWEST_LEFT_OUT = 20
TEXT = MODEL.read_text(encoding="utf-8")


def part(title):
    """Return the text below a second-level heading."""
    return re.search(rf"^## {re.escape(title)}\n(.*?)(?=^## |\Z)", TEXT, re.MULTILINE | re.DOTALL)[1]


def cells(text):
    """Return the rows of the first table in a text, without its head."""
    rows = [line for line in text.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in row.strip("|").split("|")] for row in rows[2:]]


def keys_named():
    """Return everything set in code type that could be a parameter's key or a pattern of keys."""
    guilds = {key.split(".")[0] for key in load_parameters()}
    words = re.findall(r"`([a-z_]+\.[a-z0-9_.*]+)`", TEXT)
    return {name for name in words if name.split(".")[0] in guilds and not name.endswith(".toml")}


def test_it_has_the_protocols_elements_in_order():
    numbered = [title for title in re.findall(r"^## (.*)$", TEXT, re.MULTILINE) if title[0].isdigit()]
    assert numbered == ELEMENTS


def test_it_answers_all_design_concepts_in_order():
    concepts = part("4. Design concepts")
    assert re.findall(r"^### (.*)$", concepts, re.MULTILINE) == CONCEPTS
    for answer in re.split(r"^### .*$", concepts, flags=re.MULTILINE)[1:]:
        assert len(answer.split()) > 10
        if "ot applicable" in answer:
            assert "Not applicable, because" in answer


@pytest.mark.parametrize("name", GENERATED)
def test_what_is_counted_is_up_to_date(name):
    assert written_in(TEXT, name) == GENERATED[name](), "run: python -m tests.house.describe --write"


def test_every_fate_is_there_and_told_apart():
    rows = cells(part("4. Design concepts"))
    assert [row[0].strip("`") for row in rows] == [word(fate) for fate in Fate]
    assert [row[1] for row in rows] == ["yes" if fate < HAZARDS else "no" for fate in Fate]


def test_every_key_named_is_a_parameter_and_every_parameter_belongs_to_a_submodel():
    parameters, named = load_parameters(), keys_named()
    for name in named:
        assert any(fnmatch(key, name) for key in parameters), f"{name} names no parameter"
    for key in parameters:
        assert any(fnmatch(key, name) for name in named), f"{key} belongs to no submodel of MODEL.md"
    assert all(key in parameters for keys in LEAST_CERTAIN.values() for key in keys)


def test_every_process_file_of_the_model_is_named():
    named = set(re.findall(r"`((?:sim|scenarios|tests)/[\w/.*]+)`", TEXT))
    for name in named:
        assert list(ROOT.glob(name)), f"{name} is not there"
    for folder in ("crops", "insects", "enemies", "birds", "practices"):
        assert any(name.startswith(f"sim/{folder}/") for name in named), folder


def test_it_says_what_is_left_out_and_which_way_that_bends():
    rows = cells(part(LEFT_OUT))
    assert len(rows) >= FEWEST_LEFT_OUT
    assert all(len(row) == 2 and all(row) for row in rows)
    assert len({row[0] for row in rows}) == len(rows)


def test_the_page_for_teachers_comes_first_and_fits_a_page():
    titles = re.findall(r"^## (.*)$", TEXT, re.MULTILINE)
    assert titles[0] == "A page for teachers"
    assert len(part(titles[0]).split()) < 500
