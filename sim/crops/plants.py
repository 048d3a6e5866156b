"""All plants of a garden as one actor."""

from __future__ import annotations

import mesa
import numpy as np

from sim.compiled import Bytes, Floats, Ints, Records, records
from sim.crops.damage import lose_eaten_all, share_out_all
from sim.crops.events import CropEvent, look_over
from sim.crops.flowers import open_flowers_of_all, set_fruit_of_all
from sim.crops.growth import FLOWS, grow_all
from sim.crops.harvest import Picking, pick_all
from sim.crops.plant import FRUIT, FRUITS, LEAF, LEAVES, PLACES, PLANT
from sim.crops.planting import list_standing, pull_all, put_in_all
from sim.crops.table import crop_table
from sim.parameters.table import Parameters


class Plants(mesa.Agent):  # type: ignore[misc]
    """Every plant of the garden, bed by bed, the margin's wild hosts among them.

    Attributes
    ----------
    plants
        ``PLANT`` records, shape (P,).
    leaves, fruits
        ``LEAF`` and ``FRUIT`` records, shapes (P, LEAVES) and (P, FRUITS).
    demand_cm2
        What insects would eat today on each place, shape (P, PLACES); they add to it and mark the plant as asked.
        ``lose_eaten`` clears both.
    ration
        Share of each demand that is met, shape (P, PLACES), 0 to 1.
    inside
        Larvae in each head, shape (P,); written by whoever knows, read when heads are cut.
    flows
        ``FLOWS`` records, one a bed: running totals since the first day.
    crops
        ``CROP`` records, shape (CROPS,).
    standing
        Places of the plants that stand, in their order: in the bed as seed or above ground, and a day longer once
        they are gone or dead, so that tomorrow morning finds their last flowers. In a large garden most beds are
        empty most of the time, and whoever goes from plant to plant need not look there.
    """

    def __init__(
        self, garden: mesa.Model, parameters: Parameters, *, crop: Ints, bed: Ints, x_m: Floats, y_m: Floats,
        edge_share: Floats, keys: np.ndarray[tuple[int], np.dtype[np.uint64]], vigour: Floats, self_fruitful: Bytes,
        from_seed: Bytes, once_over: Bytes, ground_area_m2: Floats,
    ) -> None:  # fmt: skip
        super().__init__(garden)
        count = len(crop)
        beds = int(bed.max()) + 1 if count else 0
        self.plants: Records = records(np.zeros(count, PLANT))
        self.leaves: Records = records(np.zeros((count, LEAVES), LEAF))
        self.fruits: Records = records(np.zeros((count, FRUITS), FRUIT))
        self.demand_cm2: Floats = np.zeros((count, PLACES))
        self.ration: Floats = np.ones((count, PLACES))
        self.inside: Ints = np.zeros(count, np.int64)
        self.flows: Records = records(np.zeros(beds, FLOWS))
        self.crops = crop_table(parameters)
        self._cover = np.zeros(beds)
        self._ground_m2: Floats = np.bincount(bed, ground_area_m2, minlength=beds).astype(np.float64)
        self._tally = np.zeros(4)
        self._listed: Ints = np.zeros(count, np.int64)
        self.standing: Ints = self._listed[:0]
        self._by_bed: Ints = np.argsort(bed, kind="stable").astype(np.int64)
        self._begins: Ints = np.searchsorted(bed[self._by_bed], np.arange(beds + 1)).astype(np.int64)
        self._events, self._ripe = np.zeros(beds, np.int64), np.zeros(beds, np.int64)
        given = {
            "key": keys, "crop": crop, "bed": bed, "x_m": x_m, "y_m": y_m, "edge_share": edge_share, "vigour": vigour,
            "self_fruitful": self_fruitful, "from_seed": from_seed, "once_over": once_over,
            "ground_area_m2": ground_area_m2, "own_growth": 1.0, "planted_day": -1, "infected_day": -1,
            "has_heart": self.crops["has_heart"][crop],
        }  # fmt: skip
        for name, value in given.items():
            self.plants[name] = value

    def rows(self, bed: int) -> Ints:
        """Return the positions of a bed's plants; a bed without plants has none."""
        return self._by_bed[self._begins[bed] : self._begins[bed + 1]] if bed < len(self._events) else self._by_bed[:0]

    def put_in(self, bed: int, day: int) -> None:
        """Plant or sow a bed."""
        put_in_all(self.rows(bed), self.plants, self.leaves, self.crops, day)
        self.standing = self._listed[: list_standing(self.plants, self._listed)]

    def grow(self, today: Records, beds: Records) -> None:
        """Live the day's warmth and light.

        Parameters
        ----------
        today
            A ``TODAY`` record.
        beds
            ``BED_DAY`` records, one a bed.
        """
        left = grow_all(
            self.standing, self.plants, self.leaves, self.fruits, self.crops, beds, self._cover, self._ground_m2,
            self.flows, int(today["day"]), float(today["radiation_mj_m2"]),
        )  # fmt: skip
        self.standing = self.standing[:left]

    def open_flowers(self, day: int) -> int:
        """Open today's female flowers and return how many."""
        return int(open_flowers_of_all(self.standing, self.plants, self.fruits, self.crops, self.flows, day))

    def set_fruit(self, day: int) -> int:
        """Let today's flowers set or fall by the visits they had; return how many set."""
        return int(set_fruit_of_all(self.standing, self.plants, self.fruits, self.crops, self.flows, day))

    def mark_asked(self) -> None:
        """Mark the plants that have a demand, where it was written by another hand than the insects'."""
        self.plants["is_asked"] = (self.demand_cm2 > 0.0).any(axis=1)

    def share_out(self) -> None:
        """Work out what share of the day's demand each place can meet."""
        share_out_all(self.standing, self.plants, self.leaves, self.fruits, self.crops, self.demand_cm2, self.ration)

    def lose_eaten(self) -> None:
        """Take the day's meals out of the plants and clear the demand."""
        lose_eaten_all(
            self.standing, self.plants, self.leaves, self.fruits, self.crops, self.demand_cm2, self.ration, self.flows
        )

    def look_over(self) -> tuple[list[int], list[int]]:
        """Return what shows of each bed now, as numbers of ``CropEvent``, and how many of its units are ready.

        Both have a place for each bed up to the last that has plants.
        """
        look_over(self._by_bed, self._begins, self.plants, self.fruits, self.crops, self._events, self._ripe)
        return self._events.tolist(), self._ripe.tolist()

    def ripe(self, bed: int) -> int:
        """Return how many leaves, heads, roots or fruits of a bed are ready now."""
        return self.look_over()[1][bed]

    def pick(self, bed: int, day: int, picked: Bytes, inside: Ints | None = None) -> Picking:
        """Pick what is ready in a bed.

        Parameters
        ----------
        bed, day
            Which bed, on which day of the season.
        picked
            Shape (P, PLACES); set to 1 where something was taken. The caller clears it.
        inside
            Larvae in each head, shape (P,); ``self.inside`` where not given.

        Returns
        -------
        Picking
            Kilograms and units, all and marketable.
        """
        larvae = self.inside if inside is None else inside
        pick_all(self.rows(bed), self.plants, self.leaves, self.fruits, self.crops, larvae, picked, self._tally)
        kg, marketable_kg, units, marketable_units = self._tally.tolist()
        return Picking(kg, marketable_kg, int(units), int(marketable_units))

    def pull(self, bed: int) -> None:
        """Pull every plant of a bed."""
        pull_all(self.rows(bed), self.plants, self.leaves, self.fruits)

    def crop_event(self, bed: int) -> CropEvent:
        """Return what can be seen of a bed today."""
        return CropEvent(self.look_over()[0][bed] if bed < len(self._events) else 0)
