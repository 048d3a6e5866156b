"""Notes of numbers as a reader meets them: authors and years in place of keys."""

import re

import numpy as np
import pytest

from dashboard.citing import full_source, sources_in, without_keys
from dashboard.language.saying import MINUS, with_minus
from dashboard.origins import found, origins
from dashboard.screens.origin import value_words
from sim.parameters import load_parameters
from sim.parameters.table import sources


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ("7 or 8 in 68 % of nests (gc08).", "7 or 8 in 68 % of nests (Gaddis, Corkran, 2008)."),
        ("13.8 in gc08.", "13.8 in Gaddis, Corkran, 2008."),
        ("at hatching (pug: 1 g)", "at hatching (Encyclopedia of Puget Sound: 1 g)"),
        ("a bird with a hook at the bill", "a bird with a hook at the bill"),
        ("half of crops.fruit.set_at_most.", "half of “fruit: set at most”."),
        ("1/d above the mean of heat_death_c", "1/d above the mean of heat death temperature"),
        ("may be set as pests.stay_share", "may be set as pests.stay_share"),
        ("5 cm2 of leaf, k_Rs of eq. 50", "5 cm2 of leaf, k_Rs of eq. 50"),
    ],
)
def test_keys_are_told_in_words(note, said):
    assert without_keys(note) == said


def test_a_note_names_its_sources_and_not_words_that_are_also_keys():
    assert sources_in("Eighteen generations (har66, abstract); a hook, and one (pug: 1 g)") == {"har66", "pug"}


def test_a_source_is_told_in_full():
    assert full_source("gc08").startswith("Gaddis, Corkran (2008). Reproduction of the chestnut-backed chickadee.")
    assert full_source("none") == ""


def test_no_bare_key_of_a_source_is_left_in_a_row():
    keys = "|".join(key for key in sources() if not key.isalpha())
    assert [row.key for row in origins() if re.search(rf"\b(?:{keys})\b", f"{row.note} {row.unit} {row.source}")] == []
    assert any(re.search(rf"\b(?:{keys})\b", entry.note) for entry in load_parameters().values())


def test_words_are_looked_for_at_their_beginning():
    keys = {row.key for row in found("hole", "", "")}
    assert "crops.grades.leaf_limit_share" in keys
    assert keys.isdisjoint(row.key for row in found("whole", "", "") if not re.search(r"\bholes?\b", row.note.lower()))
    assert found("whole", "", "")
    assert not found("ole", "", "")


def test_every_word_that_is_looked_for_must_be_there():
    assert [row.key for row in found("leaf 0.03 strictest", "", "")] == ["crops.grades.leaf_limit_share"]
    assert not found("strictest nowhere", "", "")


def test_each_of_a_row_of_numbers_stands_beside_whom_it_is_for():
    rows = {row.key: row for row in origins()}
    entries = load_parameters()
    for key, entry in entries.items():
        told = value_words(rows[key])
        names = re.findall(r"([^,;]+) \*\*[^*]+\*\*", told)
        assert len(names) == len(entry.axis)
        for (low, value, high), name in zip(entry.bounds(), names, strict=False):
            low, value, high = (with_minus(f"{number:g}") for number in (low, value, high))
            each = f"{name} **{value}**"
            assert each in told
            assert f"{each} ({low} to {high})" in told or told.endswith(f"range {low} to {high}")
    below = [key for key, entry in entries.items() if min(np.ravel(entry.low)) < 0]
    assert below
    assert all(
        MINUS in value_words(rows[key]) and not re.search(r"(?<!\w)-\d", value_words(rows[key])) for key in below
    )
    told = value_words(rows["crops.warmth.harvest_dd"])
    assert told.startswith("collard **1280** (896 to 1790), kale **1150** (805 to 1610), ")
    assert told.endswith("; degree-day (°C), range in brackets")
    assert value_words(rows["aphids.base_c"]) == "**6.7** °C, range 4.7 to 7.1"


def test_a_number_is_found_by_whom_it_is_for():
    assert "crops.warmth.harvest_dd" in {row.key for row in found("kohlrabi harvest warmth", "crops", "")}
