"""What one day of the birds is worked out with: the garden as they find it, and pages that are used again each day."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from sim.birds.menu import GROUPS, MOUTHS, PLACES
from sim.birds.nest import BROOD
from sim.cast import BIRDS, GENERALISTS, SPECIES, STAGES
from sim.compiled import Floats, Records

SITE = np.dtype(
    [
        ("garden_area_m2", "f8"),
        ("hedgerow_area_m2", "f8"),
        ("use_of_garden", "f8"),  # factor on each kind's own
        ("territory_food", "f8"),  # factor on prey of the territory
        ("spring_shift_days", "f8"),  # later than the table's dates
    ],
    align=True,
)
"""One record: where the garden lies."""

TABLES = 5
TAKEN_COUNT, TAKEN_MG, FED_COUNT, FED_MG, FED_KJ = range(TABLES)
"""Rows of the tables (TABLES, BIRDS, PLACES, GROUPS): all that was taken, and of it what nestlings were fed."""

OWN_RATE, OWN_KJ, YOUNG_RATE, YOUNG_KJ = range(4)
"""Columns of ``offer``: prey met [1/min] and energy met [kJ/min] by a bird hunting for itself and for its young."""


class Here(NamedTuple):
    """The garden this morning; arrays of ``Surroundings``, the enemies by bed, and one ``SITE`` record."""

    site: Records
    beds: Records
    gets_in: Floats
    alive: Floats
    mass_mg: Floats
    generalists_per_m2: Floats
    risk: Floats


class DayBook(NamedTuple):
    """Working arrays; N nests, B beds, patches = B beds, hedgerow, territory.

    Attributes
    ----------
    wanted
        How much an insect in a bed is wanted when met, shape (B, SPECIES, STAGES).
    offer
        What searching a patch meets, shape (BIRDS, B + 2, 4).
    met
        Prey of hedgerow and territory met a minute, shape (BIRDS, 2, GROUPS).
    prey_mg
        Mean fresh mass of each group's prey today, shape (GROUPS,).
    shares
        Of a nest's foraging time, where it is spent, shape (N, B + 2).
    effort
        Area really searched [m²/d], for own meals and for young, shape (N, B + 2, MOUTHS).
    searched
        The same by kind of bird, shape (BIRDS, B + 2).
    enemy_risk
        Hazard from all birds on generalist enemies [1/d], shape (B, GENERALISTS).
    carried, carried_mg
        Prey brought home, shape (N, MOUTHS, PLACES, GROUPS).
    food_kj
        Fed to nestlings, shape (N,).
    portions_kj
        One brood's portions, shape (BROOD,).
    today, season
        Tables of what was taken and fed, shape (TABLES, BIRDS, PLACES, GROUPS).
    """

    wanted: Floats
    offer: Floats
    met: Floats
    prey_mg: Floats
    shares: Floats
    effort: Floats
    searched: Floats
    enemy_risk: Floats
    carried: Floats
    carried_mg: Floats
    food_kj: Floats
    portions_kj: Floats
    today: Floats
    season: Floats


def open_daybook(nest_count: int, bed_count: int, season: Floats) -> DayBook:
    """Return empty pages for this many nests and beds; the season's table goes on."""
    larder = (nest_count, MOUTHS, PLACES, GROUPS)
    return DayBook(
        wanted=np.zeros((bed_count, SPECIES, STAGES)),
        offer=np.zeros((BIRDS, bed_count + 2, 4)),
        met=np.zeros((BIRDS, 2, GROUPS)),
        prey_mg=np.zeros(GROUPS),
        shares=np.zeros((nest_count, bed_count + 2)),
        effort=np.zeros((nest_count, bed_count + 2, MOUTHS)),
        searched=np.zeros((BIRDS, bed_count + 2)),
        enemy_risk=np.zeros((bed_count, GENERALISTS)),
        carried=np.zeros(larder),
        carried_mg=np.zeros(larder),
        food_kj=np.zeros(nest_count),
        portions_kj=np.zeros(BROOD),
        today=np.zeros((TABLES, BIRDS, PLACES, GROUPS)),
        season=season,
    )


def empty_tables() -> Floats:
    """Return a table of nothing taken and nothing fed."""
    return np.zeros((TABLES, BIRDS, PLACES, GROUPS))
