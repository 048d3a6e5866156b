"""Bacterial wilt of cucumber: caught from a beetle, seen days later, and deadly.

| | |
|---|---|
| takes | the day; whether a beetle has just infected a plant |
| keeps | the day of infection |
| changes | ``is_wilting``, ``is_growing`` and ``is_dead`` of a ``PLANT`` record |
"""

from __future__ import annotations

from typing import Any

from sim.compiled import rule
from sim.randomness import chance

LATENT = 41
"""Question of chance: how long this plant hides the disease."""


@rule
def infect(plant: Any, day: int) -> None:
    """Give a plant the disease today, unless it has it."""
    if plant.infected_day < 0 and plant.is_growing:
        plant.infected_day = day


@rule
def latent_days(plant: Any, crop: Any) -> float:
    """Return the days from infection to the first wilting of this plant."""
    return float(crop.latent_days + crop.latent_spread_days * (2.0 * chance(plant.key, 0, LATENT) - 1.0))


@rule
def bear_wilt(plant: Any, crop: Any, day: int) -> None:
    """Let an infected plant wilt and die when its days are over."""
    if plant.infected_day < 0:
        return
    ill_days = day - plant.infected_day - latent_days(plant, crop)
    if ill_days >= 0.0:
        plant.is_wilting = 1
    if ill_days >= crop.dying_days:
        plant.is_dead = 1
        plant.is_growing = 0
