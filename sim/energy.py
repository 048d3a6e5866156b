"""Energy from light to leaf to insect to enemy, bird and nestling, added up at the season's end [MJ and kJ].

Takes the running totals that plants, insects and nests keep. The margin's wild hosts are left out of what plants grew;
insects and birds count with the margin, since they do not heed its edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from sim.birds.menu import Place
from sim.cast import PLANT_EATERS, Fate

if TYPE_CHECKING:
    from sim.garden import Garden

_MG_PER_G = 1000.0
_TO_BIRDS = (Fate.EATEN_BY_TIT_LIKE_BIRD, Fate.EATEN_BY_WREN_LIKE_BIRD, Fate.EATEN_BY_WOODPECKER_LIKE_BIRD)
_TO_ENEMIES = (
    Fate.EATEN_BY_GROUND_BEETLE,
    Fate.EATEN_BY_SPIDER,
    Fate.EATEN_BY_LADY_BEETLE,
    Fate.EATEN_BY_LACEWING,
    Fate.EATEN_BY_HUNTING_WASP,
    Fate.OTHER_PARASITOIDS,
    Fate.PARASITISED,
)


@dataclass(frozen=True, slots=True)
class Flows:
    """Energy of a season along the garden's food web."""

    light_mj: float
    grown_kj: float
    eaten_kj: float
    insects_kj: float
    to_enemies_kj: float
    to_birds_kj: float
    nestlings_from_garden_kj: float
    nestlings_from_hedgerow_kj: float
    nestlings_from_territory_kj: float


def flows_of(garden: Garden) -> Flows:
    """Return the season's flows of energy so far."""
    numbers = garden.parameters
    leaf_kj = numbers.number("energy.leaf_kj_per_g_dry")
    insect_kj = numbers.number("energy.insect_kj_per_g_dry") * numbers.number("energy.insect_dry_share") / _MG_PER_G
    beds = garden.plants.flows[: garden.layout.margin]
    eaters = [int(species) for species in PLANT_EATERS]
    left_mg = garden.insects.exits_mg[eaters]
    alive = garden.insects.records[: garden.insects.count]
    alive_mg = float(alive["mass_mg"][np.isin(alive["species"], eaters)].sum())
    nests = garden.nests
    return Flows(
        light_mj=float(beds["light_mj"].sum()),
        grown_kj=float(beds["grown_g"].sum()) * leaf_kj,
        eaten_kj=float(beds["leaf_eaten_g"].sum() + beds["head_eaten_g"].sum()) * leaf_kj,
        insects_kj=(float(left_mg.sum()) + alive_mg) * insect_kj,
        to_enemies_kj=float(left_mg[:, list(_TO_ENEMIES)].sum()) * insect_kj,
        to_birds_kj=float(left_mg[:, list(_TO_BIRDS)].sum()) * insect_kj,
        nestlings_from_garden_kj=nests.delivered_kj(Place.GARDEN),
        nestlings_from_hedgerow_kj=nests.delivered_kj(Place.HEDGEROW),
        nestlings_from_territory_kj=nests.delivered_kj(Place.TERRITORY),
    )
