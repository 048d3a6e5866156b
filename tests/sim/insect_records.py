"""Insects, plants and leaves made by hand for tests of single rules."""

import numpy as np

from sim.cast import Fate, Species, Stage
from sim.compiled import records
from sim.crops.plant import LEAF, LEAVES, PLANT
from sim.insects.record import INSECT, NOWHERE
from sim.insects.table import insect_table
from sim.parameters import load_parameters
from sim.randomness import child_key, stream_key

TABLE = insect_table(load_parameters())
HABITS = TABLE.habits[0]
MANY = 4000


def insects(number=1, species=Species.CABBAGE_WHITE, stage=Stage.INSTAR_3, **values):
    """Return living insects with keys of their own."""
    array = records(np.zeros(number, INSECT))
    stream = stream_key(3, "insects by hand")
    array["key"] = [child_key(stream, place) for place in range(number)]
    array["species"], array["stage"], array["fate"] = species, stage, Fate.ALIVE
    array["inside"], array["place"], array["pace"] = -1, NOWHERE, 1.0
    array["mass_mg"] = TABLE.life["start_mg"][species, stage]
    for name, value in values.items():
        array[name] = value
    return array


def changed(rows, **values):
    """Return a copy of records with other values."""
    copy = records(np.array(rows, copy=True).view(np.ndarray))
    for name, value in values.items():
        copy[name] = value
    return copy


def life_of(species=Species.CABBAGE_WHITE, **values):
    """Return the table of stages with values changed for one species."""
    life = changed(TABLE.life)
    for name, value in values.items():
        life[name][species] = value
    return life


def flier_of(species=Species.CABBAGE_WHITE, **values):
    """Return one species' adults as a record, with values changed."""
    return changed(TABLE.fliers[species : species + 1], **values)[0]


def plants_and_leaves(number=1, leaf_cm2=10.0, **values):
    """Return growing plants, each with full leaf slots of one size."""
    plants = records(np.zeros(number, PLANT))
    plants["is_growing"], plants["leaf_area_cm2"] = 1, leaf_cm2 * LEAVES
    for name, value in values.items():
        plants[name] = value
    leaves = records(np.zeros((number, LEAVES), LEAF))
    leaves["area_cm2"] = leaf_cm2
    return plants, leaves
