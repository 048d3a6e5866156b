"""Every number of nature has a home, a source and a range; none hides in code."""

import io
import re
import tokenize
from dataclasses import replace
from importlib import import_module

import pytest

from sim.cast import Bird, Crop, Predator, Product, Species, Stage, Visitor, word
from sim.parameters import load_parameters
from sim.parameters.table import sources
from sim.scenario.model import Birds, Pests
from tests.house.files import ROOT, name_of, python_files

NO_SOURCE = "none"
WITHOUT_SOURCE = {"memory", "common practice", "derived"}
FEWEST_WORDS = 3
PLAIN_IN_BRACKETS = {"abstract", "cucumber", "memory", "read", "tulle", "weak"}

NO_MODEL = ("sim/patterns/",)
"""Trial gardens state amounts as a garden file does."""
SIMPLE = {"0.0", "0.5", "1.0", "2.0", "3.0"}
"""Nothing, all, halves, and the roots and powers of plain geometry."""
FORMULA_NUMBERS = {
    "sim/crops/grades.py": {"36.0": "surface of a sphere by its volume: 36 pi V², cube root"},
    "sim/crops/growth.py": {"36.0": "surface of a sphere by its volume: 36 pi V², cube root"},
    "sim/enemies/generalists.py": {"1e-12": "keeps a logarithm finite"},
    "sim/insects/aphid_colony.py": {"1e-12": "keeps a logarithm finite"},
    "sim/insects/weighing.py": {"50.0": "keeps a logarithm finite"},
    "sim/crops/leaves.py": {"0.01": "how a season is told"},
    "sim/layout.py": {"0.6": "width of paths: how a garden is laid out here"},
    "sim/practices/nets.py": {"12.0": "noon"},
    "sim/randomness.py": {"9007199254740992.0": "2 ** 53", "400.0": "keeps exp(-mean) from vanishing"},
    "sim/scenario/actions.py": {"20.0": "a setting's usual value", "15.0": "a setting's usual value"},
    "sim/scenario/values.py": {
        "23.5": "latitude where the tropics end",
        "66.0": "latitude beyond which a day may have no night",
    },
    "sim/sensitivity/uncertain.py": {
        "5.0": "a point of a sweep",
        "10.0": "a point of a sweep",
        "20.0": "a point of a sweep",
        "4.0": "a point of a sweep",
    },
    "sim/uncertainty.py": {"1e-9": "what counts as level"},
    "sim/work.py": {"1e-9": "what counts as nothing left"},
    "sim/workers.py": {"1.2": "seconds that a process takes to start"},
    "sim/weather/generator.py": {"9.0": "Marsaglia and Tsang 2000: c = 1 / sqrt(9 d)"},
    "sim/weather/reading.py": {"9999.0": "a station's code for no value"},
    "sim/weather/units.py": {"1.8": "degrees Fahrenheit a degree Celsius", "32.0": "freezing in Fahrenheit"},
    "sim/weather/daylight.py": {
        "0.0820": "solar constant of FAO-56, MJ per m² and minute",
        "0.033": "FAO-56 equation 23",
        "0.409": "FAO-56 equation 24",
        "1.39": "FAO-56 equation 24",
        "0.75": "FAO-56 equation 37",
        "2e-5": "FAO-56 equation 37",
        "365.0": "days of a year",
    },
    "sim/weather/climate.py": {
        "28.25": "mean length of February in the calendar, days",
        "30.0": "days of a month",
        "31.0": "days of a month",
    },
    "sim/scenario/model.py": {
        "0.01": "smallest spacing that a file may state",
        "0.2": "least rain that a file may state, times the usual",
        "1.3": "most vigour that a file may state",
        "120.0": "a setting's usual value",
    },
}
"""Numbers of a named formula or of a stated limit, by file; all others belong in sim/parameters."""

UNIT_CONVERSIONS = {"1000.0", "10_000.0", "10000.0", "100.0", "10.0", "24.0", "25.4", "60.0"}


def fractions(path):
    """Yield (line, text) of every literal with a point or an exponent that is none of the simple ones."""
    readline = io.BytesIO(path.read_bytes()).readline
    for token in tokenize.tokenize(readline):
        if token.type == tokenize.NUMBER and re.search(r"[.e]", token.string) and token.string not in SIMPLE:
            yield token.start[0], token.string


@pytest.mark.parametrize("path", [p for p in python_files("sim") if not name_of(p).startswith(NO_MODEL)], ids=name_of)
def test_no_number_of_nature_stands_in_code(path):
    allowed = FORMULA_NUMBERS.get(name_of(path), {}).keys() | UNIT_CONVERSIONS
    found = [f"line {line}: {text}" for line, text in fractions(path) if text not in allowed]
    assert not found, f"{name_of(path)}: {'; '.join(found)}"


def test_every_exception_is_still_needed():
    for name, numbers in FORMULA_NUMBERS.items():
        assert set(numbers) <= {text for _, text in fractions(ROOT / name)}, name


def test_every_parameter_has_a_source_that_is_in_the_bibliography():
    for key, entry in load_parameters().items():
        if entry.source == NO_SOURCE:
            assert entry.evidence in WITHOUT_SOURCE, f"{key} is said to be read, but where?"
        else:
            assert entry.source in sources(), f"{key} cites '{entry.source}'"


def test_every_parameter_has_a_unit_and_a_range():
    for key, entry in load_parameters().items():
        assert entry.unit, key
        assert all(low <= value <= high for low, value, high in entry.bounds()), key


def keys_in(note):
    """Return the words of a note that look like a key: of a source (``gc08``, ``haque_shade``) or of a number."""
    return re.findall(r"(?<![\w.])(?:[a-z]+\d{2}\w*|[a-z]\w*_\w+|[a-z_]+\.[a-z]\w*)(?:\.\w+)*", note)


def numbers_in(note):
    return [word for word in keys_in(note) if word in set(load_parameters())]


def has_an_origin(entry):
    """Return whether a number that is worked out names what from, a source or another number, and a few words how."""
    others = [key for key in numbers_in(entry.note) if key != entry.key]
    return (entry.source != NO_SOURCE or bool(others)) and len(entry.note.split()) > FEWEST_WORDS


def confesses(note):
    """Return whether a note says that the size itself was not worked out from anything read."""
    return bool(re.search(r"sizes? (?:set|chosen|from memory)|size is |set here|no measured figure|assumption", note))


def test_a_derived_number_says_from_what_and_how():
    table = load_parameters()
    assert [key for key, entry in table.items() if entry.evidence == "derived" and not has_an_origin(entry)] == []


def test_a_number_whose_size_is_from_memory_is_not_called_derived():
    said = [key for key, entry in load_parameters().items() if entry.evidence == "derived" and confesses(entry.note)]
    assert said == []


def test_a_number_worked_out_from_others_rests_on_some_that_were_read():
    table = load_parameters()
    for key, entry in table.items():
        if entry.evidence == "derived" and entry.source == NO_SOURCE:
            named = {table[other].evidence for other in numbers_in(entry.note)}
            assert named & {"read", "derived"}, f"{key} rests on memory alone"


def test_a_derived_number_without_an_origin_would_be_found():
    entry = replace(
        load_parameters()["crops.fruit.self_fruitful_shape"], note="from body size; no measured figure found"
    )
    assert not has_an_origin(entry)
    assert confesses(entry.note)
    assert has_an_origin(replace(entry, note="half of crops.fruit.set_at_most, rounded"))
    assert not has_an_origin(replace(entry, source="gc08", note="two peaks"))


def test_every_key_in_a_note_is_of_a_source_or_of_a_number():
    known = set(sources()) | set(load_parameters())
    settings = {
        f"{part}.{name}" for part, fields in (("pests", Pests), ("birds", Birds)) for name in fields.model_fields
    }
    for key, entry in load_parameters().items():
        unknown = [word for word in keys_in(entry.note) if word not in known | settings]
        assert not unknown, f"{key}: {', '.join(unknown)}"


def test_a_lone_word_in_brackets_is_plain_or_the_key_of_a_source():
    """A key of letters only, as ``tsw``, looks like any word: only in brackets is it told from one."""
    for key, entry in load_parameters().items():
        lone = set(re.findall(r"\(([a-z]+)[):;]", entry.note)) - PLAIN_IN_BRACKETS - set(sources())
        assert not lone, f"{key}: {', '.join(lone)}"


def test_keys_are_told_from_words():
    assert keys_in("13.8 in gc08; 5 cm2 (haque_shade), as pests.stay_share. Other words.") == [
        *("gc08", "haque_shade", "pests.stay_share")
    ]


def test_a_number_whose_name_no_code_says_is_read_by_nobody():
    everybody = {word(member) for cast in (Species, Visitor, Product, Crop, Bird, Stage) for member in cast}
    everybody |= {word(enemy) for enemy in Predator}
    said = {name for path in python_files("sim") for name in re.findall(r"\w+", path.read_text(encoding="utf-8"))}
    names = {key: [part for part in key.split(".")[1:] if part not in everybody][-1] for key in load_parameters()}
    assert [key for key, name in names.items() if name not in said] == [], "read it where its guild builds its records"


def test_a_unit_is_in_words():
    assert [key for key, entry in load_parameters().items() if entry.unit == "1"] == []


def test_every_source_says_who_what_where_and_what_was_read():
    for key, entry in sources().items():
        assert {"author", "year", "title", "where", "read"} <= set(entry), key


def test_every_source_is_used():
    import_checks()
    from tests.outside.register import CHECKS

    words = set()
    for path in [*(ROOT / "sim").rglob("*.toml"), *(ROOT / "scenarios").rglob("*.toml"), *python_files("sim", "tests")]:
        if path.name != "sources.toml":
            words |= set(re.findall(r"[a-z0-9_]+", path.read_text(encoding="utf-8")))
    unused = [key for key in sources() if key not in words | {check.source for check in CHECKS}]
    assert not unused


def import_checks():
    for path in python_files("tests/outside"):
        import_module(name_of(path).removesuffix(".py").removesuffix("/__init__").replace("/", "."))
