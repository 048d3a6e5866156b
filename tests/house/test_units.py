"""Every number of nature spells its unit in one way: a unit of this list, then words that say of what."""

import re

import pytest

from sim.parameters import load_parameters

SYMBOLS = {
    *("1/cm²", "1/d", "1/d/°C", "1/degree-day (°C)", "1/min", "1/mm", "1/m²", "1/m²/d"),
    *("mm", "mm/d", "mm/mm", "cm", "cm²", "cm²/d", "cm²/g", "m", "m/s", "m²", "m²/d", "m²/min", "m²/m²"),
    *("mg", "mg/d", "mg/m²", "g", "g/cm³", "g dry matter/MJ PAR"),
    *("d", "d/°C", "h", "min", "min/m", "min/m²", "year", "°C", "°C^-0.5", "degree-day (°C)"),
    *("kJ/d", "kJ/g", "MJ PAR/m²/d", "US$", "US$/m", "US$/m²"),
}
"""Written as in a textbook."""

COUNTED = {
    *("adult", "aphid", "aphid/cm²", "aphid/plant", "bee", "cocoon", "egg", "female/d", "flower"),
    *("flower/degree-day (°C)", "insect", "instar", "larva", "leaf", "nymph", "plant", "prey", "pupa"),
    *("1/bird-day of contact", "1/visit", "min/plant", "min/unit", "s/plant", "US$/plant"),
}
"""What is counted, always named as one of it."""

PURE = {
    *("activity", "chance", "clear share", "degree of latitude", "factor", "power", "share", "standard deviation"),
    *("times", "yes 1, no 0"),
}
"""Numbers without a unit, by what they tell."""

UNITS = SYMBOLS | COUNTED | PURE
OTHER_SPELLINGS = re.compile(r"\bc?m[23]\b|\bdeg ?C\b|\bdegree-days?\b(?! \(°C\))|°C·d")


def unit_of(said):
    """Return the longest unit of the list that the words begin with, or nothing."""
    starts = [unit for unit in UNITS if said == unit or re.match(re.escape(unit) + "[ ,;:]", said)]
    return max(starts, key=len, default="")


@pytest.mark.parametrize("said", sorted({entry.unit for entry in load_parameters().values()}))
def test_a_unit_is_of_the_list(said):
    assert unit_of(said), f"'{said}' does not begin with a unit of this list; spell it as its kin, or add it here"
    assert not re.match("[²³·/^]", said.removeprefix(unit_of(said)))


@pytest.mark.parametrize("said", sorted({entry.unit for entry in load_parameters().values()}))
def test_a_unit_is_spelled_in_one_way_within_its_words_too(said):
    left = OTHER_SPELLINGS.findall(said)
    assert not left, f"'{said}': {left}"


def test_every_unit_of_the_list_is_used():
    assert {unit_of(entry.unit) for entry in load_parameters().values()} == UNITS


def test_other_spellings_are_found():
    assert [unit_of(said) for said in ("m2", "degC", "C", "days", "degree-day", "eggs")] == [""] * 6
    assert all(map(OTHER_SPELLINGS.search, ("eggs/m2", "deg C", "degree-days above base")))
