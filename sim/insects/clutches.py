"""Clutches: what each visit of a mother lays, put in order and brought into the world.

While adults fly from plant to plant their clutches are only noted. In the evening they are laid by species and bed, so
that those of one kind lie together in the record for the rest of their lives: whoever walks it later meets rows of like
insects, which processors are much quicker for.
"""

from __future__ import annotations

import numpy as np

from sim.cast import Entry, Fate, Stage
from sim.compiled import Ints, Record, Records, rule
from sim.insects.record import HIDDEN, IN_SOIL, Ask
from sim.insects.rules import choose_leaf, lower_or_upper_side, own_pace
from sim.randomness import chance, child_key

_ALIVE, _EGG, _BORN = int(Fate.ALIVE), int(Stage.EGG), int(Entry.BORN)
_SLOT, _SIDE = Ask.SLOT, Ask.SIDE

CLUTCH = np.dtype(
    [
        ("mother", "u8"),  # her key
        ("first", "i4"),  # number of the clutch's first egg among all of hers
        ("eggs", "i4"),
        ("plant", "i4"),
        ("bed", "i2"),
        ("inside", "i2"),  # the covered bed whose net shut her in; -1 when free
        ("species", "u1"),
    ],
    align=True,
)


@rule
def fill_newborn(
    child: Record, key: np.uint64, species: int, stage: int, life: Records, spread: float, day: int
) -> None:
    """Write the record of one that enters life today."""
    child.key, child.species, child.stage, child.fate, child.entry = key, species, stage, _ALIVE, _BORN
    child.is_female, child.is_resting, child.is_infective, child.exposure = 0, 0, 0, 0
    child.offspring, child.wasp_brood = 0, 0
    child.pace = own_pace(key, spread)
    child.mass_mg = life[species, stage].start_mg
    child.warmth_dd, child.want_cm2, child.hungry_days = 0.0, 0.0, 0.0
    child.eggs_ready, child.life_dd, child.wasp_dd = 0.0, 0.0, 0.0


@rule
def note_clutch(mother: Record, plant: int, bed: int, flier: Record, clutches: Records, noted: int) -> int:
    """Note one visit's eggs, if she has as many ripe; return the new number of clutches."""
    visit = flier.eggs_per_visit
    if visit < 1.0 or mother.eggs_ready < visit:
        return noted
    clutch = clutches[noted]
    clutch.mother, clutch.first, clutch.eggs = mother.key, mother.offspring, int(visit)
    clutch.plant, clutch.bed, clutch.inside, clutch.species = plant, bed, mother.inside, mother.species
    mother.offspring += int(visit)
    mother.eggs_ready -= visit
    return noted + 1


@rule
def put_in_order(clutches: Records, noted: int, beds: int, begins: Ints, order: Ints) -> None:
    """Set ``order`` to the clutches' places by species and bed, and as they were noted among those of a kind.

    ``begins`` [S * B + 1] is working space.
    """
    begins[:] = 0
    for k in range(noted):
        begins[int(clutches[k].species) * beds + clutches[k].bed + 1] += 1
    for kind in range(1, begins.size):
        begins[kind] += begins[kind - 1]
    for k in range(noted):
        kind = int(clutches[k].species) * beds + clutches[k].bed
        order[begins[kind]] = k
        begins[kind] += 1


@rule
def lay(
    clutch: Record, insects: Records, count: int, life: Records, fliers: Records, plants: Records, leaves: Records,
    day: int,
) -> int:  # fmt: skip
    """Bring one clutch into the world, on leaves or in the soil below; return the new number of insects."""
    species, plant = int(clutch.species), clutch.plant
    flier = fliers[species]
    is_in_soil = life[species, _EGG].in_soil > 0.0
    leaf_area_cm2 = plants[plant].leaf_area_cm2
    for number in range(clutch.eggs):
        key = child_key(clutch.mother, clutch.first + number)
        child = insects[count + number]
        fill_newborn(child, key, species, _EGG, life, flier.pace_spread, day)
        child.bed, child.plant, child.inside = clutch.bed, plant, clutch.inside
        if is_in_soil:
            child.place, child.exposure = IN_SOIL, HIDDEN
        else:
            child.place = choose_leaf(leaves, plant, leaf_area_cm2, chance(key, day, _SLOT))
            child.exposure = lower_or_upper_side(chance(key, day, _SIDE), flier.under_leaf_share)
    return count + int(clutch.eggs)
