"""Wilt is passed on to cucumbers that are up, once each, and taken up from ill ones."""

import math

import numpy as np
import pytest

from sim.cast import SPECIES, STAGES, Crop, Species, Stage
from sim.compiled import records
from sim.crops.plant import PLANT
from sim.insects.rules import picks_up_wilt
from sim.insects.table import insect_table
from sim.insects.wilt_carriers import count_beetles_per_flower, pass_on_wilt
from sim.parameters import load_parameters
from tests.sim.insect_records import MANY, insects

HABITS = insect_table(load_parameters()).habits
CROWD = np.full(4, 1000.0)
"""So many carriers that a plant that can catch wilt does."""


def four_plants():
    """Return a cucumber, one that is ill since day 3, one that is not up, and a cabbage."""
    plants = records(np.zeros(4, PLANT))
    plants["crop"] = [Crop.CUCUMBER] * 3 + [Crop.CABBAGE]
    plants["is_growing"] = [1, 1, 0, 1]
    plants["infected_day"] = [-1, 3, -1, -1]
    return plants


def test_only_healthy_cucumbers_that_are_up_catch_wilt():
    plants = four_plants()
    assert pass_on_wilt(plants, CROWD, HABITS, 9) == 1
    assert plants["infected_day"].tolist() == [9, 3, -1, -1]


def test_wilt_is_caught_once():
    plants = four_plants()
    pass_on_wilt(plants, CROWD, HABITS, 9)
    assert pass_on_wilt(plants, CROWD, HABITS, 10) == 0
    assert plants["infected_day"].tolist() == [9, 3, -1, -1]


def test_without_carriers_nobody_catches_it():
    plants = four_plants()
    assert pass_on_wilt(plants, np.zeros(4), HABITS, 9) == 0


def test_beetles_take_it_up_from_a_wilting_plant_with_a_chance_a_day():
    beetles = insects(MANY, species=Species.CUCUMBER_BEETLE, stage=Stage.ADULT)
    share = float(HABITS["pick_up_per_beetle_day"][0])
    carriers = np.mean([picks_up_wilt(beetle, HABITS[0], 9) for beetle in beetles])
    assert carriers == pytest.approx(share, abs=4.0 * math.sqrt(share * (1.0 - share) / MANY))


def test_beetles_spread_over_male_flowers_too():
    plants, standing, per_flower = records(np.zeros(2, PLANT)), np.arange(2), np.zeros(1)
    plants["open_flowers"] = 5
    alive = np.zeros((1, SPECIES, STAGES))
    alive[0, Species.CUCUMBER_BEETLE, Stage.ADULT] = 60.0
    count_beetles_per_flower(standing, plants, alive, 0.5, 2.0, per_flower)
    assert per_flower[0] == pytest.approx(0.5 * 60.0 / (10.0 * 3.0))
