"""Whoever eats plants is counted wherever plant-eaters are: a new kind cannot be left out of a sum."""

from collections import Counter

from dashboard.plans.movable import OF_WORLD
from dashboard.seasons.daily import COLUMNS_OF
from sim.cast import PLANT_EATERS, Species, word
from sim.chronicle import COLUMNS, columns_on_plants
from sim.insects.table import GUILD
from sim.scenario.model import Pests

NOT_KINDS = {"arrivals", "stay_share", "try_bare_share", "cabbage_aphid"}


def test_all_that_are_followed_one_by_one_are_plant_eaters_but_for_the_wasp():
    assert {*PLANT_EATERS, Species.PARASITOID_WASP} == set(Species) == set(GUILD)


def test_each_is_added_up_once_among_what_eats_the_crops():
    counted = Counter(COLUMNS_OF["caterpillars"] + COLUMNS_OF["bugs_and_beetles"])
    assert counted == Counter(column for kind in PLANT_EATERS for column in columns_on_plants(kind))
    assert set(counted) <= set(COLUMNS)


def test_each_comes_by_a_factor_of_the_garden_file_and_by_one_slider():
    kinds = {word(kind) for kind in PLANT_EATERS}
    assert kinds == set(Pests.model_fields) - NOT_KINDS
    moved = Counter(key for keys, _ in OF_WORLD for key in keys if key.startswith("pests."))
    assert all(moved[f"pests.{kind}"] == 1 for kind in kinds)
