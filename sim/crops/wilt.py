"""Bacterial wilt of cucumber: seen days after a beetle passed it on, and deadly.

| | |
|---|---|
| takes | the day, and the day on which a beetle infected the plant, written by ``sim/insects/wilt_carriers.py`` |
| keeps | nothing |
| changes | ``is_wilting``, ``is_growing`` and ``is_dead`` of a ``PLANT`` record |
"""

from __future__ import annotations

from typing import Any

from sim.compiled import rule
from sim.randomness import chance

LATENT = 41
"""Question of chance: how long this plant hides the disease."""


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
