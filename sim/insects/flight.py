"""Adults on the wing: which plants they try, what a net turns away, the eggs they lay, the hosts that wasps find.

Takes adults, plants and each bed's openness. Appends newborn to the population. A female tries plant after plant; after
each try she may leave. A net turns her away or lets her in; shut in, she leaves only by the chance she came in.
"""

from __future__ import annotations

import math

from sim.cast import Fate, Species, Stage
from sim.compiled import Bytes, Floats, Ints, Record, Records, loop, rule
from sim.insects.attraction import ALL, BARE, draw_fliers, find_host
from sim.insects.books import note_births
from sim.insects.clutches import fill_newborn, lay, note_clutch, put_in_order
from sim.insects.record import ADULTS, HOSTS, NOWHERE, SPENT_HOSTS, Ask
from sim.insects.rules import gets_through
from sim.randomness import chance, child_key

_ALIVE, _LEFT, _PARASITISED = int(Fate.ALIVE), int(Fate.LEFT_GARDEN), int(Fate.PARASITISED)
_PUPA = int(Stage.PUPA)
_WASP = int(Species.PARASITOID_WASP)
_TRY, _FOUND, _STUNG, _BROOD = Ask.TRY, Ask.FOUND, Ask.STUNG, Ask.BROOD


@rule
def flight_of_the_day(flier: Record, tmax_c: float, clear_share: float, rain_mm: float, habits: Record) -> float:
    """Return how much of a full day's flight the weather allows, 0 to 1."""
    warm = (tmax_c - flier.flight_low_c) / (flier.flight_full_c - flier.flight_low_c)
    clear = (clear_share - habits.overcast_share) / (habits.clear_for_full - habits.overcast_share)
    bright = flier.dull_share + (1.0 - flier.dull_share) * min(1.0, max(0.0, clear))
    dry = 1.0 / (1.0 + rain_mm / habits.rain_stops_mm)
    return float(min(1.0, max(0.0, warm)) * bright * dry)


@loop
def flight_of_all(
    fliers: Records, tmax_c: float, clear_share: float, rain_mm: float, habits_of_all: Records, flight: Floats
) -> None:
    """Fill the share of a full day's flight of each species, shape (S,)."""
    for s in range(fliers.size):
        flight[s] = flight_of_the_day(fliers[s], tmax_c, clear_share, rain_mm, habits_of_all[0])


@rule
def choose_plant(
    insect: Record, hosts: Ints, sums: Floats, guide: Ints, first: Ints, netted: Bytes, only_bare: bool, u: float
) -> int:
    """Return the plant of the next try: of her own bed if shut in, of all or of bare beds otherwise; -1 for none."""
    is_free = insect.inside < 0
    which = BARE if is_free and only_bare and netted[insect.species] else ALL
    return find_host(insect.species, which, insect.inside, hosts, sums, guide, first, u)


@rule
def is_let_in(insect: Record, bed: int, passes: float, turned_away: Floats, day: int, ask: int) -> bool:
    """Return whether a try ends in the bed; count it if a net turns her away, and shut her in if one lets her in."""
    if insect.inside >= 0 or passes >= 1.0:
        return True
    if chance(insect.key, day, ask) < passes:
        insect.inside = bed
        return True
    turned_away[insect.species, bed] += 1.0
    return False


@loop
def try_plants(
    insects: Records,
    day: int,
    flight: Floats,
    fliers: Records,
    fits_through: Floats,
    gap_pass: Floats,
    bed_of: Ints,
    hosts: Ints,
    sums: Floats,
    guide: Ints,
    first: Ints,
    netted: Bytes,
    turned_away: Floats,
    searched: Floats,
    clutches: Records,
    lists: Ints,
    listed: Ints,
) -> int:
    """Let every listed adult try its plants and note what it lays there; return the number of ``clutches``.

    ``turned_away`` [S, B] counts tries that a net ended; ``searched`` [P] the visits of wasps to plants.
    """
    noted = 0
    for i in range(listed[ADULTS]):
        insect = insects[lists[ADULTS, i]]
        if insect.fate != _ALIVE:  # starved since
            continue
        s, key = insect.species, insect.key
        flier = fliers[s]
        only_bare = False
        for k in range(int(flier.plants_tried_per_day * flight[s] + chance(key, day, _FOUND))):
            ask = _TRY + 4 * k
            held_by = insect.inside
            way_out = gets_through(insect, fits_through[held_by, s], gap_pass[held_by, s]) if held_by >= 0 else 1.0
            comes_out = chance(key, day, ask)
            if comes_out < flier.leave_per_try * way_out:
                insect.fate = _LEFT
                break
            if comes_out < way_out:
                insect.inside = -1
            u = chance(key, day, ask + 1)
            target = choose_plant(insect, hosts, sums, guide, first, netted, only_bare, u)
            if target < 0:
                continue
            b = bed_of[target]
            passes = gets_through(insect, fits_through[b, s], gap_pass[b, s])
            if not is_let_in(insect, b, passes, turned_away, day, ask + 2):
                only_bare = chance(key, day, ask + 3) < flier.try_bare_share
                if not only_bare:
                    insect.fate = _LEFT
                    break
                continue
            insect.plant, insect.bed, insect.place = target, b, NOWHERE
            if not insect.is_female:
                continue
            if s == _WASP:
                searched[target] += 1.0
            else:
                noted = note_clutch(insect, target, b, flier, clutches, noted)
    return noted


@loop
def lay_all(
    insects: Records,
    count: int,
    day: int,
    life: Records,
    fliers: Records,
    plants: Records,
    leaves: Records,
    clutches: Records,
    noted: int,
    beds: int,
    begins: Ints,
    order: Ints,
) -> int:
    """Lay the clutches by species and bed; return the new number of insects."""
    put_in_order(clutches, noted, beds, begins, order)
    for k in range(noted):
        count = lay(clutches[order[k]], insects, count, life, fliers, plants, leaves, day)
    return count


@rule
def chance_to_be_found(visits: float, hosts: float, habits: Record) -> float:
    """Return the chance that one of the day's visits of wasps to a plant finds a given host on it."""
    if visits <= 0.0 or hosts <= 0.0:
        return 0.0
    missed = 1.0 - habits.find_per_visit / (1.0 + habits.handling_hosts * hosts)
    missed_by_all = 1.0
    for _ in range(int(visits)):
        missed_by_all *= missed
    return 1.0 - missed_by_all


@loop
def sting_hosts(
    insects: Records,
    day: int,
    habits_of_all: Records,
    searched: Floats,
    hosts_on_plant: Floats,
    found: Floats,
    lists: Ints,
    listed: Ints,
) -> int:
    """Let the day's visits of wasps find hosts on each plant; return how many were stung. ``found`` [P] is set."""
    habits = habits_of_all[0]
    for p in range(searched.size):
        found[p] = chance_to_be_found(searched[p], hosts_on_plant[p], habits)
    stung = 0
    for i in range(listed[HOSTS]):
        host = insects[lists[HOSTS, i]]
        if found[host.plant] > 0.0 and chance(host.key, day, _STUNG) < found[host.plant]:
            spread = habits.brood_spread * (2.0 * chance(host.key, day, _BROOD) - 1.0)
            host.wasp_brood = max(1, int(habits.brood_cocoons * (1.0 + spread)))
            host.wasp_dd = 0.0
            stung += 1
    return stung


@loop
def spin_cocoons(
    insects: Records, count: int, day: int, life: Records, fliers: Records, rests: bool, lists: Ints, listed: Ints
) -> int:
    """Turn the brood of each host that died of it today into cocoons beside it, at winter rest when days are short.

    Returns the new number of insects.
    """
    newborn = count
    for i in range(listed[SPENT_HOSTS]):
        host = insects[lists[SPENT_HOSTS, i]]
        for k in range(host.wasp_brood):
            child = insects[newborn]
            key = child_key(host.key, 100000 + k)
            fill_newborn(child, key, _WASP, _PUPA, life, fliers[_WASP].pace_spread, day)
            child.bed, child.plant, child.inside, child.place = host.bed, host.plant, host.inside, host.place
            child.exposure = host.exposure
            if rests:
                child.is_resting, child.life_dd = 1, math.inf
            newborn += 1
        host.wasp_brood = 0
    return newborn


@loop
def be_on_the_wing(
    insects: Records,
    count: int,
    day: int,
    cocoons_rest: bool,
    flight: Floats,
    life: Records,
    fliers: Records,
    habits: Records,
    gets_in: Floats,
    fits_through: Floats,
    gap_pass: Floats,
    standing: Ints,
    plants: Records,
    leaves: Records,
    bed_of: Ints,
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
    clutches: Records,
    clutch_begins: Ints,
    clutch_order: Ints,
    turned_away: Floats,
    searched: Floats,
    hosts_on_plant: Floats,
    found: Floats,
    lists: Ints,
    listed: Ints,
    born: Ints,
    reached: Ints,
) -> tuple[int, int]:
    """Let adults try plants and lay, wasps find hosts, and cocoons be spun, one after the other.

    Returns the new number of insects, and how many hosts were stung. ``flying`` [S] is how many of each species are
    listed; from ``hosts`` to ``clutch_order`` is working space; ``born`` [S] and ``reached`` [2, S, T]
    are added to.
    """
    draw_fliers(
        standing, plants, gets_in, fliers, habits, liking, has_hosts, flying, hosts, sums, guide, first, netted,
        in_leaf, begins, area_cm2, root_cm, weights, is_meant,
    )  # fmt: skip
    searched[:] = 0.0
    noted = try_plants(
        insects, day, flight, fliers, fits_through, gap_pass, bed_of, hosts, sums, guide, first, netted, turned_away,
        searched, clutches, lists, listed,
    )  # fmt: skip
    beds = gets_in.shape[0]
    laid = lay_all(
        insects, count, day, life, fliers, plants, leaves, clutches, noted, beds, clutch_begins, clutch_order
    )
    stung = sting_hosts(insects, day, habits, searched, hosts_on_plant, found, lists, listed)
    spun = spin_cocoons(insects, laid, day, life, fliers, cocoons_rest, lists, listed)
    note_births(insects, count, spun, beds - 1, born, reached)
    return spun, stung
