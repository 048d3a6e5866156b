"""How winged cabbage aphids find a plant: from around the garden, or from a crowded colony of the same bed."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sim.cast import Visitor
from sim.compiled import Floats, Ints, Records, loop, rule
from sim.insects.aphid_colony import ADULT, ARRIVED, LOST_HOST, flight_level
from sim.randomness import chance, poisson

WINGED = int(Visitor.WINGED_APHID)
CM2_PER_M2 = 10000.0


@rule
def host_m2(plant: Any, host_weight: Floats) -> float:
    """Return a plant's leaf area [m²], weighed by how well aphids like its kind."""
    return float(host_weight[plant.crop] * plant.leaf_area_cm2 / CM2_PER_M2)


@rule
def plant_at(along_m2: float, bed: int, first: int, plants: Records, host_weight: Floats) -> int:
    """Return the plant of a bed on which a point of its weighed leaf area lies; ``first`` is the bed's first host."""
    landed = -1
    for plant in range(first, plants.size):
        if plants[plant].bed == bed and plants[plant].is_growing:
            area_m2 = host_m2(plants[plant], host_weight)
            if area_m2 > 0.0:
                along_m2 -= area_m2
                landed = plant
                if along_m2 < 0.0:
                    break
    return landed


@loop
def arrive_on_plants(
    today: Records,
    standing: Ints,
    plants: Records,
    gets_in: Floats,
    host_weight: Floats,
    life: Records,
    factor: float,
    keys: NDArray[np.uint64],
    hosts_m2: Floats,
    first_host: Ints,
    roaming: Floats,
    colonies: Floats,
    flows: Floats,
) -> None:
    """Draw the winged females of each bed and set each on a plant, by leaf area and liking.

    Those of the bed's own that roam settle together on one plant, once they are one or more.
    """
    hosts_m2[:] = 0.0
    for plant in standing:
        if plants[plant].is_growing:
            bed = plants[plant].bed
            if hosts_m2[bed] == 0.0:
                first_host[bed] = plant
            hosts_m2[bed] += host_m2(plants[plant], host_weight)
    day = today[0].day
    level = flight_level(today[0].day_of_year, today[0].tmax_c, today[0].rain_mm, life[0])
    for bed in range(hosts_m2.size):
        mean = life[0].arrivals_per_m2 * hosts_m2[bed] * level * factor * gets_in[bed, WINGED]
        for number in range(poisson(mean, chance(keys[bed], day, 0))):
            along_m2 = chance(keys[bed], day, number + 2) * hosts_m2[bed]
            colonies[plant_at(along_m2, bed, first_host[bed], plants, host_weight), ADULT] += 1.0
            flows[bed, ARRIVED] += 1.0
        if roaming[bed] >= 1.0 and hosts_m2[bed] > 0.0:
            along_m2 = chance(keys[bed], day, 1) * hosts_m2[bed]
            colonies[plant_at(along_m2, bed, first_host[bed], plants, host_weight), ADULT] += roaming[bed]
            roaming[bed] = 0.0
        elif hosts_m2[bed] <= 0.0:
            flows[bed, LOST_HOST] += roaming[bed]
            roaming[bed] = 0.0
