"""What a day is like in each bed: the records that guilds read and none of them owns.

A net or a residue reaches insects, plants, bees and birds only through these arrays, written each morning before any
creature acts. The margin around the beds is the last bed: it is never covered and holds wild hosts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sim.cast import PREDATORS, PRODUCTS, SPECIES, STAGES, VISITORS
from sim.compiled import Floats, Records, records

MINUTES_PER_HOUR = 60.0

TODAY = np.dtype(
    [
        ("day", "i8"),  # days since the season's first day
        ("day_of_year", "i8"),
        ("tmin_c", "f8"),
        ("tmax_c", "f8"),
        ("rain_mm", "f8"),
        ("radiation_mj_m2", "f8"),  # global radiation of the day
        ("day_length_h", "f8"),
        ("clear_share", "f8"),  # radiation over clear-sky radiation, 0 to 1
        ("is_wet", "u1"),
    ],
    align=True,
)
"""One record a day, in the open."""

BED_DAY = np.dtype(
    [
        ("area_m2", "f8"),
        ("is_covered", "u1"),
        ("tmin_c", "f8"),  # air among the plants, warmed by a net
        ("tmax_c", "f8"),
        ("rain_mm", "f8"),  # as an insect feels it: drops broken by a net
        ("light_share", "f8"),  # of the light above the net
        ("sun_bonus_c", "f8"),  # how much warmer than the air a body in the sun is today, as a day's mean
        ("open_share", "f8"),  # share of the day's light in which the net stands open; 1 where there is no net
    ],
    align=True,
)
"""One record a bed, rewritten every morning."""


@dataclass(slots=True)
class Surroundings:
    """The garden as its creatures meet it today; B beds, the margin last.

    Attributes
    ----------
    beds
        ``BED_DAY`` records, shape (B,).
    gets_in
        Chance that one try of any visitor ends inside the bed, shape (B, VISITORS); 1 where there is no net. With the
        net on it counts mesh, edges and the share of the day that it stands open.
    fits_through
        Share of a kind small enough for the mesh, shape (B, VISITORS); 1 where there is no net. One that is too broad
        stays too broad, however often it tries.
    gap_pass
        Chance that one try of one that is too broad finds an edge, a gap or the net open, shape (B, VISITORS).
    residue
        Residue of each product on the leaves this morning, as a share of a fresh full deposit, shape (B, PRODUCTS).
    contact
        Share of exposed insects wetted by a spray today, shape (B, PRODUCTS); 0 on other days.
    bee_harm
        Share of the day's bee visits that meet a fresh or harmful residue of each product, shape (B, PRODUCTS).
    risk
        Daily hazard (1/d) from each predator, shape (B, SPECIES, STAGES, PREDATORS).
    alive, mass_mg
        Insects within reach this morning and their fresh mass, shape (B, SPECIES, STAGES).
    """

    beds: Records
    gets_in: Floats
    fits_through: Floats
    gap_pass: Floats
    residue: Floats
    contact: Floats
    bee_harm: Floats
    risk: Floats
    alive: Floats
    mass_mg: Floats


def open_ground(bed_areas_m2: Floats) -> Surroundings:
    """Return surroundings with no net, no spray and nobody hunting, for beds of these areas [m²]."""
    count = len(bed_areas_m2)
    beds = records(np.zeros(count, BED_DAY))
    beds["area_m2"] = bed_areas_m2
    beds["light_share"] = 1.0
    beds["open_share"] = 1.0
    return Surroundings(
        beds=beds,
        gets_in=np.ones((count, VISITORS)),
        fits_through=np.ones((count, VISITORS)),
        gap_pass=np.ones((count, VISITORS)),
        residue=np.zeros((count, PRODUCTS)),
        contact=np.zeros((count, PRODUCTS)),
        bee_harm=np.zeros((count, PRODUCTS)),
        risk=np.zeros((count, SPECIES, STAGES, PREDATORS)),
        alive=np.zeros((count, SPECIES, STAGES)),
        mass_mg=np.zeros((count, SPECIES, STAGES)),
    )
