"""What draws fliers: hosts in leaf, in the beds where they stand, and those that no net keeps them from."""

import numpy as np
import pytest

from sim.cast import CROPS, SPECIES, Crop, Species
from sim.compiled import records
from sim.crops.plant import PLANT
from sim.insects.attraction import ALL, BARE, LISTS, draw_fliers, find_host, like_plants
from sim.insects.table import insect_table
from sim.parameters import load_parameters

TABLE = insect_table(load_parameters())
WHITE, BEETLE = int(Species.CABBAGE_WHITE), int(Species.CUCUMBER_BEETLE)
BEDS, IN_BED = 4, 3
PLANTS = BEDS * IN_BED


class Draws:
    """Four beds of three plants each (kale, cucumber, bare soil, kale) and what draws whom to them."""

    def __init__(self) -> None:
        self.plants = records(np.zeros(PLANTS, PLANT))
        self.plants["bed"] = np.arange(PLANTS) // IN_BED
        self.plants["crop"] = np.repeat([Crop.KALE, Crop.CUCUMBER, Crop.KALE, Crop.KALE], IN_BED)
        self.plants["is_growing"], self.plants["leaf_area_cm2"] = 1, 100.0 * (1 + np.arange(PLANTS))
        self.plants["is_growing"][6:9] = 0
        self.gets_in = np.ones((BEDS, SPECIES))
        self.hosts = np.zeros((LISTS, SPECIES, PLANTS), np.int64)
        self.sums = np.zeros((LISTS, SPECIES, PLANTS + 1))
        self.guide = np.zeros((LISTS, SPECIES, PLANTS + 1), np.int64)
        self.first = np.zeros((LISTS, SPECIES, BEDS + 1), np.int64)
        self.netted = np.zeros(SPECIES, np.uint8)

    def write(self) -> None:
        liking, has_hosts = np.zeros((SPECIES, PLANTS)), np.zeros((SPECIES, BEDS), np.uint8)
        like_plants(self.plants, TABLE.fliers, TABLE.host_weights, liking, has_hosts)
        standing = np.flatnonzero(self.plants["is_growing"])
        draw_fliers(
            standing, self.plants, self.gets_in, TABLE.fliers, TABLE.habits, liking, has_hosts,
            np.full(SPECIES, 5), self.hosts, self.sums, self.guide, self.first, self.netted,
            np.zeros(PLANTS, np.int64), np.zeros(BEDS + 1, np.int64), np.zeros(PLANTS), np.zeros(PLANTS),
            np.zeros(PLANTS), np.zeros(BEDS, np.uint8),
        )  # fmt: skip

    def found(self, species: int, which: int = ALL, bed: int = -1) -> np.ndarray:
        """Return how often each plant is found by a thousand even shares."""
        marks = (np.arange(1000) + 0.5) / 1000.0
        found = [find_host(species, which, bed, self.hosts, self.sums, self.guide, self.first, mark) for mark in marks]
        return np.bincount([place for place in found if place >= 0], minlength=PLANTS)


@pytest.fixture
def draws() -> Draws:
    return Draws()


def test_only_hosts_in_leaf_are_found(draws: Draws) -> None:
    draws.write()
    assert set(np.flatnonzero(draws.found(WHITE))) == {0, 1, 2, 9, 10, 11}
    assert set(np.flatnonzero(draws.found(BEETLE))) == {3, 4, 5}


def test_larger_plants_are_found_by_the_root_of_their_leaf(draws: Draws) -> None:
    draws.write()
    roots = np.sqrt(draws.plants["leaf_area_cm2"]) * np.isin(np.arange(PLANTS), (0, 1, 2, 9, 10, 11))
    np.testing.assert_allclose(draws.found(WHITE), 1000.0 * roots / roots.sum(), atol=1.0)


def test_one_who_is_shut_in_finds_the_plants_of_her_bed_only(draws: Draws) -> None:
    draws.write()
    assert set(np.flatnonzero(draws.found(WHITE, bed=3))) == {9, 10, 11}
    assert not draws.found(WHITE, bed=1).any()
    assert not draws.found(WHITE, bed=2).any()


def test_where_a_net_keeps_her_out_the_bare_beds_have_a_list_of_their_own(draws: Draws) -> None:
    draws.gets_in[0, WHITE] = 0.02
    draws.write()
    assert draws.netted[WHITE] == 1
    assert draws.netted[BEETLE] == 0
    assert set(np.flatnonzero(draws.found(WHITE, ALL))) == {0, 1, 2, 9, 10, 11}
    assert set(np.flatnonzero(draws.found(WHITE, BARE))) == {9, 10, 11}


def test_where_nothing_is_in_leaf_nothing_is_found(draws: Draws) -> None:
    draws.plants["is_growing"] = 0
    draws.write()
    assert not draws.found(WHITE).any()


def test_the_table_likes_some_crop_for_every_species_and_none_likes_all() -> None:
    liked = (TABLE.host_weights > 0.0).sum(axis=1)
    assert ((liked >= 1) & (liked <= CROPS)).all()
