"""Cucumbers: bees, covers, beetles and wilt."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np

from sim.cast import Crop
from sim.patterns.gardens import MESH, NOTHING, bed, garden, only, spray
from sim.patterns.lives import mean_of, seasons, share
from sim.season import Season


def sprayed_cucumbers(seeds: Sequence[int]) -> float:
    """Return cucumbers picked with a weekly spray of pyrethrins over those without, where beetles are few."""
    plans = {"sprayed": (spray("pyrethrins"),), "nothing": NOTHING}
    place = garden([bed("cucumbers", "cucumber", 12)], plans, pests=only("cucumber_beetle") | {"cucumber_beetle": 0.3})
    return share(*(mean_of(place, plan, seeds, "harvest_kg") for plan in plans))


def cucumbers_left_covered(seeds: Sequence[int]) -> float:
    """Return cucumbers picked under a net that stays on, over those from one taken off at first bloom."""
    plans = {"stays": MESH, "comes_off": (*MESH, {"do": "uncover", "at": "first_bloom"})}
    place = garden([bed("cucumbers", "cucumber", 12, planted="04-25")], plans)
    return share(*(mean_of(place, plan, seeds, "harvest_kg") for plan in plans))


def loss_without_insects(seeds: Sequence[int]) -> float:
    """Return the loss of a garden of mixed cucumber kinds without bees."""
    mixed = {"crops.fruit.set_without_visit": 0.2}
    kg = []
    for bees in (0.0, 1.0):
        factors = dict.fromkeys(("honey_bees", "bumble_bees", "small_bees"), bees)
        place = garden(
            [bed("cucumbers", "cucumber", 12, planted="04-25")], {"nothing": NOTHING}, bees=factors, numbers=mixed,
            pests={"arrivals": 0.0},
        )  # fmt: skip
        kg.append(mean_of(place, "nothing", seeds, "harvest_kg"))
    return 1.0 - share(*kg)


@cache
def _wilt_line(seeds: tuple[int, ...]) -> tuple[float, float]:
    """Return slope and r² of the share of wilted plants on beetles a plant, over six levels of beetles."""
    beetles, wilted = [], []
    for factor in (0.5, 1.0, 1.5, 2.0, 3.0, 4.0):
        place = garden(
            [bed("cucumbers", "cucumber", 24, planted="04-25")], {"nothing": NOTHING},
            pests=only("cucumber_beetle") | {"cucumber_beetle": factor},
        )  # fmt: skip
        lived = seasons(place, "nothing", seeds)
        beetles.append(
            np.mean([s.garden.chronicle.column("cucumber_beetle_adults")[70:100].mean() for s in lived]) / 24
        )
        wilted.append(np.mean([_share_infected(season) for season in lived]))
    slope = float(np.polyfit(beetles, wilted, 1)[0])
    return slope, float(np.corrcoef(beetles, wilted)[0, 1] ** 2)


def _share_infected(season: Season) -> float:
    plants = season.garden.plants.plants
    cucumbers = plants[plants["crop"] == Crop.CUCUMBER]
    return float((cucumbers["infected_day"] >= 0).mean())


def wilt_against_beetles(seeds: Sequence[int]) -> float:
    """Return how straight the line of wilted plants against early beetles is (r², with the sign of its slope)."""
    slope, straight = _wilt_line(tuple(seeds))
    return float(np.copysign(straight, slope))
