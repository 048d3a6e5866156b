"""Names of parameters in words say what is told and leave the unit to the column beside them."""

import pytest

from sim.parameters import load_parameters
from sim.parameters.spoken import key_in_words, name_in_words


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("base_c", "base temperature"),
        ("killed_below_c", "killed below"),
        ("harvest_dd", "harvest warmth"),
        ("leaf_total_cm2", "leaf total"),
        ("use_efficiency_g_mj", "use efficiency"),
        ("edge_leak_share", "edge leak share"),
    ],
)
def test_a_name_is_said_without_its_unit(name, words):
    assert name_in_words(name) == words


def test_a_key_is_said_with_its_table_and_a_flat_one_with_its_file():
    assert key_in_words("moths.cabbage_white.leaf_total_cm2") == "cabbage white: leaf total"
    assert key_in_words("nets.edge_leak_share") == "nets: edge leak share"


def test_two_numbers_of_one_file_are_not_called_the_same():
    said = [(key.split(".")[0], *map(name_in_words, key.split(".")[1:])) for key in load_parameters()]
    assert len(said) == len(set(said))
