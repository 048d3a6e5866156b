"""The two halves of the birds' day, each one compiled call.

What they read and write is handed over array by array and put together inside: to look into a named tuple from outside
takes numba 2 to 3 microseconds, each tuple, each call, which was more than all else that birds do in a day.
"""

from __future__ import annotations

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
def spend_day(
    day: Records,
    nests: Records,
    nestling_g: Floats,
    site: Records,
    beds: Records,
    gets_in: Floats,
    alive: Floats,
    mass_mg: Floats,
    generalists_per_m2: Floats,
    risk: Floats,
    kinds: Records,
    shared: Records,
    groups: Records,
    reach: Floats,
    meals: Records,
    enemies: Records,
    wanted: Floats,
    offer: Floats,
    met: Floats,
    prey_mg: Floats,
    shares: Floats,
    effort: Floats,
    searched: Floats,
    enemy_risk: Floats,
    carried: Floats,
    carried_mg: Floats,
    food_kj: Floats,
    portions_kj: Floats,
    of_today: Floats,
    of_season: Floats,
) -> None:
    """Wake, look around, share out the day's minutes, hunt, and leave the beds' risks behind.

    ``day`` is one ``TODAY`` record; from ``site`` on come the fields of ``Here``, ``Menu`` and ``DayBook``.
    """
    here = Here(site, beds, gets_in, alive, mass_mg, generalists_per_m2, risk)
    menu = Menu(kinds, shared, groups, reach, meals, enemies)
    book = DayBook(
        wanted, offer, met, prey_mg, shares, effort, searched, enemy_risk, carried, carried_mg, food_kj, portions_kj,
        of_today, of_season,
    )  # fmt: skip
    today, facts = day[0], shared[0]
    wake_nests(nests, nestling_g, kinds, shared, today.day_of_year, site[0].spring_shift_days)
    activity = prey_activity(today, facts)
    look_into_beds(here, menu, book)
    look_outside(float(today.day_of_year), here, menu, book)
    share_time(nests, activity, here, menu, book)
    plan_minutes(nests, activity, feeding_minutes(today, facts), menu, book)
    hunt(nests, activity, menu, book)
    write_risk(here, menu, book)
    carry_from_outside(nests, here, menu, book)
    carry_enemies(nests, here, menu, book)


@loop
def come_home(
    day: Records,
    nests: Records,
    nestling_g: Floats,
    caught_count: Floats,
    caught_mg: Floats,
    entangle_per_contact: Floats,
    brood_need_kj: Floats,
    site: Records,
    beds: Records,
    gets_in: Floats,
    alive: Floats,
    mass_mg: Floats,
    generalists_per_m2: Floats,
    risk: Floats,
    kinds: Records,
    shared: Records,
    groups: Records,
    reach: Floats,
    meals: Records,
    enemies: Records,
    wanted: Floats,
    offer: Floats,
    met: Floats,
    prey_mg: Floats,
    shares: Floats,
    effort: Floats,
    searched: Floats,
    enemy_risk: Floats,
    carried: Floats,
    carried_mg: Floats,
    food_kj: Floats,
    portions_kj: Floats,
    of_today: Floats,
    of_season: Floats,
) -> None:
    """Bring home what was really caught, feed the young, meet nets, and end every nest's day.

    ``day`` is one ``TODAY`` record; from ``site`` on come the fields of ``Here``, ``Menu`` and ``DayBook``.
    """
    here = Here(site, beds, gets_in, alive, mass_mg, generalists_per_m2, risk)
    menu = Menu(kinds, shared, groups, reach, meals, enemies)
    book = DayBook(
        wanted, offer, met, prey_mg, shares, effort, searched, enemy_risk, carried, carried_mg, food_kj, portions_kj,
        of_today, of_season,
    )  # fmt: skip
    today = day[0]
    carry_insects(nests, caught_count, caught_mg, menu, book)
    hand_out(nests, brood_need_kj, menu, book)
    feed_nestlings(nests, nestling_g, kinds, shared, food_kj, portions_kj)
    meet_nets(nests, nestling_g, entangle_per_contact, today.day, today.day_of_year, here, menu, book)
    turn_page(nests, nestling_g, kinds, shared, today.day, today.day_of_year, site[0].spring_shift_days)
