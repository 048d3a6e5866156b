"""What draws a flying insect to a plant, and how a try finds one: sums of attraction over all plants, once a day.

Takes plants, nets and what each species likes. Gives running sums and guides, in which one draw finds one plant.
"""

from __future__ import annotations

import math

from sim.cast import Species
from sim.compiled import Bytes, Floats, Ints, Record, Records, loop, rule

_WASP = int(Species.PARASITOID_WASP)


@rule
def is_there(plant: Record) -> bool:
    """Return whether a plant has leaves to come to."""
    return bool(plant.is_growing and plant.leaf_area_cm2 > 0.0)


@loop
def like_plants(plants: Records, fliers: Records, host_weights: Floats, liking: Floats) -> None:
    """Fill how much each plant draws a species by kind of crop and place in its bed, whatever its leaf, [S, P]."""
    for s in range(fliers.size):
        for p in range(plants.size):
            at_the_edge = 1.0 + (fliers[s].edge_factor - 1.0) * plants[p].edge_share
            liking[s, p] = max(0.0, host_weights[s, plants[p].crop]) * at_the_edge


@rule
def measure_hosts(plants: Records, area_cm2: Floats, root_cm: Floats) -> None:
    """Set the leaf that each plant shows to those who come flying, and its root, [P]: 0 where there is none."""
    for p in range(plants.size):
        area_cm2[p] = plants[p].leaf_area_cm2 if is_there(plants[p]) else 0.0
        root_cm[p] = math.sqrt(area_cm2[p])


@rule
def pull_of_leaf(area_cm2: float, exponent: float) -> float:
    """Return what a plant's leaf adds to its attraction: a power of its area."""
    return 1.0 if exponent <= 0.0 else math.exp(exponent * math.log(area_cm2))


@rule
def pull_of_damage(plant: Record, habits: Record) -> float:
    """Return how many times more a plant draws wasps for its chewed leaf."""
    if plant.eaten_cm2 <= 0.0:
        return 1.0
    chewed = plant.eaten_cm2 / (plant.eaten_cm2 + plant.leaf_area_cm2)
    return float(1.0 + habits.damage_pull * min(1.0, chewed / habits.damage_full_share))


@rule
def write_guide(sums: Floats, guide: Ints, species: int, steps: int) -> None:
    """Note for each of so many equal steps of the running sum on which plant it falls; the number of steps comes first.

    As many steps as there are fliers will do, or as many as plants: more would not be worth the writing.
    """
    count = sums.shape[1] - 1
    total = sums[species, count]
    plant = 0
    guide[species, 0] = steps
    for step in range(steps):
        mark = total * step / steps
        while plant < count - 1 and sums[species, plant + 1] <= mark:
            plant += 1
        guide[species, 1 + step] = plant


@rule
def is_open_everywhere(gets_in: Floats, species: int) -> bool:
    """Return whether no net keeps a species from any bed."""
    least = 1.0
    for b in range(gets_in.shape[0]):
        least = min(least, gets_in[b, species])
    return least >= 1.0


@rule
def add_up(weights: Floats, sums: Floats, species: int) -> None:
    """Write the running sum of a species' weights, [P + 1] from 0."""
    total = 0.0
    sums[species, 0] = 0.0
    for p in range(weights.size):
        total += weights[p]
        sums[species, p + 1] = total


@rule
def weigh_for(
    species: int,
    plants: Records,
    area_cm2: Floats,
    root_cm: Floats,
    flier: Record,
    habits: Record,
    liking: Floats,
    weights: Floats,
) -> None:
    """Set what each plant weighs for one species, [P]."""
    if 2.0 * flier.leaf_exponent == 1.0 and species != _WASP:  # most of them: the root is there already
        for p in range(root_cm.size):
            weights[p] = liking[species, p] * root_cm[p]
        return
    for p in range(area_cm2.size):
        weights[p] = 0.0
        if area_cm2[p] > 0.0 and liking[species, p] > 0.0:
            is_root = 2.0 * flier.leaf_exponent == 1.0
            pull = root_cm[p] if is_root else pull_of_leaf(area_cm2[p], flier.leaf_exponent)
            weights[p] = liking[species, p] * pull
            if species == _WASP:
                weights[p] *= pull_of_damage(plants[p], habits)


@rule
def leave_out_netted(plants: Records, gets_in: Floats, species: int, weights: Floats) -> None:
    """Take away the weight of plants that a net keeps a species from."""
    for p in range(plants.size):
        if gets_in[plants[p].bed, species] < 1.0:
            weights[p] = 0.0


@loop
def weigh_plants(
    plants: Records,
    gets_in: Floats,
    fliers: Records,
    habits_of_all: Records,
    liking: Floats,
    flying: Ints,
    all_plants: Floats,
    bare_plants: Floats,
    all_guide: Ints,
    bare_guide: Ints,
    netted: Bytes,
    area_cm2: Floats,
    root_cm: Floats,
    weights: Floats,
) -> None:
    """Fill the running sums of attraction, [S, P + 1], and their guides [S, 1 + P], of each species that flies today.

    Once over all plants; where a net keeps a species from some, which ``netted`` [S] then says, once over the others.
    ``flying`` [S] counts those that will try plants today; ``area_cm2``, ``root_cm`` and ``weights`` [P] are working
    space.
    """
    measure_hosts(plants, area_cm2, root_cm)
    for s in range(fliers.size):
        if flying[s] == 0:
            continue
        steps = min(flying[s], plants.size)
        weigh_for(s, plants, area_cm2, root_cm, fliers[s], habits_of_all[0], liking, weights)
        add_up(weights, all_plants, s)
        write_guide(all_plants, all_guide, s, steps)
        netted[s] = 0 if is_open_everywhere(gets_in, s) else 1
        if netted[s]:
            leave_out_netted(plants, gets_in, s, weights)
            add_up(weights, bare_plants, s)
            write_guide(bare_plants, bare_guide, s, steps)


@rule
def find_by_guide(sums: Floats, guide: Ints, species: int, u: float) -> int:
    """Return the plant that the share u of all attraction falls on; -1 if there is none.

    The guide (``chen1974``) tells where to begin, so that a look takes about a step however many plants there are.
    """
    count = sums.shape[1] - 1
    total = sums[species, count]
    if total <= 0.0:
        return -1
    mark = u * total
    plant = int(guide[species, 1 + int(u * guide[species, 0])])
    while plant < count - 1 and sums[species, plant + 1] <= mark:
        plant += 1
    return plant


@rule
def find_in_bed(sums: Floats, species: int, first: int, last: int, u: float) -> int:
    """Return the plant of a bed, [first, last), that the share u of its attraction falls on; -1 if there is none."""
    span = sums[species, last] - sums[species, first]
    if span <= 0.0:
        return -1
    mark = sums[species, first] + u * span
    plant = first
    while plant < last - 1 and sums[species, plant + 1] <= mark:
        plant += 1
    return plant
