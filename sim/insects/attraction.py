"""What draws a flying insect to a plant, and how a try finds one: sums of attraction over its hosts, once a day.

Takes plants, nets and what each species likes. Gives for each species a list of the plants that draw it today, with
running sums and a guide, in which one draw finds one of them. In a large garden most plants draw a species not at all,
and most beds are empty: those are left out.
"""

from __future__ import annotations

import math

from sim.cast import Species
from sim.compiled import Bytes, Floats, Ints, Record, Records, loop, rule

_WASP = int(Species.PARASITOID_WASP)

LISTS = 2
ALL, BARE = range(LISTS)
"""A species' hosts today: all of them, and those that no net keeps from it."""


@rule
def is_there(plant: Record) -> bool:
    """Return whether a plant has leaves to come to."""
    return bool(plant.is_growing and plant.leaf_area_cm2 > 0.0)


@loop
def like_plants(plants: Records, fliers: Records, host_weights: Floats, liking: Floats, has_hosts: Bytes) -> None:
    """Fill how much each plant draws a species by kind of crop and place in its bed, whatever its leaf, [S, P].

    Mark in ``has_hosts`` [S, B] the beds in which any plant draws it.
    """
    for s in range(fliers.size):
        for p in range(plants.size):
            at_the_edge = 1.0 + (fliers[s].edge_factor - 1.0) * plants[p].edge_share
            liking[s, p] = max(0.0, host_weights[s, plants[p].crop]) * at_the_edge
            if liking[s, p] > 0.0:
                has_hosts[s, plants[p].bed] = 1


@rule
def list_those_in_leaf(
    standing: Ints, plants: Records, in_leaf: Ints, begins: Ints, area_cm2: Floats, root_cm: Floats
) -> None:
    """List the plants that have leaf to show to those who come flying, and that leaf and the root of it, all [P].

    ``begins`` [B + 1] is set to where those of each bed begin, its last to where the list ends.
    """
    listed, next_bed = 0, 0
    for p in standing:
        plant = plants[p]
        if not is_there(plant):
            continue
        while next_bed <= plant.bed:
            begins[next_bed] = listed
            next_bed += 1
        in_leaf[listed] = p
        area_cm2[listed] = plant.leaf_area_cm2
        root_cm[listed] = math.sqrt(area_cm2[listed])
        listed += 1
    while next_bed < begins.size:
        begins[next_bed] = listed
        next_bed += 1


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
def write_guide(sums: Floats, count: int, steps: int, guide: Ints) -> None:
    """Note for each of so many equal steps of a running sum on which of its ``count`` places it falls.

    The number of steps comes first. As many as there are fliers will do, or as many as places: more would not be worth
    the writing.
    """
    place = 0
    guide[0] = steps
    for step in range(steps):
        mark = sums[count] * step / steps
        while place < count - 1 and sums[place + 1] <= mark:
            place += 1
        guide[1 + step] = place


@rule
def is_open_everywhere(gets_in: Floats, species: int) -> bool:
    """Return whether no net keeps a species from any bed."""
    least = 1.0
    for b in range(gets_in.shape[0]):
        least = min(least, gets_in[b, species])
    return least >= 1.0


@rule
def weigh_bed(
    species: int,
    begin: int,
    end: int,
    in_leaf: Ints,
    plants: Records,
    area_cm2: Floats,
    root_cm: Floats,
    flier: Record,
    habits: Record,
    liking: Floats,
    weights: Floats,
) -> None:
    """Set what each plant in leaf of one bed weighs for a species; 0 where it is no host."""
    is_root = 2.0 * flier.leaf_exponent == 1.0  # of most species: the root is there already
    for k in range(begin, end):
        p = in_leaf[k]
        weights[k] = 0.0
        if liking[species, p] > 0.0:
            pull = root_cm[k] if is_root else pull_of_leaf(area_cm2[k], flier.leaf_exponent)
            weights[k] = liking[species, p] * pull
            if species == _WASP:
                weights[k] *= pull_of_damage(plants[p], habits)


@rule
def list_hosts(
    in_leaf: Ints, begins: Ints, weights: Floats, is_meant: Bytes, hosts: Ints, sums: Floats, first: Ints
) -> int:
    """List the plants that weigh something in the beds that are meant, [B]; return how many.

    ``hosts`` [P] is set to their places, ``sums`` [P + 1] to the running sum of their weights from 0, ``first`` [B + 1]
    to where each bed's begin, its last to where the list ends.
    """
    listed = 0
    total = 0.0
    sums[0] = 0.0
    for b in range(is_meant.size):
        first[b] = listed
        if not is_meant[b]:
            continue
        for k in range(begins[b], begins[b + 1]):
            if weights[k] > 0.0:
                total += weights[k]
                hosts[listed] = in_leaf[k]
                listed += 1
                sums[listed] = total
    first[is_meant.size] = listed
    return listed


@loop
def draw_fliers(
    standing: Ints,
    plants: Records,
    gets_in: Floats,
    fliers: Records,
    habits_of_all: Records,
    liking: Floats,
    has_hosts: Bytes,
    flying: Ints,
    hosts: Ints,
    sums: Floats,
    guide: Ints,
    first: Ints,
    netted: Bytes,
    in_leaf: Ints,
    begins: Ints,
    area_cm2: Floats,
    root_cm: Floats,
    weights: Floats,
    is_meant: Bytes,
) -> None:
    """List what draws each species that flies today, in the form that ``list_hosts`` and ``write_guide`` tell.

    Lists have shapes [LISTS, S, P] or [LISTS, S, P + 1], ``first`` [LISTS, S, B + 1]. Those of plants that no net keeps
    a species from are written where it keeps it from some, which ``netted`` [S] then says. ``flying`` [S] counts those
    that will try plants today. From ``in_leaf`` on it is working space: [P], but [B + 1] and [B] for beds.
    """
    list_those_in_leaf(standing, plants, in_leaf, begins, area_cm2, root_cm)
    for s in range(fliers.size):
        if flying[s] == 0:
            continue
        for b in range(is_meant.size):
            is_meant[b] = has_hosts[s, b]
            if is_meant[b]:
                weigh_bed(
                    s, begins[b], begins[b + 1], in_leaf, plants, area_cm2, root_cm, fliers[s], habits_of_all[0],
                    liking, weights,
                )  # fmt: skip
        count = list_hosts(in_leaf, begins, weights, is_meant, hosts[ALL, s], sums[ALL, s], first[ALL, s])
        write_guide(sums[ALL, s], count, min(flying[s], count), guide[ALL, s])
        netted[s] = 0 if is_open_everywhere(gets_in, s) else 1
        if netted[s]:
            for b in range(is_meant.size):
                is_meant[b] = 1 if has_hosts[s, b] and gets_in[b, s] >= 1.0 else 0
            count = list_hosts(in_leaf, begins, weights, is_meant, hosts[BARE, s], sums[BARE, s], first[BARE, s])
            write_guide(sums[BARE, s], count, min(flying[s], count), guide[BARE, s])


@rule
def find_by_guide(sums: Floats, count: int, guide: Ints, u: float) -> int:
    """Return the place in a list on which the share u of all attraction falls; -1 if there is none.

    The guide (``chen1974``) tells where to begin, so that a look takes about a step however many places there are.
    """
    if sums[count] <= 0.0:
        return -1
    mark = u * sums[count]
    place = int(guide[1 + int(u * guide[0])])
    while place < count - 1 and sums[place + 1] <= mark:
        place += 1
    return place


@rule
def find_between(sums: Floats, first: int, last: int, u: float) -> int:
    """Return the place of a list in [first, last) on which the share u of its attraction falls; -1 if there is none."""
    span = sums[last] - sums[first]
    if span <= 0.0:
        return -1
    mark = sums[first] + u * span
    place = first
    while place < last - 1 and sums[place + 1] <= mark:
        place += 1
    return place


@rule
def find_host(species: int, which: int, bed: int, hosts: Ints, sums: Floats, guide: Ints, first: Ints, u: float) -> int:
    """Return the plant on which the share u of a list's attraction falls, or of one bed's part of it; -1 for none.

    ``bed`` is -1 for the whole list.
    """
    if bed >= 0:
        begins, ends = first[which, species, bed], first[which, species, bed + 1]
        place = find_between(sums[which, species], begins, ends, u)
    else:
        count = first[which, species, first.shape[2] - 1]
        place = find_by_guide(sums[which, species], count, guide[which, species], u)
    return int(hosts[which, species, place]) if place >= 0 else -1
