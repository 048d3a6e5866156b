"""Every number of nature has a home, a source and a range; none hides in code."""

import io
import re
import tokenize
from importlib import import_module

import pytest

from sim.parameters import load_parameters
from sim.parameters.table import sources
from tests.house.files import ROOT, name_of, python_files

NO_SOURCE = "none"
WITHOUT_SOURCE = {"memory", "common practice", "derived"}

FORMULA_NUMBERS = {
    "sim/weather/daylight.py": {
        "0.0820": "solar constant of FAO-56, MJ per m² and minute",
        "0.033": "FAO-56 equation 23",
        "0.409": "FAO-56 equation 24",
        "1.39": "FAO-56 equation 24",
        "0.75": "FAO-56 equation 37",
    },
    "sim/weather/climate.py": {"28.25": "mean length of February in the calendar, days"},
    "sim/scenario/model.py": {"0.01": "smallest spacing that a file may state"},
}
"""Numbers of a named formula or of a stated limit, by file; all others belong in sim/parameters."""

UNIT_CONVERSIONS = {"0.001", "0.01", "0.0001", "10000.0", "25.4", "273.15", "0.0036"}


def precise_numbers(path):
    """Yield (line, text) of every number literal with two decimals or more."""
    readline = io.BytesIO(path.read_bytes()).readline
    for token in tokenize.tokenize(readline):
        if token.type == tokenize.NUMBER and re.fullmatch(r"\d*\.\d{2,}(e[+-]?\d+)?", token.string, re.IGNORECASE):
            yield token.start[0], token.string


@pytest.mark.parametrize("path", python_files("sim"), ids=name_of)
def test_no_number_of_nature_stands_in_code(path):
    allowed = FORMULA_NUMBERS.get(name_of(path), {}).keys() | UNIT_CONVERSIONS
    found = [f"line {line}: {text}" for line, text in precise_numbers(path) if text not in allowed]
    assert not found, f"{name_of(path)}: {'; '.join(found)}"


def test_every_exception_is_still_needed():
    for name, numbers in FORMULA_NUMBERS.items():
        assert set(numbers) <= {text for _, text in precise_numbers(ROOT / name)}, name


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


def test_a_derived_number_says_how():
    for key, entry in load_parameters().items():
        if entry.evidence == "derived":
            assert entry.note, f"{key} is derived: its note must say from what"


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
