"""What draws a flying insect to a plant, and how a try finds one: sums of attraction over all plants, once a day.

Takes plants, nets and what each species likes. Gives running sums and guides, in which one draw finds one plant.
"""

from __future__ import annotations

import math

from sim.cast import Species
from sim.compiled import Floats, Ints, Record, Records, loop, rule

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
def pull_of_leaf(plants: Records, exponent: float, pull: Floats) -> None:
    """Set what a plant's leaf area adds to its attraction: a power of it, 0 where there is none."""
    for p in range(plants.size):
        if not is_there(plants[p]):
            pull[p] = 0.0
        elif exponent > 0.0:
            pull[p] = math.exp(exponent * math.log(plants[p].leaf_area_cm2))
        else:
            pull[p] = 1.0


@rule
def one_that_looks_alike(fliers: Records, has_fliers: Floats, species: int) -> int:
    """Return the first species in flight that goes by leaf area as this one does: itself, if there is no other."""
    for s in range(species):
        if has_fliers[s] > 0.0 and fliers[s].leaf_exponent == fliers[species].leaf_exponent:
            return s
    return species


@rule
def pull_of_damage(plant: Record, habits: Record) -> float:
    """Return how many times more a plant draws wasps for its chewed leaf."""
    if plant.eaten_cm2 <= 0.0:
        return 1.0
    chewed = plant.eaten_cm2 / (plant.eaten_cm2 + plant.leaf_area_cm2)
    return float(1.0 + habits.damage_pull * min(1.0, chewed / habits.damage_full_share))


@rule
def write_guide(sums: Floats, guide: Ints, species: int, count: int) -> None:
    """Note for each of as many equal steps of the running sum as there are plants on which plant it falls."""
    total = sums[species, count]
    plant = 0
    for step in range(count):
        while plant < count - 1 and sums[species, plant + 1] <= total * step / count:
            plant += 1
        guide[species, step] = plant


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
def copy_of_row(sums: Floats, guide: Ints, to_sums: Floats, to_guide: Ints, species: int) -> None:
    """Write one species' running sum and guide into others."""
    for p in range(guide.shape[1]):
        to_guide[species, p] = guide[species, p]
    for p in range(sums.shape[1]):
        to_sums[species, p] = sums[species, p]


@loop
def weigh_plants(
    plants: Records,
    gets_in: Floats,
    fliers: Records,
    habits_of_all: Records,
    liking: Floats,
    has_fliers: Floats,
    all_plants: Floats,
    bare_plants: Floats,
    all_guide: Ints,
    bare_guide: Ints,
    pull: Floats,
    weights: Floats,
) -> None:
    """Fill the running sums of attraction, [S, P + 1], and their guides [S, P].

    Once over all plants, once over those that no net keeps a species from. ``pull`` [S, P] and ``weights`` [P] are
    working space; species that go by leaf area alike share one working out of it.
    """
    for s in range(fliers.size):
        if has_fliers[s] <= 0.0:
            continue
        alike = one_that_looks_alike(fliers, has_fliers, s)
        if alike == s:
            pull_of_leaf(plants, fliers[s].leaf_exponent, pull[s])
        for p in range(plants.size):
            weights[p] = liking[s, p] * pull[alike, p]
            if s == _WASP and weights[p] > 0.0:
                weights[p] *= pull_of_damage(plants[p], habits_of_all[0])
        add_up(weights, all_plants, s)
        write_guide(all_plants, all_guide, s, plants.size)
        if is_open_everywhere(gets_in, s):
            copy_of_row(all_plants, all_guide, bare_plants, bare_guide, s)
            continue
        for p in range(plants.size):
            if gets_in[plants[p].bed, s] < 1.0:
                weights[p] = 0.0
        add_up(weights, bare_plants, s)
        write_guide(bare_plants, bare_guide, s, plants.size)


@rule
def find_by_guide(sums: Floats, guide: Ints, species: int, u: float) -> int:
    """Return the plant that the share u of all attraction falls on; -1 if there is none.

    The guide (``chen1974``) tells where to begin, so that a look takes about a step however many plants there are.
    """
    count = guide.shape[1]
    total = sums[species, count]
    if total <= 0.0:
        return -1
    mark = u * total
    plant = int(guide[species, int(u * count)])
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
