"""Work without net or spray: what a search of the plants finds, what a scouting notices, and how it is written down."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from sim.cast import CATERPILLARS, SPECIES, STAGES, Species, Stage, word
from sim.compiled import Floats, Ints
from sim.parameters.table import Parameters
from sim.practices.workday import Seen
from sim.randomness import chance

_LARVAE = slice(Stage.INSTAR_1, Stage.INSTAR_5 + 1)
_AFTER_EGG = slice(Stage.INSTAR_1, Stage.ADULT + 1)


@lru_cache(maxsize=8)
def find_table(parameters: Parameters) -> Floats:
    """Return the share that one careful search of a plant finds and takes off, shape (SPECIES, STAGES)."""
    return _by_species(parameters, "find")


@lru_cache(maxsize=8)
def spot_table(parameters: Parameters) -> Floats:
    """Return the share that a scouting notices on a plant that it looks at, shape (SPECIES, STAGES)."""
    return _by_species(parameters, "spot")


def found_in(share_found: Floats, seconds_per_plant: float, reference_seconds: float) -> Floats:
    """Return what a quicker or slower search finds.

    Each further second finds the same share of what is still hidden: 1 - (1 - share)^(seconds / reference).

    Parameters
    ----------
    share_found
        Shares found in the reference time, any shape, 0 to 1.
    seconds_per_plant, reference_seconds
        Time taken, and the time at which the shares hold [s].
    """
    found: Floats = 1.0 - (1.0 - share_found) ** (seconds_per_plant / reference_seconds)
    return found


def plants_to_look_at(key: np.uint64, day: int, first: int, last: int, count: int) -> Ints:
    """Return the rows of plants that a scouting picks at random among rows ``first`` to ``last - 1``, in order.

    Each plant's own chance of the day decides, so the sample is the same under every plan.
    """
    rows = np.arange(first, last, dtype=np.int64)
    if count >= rows.size:
        return rows
    drawn = np.array([chance(key, day, row) for row in range(first, last)])
    return np.sort(rows[np.argsort(drawn, kind="stable")[:count]])


def write_sheet(noticed: Floats, aphids: Floats, aphids_seen: float) -> Seen:
    """Return what goes on the scouting sheet.

    Parameters
    ----------
    noticed
        Insects noticed on each plant looked at, shape (n, SPECIES, STAGES).
    aphids
        Cabbage aphids on each of these plants, shape (n,).
    aphids_seen
        Aphids from which on a plant is written down as infested.
    """
    plants = len(noticed)
    if plants == 0:
        return Seen()
    caterpillars = noticed[:, CATERPILLARS, _LARVAE].sum(axis=(1, 2))
    bugs = noticed[:, Species.HARLEQUIN_BUG, _AFTER_EGG].sum(axis=1)
    beetles = noticed[:, :, Stage.ADULT].sum(axis=0) / plants
    return Seen(
        caterpillar_infested_share=float(np.count_nonzero(caterpillars)) / plants,
        harlequin_infested_share=float(np.count_nonzero(bugs)) / plants,
        flea_beetles_per_plant=float(beetles[Species.FLEA_BEETLE]),
        cucumber_beetles_per_plant=float(beetles[Species.CUCUMBER_BEETLE]),
        aphid_infested_share=float(np.count_nonzero(aphids >= aphids_seen)) / plants,
    )


def _by_species(parameters: Parameters, name: str) -> Floats:
    table: Floats = np.zeros((SPECIES, STAGES))
    for species in Species:
        if species != Species.PARASITOID_WASP:
            table[species] = parameters.numbers(f"labour.{name}.{word(species)}")
    return table
