"""Rows of numbers follow the cast: a place for each crop, insect, enemy or visitor, in the same order."""

import pytest

from sim.cast import CROPS, STAGES, Bee, Crop, Predator, Product, Species, Visitor, word
from sim.parameters import load_parameters
from tests.house.describe import ENEMIES

CASTS = [
    tuple(word(member) for member in members)
    for members in (Crop, Species, Visitor, Product, Bee, ENEMIES, list(Predator))
]
LIVES = ("moths.", "bugs_and_beetles.", "parasitoid.parasitoid_wasp.")
ROWS = {key: entry for key, entry in load_parameters().items() if isinstance(entry.value, tuple)}


def nearest_cast(axis):
    """Return the cast that shares most names with an axis, and how many of the axis's names it holds."""
    held = [len(set(cast) & set(axis)) - len(set(cast) ^ set(axis)) / 100 for cast in CASTS]
    return CASTS[held.index(max(held))], round(max(held))


@pytest.mark.parametrize("key", [key for key, entry in ROWS.items() if entry.axis])
def test_a_row_has_a_place_for_each_name_of_its_axis(key):
    entry = ROWS[key]
    assert len(entry.axis) == len(entry.value)
    cast, shared = nearest_cast(entry.axis)
    if shared > len(entry.axis) / 2:
        assert entry.axis == cast


@pytest.mark.parametrize("key", [key for key in ROWS if key.startswith("hosts.weights.")])
def test_each_insect_has_a_weight_for_each_crop(key):
    assert len(ROWS[key].value) == CROPS


@pytest.mark.parametrize("key", [key for key in ROWS if key.startswith(LIVES)])
def test_each_insects_row_has_a_place_for_each_stage(key):
    assert len(ROWS[key].value) == STAGES


def test_each_insect_and_each_product_has_its_entries():
    parameters = load_parameters()
    eaters = [word(species) for species in Species if species != Species.PARASITOID_WASP]
    every = [word(species) for species in Species]
    needed = {
        "hosts.weights": every,
        "arrivals.females_per_day.north": every,
        "arrivals.females_per_day.south": every,
        "birds.visibility": every,
        "birds.palatability": every,
        "labour.find": eaters,
        "labour.spot": eaters,
        **{f"sprays.{word(product)}.kill": eaters for product in Product},
        **{f"enemies.{name}_weight": [word(enemy) for enemy in ENEMIES] for name in ("stage", "species")},
    }
    for prefix, names in needed.items():
        found = [key.removeprefix(f"{prefix}.") for key in parameters if key.startswith(f"{prefix}.")]
        assert set(found) == set(names), prefix
