"""Honey bees, bumble bees and small bees, and the open cucumber flowers they visit one by one.

========  ====================================================================================================
takes     today's weather; nets; residues on open flowers and what they do to bees; beetles in flowers; habitat
keeps     how many bees there are of each kind, as a share of normal; bees harmed; visits paid
changes   ``honey_visits``, ``bumble_visits``, ``small_visits``, ``hand_visits`` of each open flower
========  ====================================================================================================

The sum behind it is plain: visits to a flower are bees times flowers a minute times minutes, over the flowers
within reach. Bees come to what is in bloom, and other forage draws them off.
"""

from __future__ import annotations

import mesa
import numpy as np

from sim.cast import BEES, Bee, Crop, Visitor
from sim.compiled import Floats, Ints, Record, Records, loop, records, rule
from sim.crops.plant import FruitState
from sim.flying_hours import BEE, HOURS, flying_share
from sim.parameters.table import Parameters
from sim.randomness import chance, poisson
from sim.surroundings import MINUTES_PER_HOUR, Surroundings

BLOOM = np.dtype(
    [
        ("blossoms_for_half_the_bees", "f8"),
        ("other_blossoms", "f8"),
        ("strip_blossoms_per_m2", "f8"),
        ("strip_half_m2", "f8"),
        ("strip_first_day_of_year", "f8"),
        ("strip_last_day_of_year", "f8"),
        ("hedgerow_half_m", "f8"),
        ("male_flowers_per_female", "f8"),
        ("beetle_annoyance", "f8"),
        ("recovery_per_day", "f8"),
    ],
    align=True,
)
"""What draws bees and what keeps them off."""

FIRST_VISITOR = int(Visitor.HONEY_BEE)
OPEN = int(FruitState.OPEN)
CUCUMBER = int(Crop.CUCUMBER)
BY_HAND = BEES
"""The questions 0, 1, 2 asked of a flower's key are the bees'; the next one is the gardener's brush."""


@rule
def visits_per_flower(bees: float, flowers_per_minute: float, minutes: float, flowers: float) -> float:
    """Return mean visits to each flower: bees times rate times minutes, over flowers; 0 where nothing blooms."""
    return bees * flowers_per_minute * minutes / flowers if flowers > 0.0 else 0.0


@rule
def unharmed_share(bee_harm: Floats, bee_kill: Floats) -> float:
    """Return the share of the day's visits to a bed that meet no harmful residue, product upon product."""
    spared = 1.0
    for product in range(bee_kill.size):
        spared *= 1.0 - min(1.0, bee_harm[product] * bee_kill[product])
    return spared


@rule
def is_in_flower(plant: Record) -> bool:
    """Return whether a cucumber stands in bloom today."""
    return bool(plant.open_flowers > 0 and plant.is_growing != 0 and plant.crop == CUCUMBER)


@loop
def count_open_flowers(day: int, standing: Ints, plants: Records, fruits: Records, open_flowers: Floats) -> None:
    """Count the female flowers that opened today in each bed."""
    open_flowers[:] = 0.0
    for plant in standing:
        if not is_in_flower(plants[plant]):
            continue
        for slot in range(plants[plant].fruit_slots):
            if fruits[plant, slot].state == OPEN and fruits[plant, slot].opened_day == day:
                open_flowers[plants[plant].bed] += 1.0


@loop
def plan_visits(
    today: Records,
    open_flowers: Floats,
    gets_in: Floats,
    bee_harm: Floats,
    bee_kill: Floats,
    beetles_per_flower: Floats,
    bees: Records,
    hours: Records,
    peak_lag_h: float,
    bloom: Records,
    factors: Floats,
    flower_strip_m2: float,
    hedgerow_m: float,
    index: Floats,
    mean_visits: Floats,
    at_work: Floats,
    harmed: Floats,
) -> None:
    """Work out the mean visits to a flower of each bed by each kind of bee, and what residues cost the bees."""
    day = today[0]
    draw = bloom[0]
    in_bloom = draw.strip_first_day_of_year <= day.day_of_year <= draw.strip_last_day_of_year
    strip_m2 = flower_strip_m2 if in_bloom else 0.0
    strip = strip_m2 / (strip_m2 + draw.strip_half_m2)
    hedge = hedgerow_m / (hedgerow_m + draw.hedgerow_half_m)
    for kind in range(bees.size):
        bee = bees[kind]
        elsewhere = draw.other_blossoms + draw.strip_blossoms_per_m2 * strip_m2
        blossoms = elsewhere
        for bed in range(open_flowers.size):
            reach = gets_in[bed, FIRST_VISITOR + kind]
            blossoms += open_flowers[bed] * (1.0 + draw.male_flowers_per_female) * reach
        present = bee.bees_at_most * factors[kind] * index[kind]
        present *= 1.0 + bee.strip_gain * strip + bee.hedgerow_gain * hedge
        present *= blossoms / (blossoms + draw.blossoms_for_half_the_bees)
        share = flying_share(bee, hours[0], peak_lag_h, day)
        minutes = share * hours[0].window_hours * MINUTES_PER_HOUR
        each = visits_per_flower(present, bee.flowers_per_minute, minutes, blossoms)
        at_flowers, lost = 0.0, 0.0
        for bed in range(open_flowers.size):
            reach = gets_in[bed, FIRST_VISITOR + kind]
            spared = unharmed_share(bee_harm[bed], bee_kill)
            calm = 1.0 / (1.0 + draw.beetle_annoyance * beetles_per_flower[bed])
            mean_visits[bed, kind] = each * reach * spared * calm
            effort = open_flowers[bed] * (1.0 + draw.male_flowers_per_female) * reach / blossoms
            at_flowers += effort * share
            lost += effort * share * (1.0 - spared)
        at_work[kind] += present * at_flowers
        harmed[kind] += present * lost
        index[kind] = index[kind] * (1.0 - lost)
        index[kind] += (1.0 - index[kind]) * draw.recovery_per_day


@loop
def visit_flowers(
    day: int, standing: Ints, plants: Records, fruits: Records, mean_visits: Floats, visits: Ints
) -> None:
    """Let each open flower draw its own visits by each kind of bee, from its own key."""
    visits[:] = 0
    for plant in standing:
        if not is_in_flower(plants[plant]):
            continue
        bed = plants[plant].bed
        for slot in range(plants[plant].fruit_slots):
            flower = fruits[plant, slot]
            if flower.state != OPEN or flower.opened_day != day:
                continue
            flower.honey_visits = poisson(mean_visits[bed, 0], chance(flower.key, day, 0))
            flower.bumble_visits = poisson(mean_visits[bed, 1], chance(flower.key, day, 1))
            flower.small_visits = poisson(mean_visits[bed, 2], chance(flower.key, day, 2))
            visits[bed, 0] += flower.honey_visits
            visits[bed, 1] += flower.bumble_visits
            visits[bed, 2] += flower.small_visits


@loop
def work_the_flowers(
    today: Records,
    standing: Ints,
    plants: Records,
    fruits: Records,
    gets_in: Floats,
    bee_harm: Floats,
    bee_kill: Floats,
    beetles_per_flower: Floats,
    bees: Records,
    hours: Records,
    peak_lag_h: float,
    bloom: Records,
    factors: Floats,
    flower_strip_m2: float,
    hedgerow_m: float,
    index: Floats,
    open_flowers: Floats,
    mean_visits: Floats,
    at_work: Floats,
    harmed: Floats,
    visits: Ints,
) -> None:
    """Count today's open flowers, work out the mean visits to each, and let each draw its own."""
    count_open_flowers(today[0].day, standing, plants, fruits, open_flowers)
    plan_visits(
        today, open_flowers, gets_in, bee_harm, bee_kill, beetles_per_flower, bees, hours, peak_lag_h, bloom, factors,
        flower_strip_m2, hedgerow_m, index, mean_visits, at_work, harmed,
    )  # fmt: skip
    visit_flowers(today[0].day, standing, plants, fruits, mean_visits, visits)


@loop
def brush_flowers(day: int, plants: Records, fruits: Records, bed: int, visits: int, share: float) -> int:
    """Brush a share of today's open flowers of a bed by hand; return how many."""
    brushed = 0
    for plant in range(plants.size):
        if plants[plant].bed != bed or not is_in_flower(plants[plant]):
            continue
        for slot in range(plants[plant].fruit_slots):
            flower = fruits[plant, slot]
            if flower.state == OPEN and flower.opened_day == day and chance(flower.key, day, BY_HAND) < share:
                flower.hand_visits = visits
                brushed += 1
    return brushed


class Pollinators(mesa.Agent):  # type: ignore[misc]
    """Three kinds of bees that work the garden's open flowers.

    Parameters
    ----------
    garden
        The model they live in.
    parameters
        The table; every key under ``pollinators``.
    factors
        How many times the usual number of bees the place has, by kind, shape (3,).
    bed_count
        Beds, the margin included.

    Attributes
    ----------
    index
        Bees there are, as a share of normal, by kind, shape (3,).
    at_work
        Bees in the beds' flowers so far, by kind, shape (3,): those there at once, added up over days, so far fewer
        than all that come and go.
    harmed
        How many of them residues harmed.
    mean_visits
        Expected visits to one open flower today, shape (B, 3).
    """

    def __init__(self, garden: mesa.Model, parameters: Parameters, *, factors: Floats, bed_count: int) -> None:
        super().__init__(garden)
        self._bees = records(np.zeros(BEES, BEE))
        for name in BEE.names or ():
            self._bees[name] = parameters.numbers(f"pollinators.{name}")
        self._hours = records(np.zeros(1, HOURS))
        for name in HOURS.names or ():
            self._hours[name] = parameters.number(f"pollinators.{name}")
        self._bloom = records(np.zeros(1, BLOOM))
        for name in BLOOM.names or ():
            self._bloom[name] = parameters.number(f"pollinators.{name}")
        self._peak_lag_h = parameters.number("weather.warmth.peak_lag_hours")
        self._factors = np.array(factors, dtype=np.float64)
        self._open_flowers: Floats = np.zeros(bed_count)
        self._no_beetles: Floats = np.zeros(bed_count)
        self._visits: Ints = np.zeros((bed_count, BEES), dtype=np.int64)
        self.index: Floats = np.ones(BEES)
        self.at_work: Floats = np.zeros(BEES)
        self.harmed: Floats = np.zeros(BEES)
        self.mean_visits: Floats = np.zeros((bed_count, BEES))

    def flying_share(self, bee: Bee, today: Records) -> float:
        """Return the share of the flowering window in which a kind of bee flies on a day, 0 to 1."""
        return float(flying_share(self._bees[bee], self._hours[0], self._peak_lag_h, today[0]))

    def visit(
        self,
        today: Records,
        surroundings: Surroundings,
        standing: Ints,
        plants: Records,
        fruits: Records,
        *,
        bee_kill: Floats,
        flower_strip_m2: float,
        hedgerow_m: float,
        beetles_per_flower: Floats | None = None,
    ) -> Ints:
        """Let bees visit today's open flowers; write the visits into the fruit records.

        Parameters
        ----------
        today
            One ``TODAY`` record, shape (1,).
        surroundings
            Its ``gets_in`` and ``bee_harm`` are read.
        standing
            Places of the plants that stand.
        plants, fruits
            ``PLANT`` records (n,) and ``FRUIT`` records (n, FRUITS); only flowers opened today are visited.
        bee_kill
            Share of bees that a fresh residue of each product harms, shape (PRODUCTS,).
        flower_strip_m2, hedgerow_m
            Habitat around the beds today [m², m].
        beetles_per_flower
            Cucumber beetles in each open flower, by bed, shape (B,); none if not given.

        Returns
        -------
        Visits to female flowers by bed and kind of bee, shape (B, 3); rewritten by the next call.
        """
        work_the_flowers(
            today, standing, plants, fruits, surroundings.gets_in, surroundings.bee_harm, bee_kill,
            self._no_beetles if beetles_per_flower is None else beetles_per_flower, self._bees, self._hours,
            self._peak_lag_h, self._bloom, self._factors, flower_strip_m2, hedgerow_m, self.index, self._open_flowers,
            self.mean_visits, self.at_work, self.harmed, self._visits,
        )  # fmt: skip
        return self._visits

    def hand_pollinate(
        self, today: Records, plants: Records, fruits: Records, *, bed: int, visits: int, share: float
    ) -> int:
        """Brush pollen onto a share of a bed's open flowers, worth this many visits each; return how many flowers."""
        return int(brush_flowers(int(today["day"][0]), plants, fruits, bed, visits, share))
