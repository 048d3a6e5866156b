"""Clutches: noted while mothers fly, laid by species and bed, each egg with the key of its number."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cast import SPECIES, Entry, Fate, Species, Stage
from sim.compiled import records
from sim.crops.plant import LEAVES
from sim.insects.clutches import CLUTCH, lay, note_clutch, put_in_order
from sim.insects.record import IN_SOIL, INSECT
from sim.randomness import child_key
from tests.sim.insect_records import TABLE, flier_of, insects, plants_and_leaves

BEDS = 3
WHITE, FLEA = Species.CABBAGE_WHITE, Species.FLEA_BEETLE


def blank(number: int = 20):
    return records(np.zeros(number, CLUTCH))


def mother(**values):
    return insects(1, WHITE, Stage.ADULT, **values)[0]


def test_a_visit_takes_its_eggs_from_those_that_are_ripe() -> None:
    clutches, female = blank(), mother(eggs_ready=7.5, offspring=12, inside=1)
    noted = note_clutch(female, 4, 2, flier_of(eggs_per_visit=3.0), clutches, 0)
    assert noted == 1
    assert (female["eggs_ready"], female["offspring"]) == (4.5, 15)
    clutch = clutches[0]
    assert (clutch["mother"], clutch["first"], clutch["eggs"]) == (female["key"], 12, 3)
    assert (clutch["species"], clutch["bed"], clutch["plant"], clutch["inside"]) == (WHITE, 2, 4, 1)


@pytest.mark.parametrize(("ripe", "of_a_visit"), [(2.9, 3.0), (10.0, 0.0)])
def test_too_few_eggs_or_a_kind_that_lays_none_leave_no_clutch(ripe, of_a_visit) -> None:
    clutches, female = blank(), mother(eggs_ready=ripe)
    assert note_clutch(female, 0, 0, flier_of(eggs_per_visit=of_a_visit), clutches, 0) == 0
    assert (female["eggs_ready"], female["offspring"]) == (ripe, 0)


@given(st.lists(st.tuples(st.integers(0, SPECIES - 1), st.integers(0, BEDS - 1)), max_size=20))
def test_they_are_put_in_order_by_species_and_bed_and_stay_in_turn_among_like_ones(kinds) -> None:
    clutches = blank()
    for place, (species, bed) in enumerate(kinds):
        clutches[place]["species"], clutches[place]["bed"] = species, bed
    order = np.zeros(len(clutches), np.int64)
    put_in_order(clutches, len(kinds), BEDS, np.zeros(SPECIES * BEDS + 1, np.int64), order)
    assert order[: len(kinds)].tolist() == sorted(range(len(kinds)), key=lambda place: (*kinds[place], place))


@pytest.mark.parametrize(("species", "is_in_soil"), [(WHITE, False), (FLEA, True)])
def test_eggs_are_laid_on_leaves_or_in_soil_with_the_keys_of_their_numbers(species, is_in_soil) -> None:
    plants, leaves = plants_and_leaves(2)
    clutches, young = blank(), records(np.zeros(10, INSECT))
    clutches[0]["mother"], clutches[0]["first"], clutches[0]["eggs"] = 99, 5, 4
    clutches[0]["species"], clutches[0]["plant"], clutches[0]["bed"], clutches[0]["inside"] = species, 1, 2, -1
    count = lay(clutches[0], young, 3, TABLE.life, TABLE.fliers, plants, leaves, 8)
    eggs = young[3:count]
    assert count == 7
    assert eggs["key"].tolist() == [child_key(np.uint64(99), number) for number in range(5, 9)]
    alike = {"stage": Stage.EGG, "fate": Fate.ALIVE, "entry": Entry.BORN, "species": species}
    for name, value in (alike | {"bed": 2, "plant": 1, "inside": -1}).items():
        assert (eggs[name] == value).all()
    on_leaves = (eggs["place"] >= 0) & (eggs["place"] < LEAVES)
    assert (eggs["place"] == IN_SOIL).all() if is_in_soil else on_leaves.all()
    assert not young["key"][[0, 1, 2, 7, 8, 9]].any()
