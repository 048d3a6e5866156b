"""Who comes in: females from around, day by day, and those that wintered in the soil and stalks of a bed.

Takes latitude, flight weather, host area and the scenario's pressures; gives expected numbers, and makes records. The
draws belong to the season's seed, the species and the day: every plan meets the same comers.
"""

from __future__ import annotations

import math

import numpy as np

from sim.cast import SPECIES, Entry, Fate, Species, Stage, word
from sim.compiled import Floats, Ints, Records, loop
from sim.insects.clutches import fill_newborn
from sim.insects.flight import flight_of_all
from sim.insects.record import HIDDEN, IN_SOIL, NOWHERE, ON_STALKS, Ask
from sim.insects.rules import own_life_dd
from sim.parameters import Parameters
from sim.randomness import chance, child_key, normal, poisson, quick_normal, stream_key

_FIRST_ROW_MONTH = 3
_ALIVE, _ADULT, _PUPA = int(Fate.ALIVE), int(Stage.ADULT), int(Stage.PUPA)
_ARRIVED, _OVERWINTERED = int(Entry.ARRIVED), int(Entry.OVERWINTERED)
_BEETLE, _WASP = int(Species.CUCUMBER_BEETLE), int(Species.PARASITOID_WASP)
_LIFE, _INFECTIVE, _WAKE, _WINTER = Ask.LIFE, Ask.INFECTIVE, Ask.WAKE, Ask.WINTER


def _mid_month_days(months: int) -> Floats:
    starts = np.cumsum([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30])
    middles = starts + np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]) / 2.0
    return np.asarray(middles[_FIRST_ROW_MONTH - 1 : _FIRST_ROW_MONTH - 1 + months], dtype=np.float64)


def females_per_day(parameters: Parameters, latitude_deg: float, days_of_year: Ints) -> Floats:
    """Return the comers of a day of full flight at medium pressure, shape (days, SPECIES).

    Between the southern and the northern rows by latitude; between mid-months in a straight line; none before the
    middle of the first month and after that of the last.
    """
    south = parameters.number("arrivals.place.south_deg")
    north = parameters.number("arrivals.place.north_deg")
    northness = min(1.0, max(0.0, (abs(latitude_deg) - south) / (north - south)))
    table = np.zeros((len(days_of_year), SPECIES))
    for species in Species:
        cold = parameters.numbers(f"arrivals.females_per_day.north.{word(species)}")
        warm = parameters.numbers(f"arrivals.females_per_day.south.{word(species)}")
        row = northness * cold + (1.0 - northness) * warm
        table[:, species] = np.interp(days_of_year, _mid_month_days(len(row)), row, left=0.0, right=0.0)
    return table


def pressures(parameters: Parameters, seed: int, host_area_m2: Floats, factors: Floats) -> Floats:
    """Return what multiplies a species' comers in this garden and season, shape (SPECIES,).

    Host area [m²] counts by a power below one; years differ by a log-normal factor of mean one.
    """
    spreads = parameters.numbers("arrivals.place.year_spread")
    reference = parameters.number("arrivals.place.reference_area_m2")
    exponent = parameters.number("arrivals.place.area_exponent")
    result = np.zeros(SPECIES)
    for species in Species:
        luck = normal(stream_key(seed, "pressure of the year", int(species)), 0, 0)
        spread = float(spreads[species])
        year = math.exp(spread * luck - spread * spread / 2.0)
        area = host_area_m2[species]
        result[species] = factors[species] * year * (area / reference) ** exponent if area > 0.0 else 0.0
    return result


@loop
def arrive(
    insects: Records,
    count: int,
    day: int,
    day_of_year: int,
    tmax_c: float,
    clear_share: float,
    rain_mm: float,
    expected: Floats,
    flight: Floats,
    wasps_drawn: float,
    keys: Records,
    life: Records,
    fliers: Records,
    habits_of_all: Records,
    margin: int,
    arrived: Ints,
) -> int:
    """Add the day's comers as females of some age; return the new number of insects.

    ``flight`` [S] is set by the weather; ``expected`` [days, S] are means of Poisson counts where it is full;
    ``wasps_drawn`` multiplies that of wasps; ``keys`` [S] are the species' streams; ``arrived`` [S] is added to.
    """
    habits = habits_of_all[0]
    flight_of_all(fliers, tmax_c, clear_share, rain_mm, habits_of_all, flight)
    for s in range(flight.size):
        mean = expected[day, s] * flight[s] * (wasps_drawn if s == _WASP else 1.0)
        number = poisson(mean, chance(keys[s], day, 0))
        for k in range(number):
            if count >= insects.size:
                break
            key = child_key(child_key(keys[s], day), k)
            one = insects[count]
            flier = fliers[s]
            fill_newborn(one, key, s, _ADULT, life, flier.pace_spread, day)
            one.entry, one.is_female = _ARRIVED, 1
            one.bed, one.plant, one.inside, one.place = margin, NOWHERE, -1, NOWHERE
            one.life_dd = own_life_dd(key, flier.life_dd, habits)
            oldest_dd = habits.oldest_comer_share * one.life_dd
            ready_dd = min(flier.preoviposition_dd, oldest_dd)
            one.warmth_dd = ready_dd + chance(key, 1, _LIFE) * (oldest_dd - ready_dd)
            if s == _BEETLE:
                late = day_of_year >= habits.late_from_day_of_year
                share = habits.infective_late_share if late else habits.infective_spring_share
                one.is_infective = 1 if chance(key, 0, _INFECTIVE) < share else 0
            arrived[s] += 1
            count += 1
    return count


@loop
def come_up(
    insects: Records,
    count: int,
    bed: int,
    plant: int,
    species: int,
    number: int,
    key_of_bed: np.uint64,
    life: Records,
    fliers: Records,
    wintered: Ints,
) -> int:
    """Add insects at winter rest in a bed, each with the warmth at which it will wake; return the new number."""
    flier = fliers[species]
    in_soil = life[species, _PUPA].in_soil > 0.0
    as_pupa = life[species, _PUPA].heat_dd > 0.0 and not in_soil
    for k in range(number):
        key = child_key(key_of_bed, k)
        one = insects[count]
        fill_newborn(one, key, species, _PUPA if as_pupa else _ADULT, life, flier.pace_spread, 0)
        one.entry, one.is_resting, one.exposure = _OVERWINTERED, 1, HIDDEN
        one.bed, one.plant, one.inside = bed, plant, -1
        one.place = IN_SOIL if in_soil else ON_STALKS
        one.life_dd = max(0.0, flier.wakes_dd + flier.wake_spread_dd * quick_normal(key, 0, _WAKE))
        wintered[species] += 1
        count += 1
    return count


@loop
def lay_on_transplants(
    insects: Records,
    count: int,
    first: int,
    last: int,
    bed: int,
    species: int,
    mean: float,
    key: np.uint64,
    day: int,
    life: Records,
    fliers: Records,
    arrived: Ints,
) -> int:
    """Put eggs that came with the transplants on the plants of a bed; return the new number of insects."""
    for p in range(first, last):
        number = poisson(mean, chance(child_key(key, p), 0, 0))
        for k in range(number):
            one = insects[count]
            fill_newborn(one, child_key(child_key(key, p), k), species, 0, life, fliers[species].pace_spread, day)
            one.entry = _ARRIVED
            one.bed, one.plant, one.inside, one.place = bed, p, -1, NOWHERE
            arrived[species] += 1
            count += 1
    return count


def wintered_numbers(
    parameters_per_m2: Floats,
    area_m2: float,
    in_soil: Floats,
    hosted_last_year: bool,
    old_stalks: bool,
    seed: int,
    bed: int,
) -> Ints:
    """Return how many wintered in a bed, shape (SPECIES,): in soil that hosted them or in old stalks."""
    numbers = np.zeros(SPECIES, np.int64)
    for species in range(SPECIES):
        has_place = hosted_last_year if in_soil[species] > 0 else old_stalks
        if has_place:
            luck = chance(stream_key(seed, "wintered", bed, species), 0, 0)
            numbers[species] = poisson(parameters_per_m2[species] * area_m2, luck)
    return numbers
