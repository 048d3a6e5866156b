"""A bed of one crop under plain weather, with no pests, as the outside checks of crops need it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import mesa
import numpy as np

from sim.cast import Crop
from sim.compiled import records
from sim.crops.plant import LEAVES, PLACES, FruitState
from sim.crops.plants import Plants
from sim.parameters.table import Parameters, load_parameters
from sim.surroundings import TODAY, open_ground

GRAMS_A_POUND = 453.6
Weather = Callable[[int], tuple[float, float, float]]
Event = Callable[[Plants, int], None]
# Monthly means of the highest and lowest temperature and of radiation, Griffin, Georgia (source key griffin_climate).
WARM_HUMID = (
    (12.6, 1.2, 9.7), (14.9, 3.0, 12.1), (19.0, 6.5, 16.0), (23.1, 10.1, 20.2), (27.1, 14.9, 22.6),
    (30.4, 19.1, 22.2), (31.8, 20.8, 21.8), (31.4, 20.4, 19.8), (28.4, 17.3, 17.1), (23.4, 11.2, 14.3),
    (18.1, 5.5, 11.0), (13.8, 2.6, 8.6),
)  # fmt: skip
SPACING_M = {  # in the row, between rows; rows of 10 ft
    Crop.COLLARD: (0.46, 0.75), Crop.KALE: (0.33, 0.60), Crop.KOHLRABI: (0.15, 0.40), Crop.CABBAGE: (0.46, 0.75),
    Crop.BROCCOLI: (0.46, 0.75), Crop.LETTUCE: (0.15, 0.30), Crop.RADISH: (0.038, 0.30), Crop.TURNIP: (0.075, 0.40),
    Crop.CUCUMBER: (0.30, 1.20),
}  # fmt: skip
SOWN = (Crop.LETTUCE, Crop.RADISH, Crop.TURNIP, Crop.CUCUMBER)
ROW_M = 3.05


def steady(mean_c: float, radiation_mj_m2: float) -> Weather:
    """Return weather that is the same every day, with 10 °C between night and noon."""
    return lambda _day: (mean_c - 5.0, mean_c + 5.0, radiation_mj_m2)


def warm_humid_from(first_day_of_year: int) -> Weather:
    """Return the mean course of a year in a warm and humid climate, from this day on."""

    def weather(day: int) -> tuple[float, float, float]:
        months = (first_day_of_year + day - 15.2) / 30.44
        month, share = math.floor(months) % 12, months - math.floor(months)
        here, there = WARM_HUMID[month], WARM_HUMID[(month + 1) % 12]
        high, low, radiation = ((1 - share) * a + share * b for a, b in zip(here, there, strict=True))
        return low, high, radiation

    return weather


@dataclass
class Row:
    """What a row gave."""

    kg: float
    marketable_kg: float
    units: int
    marketable_units: int
    first_day: int
    plants: Plants

    @property
    def pounds(self) -> float:
        """Return the harvest in pounds."""
        return self.kg * 1000.0 / GRAMS_A_POUND


def row_of(crop: Crop, *, count: int = 0, parameters: Parameters | None = None, **flags: float) -> Plants:
    """Return a row of 10 ft, or of ``count`` plants, of one crop."""
    along_m, between_m = SPACING_M[crop]
    count = count or round(ROW_M / along_m)
    zero = np.zeros(count)
    flag = {name: np.full(count, int(flags.get(name, 0)), np.uint8) for name in ("self_fruitful", "once_over")}
    return Plants(
        mesa.Model(), parameters or load_parameters(), crop=np.full(count, int(crop)), bed=np.zeros(count, np.int64),
        x_m=zero, y_m=zero, edge_share=zero, keys=np.arange(count, dtype=np.uint64) + np.uint64(77),
        vigour=np.full(count, flags.get("vigour", 1.0)),
        from_seed=np.full(count, flags.get("from_seed", crop in SOWN), np.uint8),
        ground_area_m2=np.full(count, flags.get("ground_area_m2", along_m * between_m)), **flag,
    )  # fmt: skip


def grow_row(
    plants: Plants, weather: Weather, *, days: int, every: int = 7, picking_days: int = 400, visits: int = 12,
    light_share: float = 1.0, event: Event | None = None,
) -> Row:  # fmt: skip
    """Grow and pick a row; ``visits`` honey bee visits a flower; ``event`` may ask for leaf to be eaten each day."""
    beds = open_ground(np.array([4.0])).beds
    beds["light_share"] = light_share
    today = records(np.zeros(1, TODAY))
    picked = np.zeros((len(plants.plants), PLACES), np.uint8)
    row = Row(0.0, 0.0, 0, 0, -1, plants)
    last = -every
    plants.put_in(0, 0)
    for day in range(days):
        beds["tmin_c"], beds["tmax_c"], today["radiation_mj_m2"] = weather(day)
        today["day"] = day
        plants.grow(today[0], beds)
        plants.open_flowers(day)
        plants.fruits["honey_visits"][plants.fruits["state"] == FruitState.OPEN] = visits
        plants.set_fruit(day)
        if event:
            event(plants, day)
        plants.mark_asked()
        plants.share_out()
        plants.lose_eaten()
        is_over = row.first_day >= 0 and day - row.first_day >= picking_days
        if plants.ripe(0) and day - last >= every and not is_over:
            row.first_day = day if row.first_day < 0 else row.first_day
            last = day
            picking = plants.pick(0, day, picked)
            row.kg += picking.kg
            row.marketable_kg += picking.marketable_kg
            row.units += picking.units
            row.marketable_units += picking.marketable_units
    return row


def standing_cm2(plants: Plants) -> np.ndarray:
    """Return leaf without holes, shape (P, LEAVES)."""
    return np.asarray(plants.leaves["area_cm2"] - plants.leaves["eaten_cm2"])


def lose_once(on_day: int, share: float) -> Event:
    """Return an event that takes this share of every leaf on one day."""

    def event(plants: Plants, day: int) -> None:
        if day == on_day:
            plants.demand_cm2[:, :LEAVES] = share * standing_cm2(plants)

    return event


def lose_oldest_once(on_day: int, share: float) -> Event:
    """Return an event that takes this share of all leaf on one day, the oldest leaves first, as a hand would."""

    def event(plants: Plants, day: int) -> None:
        if day != on_day:
            return
        standing = standing_cm2(plants)
        for i, order in enumerate(np.argsort(-plants.leaves["age_dd"], axis=1)):
            left = share * standing[i].sum()
            for j in order:
                plants.demand_cm2[i, j] = min(left, standing[i, j])
                left -= plants.demand_cm2[i, j]

    return event


def keep_missing(share: float) -> Event:
    """Return an event that keeps at least this share of every leaf missing, day after day."""

    def event(plants: Plants, _day: int) -> None:
        missing = share * plants.leaves["area_cm2"] - plants.leaves["eaten_cm2"]
        plants.demand_cm2[:, :LEAVES] = np.maximum(0.0, missing)

    return event
