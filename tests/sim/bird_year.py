"""A year of birds without the rest of the garden: plain weather, larvae that we place, and deaths by expectation."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import mesa
import numpy as np

from sim.birds.nests import Nests
from sim.cast import Bird, Species, Stage
from sim.compiled import Floats, Records, records
from sim.parameters.table import Parameters, load_parameters
from sim.surroundings import TODAY, Surroundings, open_ground

FIRST_DAY, LAST_DAY = 60, 319
BED_M2, BEDS, MARGIN_M2, GARDEN_M2 = 4.0, 8, 60.0, 100.0
ENEMIES_PER_M2 = (2.0, 8.0, 0.5, 1.0)
Place = Callable[[Surroundings, int], None]
Watch = Callable[[Nests, Surroundings, int], object]


def day_of(day_of_year: int, *, rain_mm: float = 0.0, mean_c: float | None = None) -> Records:
    """A day at 40 degrees north, warm in summer, ten degrees between night and day."""
    tilt = 0.409 * math.sin(2.0 * math.pi * day_of_year / 365.0 - 1.39)
    warmth = 10.0 + 16.0 * math.sin(math.pi * (day_of_year - 60) / 230.0) if mean_c is None else mean_c
    day = np.zeros(1, TODAY)
    day["day"], day["day_of_year"], day["rain_mm"] = day_of_year - FIRST_DAY, day_of_year, rain_mm
    day["tmin_c"], day["tmax_c"] = warmth - 5.0, warmth + 5.0
    day["day_length_h"] = 24.0 / math.pi * math.acos(-math.tan(math.radians(40.0)) * math.tan(tilt))
    return records(day)


def open_garden() -> Surroundings:
    return open_ground(np.array([BED_M2] * BEDS + [MARGIN_M2]))


def put(here: Surroundings, species: Species, stage: Stage, count: float, mg_each: float, beds: int = BEDS) -> None:
    here.alive[:beds, species, stage] = count
    here.mass_mg[:beds, species, stage] = count * mg_each


def white_larvae(here: Surroundings, day_of_year: int) -> None:
    """Cabbage white larvae from May to October: one of the last three instars a plant, five plants a square metre."""
    present = 1.0 if 130 < day_of_year < 280 else 0.0
    put(here, Species.CABBAGE_WHITE, Stage.INSTAR_5, 4.0 * present, 150.0)
    put(here, Species.CABBAGE_WHITE, Stage.INSTAR_4, 6.0 * present, 28.0)
    put(here, Species.CABBAGE_WHITE, Stage.INSTAR_3, 10.0 * present, 6.0)


def nothing(here: Surroundings, day_of_year: int) -> None:
    """No insects in the beds."""


def pairs(*kinds: Bird, seed: int = 1, parameters: Parameters | None = None, **site: float) -> Nests:
    distance_m = np.full(len(kinds), site.pop("distance_m", 15.0))
    return Nests(
        mesa.Model(),
        parameters or load_parameters(),
        kind=np.array(kinds, dtype=np.int64),
        distance_m=distance_m,
        seed=seed,
        garden_area_m2=GARDEN_M2,
        **site,
    )


def enemies() -> Floats:
    return np.tile(np.array(ENEMIES_PER_M2), (BEDS + 1, 1))


@dataclass
class Year:
    nests: Nests
    here: Surroundings
    seen: list[object] = field(default_factory=list)


def live_year(
    nests: Nests,
    place: Place = nothing,
    watch: Watch | None = None,
    rain_mm: Callable[[int], float] = lambda day: 0.0,
    entangle_per_contact: Floats | None = None,
    here: Surroundings | None = None,
) -> Year:
    """Run from March to mid-November; insects die by expectation and are put back by ``place``."""
    year = Year(nests, here or open_garden())
    spiders_and_others = enemies()
    for day_of_year in range(FIRST_DAY, LAST_DAY):
        today = day_of(day_of_year, rain_mm=rain_mm(day_of_year))
        place(year.here, day_of_year)
        nests.forage(today, year.here, spiders_and_others)
        caught = np.moveaxis(-np.expm1(-year.here.risk[..., 4:7]), -1, 0)
        count, mass = caught * year.here.alive, caught * year.here.mass_mg
        nests.feed(today, np.ascontiguousarray(count), np.ascontiguousarray(mass), year.here, entangle_per_contact)
        if watch is not None:
            year.seen.append(watch(nests, year.here, day_of_year))
    return year
