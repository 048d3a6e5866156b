"""Nets that can catch a bird: how often one comes near, and what follows.

Takes: where the birds were in the garden today, and each net's danger.
Keeps: nothing.
Changes: the nests' count of entangled birds, and their parents.
"""

from __future__ import annotations

import math

from sim.birds.daybook import DayBook, Here
from sim.birds.menu import Menu
from sim.birds.nest import catch_in_net
from sim.compiled import Floats, Records, loop, rule


@rule
def contact_share(minutes_near: float, visit_minutes: float) -> float:
    """Return the chance that a bird comes to a bed at all on a day in which it spends these minutes near it."""
    return -math.expm1(-minutes_near / visit_minutes)


@rule
def _hazard_for_each(n: int, minutes_each: float, danger: Floats, here: Here, menu: Menu, book: DayBook) -> float:
    """Return one bird's hazard today.

    While in the garden a bird perches and moves about all of it, covered beds included, so it is near a bed by the
    bed's share of the garden's area.
    """
    in_garden = 0.0
    for bed in range(here.beds.size):
        in_garden += book.shares[n, bed]
    hazard = 0.0
    for bed in range(here.beds.size):
        if danger[bed] > 0.0:
            near_minutes = minutes_each * in_garden * here.beds[bed].area_m2 / here.site[0].garden_area_m2
            hazard += contact_share(near_minutes, menu.shared[0].visit_minutes) * danger[bed]
    return hazard


@loop
def meet_nets(
    nests: Records,
    nestling_g: Floats,
    entangle_per_contact: Floats,
    day: int,
    day_of_year: int,
    here: Here,
    menu: Menu,
    book: DayBook,
) -> None:
    """Draw each pair's luck with nets: at most one bird of a pair and day."""
    for n in range(nests.size):
        nest = nests[n]
        birds = nest.parents + nest.grown_young
        if nest.parents == 0 or birds <= 0.0:
            continue
        minutes_each = (nest.own_minutes + nest.young_minutes) / birds
        hazard = _hazard_for_each(n, minutes_each, entangle_per_contact, here, menu, book)
        if hazard > 0.0:
            nest.entangled_expected += hazard * nest.parents
            snare, kind = -math.expm1(-hazard * nest.parents), menu.kinds[nest.kind]
            death_share = menu.shared[0].entangled_death_share
            catch_in_net(nest, nestling_g[n], kind, snare, death_share, day, day_of_year)
