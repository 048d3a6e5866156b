"""What happened when: the days of a season that somebody in the garden would remember, read off the pages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from sim.cast import PRODUCTS, SPECIES, Species
from sim.film.pages import FORMS, Form, Look, Pages

NOBODY = -1


@dataclass(frozen=True, slots=True)
class Happening:
    """One thing that happened.

    Attributes
    ----------
    day
        Of the season, from 0.
    name
        What it was: a word of ``NAMES``.
    bed, nest
        Where, or -1.
    kind
        Species of the eggs, product of the spray, or -1.
    count
        How many, where that says something.
    """

    day: int
    name: str
    bed: int = NOBODY
    nest: int = NOBODY
    kind: int = NOBODY
    count: int = 0


NAMES = (
    "planted",
    "cover_on",
    "cover_off",
    "sprayed",
    "hand_picked",
    "eggs_of",
    "holes_seen",
    "first_flower",
    "picking_begins",
    "plants_die",
    "turned_away",
    "nest_eggs",
    "hatch",
    "fledged",
    "chicks_starved",
    "nest_lost",
    "bird_in_net",
)


def happenings_of(pages: Pages) -> tuple[Happening, ...]:
    """Return everything that happened, by day and then in the order of ``NAMES``."""
    found = [*_work(pages), *_pests(pages), *_crops(pages), *_nests(pages)]
    return tuple(sorted(found, key=lambda one: (one.day, NAMES.index(one.name), one.bed, one.nest, one.kind)))


def _work(pages: Pages) -> Iterator[Happening]:
    beds = pages.net.shape[1]
    before = np.zeros(beds, np.int64)
    for day in range(len(pages.net)):
        for bed in range(beds):
            if pages.planted[day, bed]:
                yield Happening(day, "planted", bed)
            if pages.net[day, bed] and not before[bed]:
                yield Happening(day, "cover_on", bed)
            if before[bed] and not pages.net[day, bed]:
                yield Happening(day, "cover_off", bed)
            for product in range(PRODUCTS):
                if pages.sprayed[day, bed] >> product & 1:
                    yield Happening(day, "sprayed", bed, kind=product)
            if pages.hand_picked[day, bed]:
                yield Happening(day, "hand_picked", bed)
        before = pages.net[day]
    for bed in range(beds):
        day = _first(pages.turned_away[:, bed] > 0)
        if day >= 0:
            yield Happening(day, "turned_away", bed, count=round(float(pages.turned_away[:, bed].sum())))


def _pests(pages: Pages) -> Iterator[Happening]:
    spots = pages.spots
    on_crops = np.flatnonzero(spots.bed < pages.net.shape[1] - 1)
    for species in range(SPECIES):
        if species != Species.PARASITOID_WASP:
            eggs = pages.insects[:, species * FORMS + Form.EGG][:, on_crops].sum(axis=1)
            day = _first(eggs > 0)
            if day >= 0:
                yield Happening(day, "eggs_of", kind=species, count=int(eggs[day]))
    day = _first(pages.holed[:, :-1].any(axis=1))
    if day >= 0:
        yield Happening(day, "holes_seen", int(np.argmax(pages.holed[day, :-1])))


def _crops(pages: Pages) -> Iterator[Happening]:
    beds = pages.net.shape[1]
    for bed in range(beds - 1):
        rows = np.flatnonzero(pages.spots.bed == bed)
        for name, happened in (
            ("first_flower", (pages.flowers[:, rows] > 0).any(axis=1)),
            ("picking_begins", pages.picked[:, bed] > 0),
            ("plants_die", (pages.looks[:, rows] == Look.DEAD).any(axis=1)),
        ):
            day = _first(happened)
            if day >= 0:
                yield Happening(day, name, bed)


def _nests(pages: Pages) -> Iterator[Happening]:
    for nest in range(len(pages.nests[-1])):
        before = {"clutches": 0, "hatched": 0, "fledged": 0, "starved": 0, "failed_nests": 0, "entangled": 0}
        names = dict(
            zip(before, ("nest_eggs", "hatch", "fledged", "chicks_starved", "nest_lost", "bird_in_net"), strict=True)
        )
        for day, nests in enumerate(pages.nests):
            if nest >= len(nests):
                continue
            for column, name in names.items():
                now = int(nests[nest][column])
                if now > before[column]:
                    count = int(nests[nest]["eggs"]) if column == "clutches" else now - before[column]
                    yield Happening(day, name, nest=nest, kind=int(nests[nest]["kind"]), count=count)
                before[column] = now


def _first(is_so: Any) -> int:
    """Return the first day on which it is so, or -1."""
    days = np.flatnonzero(is_so)
    return int(days[0]) if days.size else NOBODY
