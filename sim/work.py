"""The gardener's work carried out: what a ``Workday`` says was done, done to the garden."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from sim.cast import Bird, Species
from sim.compiled import Bytes, Floats, Ints
from sim.crops.plant import PLACES
from sim.practices.by_hand import find_table, found_in
from sim.practices.workday import Workday

if TYPE_CHECKING:
    from sim.garden import Garden

LEAST_SHARE = 1e-9
"""Below it a share counts as none: a guard against dividing by nothing."""


def carry_out(garden: Garden, workday: Workday) -> None:
    """Do to the garden what the gardener did today, in the order of the day."""
    for bed in workday.planted:
        plant(garden, bed)
    garden.nets.follow(workday)
    pick(garden, workday.picked)
    garden.sprays.follow(workday)
    garden.beds_sprayed += len(workday.sprayed)
    pick_off_insects(garden, workday)
    for bed, share in workday.washed:
        garden.aphids.wash(garden.plants.plants, bed, share * garden.parameters.number("labour.wash_off_share"))
    for bed in workday.cleaned_up:
        clean_up(garden, bed)
    for bed in workday.tilled:
        garden.insects.till(bed, garden.day, garden.parameters.number("labour.till_kill_share"))
    improve_habitat(garden, workday)


def plant(garden: Garden, bed: int) -> None:
    """Plant or sow a bed, with the eggs that came on its transplants."""
    garden.plants.put_in(bed, garden.day)
    eggs = garden.its_scenario.single_beds[bed].transplant_eggs_per_plant * garden.its_scenario.pests.cabbage_white
    if (
        eggs > 0.0
        and garden.insects.table.host_weights[Species.CABBAGE_WHITE, garden.layout.crop[garden.layout.first_plant[bed]]]
        > 0
    ):
        garden.insects.come_with_transplants(bed, eggs, garden.day)


def pick(garden: Garden, beds: Sequence[int]) -> None:
    """Pick some beds; insects and aphids on what is picked go with it."""
    if not beds:
        return
    picked: Bytes = np.zeros((len(garden.layout.crop), PLACES), np.uint8)
    if sum(pick_bed(garden, bed, picked) for bed in beds):
        garden.insects.lose_with_harvest(picked, garden.plants.plants, garden.day)  # once for all: it asks every insect


def pick_bed(garden: Garden, bed: int, picked: Bytes) -> int:
    """Pick a bed, mark the places that were taken from, and return how many units that gave."""
    rows = garden.plants.rows(bed)
    before = garden.plants.plants["leaf_area_cm2"][rows].copy()
    picking = garden.plants.pick(bed, garden.day, picked)
    tally = garden.harvests.setdefault(bed, [0.0, 0.0, 0.0, 0.0])
    for place, amount in enumerate((picking.kg, picking.marketable_kg, picking.units, picking.marketable_units)):
        tally[place] += amount
    garden.picked_kg += picking.kg
    garden.marketable_kg += picking.marketable_kg
    if picking.units:
        lose_aphids(garden, rows, before)
    else:
        picked[rows] = 0
    return picking.units


def lose_aphids(garden: Garden, rows: Ints, leaf_before_cm2: Floats) -> None:
    """Carry away the aphids on the share of leaf that was taken from each of these plants."""
    left = garden.plants.plants["leaf_area_cm2"][rows] / np.maximum(leaf_before_cm2, LEAST_SHARE)
    shares = np.clip(1.0 - left, 0.0, 1.0)
    garden.aphids.harvested(garden.plants.plants, rows, shares)


def pick_off_insects(garden: Garden, workday: Workday) -> None:
    """Take insects off by hand in the beds that were gone over."""
    if not workday.hand_picked:
        return
    careful = find_table(garden.parameters)
    reference = garden.parameters.number("labour.search_reference_seconds")
    for bed, share, seconds in workday.hand_picked:
        start = garden.searched_to.get(bed, 0.0)
        end = min(1.0, start + share)
        garden.insects.pick_by_hand(bed, garden.day, found_in(careful, seconds, reference), start, end)
        garden.searched_to[bed] = end if end < 1.0 - LEAST_SHARE else 0.0  # a search cut short goes on from there


def clean_up(garden: Garden, bed: int) -> None:
    """Pull a bed's plants and take its stalks and debris away."""
    rows = garden.plants.rows(bed)
    garden.plants.pull(bed)
    garden.aphids.harvested(garden.plants.plants, rows, np.ones(len(rows)))
    garden.insects.clean_up(bed, garden.day, garden.parameters.number("labour.clean_up_share"))


def improve_habitat(garden: Garden, workday: Workday) -> None:
    """Add flower strips, hedgerows and nest boxes."""
    numbers = garden.parameters
    garden.flower_strip_m2 += workday.flower_strip_m2
    for length_m, age_years in workday.hedgerows:
        mature = numbers.number("habitat.hedgerow_mature_years")
        young = numbers.number("habitat.young_hedgerow_share")
        garden.hedgerow_m += length_m * max(young, min(1.0, age_years / mature))
        garden.nests.hedgerow_area_m2 = garden.hedgerow_m * numbers.number("habitat.hedgerow_width_m")
    for kind, count, distance_m in workday.nest_boxes:
        for _ in range(count):
            garden.nests.settle(int(Bird[kind.upper()]), distance_m)
            garden.boxes.append((int(Bird[kind.upper()]), distance_m))
