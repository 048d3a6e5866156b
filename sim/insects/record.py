"""The record of one insect, and where on the land it can be."""

from __future__ import annotations

import numpy as np

from sim.cast import SPECIES, STAGES
from sim.compiled import rule

NOWHERE = -1
"""No plant, no leaf: flying or resting between plants."""
IN_SOIL = -2
"""In the soil below its plant."""
ON_STALKS = -3
"""On stalks, stakes or debris beside the plant: a place to pupate and to winter."""

OPEN, LOWER, HIDDEN = 0, 1, 2
"""How exposed an insect is: on the leaf, on its lower side, or inside a head, the soil or a curl of debris."""
EXPOSURES = 3

INSECT = np.dtype(
    [
        ("key", "u8"),
        ("species", "u1"),
        ("stage", "u1"),
        ("fate", "u1"),
        ("entry", "u1"),
        ("is_female", "u1"),
        ("exposure", "u1"),
        ("is_resting", "u1"),  # winter rest: neither grows nor moves
        ("is_infective", "u1"),  # carries bacterial wilt
        ("bed", "u2"),  # the bed it is in or was last in; the margin is the last
        ("inside", "i2"),  # the covered bed whose net shuts it in; -1 when free
        ("place", "i2"),  # leaf slot, HEAD, FLOWER, or one of the constants above
        ("wasp_brood", "i2"),  # wasp grubs inside it
        ("offspring", "i4"),  # eggs laid so far
        ("plant", "i4"),
        ("pace", "f8"),  # own speed of development, around 1
        ("warmth_dd", "f8"),  # development in the present stage; as adult: age
        ("mass_mg", "f8"),
        ("want_cm2", "f8"),  # leaf it would eat today
        ("hungry_days", "f8"),
        ("eggs_ready", "f8"),
        ("life_dd", "f8"),  # adult life it was born to, or the warmth at which it wakes from winter rest
        ("wasp_dd", "f8"),  # development of the grubs inside it
    ],
    align=True,
)
"""96 bytes, none of them idle. ``key`` owns all its chance; a child's key comes from its mother's."""


@rule
def kind_in_bed(bed: int, species: int, stage: int) -> int:
    """Return the place of a kind of insect in a bed in what is kept of kinds in beds, [B * S * T].

    The same as [B, S, T], one line after the other: cheaper to look up than by three places, and looked up often.
    """
    return (int(bed) * SPECIES + int(species)) * STAGES + int(stage)


FEEDERS, ADULTS, HOSTS, SPENT_HOSTS = 0, 1, 2, 3
"""Rows of the day's lists: who eats today, who flies, whom a wasp could use, and who died of the wasps inside it."""
LISTS = 4


class Ask:
    """Questions put to an insect's own chance; one number each, so that no two answers are linked."""

    DEATH = 0
    CAUSE = 1
    MOULT = 2
    SEX = 3
    STAY = 4
    PACE = 5
    LIFE = 6
    SIDE = 7
    HEAD = 8
    PUPATION = 9
    LEAF = 10
    CHANGE_LEAF = 11
    CRAWL = 12
    NEXT_PLANT = 13
    STUNG = 14
    BROOD = 15
    INFECTIVE = 16
    WAKE = 17
    SLOT = 18
    FOUND = 19
    WINTER = 20
    REST = 21
    PICKED = 22
    CLEANED = 23
    TILLED = 24
    NOTICED = 25
    SIZE = 26
    SHAKEN_OFF = 27
    FOLLOWED = 28
    PICK_UP_WILT = 29
    TRY = 100
    """First of four questions for each plant tried in a day: leave, which plant, get in, try a bare one."""
