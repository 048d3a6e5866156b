"""Up to two hundred insects followed through their lives, each with its steps.

Who is followed is decided by a lot that belongs to the insect's own key, so by nothing that a plan can change: of each
species those with the smallest lots among all that ever came onto the record. An insect that lives under two plans is,
as a rule, followed under both.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np

from sim.cast import SPECIES, Fate
from sim.compiled import Bytes, Floats, Ints, Records, loop
from sim.crops.plant import FLOWER, HEAD, LEAVES
from sim.insects.record import IN_SOIL, LOWER, ON_STALKS, Ask
from sim.randomness import chance

FOLLOWED_OF_A_SPECIES = 28
"""Seven species: at most 196 insects."""
_ALIVE = int(Fate.ALIVE)
_LOT = Ask.FOLLOWED


class Where(IntEnum):
    """Where on a plant, or off it, an insect is."""

    AIR = 0
    LEAF = 1
    UNDER_LEAF = 2
    HEAD = 3
    FLOWER = 4
    STALKS = 5
    SOIL = 6


@dataclass(frozen=True, slots=True)
class Step:
    """From this day on it was in this stage, here; ``plant`` is -1 off plants, ``inside`` the bed of a net or -1."""

    day: int
    stage: int
    bed: int
    plant: int
    where: int
    inside: int


@dataclass(slots=True)
class Followed:
    """One insect's life.

    Attributes
    ----------
    key, lot
        Its own key, and the lot by which it was chosen, 0 to 1.
    steps
        Each change of stage or place, from the first evening on.
    eaten_cm2, offspring
        Leaf eaten and eggs laid so far.
    stung_day
        When a wasp laid into it; -1 never.
    end_day, fate
        When and how it left the record; ALIVE with the last day otherwise.
    """

    key: int
    lot: float
    species: int
    entry: int
    is_female: bool
    steps: list[Step] = field(default_factory=list)
    eaten_cm2: float = 0.0
    offspring: int = 0
    stung_day: int = -1
    end_day: int = -1
    fate: int = _ALIVE


@loop
def draw_lots(insects: Records, first: int, last: int, lots: Floats) -> None:
    """Write the lot of each insect between two places of the record."""
    for i in range(first, last):
        lots[i - first] = chance(insects[i].key, 0, _LOT)


class Following:
    """Chooses whom to follow and writes down their steps."""

    def __init__(self) -> None:
        self._by_key: dict[int, Followed] = {}
        self._highest = np.ones(SPECIES)
        self._last: dict[int, tuple[int, ...]] = {}
        self._keys = np.zeros(0, np.uint64)

    @property
    def all(self) -> list[Followed]:
        """Everyone followed, by species and then by lot."""
        return sorted(self._by_key.values(), key=lambda one: (one.species, one.lot))

    def choose(self, insects: Records, first: int, last: int) -> None:
        """Take in those that came onto the record between two places, where their lots are small enough."""
        lots: Floats = np.zeros(last - first)
        draw_lots(insects, first, last, lots)
        new = insects[first:last]
        for place in np.flatnonzero(lots < self._highest[new["species"]]).tolist():
            self._take(new[place], float(lots[place]))
        self._keys = np.sort(np.array(list(self._by_key), np.uint64))

    def _take(self, insect: Records, lot: float) -> None:
        species, key = int(insect["species"]), int(insect["key"])
        self._by_key[key] = Followed(key, lot, species, int(insect["entry"]), bool(insect["is_female"]))
        own = sorted((one.lot, one.key) for one in self._by_key.values() if one.species == species)
        for _, surplus in own[FOLLOWED_OF_A_SPECIES:]:
            del self._by_key[surplus]
            self._last.pop(surplus, None)
        if len(own) >= FOLLOWED_OF_A_SPECIES:
            self._highest[species] = own[FOLLOWED_OF_A_SPECIES - 1][0]

    def note_meals(self, insects: Records, count: int, ration: Floats) -> None:
        """Add what each is about to eat: its wish times the share of it that there is."""
        for place in self._places(insects, count):
            insect = insects[place]
            spot = int(insect["place"])
            if insect["fate"] == _ALIVE and insect["want_cm2"] > 0.0 and spot >= 0:
                meal = float(insect["want_cm2"]) * float(ration[insect["plant"], spot])
                self._by_key[int(insect["key"])].eaten_cm2 += meal

    def note_evening(self, insects: Records, count: int, day: int) -> None:
        """Write down where each is in the evening, and who has died or left today."""
        for place in self._places(insects, count):
            insect = insects[place]
            one = self._by_key[int(insect["key"])]
            state = (
                int(insect["stage"]), int(insect["bed"]), int(insect["plant"]), where_of(insect), int(insect["inside"])
            )  # fmt: skip
            one.offspring, one.end_day = int(insect["offspring"]), day
            if one.stung_day < 0 and insect["wasp_brood"] > 0:
                one.stung_day = day
            if self._last.get(one.key) != state:
                self._last[one.key] = state
                one.steps.append(Step(day, *state))
            one.fate = int(insect["fate"])

    def _places(self, insects: Records, count: int) -> Ints:
        if not len(self._keys) or not count:
            return np.zeros(0, np.int64)
        keys = insects["key"][:count]
        found = np.minimum(np.searchsorted(self._keys, keys), len(self._keys) - 1)
        is_followed: Bytes = self._keys[found] == keys
        return np.asarray(np.flatnonzero(is_followed), dtype=np.int64)


def where_of(insect: Records) -> Where:
    """Return where on a plant, or off it, an insect is."""
    place = int(insect["place"])
    if place == IN_SOIL:
        return Where.SOIL
    if place == ON_STALKS:
        return Where.STALKS
    if int(insect["plant"]) < 0:
        return Where.AIR
    if place in (HEAD, FLOWER):
        return Where.HEAD if place == HEAD else Where.FLOWER
    is_under = place < LEAVES and int(insect["exposure"]) == LOWER
    return Where.UNDER_LEAF if is_under else Where.LEAF
