"""The pages that a camera fills: arrays of days, made beforehand, and the spots that plants are gathered into."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np

from sim.cast import BEES, BIRDS, SPECIES
from sim.compiled import Bytes, Floats, Ints, Records
from sim.layout import Layout

MOST_SPOTS = 240
"""More plants than this are drawn several to a spot."""


class Form(IntEnum):
    """An insect as it is told apart by eye."""

    EGG = 0
    YOUNG = 1
    PUPA = 2
    ADULT = 3


FORMS = len(Form)
KINDS = SPECIES * FORMS
"""Kind of insect: species times forms, plus form."""


class Look(IntEnum):
    """What a plant looks like from the path."""

    ABSENT = 0
    GROWING = 1
    RIPE = 2
    FLOWERING = 3
    DEAD = 4
    GONE = 5


LOOKS = len(Look)


@dataclass(frozen=True)
class Spots:
    """Drawn plants, S of them, each of one bed.

    Attributes
    ----------
    of_plant
        Spot of each plant, shape (P,).
    plants, bed, crop, x_m, y_m, ground_m2
        Of each spot, shape (S,): how many plants it stands for, where they stand on average, and the ground of one.
    """

    of_plant: Ints
    plants: Ints
    bed: Ints
    crop: Ints
    x_m: Floats
    y_m: Floats
    ground_m2: Floats

    @classmethod
    def of(cls, layout: Layout) -> Spots:
        """Gather the plants of a garden into few enough spots; in a small garden each plant is one."""
        plants_a_spot = max(1, -(-len(layout.crop) // MOST_SPOTS))
        of_plant = np.zeros(len(layout.crop), np.int64)
        spots = 0
        for first, last in zip(layout.first_plant[:-1], layout.first_plant[1:], strict=True):
            count = int(last - first)
            parts = -(-count // plants_a_spot)
            of_plant[first:last] = spots + np.arange(count) * parts // max(1, count)
            spots += parts
        first_of = np.searchsorted(of_plant, np.arange(spots))
        plants = np.bincount(of_plant, minlength=spots)
        return cls(
            of_plant, plants, layout.bed[first_of], layout.crop[first_of],
            np.bincount(of_plant, layout.x_m) / plants, np.bincount(of_plant, layout.y_m) / plants,
            layout.ground_area_m2[first_of],
        )  # fmt: skip

    def __len__(self) -> int:
        return len(self.plants)

    def total(self, of_plants: Floats | Ints) -> Floats:
        """Return the sum over each spot's plants."""
        return np.asarray(np.bincount(self.of_plant, of_plants, len(self)), dtype=np.float64)

    def most_common(self, looks: Bytes) -> Bytes:
        """Return the look that most plants of each spot have."""
        votes = np.bincount(self.of_plant * LOOKS + looks, minlength=len(self) * LOOKS)
        return np.asarray(votes.reshape(len(self), LOOKS).argmax(axis=1), dtype=np.uint8)


@dataclass
class Pages:
    """One page a day; D days, S spots, B beds with the margin last.

    Attributes
    ----------
    leaf_cm2, holes_share, head_cm2, aphids
        A plant's leaf outline with its holes, what share of it is holes, its head, and the spot's aphids; (D, S).
    flowers, fruits
        Open female flowers and growing fruits of a spot, (D, S).
    looks
        ``Look`` of a spot, (D, S).
    insects
        Awake insects in the morning by kind and place, (D, KINDS, S + 2 B): spots, then the air of each bed, then its
        soil.
    net, open_share
        0 for none, otherwise 1 + ``Material``; and the share of the day's light in which it stood open, (D, B).
    sprayed
        One bit a product that was sprayed, (D, B).
    holed
        Plants with holes to be seen, (D, B).
    planted, picked, hand_picked
        Whether it was, (D, B).
    turned_away
        Tries that the bed's net ended, (D, B).
    bee_visits, taken_by_birds
        By kind of bee, and by kind of bird, (D, B, BEES) and (D, BIRDS, B).
    bird_minutes, nests
        A row a nest, for each day: minutes in each bed (N, B), and ``NEST`` records.
    """

    spots: Spots
    leaf_cm2: Floats
    holes_share: Floats
    head_cm2: Floats
    aphids: Floats
    flowers: Ints
    fruits: Ints
    looks: Bytes
    insects: Ints
    net: Ints
    open_share: Floats
    sprayed: Ints
    holed: Ints
    planted: Bytes
    picked: Bytes
    hand_picked: Bytes
    turned_away: Floats
    bee_visits: Ints
    taken_by_birds: Floats
    bird_minutes: list[Floats] = field(default_factory=list)
    nests: list[Records] = field(default_factory=list)

    @classmethod
    def blank(cls, days: int, spots: Spots, beds: int) -> Pages:
        """Return empty pages."""
        by_spot, by_bed = (days, len(spots)), (days, beds)
        return cls(
            spots=spots,
            leaf_cm2=np.zeros(by_spot),
            holes_share=np.zeros(by_spot),
            head_cm2=np.zeros(by_spot),
            aphids=np.zeros(by_spot),
            flowers=np.zeros(by_spot, np.int64),
            fruits=np.zeros(by_spot, np.int64),
            looks=np.zeros(by_spot, np.uint8),
            insects=np.zeros((days, KINDS, len(spots) + 2 * beds), np.int32),
            net=np.zeros(by_bed, np.int64),
            open_share=np.zeros(by_bed),
            sprayed=np.zeros(by_bed, np.int64),
            holed=np.zeros(by_bed, np.int64),
            planted=np.zeros(by_bed, np.uint8),
            picked=np.zeros(by_bed, np.uint8),
            hand_picked=np.zeros(by_bed, np.uint8),
            turned_away=np.zeros(by_bed),
            bee_visits=np.zeros((days, beds, BEES), np.int64),
            taken_by_birds=np.zeros((days, BIRDS, beds)),
        )
