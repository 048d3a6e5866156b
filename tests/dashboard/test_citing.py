"""Notes of numbers as a reader meets them: authors and years in place of keys."""

import re

import pytest

from dashboard.citing import full_source, sources_in, without_keys
from dashboard.origins import found, origins
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
    assert [row.key for row in origins() if re.search(rf"\b(?:{keys})\b", f"{row.note} {row.unit}")] == []
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
