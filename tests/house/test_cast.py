"""Whoever grows or eats here is named wherever a newcomer would be looked for: what a recipe asks for is not forgotten.

Rows of numbers are looked through in ``test_rows.py``, drawings and names on the map in ``test_player.py``.
"""

from typing import get_args

import pytest

from dashboard.plans.movable import CROPS as MOVABLE
from sim.cast import Crop, Species, word
from sim.crops.table import SALES, SoldAs
from sim.measures import MEASURES, spoken
from sim.scenario.model import CropName
from tests.house.describe import MODEL
from tests.house.files import ROOT
from tests.strategies import CABBAGE_FAMILY, NO_PESTS

SOWN = [crop for crop in Crop if crop != Crop.WILD_HOSTS]
SOLD = [crop for crop in Crop if SALES[crop].sold_as != SoldAs.NOTHING]
NOT_OF_THE_FAMILY = {Crop.LETTUCE, Crop.CUCUMBER}


def test_a_garden_file_may_name_each_crop_that_is_sown():
    assert get_args(CropName) == tuple(map(word, SOWN)), "CropName in sim/scenario/model.py"


def test_the_template_says_which_crops_there_are():
    template = (ROOT / "scenarios" / "template.toml.txt").read_text(encoding="utf-8")
    assert ", ".join(map(word, SOWN)) in template, "the comment beside `crop` in scenarios/template.toml.txt"


@pytest.mark.parametrize("member", [*Crop, *Species], ids=word)
def test_the_description_of_the_model_names_each(member):
    told = " ".join(MODEL.read_text(encoding="utf-8").split("**Scales.**")[0].split())
    said = {Crop.WILD_HOSTS: "wild hosts", Species.PARASITOID_WASP: "a wasp"}.get(member, spoken(member))
    assert said in told, "the kinds followed, in part 2 of sim/MODEL.md"


def test_a_crop_that_is_sold_can_stand_in_for_another_but_a_fruit():
    movable = [crop for crops in MOVABLE.values() for crop in crops]
    sold = [word(crop) for crop in SOLD if SALES[crop].sold_as != SoldAs.FRUIT]
    assert sorted(movable) == sorted(sold), "CROPS in dashboard/plans/movable.py"


def test_the_one_place_where_sold_crops_are_measured_has_them_all():
    for crop in SOLD:
        assert f"{word(crop)}_harvest_kg" in MEASURES


def test_a_measure_is_said_in_words_not_in_names_of_code():
    assert [measure.name for measure in MEASURES.values() if "_" in measure.words] == []


def test_what_tests_draw_from_knows_each():
    family = [word(crop) for crop in SOWN if crop not in NOT_OF_THE_FAMILY]
    assert list(CABBAGE_FAMILY) == family, "CABBAGE_FAMILY in tests/strategies.py, or NOT_OF_THE_FAMILY here"
    assert {word(kind) for kind in Species if kind != Species.PARASITOID_WASP} < set(NO_PESTS)
