"""Cabbage aphids: colonies on plants, counted rather than followed one by one, with a ledger of their own.

========  ====================================================================================================
takes     today's weather in each bed; nets, contact and residues; plants; the hazard from generalist enemies
keeps     nymphs of four instars and adults on each plant; entries and exits of each bed
changes   ``plants.aphids``
========  ====================================================================================================

Winged females come by chance, settle on a plant and found a colony; it grows with warmth until its plant is crowded.
Hazards of a day are summed and the dead shared out among the causes in proportion, as for every insect here. Birds
take none: trials found more aphids with birds, fewer, or no difference.
"""

from __future__ import annotations

import math

import mesa
import numpy as np
from numpy.typing import NDArray

from sim.cast import CROPS, PRODUCTS, Visitor
from sim.compiled import Floats, Ints, Records, loop, records
from sim.insects.aphid_colony import (
    AGES,
    ARRIVED,
    BORN,
    DIED_OUT,
    FLEW_OFF,
    FLOWS,
    FUNGUS,
    HARVESTED,
    HAZARDS,
    LIFE,
    LOST_HOST,
    PARASITISED,
    RAINED_OFF,
    SPRAYED,
    WASHED_OFF,
    WEATHER,
    damper,
    fungus_hazard,
    grow_colony,
    parasitoid_hazard,
    rain_hazard,
    remove_share,
    size_of,
    spray_hazard,
    take_hazards,
    weather_hazard,
)
from sim.insects.aphid_flight import WINGED, arrive_on_plants
from sim.parameters.table import Parameters
from sim.randomness import stream_key
from sim.surroundings import Surroundings
from sim.weather.warmth import degree_days

SMALL_WASP = int(Visitor.SMALL_PARASITOID)


@loop
def prepare_hazards(
    beds: Records,
    gets_in: Floats,
    contact: Floats,
    residue: Floats,
    aphids_per_m2: Floats,
    aphid_risk: Floats,
    aphid_kill: Floats,
    wasp_kill: Floats,
    residue_share: Floats,
    life: Records,
    hazards: Floats,
) -> None:
    """Write each bed's hazards of today, one column a cause."""
    for bed in range(beds.size):
        mean_c = (beds[bed].tmin_c + beds[bed].tmax_c) / 2.0
        for enemy in range(aphid_risk.shape[1]):
            hazards[bed, enemy] = aphid_risk[bed, enemy]
        wasps = math.exp(-spray_hazard(contact[bed], residue[bed], residue_share, wasp_kill))
        reach = gets_in[bed, SMALL_WASP]
        hazards[bed, PARASITISED] = parasitoid_hazard(mean_c, aphids_per_m2[bed], reach, wasps, life[0])
        hazards[bed, SPRAYED] = spray_hazard(contact[bed], residue[bed], residue_share, aphid_kill)
        hazards[bed, RAINED_OFF] = rain_hazard(beds[bed].rain_mm, life[0])
        hazards[bed, WEATHER] = weather_hazard(beds[bed].tmin_c, beds[bed].tmax_c, life[0])


@loop
def live_on_plants(
    beds: Records,
    gets_in: Floats,
    plants: Records,
    hazards: Floats,
    host_weight: Floats,
    dampness: float,
    life: Records,
    instar_dd: Floats,
    roaming: Floats,
    colonies: Floats,
    flows: Floats,
) -> None:
    """Let each colony die and grow for a day; winged females that find no way out, or need none, roam their bed."""
    last_bed, dd = -1, 0.0
    for plant in range(plants.size):
        alive = size_of(colonies[plant])
        if alive <= 0.0:
            continue
        bed = plants[plant].bed
        if bed != last_bed:  # the day's warmth is the bed's
            last_bed = bed
            dd = degree_days(beds[bed].tmin_c, beds[bed].tmax_c, life[0].base_c, life[0].upper_c)
        room = life[0].crowd_per_cm2 * plants[plant].leaf_area_cm2 * host_weight[plants[plant].crop]
        if plants[plant].is_growing == 0 or room <= 0.0:
            flows[bed, LOST_HOST] += remove_share(colonies[plant], 1.0)
            plants[plant].aphids = 0.0
            continue
        crowding = min(1.0, alive / room)
        hazards[bed, FUNGUS] = fungus_hazard(alive / plants[plant].leaf_area_cm2, dampness, life[0])
        take_hazards(colonies[plant], hazards[bed], flows[bed])
        winged = grow_colony(colonies[plant], dd, crowding, life[0], instar_dd, flows[bed])
        gone = winged * (1.0 - life[0].settles_again_share) * gets_in[bed, WINGED]
        flows[bed, FLEW_OFF] += gone
        roaming[bed] += winged - gone
        if size_of(colonies[plant]) < life[0].dies_out_below:
            flows[bed, DIED_OUT] += remove_share(colonies[plant], 1.0)
            plants[plant].aphids = 0.0


@loop
def count_aphids(beds: Records, plants: Records, colonies: Floats, per_m2: Floats) -> None:
    """Write the aphids of each plant that has any into its record, and each bed's into a row.

    A colony that ended was struck from its plant when it did.
    """
    per_m2[:] = 0.0
    for plant in range(plants.size):
        alive = size_of(colonies[plant])
        if alive > 0.0:
            plants[plant].aphids = alive
            per_m2[plants[plant].bed] += alive
    for bed in range(beds.size):
        per_m2[bed] /= beds[bed].area_m2


@loop
def take_from_plants(plants: Records, which: Ints, shares: Floats, flow: int, colonies: Floats, flows: Floats) -> None:
    """Take a share of the aphids off each named plant, under one heading."""
    for place in range(which.size):
        plant = which[place]
        flows[plants[plant].bed, flow] += remove_share(colonies[plant], shares[place])
        plants[plant].aphids = size_of(colonies[plant])


@loop
def live_a_day(
    today: Records,
    beds: Records,
    gets_in: Floats,
    contact: Floats,
    residue: Floats,
    standing: Ints,
    plants: Records,
    aphid_risk: Floats,
    aphid_kill: Floats,
    wasp_kill: Floats,
    residue_share: Floats,
    host_weight: Floats,
    life: Records,
    instar_dd: Floats,
    factor: float,
    keys: NDArray[np.uint64],
    dampness: Floats,
    hosts_m2: Floats,
    first_host: Ints,
    roaming: Floats,
    hazards: Floats,
    colonies: Floats,
    flows: Floats,
    per_m2: Floats,
) -> None:
    """Let colonies meet the day's hazards and grow, winged females arrive, and write down how many there are."""
    dampness[0] = damper(dampness[0], today[0].rain_mm, life[0])
    prepare_hazards(
        beds, gets_in, contact, residue, per_m2, aphid_risk, aphid_kill, wasp_kill, residue_share, life, hazards
    )
    live_on_plants(beds, gets_in, plants, hazards, host_weight, dampness[0], life, instar_dd, roaming, colonies, flows)
    arrive_on_plants(
        today, standing, plants, gets_in, host_weight, life, factor, keys, hosts_m2, first_host, roaming, colonies,
        flows,
    )  # fmt: skip
    count_aphids(beds, plants, colonies, per_m2)


class Aphids(mesa.Agent):  # type: ignore[misc]
    """Cabbage aphids of the garden, as one colony a plant.

    Parameters
    ----------
    garden
        The model they live in.
    parameters
        The table; every key under ``aphids``.
    plant_count, bed_count
        Plants and beds, the margin included; a colony has the place of its plant.
    factor
        How many times the usual number of winged females comes, 0 and up.
    seed
        Of the season.

    Attributes
    ----------
    per_m2
        Aphids of each bed this morning [1/m²], shape (B,).
    """

    def __init__(
        self,
        garden: mesa.Model,
        parameters: Parameters,
        *,
        plant_count: int,
        bed_count: int,
        factor: float,
        seed: int,
    ) -> None:
        super().__init__(garden)
        self._life = records(np.zeros(1, LIFE))
        for name in LIFE.names or ():
            self._life[name] = parameters.number(f"aphids.{name}")
        self._instar_dd = parameters.numbers("aphids.instar_dd")
        self._host_weight = parameters.numbers("aphids.host_weight")
        if self._host_weight.size != CROPS:
            raise TypeError(f"aphids.host_weight has {self._host_weight.size} numbers for {CROPS} crops")
        self._residue_share = parameters.numbers("aphids.residue_share")
        self._factor = factor
        self._keys = np.array([stream_key(seed, "winged aphids", bed) for bed in range(bed_count)], dtype=np.uint64)
        self._dampness: Floats = np.zeros(1)
        self._hosts_m2: Floats = np.zeros(bed_count)
        self._first_host: Ints = np.zeros(bed_count, np.int64)
        self._roaming: Floats = np.zeros(bed_count)
        self._hazards: Floats = np.zeros((bed_count, len(HAZARDS)))
        self._flows: Floats = np.zeros((bed_count, len(FLOWS)))
        self._nobody_killed: Floats = np.zeros(PRODUCTS)
        self._colonies: Floats = np.zeros((plant_count, AGES))
        self.per_m2: Floats = np.zeros(bed_count)

    def live(
        self,
        today: Records,
        surroundings: Surroundings,
        standing: Ints,
        plants: Records,
        *,
        aphid_risk: Floats,
        aphid_kill: Floats,
        wasp_kill: Floats | None = None,
    ) -> None:
        """Let aphids die, grow and arrive for a day.

        Parameters
        ----------
        today
            One ``TODAY`` record, shape (1,).
        surroundings
            Weather in each bed, nets, contact and residues; nothing is changed.
        standing
            Places of the plants that stand, in their order.
        plants
            ``PLANT`` records, shape (plant_count,); their ``aphids`` are rewritten.
        aphid_risk
            Hazard (1/d) from each generalist enemy to one aphid, shape (B, 4).
        aphid_kill, wasp_kill
            Share of wetted aphids, and of wetted small wasps, that a spray of each product kills, shape (PRODUCTS,).
        """
        live_a_day(
            today, surroundings.beds, surroundings.gets_in, surroundings.contact, surroundings.residue, standing,
            plants, aphid_risk, aphid_kill, self._nobody_killed if wasp_kill is None else wasp_kill,
            self._residue_share, self._host_weight, self._life, self._instar_dd, self._factor, self._keys,
            self._dampness, self._hosts_m2, self._first_host, self._roaming, self._hazards, self._colonies,
            self._flows, self.per_m2,
        )  # fmt: skip

    def harvested(self, plants: Records, which: Ints, shares: Floats) -> None:
        """Carry off the aphids on the picked share of each of these plants, both of shape (k,)."""
        take_from_plants(plants, which, shares, HARVESTED, self._colonies, self._flows)

    def wash(self, plants: Records, bed: int, share: float) -> None:
        """Wash a share of the aphids off every plant of a bed with water."""
        which = np.flatnonzero(plants["bed"] == bed)
        take_from_plants(plants, which, np.full(which.size, share), WASHED_OFF, self._colonies, self._flows)

    def alive(self) -> float:
        """Return how many aphids there are in all beds, margin included."""
        return float(self._colonies.sum() + self._roaming.sum())

    def ledger(self) -> dict[str, float]:
        """Return aphids by entry (arrived, born) and by exit (all others), and those alive."""
        totals = self._flows.sum(axis=0)
        return {name: float(totals[flow]) for flow, name in enumerate(FLOWS)} | {"alive": self.alive()}

    def imbalance(self) -> float:
        """Return the share by which entries and exits plus alive differ; 0 but for rounding."""
        totals = self._flows.sum(axis=0)
        entries = totals[ARRIVED] + totals[BORN]
        exits = totals.sum() - entries
        return float(abs(entries - exits - self.alive()) / max(entries, 1.0))
