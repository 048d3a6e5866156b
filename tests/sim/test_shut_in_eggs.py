"""What a moth that is shut in with the crop lays in her whole life, by the numbers as shipped."""

import re

import pytest

from sim.cast import Fate, Species, Stage, word
from sim.insects.rules import age_as_adult
from sim.parameters import load_parameters
from tests.sim.insect_records import flier_of, insects

STEP_DD = 0.25


def eggs_of_a_life(species, **place):
    """Return the eggs that ripen in a female of ordinary life."""
    flier, mother = flier_of(species), insects(stage=Stage.ADULT, is_female=1, **place)
    mother["warmth_dd"], mother["life_dd"] = 0.0, flier["life_dd"]
    while mother["fate"][0] == Fate.ALIVE:
        age_as_adult(mother[0], flier, STEP_DD)
    return float(mother["eggs_ready"][0])


@pytest.mark.parametrize("moth", [Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH])
def test_the_note_says_what_a_shorter_life_leaves_of_the_share_of_eggs(moth):
    """The share holds for one and the same age; a reader who takes it for a whole life is told what that comes to."""
    entry = load_parameters()[f"moths.{word(moth)}.shut_in_egg_share"]
    said = re.search(r"([0-9.]+) of a free female's eggs", entry.note)
    left_share = eggs_of_a_life(moth, inside=1) / eggs_of_a_life(moth)
    assert left_share < entry.value
    assert float(said[1]) == pytest.approx(left_share, abs=0.005)
