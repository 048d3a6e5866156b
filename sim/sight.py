"""What the gardener can see by walking past, and what a scouting finds: less than the truth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.crops.events import CropEvent
from sim.practices.by_hand import plants_to_look_at, spot_table, write_sheet
from sim.practices.workday import Event, Seen
from sim.randomness import stream_key

if TYPE_CHECKING:
    from sim.garden import Garden

_EVENTS: dict[Event, int] = {
    "first_bloom": int(CropEvent.FIRST_BLOOM),
    "bloom_half": int(CropEvent.BLOOM_HALF),
    "heading": int(CropEvent.HEADING),
    "first_picking": int(CropEvent.FIRST_PICKING),
}
_FINISHED, _CLEARED = int(CropEvent.FINISHED), int(CropEvent.CLEARED)  # plain numbers: asked often, and flags are slow


class Sight:
    """The gardener's eyes in one garden; answers the questions of ``sim.practices.workday.Look``.

    The gardener asks in the morning, before anything is done: what was once seen today is not looked at again.
    """

    def __init__(self, garden: Garden) -> None:
        self.garden = garden
        self._first_plant = garden.layout.first_plant
        self._day = -1
        self._shows: list[int] = []
        self._ripe: list[int] = []
        self._spot = spot_table(garden.parameters)
        self._aphids_seen = garden.parameters.number("labour.aphids_seen")

    def _open_eyes(self) -> None:
        """Look over all beds, once a day."""
        if self._day != self.garden.day:
            self._day = self.garden.day
            self._shows, self._ripe = self.garden.plants.look_over()

    def _what_shows(self, bed: int) -> int:
        self._open_eyes()
        return self._shows[bed] if bed < len(self._shows) else 0

    def crop_event(self, bed: int, event: Event) -> bool:
        """Return whether the bed's crop has reached this moment."""
        return bool(self._what_shows(bed) & _EVENTS[event])

    def is_finished(self, bed: int) -> bool:
        """Return whether nothing more is to be had from a bed that was planted."""
        return bool(self._what_shows(bed) & _FINISHED)

    def is_cleared(self, bed: int) -> bool:
        """Return whether every plant that was put in is gone or dead, so that nothing can come any more."""
        return bool(self._what_shows(bed) & _CLEARED)

    def ripe(self, bed: int) -> int:
        """Return how many leaves, heads, roots or fruits could be picked now."""
        self._open_eyes()
        return self._ripe[bed] if bed < len(self._ripe) else 0

    def flowers_open(self, bed: int) -> int:
        """Return how many female flowers are open today."""
        rows = self.garden.plants.rows(bed)
        return int(self.garden.plants.plants["open_flowers"][rows].sum())

    def is_fit_to_spray(self, hour: int) -> bool:
        """Return whether wind and rain let a careful gardener spray at this hour today."""
        return self.garden.sprays.is_fit(self.garden.days[self.garden.day], hour)

    def seen(self, bed: int, plants: int, day: int) -> Seen:
        """Return what a look at so many plants of the bed finds today."""
        first, last = int(self._first_plant[bed]), int(self._first_plant[bed + 1])
        key = stream_key(self.garden.seed, "scouting", bed)
        rows = plants_to_look_at(key, day, first, last, plants)
        rows = rows[self.garden.plants.plants["is_growing"][rows] != 0]
        noticed = self.garden.insects.scout(rows, day, self._spot)
        return write_sheet(noticed, self.garden.plants.plants["aphids"][rows], self._aphids_seen)
