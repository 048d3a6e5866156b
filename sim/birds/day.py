"""The two halves of the birds' day, each one compiled call."""

from __future__ import annotations

from typing import Any

from sim.birds.daybook import DayBook, Here
from sim.birds.foraging import (
    feeding_minutes,
    hunt,
    look_into_beds,
    look_outside,
    plan_minutes,
    prey_activity,
    share_time,
    write_risk,
)
from sim.birds.larder import carry_enemies, carry_from_outside, carry_insects, hand_out
from sim.birds.menu import Menu
from sim.birds.nest import feed_nestlings, turn_page, wake_nests
from sim.birds.snares import meet_nets
from sim.compiled import Floats, Records, loop


@loop
def spend_day(today: Any, nests: Records, nestling_g: Floats, here: Here, menu: Menu, book: DayBook) -> None:
    """Wake, look around, share out the day's minutes, hunt, and leave the beds' risks behind."""
    shared = menu.shared[0]
    wake_nests(nests, nestling_g, menu.kinds, menu.shared, today.day_of_year, here.site[0].spring_shift_days)
    activity = prey_activity(today, shared)
    look_into_beds(here, menu, book)
    look_outside(float(today.day_of_year), here, menu, book)
    share_time(nests, activity, here, menu, book)
    plan_minutes(nests, activity, feeding_minutes(today, shared), menu, book)
    hunt(nests, activity, menu, book)
    write_risk(here, menu, book)
    carry_from_outside(nests, here, menu, book)
    carry_enemies(nests, here, menu, book)


@loop
def come_home(
    today: Any,
    nests: Records,
    nestling_g: Floats,
    caught_count: Floats,
    caught_mg: Floats,
    entangle_per_contact: Floats,
    brood_need_kj: Floats,
    here: Here,
    menu: Menu,
    book: DayBook,
) -> None:
    """Bring home what was really caught, feed the young, meet nets, and end every nest's day."""
    carry_insects(nests, caught_count, caught_mg, menu, book)
    hand_out(nests, brood_need_kj, menu, book)
    feed_nestlings(nests, nestling_g, menu.kinds, menu.shared, book.food_kj, book.portions_kj)
    meet_nets(nests, nestling_g, entangle_per_contact, today.day, today.day_of_year, here, menu, book)
    shift_days = here.site[0].spring_shift_days
    turn_page(nests, nestling_g, menu.kinds, menu.shared, today.day, today.day_of_year, shift_days)
