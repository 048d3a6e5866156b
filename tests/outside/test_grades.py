"""What is sold, against trade standards."""

import numpy as np
import pytest

from sim.cast import Crop
from sim.compiled import records
from sim.crops.grades import CucumberSize, cucumber_size, is_saleable_head, is_saleable_leaf, is_saleable_root
from sim.crops.plant import LEAF, PLANT
from sim.crops.table import crop_table
from sim.parameters.table import load_parameters
from tests.outside.register import check


def crop_of(crop):
    return crop_table(load_parameters())[crop]


@check("US No. 1 cucumber: 16 by 5.5 cm yes, 14 by 5 cm too short, 18 by 6.5 cm only as Large", source="usda_cucumber",
       read="read", independent=False)  # fmt: skip
def test_cucumber_sizes():
    crop = crop_of(Crop.CUCUMBER)
    assert cucumber_size(16.0, 5.5, crop) == CucumberSize.NUMBER_1
    assert cucumber_size(14.0, 5.0, crop) == CucumberSize.NUMBER_1_SMALL
    assert cucumber_size(14.0, 5.5, crop) == CucumberSize.NONE
    assert cucumber_size(18.0, 6.5, crop) == CucumberSize.NUMBER_1_LARGE


@check("inches of the cucumber standard: 6 long, 2 3/8 across; Small 1 1/2 to 2; Large from 2 1/4",
       source="usda_cucumber", read="read", independent=False)  # fmt: skip
def test_cucumber_limits_lie_at_the_printed_inches():
    crop, inch = crop_of(Crop.CUCUMBER), 2.54
    assert cucumber_size(6.01 * inch, 2.3 * inch, crop) == CucumberSize.NUMBER_1
    assert cucumber_size(5.95 * inch, 2.2 * inch, crop) == CucumberSize.NONE
    assert cucumber_size(4.0 * inch, 1.75 * inch, crop) == CucumberSize.NUMBER_1_SMALL
    assert cucumber_size(4.0 * inch, 1.4 * inch, crop) == CucumberSize.NONE
    assert cucumber_size(7.0 * inch, 2.5 * inch, crop) == CucumberSize.NUMBER_1_LARGE


def cabbage(marked_share, inside=0, bolting=0):
    plant = records(np.zeros(1, PLANT))
    plant["head_g"], plant["head_area_cm2"] = 80.0, 500.0
    plant["head_eaten_cm2"], plant["is_bolting"] = marked_share * 500.0, bolting
    return bool(is_saleable_head(plant[0], crop_of(Crop.CABBAGE), inside))


@check("a head is unsold above 5 % of its outside marked or with a larva inside", source="none",
       read="common practice, no source", independent=False)  # fmt: skip
def test_heads_are_sold_by_what_shows():
    assert cabbage(0.0)
    assert cabbage(0.049)
    assert not cabbage(0.051)
    assert not cabbage(0.0, inside=1)


@pytest.mark.parametrize(("missing_share", "is_sold"), [(0.0, True), (0.09, True), (0.11, False), (0.5, False)])
@check("a leaf is unsold above a tenth missing", source="none", read="common practice, no source", independent=False)
def test_leaves_are_sold_by_what_is_missing(missing_share, is_sold):
    plant, leaf = records(np.zeros(1, PLANT)), records(np.zeros(1, LEAF))
    leaf["area_cm2"], leaf["eaten_cm2"] = 300.0, 300.0 * missing_share
    assert bool(is_saleable_leaf(leaf[0], plant[0], crop_of(Crop.COLLARD))) is is_sold


@check("holes in leaves of radish and turnip do not matter to the root", source="none",
       read="common practice, no source", independent=True)  # fmt: skip
def test_roots_are_sold_whatever_their_leaves():
    for crop, root_g in ((Crop.RADISH, 1.5), (Crop.TURNIP, 12.0)):
        plant = records(np.zeros(1, PLANT))
        plant["root_g"], plant["eaten_cm2"], plant["leaf_area_cm2"] = root_g, 500.0, 10.0
        assert is_saleable_root(plant[0], crop_of(crop))
        plant["root_eaten_cm2"] = 1000.0
        assert not is_saleable_root(plant[0], crop_of(crop))
