"""The camera: an onlooker that writes down, three times a day, what somebody in the garden could have seen.

Takes    the garden in the morning, at its meals and in the evening
Keeps    one page a day for spots, beds, nests; counts of insects by kind and place; steps of those followed
Changes  nothing

A *spot* is a drawn plant: one plant, or in a large garden several neighbours of one bed, summed or averaged.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from sim.cast import Fate, Stage
from sim.compiled import Bytes, Floats, Ints, Records, loop
from sim.crops.harvest import ripe_units
from sim.crops.plant import FruitState
from sim.film.followed import Following
from sim.film.pages import FORMS, KINDS, Form, Look, Pages, Spots
from sim.insects.record import IN_SOIL

if TYPE_CHECKING:
    from sim.garden import Garden
    from sim.practices.workday import Workday

_ALIVE = int(Fate.ALIVE)
_FORM_OF_STAGE: Ints = np.array(
    [Form.EGG if t == Stage.EGG else Form.PUPA if t == Stage.PUPA else Form.ADULT if t == Stage.ADULT else Form.YOUNG
     for t in Stage], np.int64,
)  # fmt: skip
_ABSENT, _GROWING, _RIPE, _FLOWERING = int(Look.ABSENT), int(Look.GROWING), int(Look.RIPE), int(Look.FLOWERING)
_DEAD, _GONE, _SWELLING = int(Look.DEAD), int(Look.GONE), int(FruitState.GROWING)


@loop
def look_over(
    plants: Records, leaves: Records, fruits: Records, crops: Records, outline_cm2: Floats, holes_cm2: Floats,
    fruit_count: Ints, looks: Bytes,
) -> None:  # fmt: skip
    """Write each plant's leaf outline, its holes, its fruits and what it looks like from the path."""
    for p in range(plants.size):
        plant = plants[p]
        outline_cm2[p], holes_cm2[p], fruit_count[p] = 0.0, 0.0, 0
        for slot in range(plant.leaf_slots):
            outline_cm2[p] += leaves[p, slot].area_cm2
            holes_cm2[p] += leaves[p, slot].eaten_cm2
        for place in range(plant.fruit_slots):
            fruit_count[p] += 1 if fruits[p, place].state == _SWELLING else 0
        if plant.planted_day < 0:
            looks[p] = _ABSENT
        elif plant.is_gone:
            looks[p] = _GONE
        elif plant.is_dead:
            looks[p] = _DEAD
        elif not plant.is_growing:
            looks[p] = _ABSENT
        elif ripe_units(plant, crops[plant.crop]) > 0:
            looks[p] = _RIPE
        elif plant.open_flowers > 0 or plant.is_bolting:
            looks[p] = _FLOWERING
        else:
            looks[p] = _GROWING


class Camera:
    """Looks on through one season; ask ``pages`` and ``following`` for what it saw."""

    def __init__(self) -> None:
        self.pages: Pages | None = None
        self.following = Following()
        self._known = 0
        self._picked_kg = 0.0
        self._turned_away: Floats = np.zeros(0)

    def see_morning(self, garden: Garden) -> None:
        """Count who sits where."""
        if self.pages is None:
            self._open(garden)
        insects, count = garden.insects.records, garden.insects.count
        assert self.pages is not None
        spots, beds = self.pages.spots, len(garden.layout.names)
        seen = insects[:count]
        seen = seen[(seen["fate"] == _ALIVE) & (seen["is_resting"] == 0)]
        in_soil = seen["place"] == IN_SOIL
        on_plant = (seen["plant"] >= 0) & ~in_soil
        place = np.where(in_soil, len(spots) + beds + seen["bed"], len(spots) + seen["bed"]).astype(np.int64)
        place[on_plant] = spots.of_plant[seen["plant"][on_plant]]
        kind = seen["species"].astype(np.int64) * FORMS + _FORM_OF_STAGE[seen["stage"]]
        places = len(spots) + 2 * beds
        counted = np.bincount(kind * places + place, minlength=KINDS * places)
        self.pages.insects[garden.day] = counted.reshape(KINDS, places)

    def see_meals(self, garden: Garden) -> None:
        """Note what those who are followed are about to eat."""
        self._follow_newcomers(garden)
        self.following.note_meals(garden.insects.records, garden.insects.count, garden.plants.ration)

    def see_evening(self, garden: Garden, workday: Workday) -> None:
        """Write the day's page."""
        assert self.pages is not None
        insects = garden.insects
        self._follow_newcomers(garden)
        self.following.note_evening(insects.records, insects.count, garden.day)
        self._known = int((insects.records["fate"][: insects.count] == _ALIVE).sum())  # the rest is buried tonight
        self._write_plants(garden)
        self._write_beds(garden, workday)
        self._write_birds(garden)

    def _open(self, garden: Garden) -> None:
        spots = Spots.of(garden.layout)
        self.pages = Pages.blank(len(garden.days), spots, len(garden.layout.names))
        self._turned_away = np.zeros(len(garden.layout.names))

    def _follow_newcomers(self, garden: Garden) -> None:
        if garden.insects.count > self._known:
            self.following.choose(garden.insects.records, self._known, garden.insects.count)
        self._known = garden.insects.count

    def _write_plants(self, garden: Garden) -> None:
        assert self.pages is not None
        pages, day, actor = self.pages, garden.day, garden.plants
        count = len(actor.plants)
        outline_cm2, holes_cm2, fruits = np.zeros(count), np.zeros(count), np.zeros(count, np.int64)
        looks: Bytes = np.zeros(count, np.uint8)
        look_over(
            actor.plants, actor.leaves, actor.fruits, actor.crops, outline_cm2, holes_cm2, fruits, looks
        )  # fmt: skip
        spots = pages.spots
        outline = spots.total(outline_cm2)
        pages.leaf_cm2[day] = outline / spots.plants
        pages.holes_share[day] = spots.total(holes_cm2) / np.maximum(outline, 1.0)
        pages.holed[day] = np.bincount(actor.plants["bed"], actor.plants["shows_holes"], minlength=pages.holed.shape[1])
        pages.head_cm2[day] = spots.total(actor.plants["head_area_cm2"]) / spots.plants
        pages.flowers[day] = spots.total(actor.plants["open_flowers"])
        pages.fruits[day] = spots.total(fruits)
        pages.aphids[day] = spots.total(actor.plants["aphids"])
        pages.looks[day] = spots.most_common(looks)

    def _write_beds(self, garden: Garden, workday: Workday) -> None:
        assert self.pages is not None
        pages, day = self.pages, garden.day
        covers = garden.nets.covers["material"]
        pages.net[day] = covers + 1
        pages.open_share[day] = np.where(covers >= 0, garden.near.beds["open_share"], 0.0)
        for bed, product, _ in workday.sprayed:
            pages.sprayed[day, bed] |= 1 << product
        for bed in workday.planted:
            pages.planted[day, bed] = 1
        for bed, _, _ in workday.hand_picked:
            pages.hand_picked[day, bed] = 1
        if garden.picked_kg > self._picked_kg:
            pages.picked[day, workday.picked] = 1
        self._picked_kg = garden.picked_kg
        turned_away = garden.insects.turned_away.sum(axis=0)
        pages.turned_away[day] = turned_away - self._turned_away
        self._turned_away = turned_away
        pages.bee_visits[day] = garden.visits
        pages.taken_by_birds[day] = garden.insects.caught_count.sum(axis=(2, 3))

    def _write_birds(self, garden: Garden) -> None:
        assert self.pages is not None
        nests, book = garden.nests.nests, garden.nests.book
        minutes = np.asarray(nests["own_minutes"] + nests["young_minutes"])
        self.pages.bird_minutes.append(book.shares[:, : len(garden.layout.names)] * minutes[:, None])
        self.pages.nests.append(np.array(nests))  # a copy: the nests live on
