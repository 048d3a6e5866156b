"""Passes over all insects that only count or clear: the morning's survey, the evening's burial, the gardener's hand."""

from __future__ import annotations

from sim.cast import Fate, Stage
from sim.compiled import Bytes, Floats, Ints, Record, Records, loop, rule
from sim.crops.plant import LEAVES
from sim.insects.record import HIDDEN, IN_SOIL, NOWHERE, ON_STALKS, OPEN, Ask, kind_in_bed
from sim.randomness import chance

_ALIVE, _HARVESTED, _PICKED = int(Fate.ALIVE), int(Fate.HARVESTED), int(Fate.PICKED_BY_HAND)
_CLEANED, _TILLED, _WINTER = int(Fate.CLEANED_UP), int(Fate.TILLED_IN), int(Fate.WINTER)
_EGG, _ADULT, _PUPA = int(Stage.EGG), int(Stage.ADULT), int(Stage.PUPA)
_ASK_PICKED, _ASK_CLEANED, _ASK_TILLED = Ask.PICKED, Ask.CLEANED, Ask.TILLED
_ASK_NOTICED, _ASK_WINTER, _ASK_SHAKEN_OFF = Ask.NOTICED, Ask.WINTER, Ask.SHAKEN_OFF

COUNTS = 4
ALL, RESTING, MASS_MG, IN_REACH_MG = range(COUNTS)
"""What is counted of a kind: a row, since its numbers are written together."""


@rule
def count_in(insect: Record, counts: Floats) -> None:
    """Count one of the living, and its mass, where it is."""
    stage = insect.stage
    row = counts[kind_in_bed(insect.bed, insect.species, stage)]
    row[ALL] += 1.0
    row[MASS_MG] += insect.mass_mg
    if insect.is_resting:
        row[RESTING] += 1.0
    if insect.exposure != HIDDEN and stage != _EGG:
        row[IN_REACH_MG] += insect.mass_mg


@loop
def survey(insects: Records, first: int, count: int, counts: Floats) -> None:
    """Count the living and their mass by kind and bed, from a place of the record on.

    ``counts`` [B * S * T, COUNTS] begins anew where that place is the first. Eggs and those in soil, heads and debris
    are not in reach.
    """
    if first == 0:
        counts[:] = 0.0
    for i in range(first, count):
        if insects[i].fate == _ALIVE:
            count_in(insects[i], counts)


@loop
def write_counts(counts: Floats, alive: Floats, awake: Floats, mass_mg: Floats, in_reach_mg: Floats) -> None:
    """Write what was counted into arrays of their own, all [B * S * T]."""
    for kind in range(counts.shape[0]):
        alive[kind] = counts[kind, ALL]
        awake[kind] = counts[kind, ALL] - counts[kind, RESTING]
        mass_mg[kind] = counts[kind, MASS_MG]
        in_reach_mg[kind] = counts[kind, IN_REACH_MG]


@loop
def note_births(insects: Records, first: int, last: int, margin: int, born: Ints, reached: Ints) -> None:
    """Book those who were born between two places of the record, in the beds or in the margin."""
    for i in range(first, last):
        insect = insects[i]
        born[insect.species] += 1
        reached[1 if insect.bed == margin else 0, insect.species, insect.stage] += 1


@rule
def book_exit(insect: Record, margin: int, exits: Ints, exits_mg: Floats) -> None:
    """Book one that died or left."""
    where = 1 if insect.bed == margin else 0
    exits[where, insect.entry, insect.species, insect.stage, insect.fate] += 1
    exits_mg[insect.species, insect.fate] += insect.mass_mg


@loop
def bury(insects: Records, count: int, margin: int, exits: Ints, exits_mg: Floats, counts: Floats) -> int:
    """Book each dead insect once, count the living and close the ranks; return how many are left.

    Neighbours stay neighbours: those of one kind and age lie together, which the loops over them are quicker for.
    ``exits`` [2, ENTRY, S, T, FATE] (beds or margin first) and ``exits_mg`` [S, FATE] are added to;
    ``counts`` [B * S * T, COUNTS] is set, for tomorrow morning.
    """
    counts[:] = 0.0
    kept = 0
    for i in range(count):
        if insects[i].fate != _ALIVE:
            book_exit(insects[i], margin, exits, exits_mg)
            continue
        count_in(insects[i], counts)
        if kept != i:
            insects[kept] = insects[i]
        kept += 1
    return kept


@loop
def lose_with_harvest(
    insects: Records, count: int, picked: Bytes, plants: Records, goes_along: Floats, day: int
) -> None:
    """Carry away those that sit on what was picked and do not drop or get shaken off; adults fly up.

    ``picked`` [P, PLACES] marks places; ``goes_along`` [S, T] is the share that stays on a picked leaf. A plant cut
    whole takes everybody on it along; those in the soil stay.
    """
    for i in range(count):
        insect = insects[i]
        if insect.fate != _ALIVE or insect.plant < 0 or insect.stage == _ADULT:
            continue
        if insect.place == IN_SOIL or insect.place == ON_STALKS:
            continue
        sits_on_picked = picked[insect.plant, insect.place if insect.place >= 0 else LEAVES]
        if not sits_on_picked:
            continue
        holds_on = chance(insect.key, day, _ASK_SHAKEN_OFF) < goes_along[insect.species, insect.stage]
        if holds_on or not plants[insect.plant].is_growing:
            insect.fate = _HARVESTED
        else:
            insect.place, insect.exposure = NOWHERE, OPEN


@loop
def pick_by_hand(
    insects: Records,
    count: int,
    bed: int,
    day: int,
    find: Floats,
    from_share: float,
    to_share: float,
    first_plant: Ints,
) -> int:
    """Take off what the gardener finds on the bed's plants from one share of the row to another; return how many."""
    taken = 0
    plants = first_plant[bed + 1] - first_plant[bed]
    first = first_plant[bed] + int(plants * from_share + 0.5)
    done = first_plant[bed] + int(plants * to_share + 0.5)
    for i in range(count):
        insect = insects[i]
        if insect.fate != _ALIVE or insect.bed != bed or insect.plant < first or insect.plant >= done:
            continue
        if insect.place == IN_SOIL or insect.place == ON_STALKS:
            continue
        if chance(insect.key, day, _ASK_PICKED) < find[insect.species, insect.stage]:
            insect.fate = _PICKED
            taken += 1
    return taken


@rule
def is_on_plant_or_debris(insect: Record) -> bool:
    """Return whether it sits on what a clean-up takes away: above ground, and not an adult that flies up."""
    return bool(insect.place != IN_SOIL and (insect.stage != _ADULT or insect.is_resting != 0))


@loop
def clean_up(insects: Records, count: int, bed: int, day: int, share: float) -> int:
    """Take away those that sit on plants, stalks and debris of a bed; return how many."""
    taken = 0
    for i in range(count):
        insect = insects[i]
        if (
            insect.fate == _ALIVE
            and insect.bed == bed
            and is_on_plant_or_debris(insect)
            and chance(insect.key, day, _ASK_CLEANED) < share
        ):
            insect.fate = _CLEANED
            taken += 1
    return taken


@loop
def till(insects: Records, count: int, bed: int, day: int, share: float) -> int:
    """Kill a share of those in the soil of a bed; return how many."""
    taken = 0
    for i in range(count):
        insect = insects[i]
        if (
            insect.fate == _ALIVE
            and insect.bed == bed
            and insect.place == IN_SOIL
            and chance(insect.key, day, _ASK_TILLED) < share
        ):
            insect.fate = _TILLED
            taken += 1
    return taken


@loop
def scout(
    insects: Records, count: int, plants: Ints, day: int, sees: Floats, seen_on_plant: Floats, plant_count: int
) -> None:
    """Look over some plants: set ``seen_on_plant`` [n, S, T] to what was noticed, which is less than is there."""
    seen_on_plant[:] = 0.0
    for i in range(count):
        insect = insects[i]
        if insect.fate != _ALIVE or insect.plant < 0 or insect.place == IN_SOIL or insect.place == ON_STALKS:
            continue
        for k in range(plant_count):
            noticed = chance(insect.key, day, _ASK_NOTICED) < sees[insect.species, insect.stage]
            if plants[k] == insect.plant and noticed:
                seen_on_plant[k, insect.species, insect.stage] += 1.0


@loop
def meet_winter(insects: Records, count: int, fliers: Records, life: Records, year: int) -> int:
    """Let winter pass: only the resting, and pupae and adults in soil, have a chance; return how many live."""
    living = 0
    for i in range(count):
        insect = insects[i]
        if insect.fate != _ALIVE:
            continue
        flier = fliers[insect.species]
        may_live = insect.is_resting != 0 or (insect.place == IN_SOIL and insect.stage == _PUPA)
        if may_live and chance(insect.key, year, _ASK_WINTER) < flier.winter_survival_share:
            living += 1
        else:
            insect.fate = _WINTER
    return living
