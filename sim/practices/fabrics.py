"""What covers are made of: materials and edges by name, their records, and who passes which hole."""

from __future__ import annotations

from enum import IntEnum
from functools import lru_cache

import numpy as np

from sim.cast import VISITORS, Visitor, word
from sim.compiled import Floats, Records, records, rule
from sim.parameters.table import Parameters


class Material(IntEnum):
    """What a bed can be covered with."""

    INSECT_MESH = 0
    FINE_MESH = 1
    VEIL = 2
    ROW_COVER = 3
    BIRD_NET = 4


class Edges(IntEnum):
    """How the rim of a net is held down."""

    BURIED = 0
    WEIGHTED = 1
    SLACK = 2


FABRIC = np.dtype(
    [
        ("hole_mm", "f8"),
        ("light_share", "f8"),
        ("warming_c", "f8"),
        ("night_warming_c", "f8"),
        ("rain_share", "f8"),
        ("entangle_tight", "f8"),  # chance per bird-day of contact when tight
        ("entangle_loose", "f8"),
    ],
    align=True,
)
"""One record a material."""


@rule
def pass_share(hole_mm: float, stop_mm: float, sure_ratio: float) -> float:
    """Return the chance that one try through a hole succeeds: 0 up to the stop aperture, then straight up to 1."""
    return min(1.0, max(0.0, (hole_mm - stop_mm) / (stop_mm * (sure_ratio - 1.0))))


@lru_cache(maxsize=8)
def mesh_table(parameters: Parameters) -> Floats:
    """Return the chance of one try through each mesh, shape (materials, VISITORS)."""
    stops = parameters.numbers("nets.stop_aperture_mm")
    ratio = parameters.number("nets.sure_pass_ratio")
    table: Floats = np.zeros((len(Material), VISITORS))
    for material in Material:
        hole = parameters.number(f"nets.{word(material)}.hole_mm")
        table[material] = [pass_share(hole, float(stop), ratio) for stop in stops]
    return table


@lru_cache(maxsize=8)
def fabric_table(parameters: Parameters) -> Records:
    """Return one ``FABRIC`` record a material."""
    fabrics = records(np.zeros(len(Material), FABRIC))
    birds_pass = mesh_table(parameters)[:, Visitor.BIRD]
    finger_mm, wide_mm = parameters.numbers("nets.entangling_hole_mm")
    narrow_risk, wide_risk = parameters.numbers("nets.entangle_per_contact")
    for material in Material:
        fabric = fabrics[material]
        for name in ("hole_mm", "light_share", "warming_c", "night_warming_c", "rain_share"):
            fabric[name] = parameters.number(f"nets.{word(material)}.{name}")
        holds = 1.0 - birds_pass[material]  # a hole that a bird flies through does not hold it
        hole = float(fabric["hole_mm"])
        fabric["entangle_tight"] = holds * (0.0 if hole <= finger_mm else narrow_risk if hole <= wide_mm else wide_risk)
        fabric["entangle_loose"] = holds * wide_risk
    return fabrics
