"""Nets that can catch a bird: how often one comes near, and what follows.

Takes: where the birds were in the garden today, and each net's danger.
Keeps: nothing.
Changes: the nests' count of entangled birds, and their parents.
"""

from __future__ import annotations

import math

from sim.birds.nest import catch_in_net
from sim.compiled import Floats, Records, loop, rule


@rule
def contact_share(minutes_near: float, visit_minutes: float) -> float:
    """Return the chance that a bird comes to a bed at all on a day in which it spends these minutes near it."""
    return -math.expm1(-minutes_near / visit_minutes)


@loop
def meet_nets(
    nests: Records,
    nestling_g: Floats,
    kinds: Records,
    shared: Records,
    beds: Records,
    shares: Floats,
    entangle_per_contact: Floats,
    garden_area_m2: float,
    day: int,
    day_of_year: int,
) -> float:
    """Draw each pair's luck with nets and return the expected number caught today.

    While in the garden a bird perches and moves about all of it, covered beds included, so it is near a bed by the
    bed's share of the garden's area.
    """
    expected = 0.0
    for n in range(nests.size):
        nest = nests[n]
        if nest.parents == 0:
            continue
        garden_share = 0.0
        for bed in range(beds.size):
            garden_share += shares[n, bed]
        minutes_each = (nest.own_minutes + nest.young_minutes) * garden_share / (nest.parents + nest.grown_young)
        hazard = 0.0
        for bed in range(beds.size):
            if entangle_per_contact[bed] > 0.0:
                near = minutes_each * beds[bed].area_m2 / garden_area_m2
                hazard += contact_share(near, shared[0].visit_minutes) * entangle_per_contact[bed]
        snare = -math.expm1(-hazard * nest.parents)
        expected += hazard * nest.parents
        if snare > 0.0:
            kind = kinds[nest.kind]
            death_share = shared[0].entangled_death_share
            catch_in_net(nest, nestling_g[n], kind, snare, death_share, day, day_of_year)
    return expected
