"""Sprays: whom they wet, what stays on the leaf, what drifts, and how long flowers harm bees.

========  =====================================================================================================
Takes     today's weather; the gardener's ``spray``; each bed's felt rain and light, so nets are written first
Keeps     residue and harm to flower visitors, by bed and product; today's doses
Changes   ``surroundings.contact``, ``surroundings.residue`` and ``surroundings.bee_harm``
========  =====================================================================================================

Only relative behaviour is modelled. In a real garden the label is the law; local rules, extension advice and licensed
practice come first.
"""

from __future__ import annotations

import math
from enum import IntEnum
from functools import lru_cache
from typing import Any

import mesa
import numpy as np

from sim.cast import PRODUCTS, Product, word
from sim.compiled import Floats, Records, loop, records, rule
from sim.parameters.table import Parameters
from sim.practices.workday import Workday, single
from sim.randomness import chance, stream_key
from sim.surroundings import Surroundings


class Hour(IntEnum):
    """The time of day at which a bed is sprayed."""

    DAWN = 0
    NOON = 1
    DUSK = 2


_HOURS = len(Hour)
_DUSK = int(Hour.DUSK)
_HOURS_A_DAY = 24.0
_WIND = 0  # the question asked of the wind's key

MIXTURE = np.dtype(
    [
        ("half_life_sunny_days", "f8"),
        ("half_life_dull_days", "f8"),
        ("rain_loss_per_mm", "f8"),
        ("bee_harm_half_life_hours", "f8"),
    ],
    align=True,
)
"""One record a product: how it fades."""

FIELD = np.dtype(
    [
        ("coverage_share", "f8"),
        ("drift_reference_m", "f8"),
        ("drift_halving_m", "f8"),
    ],
    align=True,
)
"""What holds for every spray; one record."""


@rule
def drift_share(at_reference: float, distance_m: float, reference_m: float, halving_m: float) -> float:
    """Return the share of a dose that falls at a distance: halved every so many metres beyond the reference."""
    return float(at_reference * 0.5 ** (max(0.0, distance_m - reference_m) / halving_m))


@rule
def half_life_days(mixture: Any, sun_share: float) -> float:
    """Return the half-life on the leaf between a dull day (0) and a sunny one (1)."""
    return float(mixture.half_life_dull_days + (mixture.half_life_sunny_days - mixture.half_life_dull_days) * sun_share)


@rule
def left_after(days: float, half_life: float, rain_mm: float, rain_loss_per_mm: float) -> float:
    """Return the share of a deposit that is left after a time and the rain that fell in it."""
    if half_life <= 0.0:
        return 0.0
    return float(0.5 ** (days / half_life) * math.exp(-rain_loss_per_mm * rain_mm))


@rule
def together(first: float, second: float) -> float:
    """Return the share reached by either of two, each reaching at random."""
    return first + second * (1.0 - first)


@loop
def spread_doses(doses: Floats, distance_m: Floats, drift_at_reference: Floats, field: Records, fallen: Floats) -> None:
    """Work out what falls on every bed, by product and hour, from today's doses; shapes (B, PRODUCTS, 3)."""
    ways: Any = field[0]
    fallen[:] = 0.0
    for b in range(doses.shape[0]):
        for product in range(doses.shape[1]):
            for hour in range(doses.shape[2]):
                dose = doses[b, product, hour]
                if dose > 0.0:
                    for other in range(doses.shape[0]):
                        share = 1.0
                        if other != b:
                            share = drift_share(
                                drift_at_reference[hour],
                                distance_m[b, other],
                                ways.drift_reference_m,
                                ways.drift_halving_m,
                            )
                        fallen[other, product, hour] = together(fallen[other, product, hour], dose * share)


@loop
def write_day(
    fallen: Floats,
    mixtures: Records,
    field: Records,
    day_left: Floats,
    hours_to_bees: Floats,
    clear_share: float,
    beds: Records,
    on_leaf: Floats,
    in_flowers: Floats,
    contact: Floats,
    residue: Floats,
    bee_harm: Floats,
) -> bool:
    """Write today's contact, residue and harm to visitors, then age both stores to tomorrow; return if any is left."""
    ways: Any = field[0]
    is_any_left = False
    for b in range(on_leaf.shape[0]):
        bed: Any = beds[b]
        for product in range(on_leaf.shape[1]):
            mixture: Any = mixtures[product]
            half_life = half_life_days(mixture, clear_share * bed.light_share)
            overnight = 0.5 ** (_HOURS_A_DAY / mixture.bee_harm_half_life_hours)
            loss = mixture.rain_loss_per_mm
            old = on_leaf[b, product]
            wetted, eaten, harm = 0.0, old, in_flowers[b, product]
            tomorrow = old * left_after(1.0, half_life, bed.rain_mm, loss)
            harm_from_dusk = 0.0
            for hour in range(day_left.shape[0]):
                amount = fallen[b, product, hour]
                if amount > 0.0:
                    reached = amount * ways.coverage_share
                    wetted = together(wetted, reached)
                    if half_life > 0.0:
                        eaten = together(eaten, reached * day_left[hour])
                    aged = left_after(day_left[hour], half_life, bed.rain_mm * day_left[hour], loss)
                    tomorrow = together(tomorrow, reached * aged)
                    met = amount * 0.5 ** (hours_to_bees[hour] / mixture.bee_harm_half_life_hours)
                    if hour == _DUSK:
                        harm_from_dusk = met
                    else:
                        harm = together(harm, met)
            contact[b, product] = wetted
            residue[b, product] = eaten
            bee_harm[b, product] = harm
            on_leaf[b, product] = tomorrow
            in_flowers[b, product] = together(harm * overnight, harm_from_dusk)
            is_any_left = is_any_left or wetted + eaten + harm + tomorrow + harm_from_dusk > 0.0
    return is_any_left


class Sprays(mesa.Agent):
    """What has been sprayed in all beds and the margin.

    Parameters
    ----------
    garden
        The model that the actor belongs to.
    parameters
        The numbers of nature; those under ``sprays`` are read.
    distance_m
        From edge to edge between beds [m], shape (B, B), the margin last.
    seed
        The season's seed.
    neighbour_share
        Share of a dose that drifts in over all beds and the margin from outside, 0 to 1.
    neighbour_every_days
        Days between a neighbour's sprays; 0 for never.
    neighbour_product
        ``Product`` that the neighbour uses.
    """

    def __init__(
        self,
        garden: mesa.Model,
        parameters: Parameters,
        *,
        distance_m: Floats,
        seed: int,
        neighbour_share: float = 0.0,
        neighbour_every_days: int = 0,
        neighbour_product: int = Product.BT,
    ) -> None:
        super().__init__(garden)
        bed_count = len(distance_m)
        self.distance_m: Floats = np.ascontiguousarray(distance_m, dtype=np.float64)
        self.mixtures = _mixtures(parameters)
        self.field = records(np.zeros(1, FIELD))
        for name in FIELD.names or ():
            self.field[name] = parameters.number(f"sprays.{name}")
        self.day_left = parameters.numbers("sprays.day_left_share")
        self.hours_to_bees = parameters.numbers("sprays.hours_to_bees")
        self.wind = Wind(parameters, seed)
        self.rain_limit_mm = parameters.number("sprays.rain_limit_mm")
        self.neighbour = (neighbour_share, neighbour_every_days, int(neighbour_product))
        self.on_leaf: Floats = np.zeros((bed_count, PRODUCTS))
        self.in_flowers: Floats = np.zeros((bed_count, PRODUCTS))
        self._doses: Floats = np.zeros((bed_count, PRODUCTS, _HOURS))
        self._fallen: Floats = np.zeros((bed_count, PRODUCTS, _HOURS))
        self._is_dosed = False
        self._is_any_left = False

    def spray(self, bed: int, product: int, hour: int) -> None:
        """Spray a bed today."""
        self._doses[bed, product, hour] = 1.0
        self._is_dosed = True

    def follow(self, workday: Workday) -> None:
        """Carry out the gardener's sprays of today; call it before ``write``."""
        for bed, product, hour in workday.sprayed:
            self.spray(bed, product, hour)

    def is_fit(self, today: Any, hour: int) -> bool:
        """Return whether the weather lets a careful gardener spray: little wind and no rain to speak of."""
        record = single(today)
        wind_m_s = self.wind.at(int(record["day"]), hour)
        return bool(wind_m_s <= self.wind.limit_m_s and float(record["rain_mm"]) <= self.rain_limit_mm)

    def write(self, today: Any, surroundings: Surroundings) -> None:
        """Write what of the sprays is met today, after the nets have written the beds."""
        record = single(today)
        day = int(record["day"])
        is_neighbour_spraying = self._let_neighbour_drift(day)
        if not (self._is_dosed or is_neighbour_spraying or self._is_any_left):
            return
        self._is_any_left = write_day(
            self._fallen,
            self.mixtures,
            self.field,
            self.day_left,
            self.hours_to_bees,
            float(record["clear_share"]),
            surroundings.beds,
            self.on_leaf,
            self.in_flowers,
            surroundings.contact,
            surroundings.residue,
            surroundings.bee_harm,
        )
        self._doses[:] = 0.0
        self._fallen[:] = 0.0
        self._is_dosed = False

    def _let_neighbour_drift(self, day: int) -> bool:
        if self._is_dosed:
            drift = np.array([self.wind.drift_at(day, hour) for hour in Hour])
            spread_doses(self._doses, self.distance_m, drift, self.field, self._fallen)
        share, every_days, product = self.neighbour
        is_spraying = every_days > 0 and share > 0.0 and day % every_days == every_days - 1
        if is_spraying:
            here = self._fallen[:, product, _DUSK]
            here += share * (1.0 - here)
        return is_spraying


class Wind:
    """The wind of each day and hour: its own stream of luck, the same under every plan.

    Speeds follow Rayleigh's distribution about the stated mean.
    """

    def __init__(self, parameters: Parameters, seed: int) -> None:
        self.key = stream_key(seed, "wind")
        self.mean_m_s = parameters.number("sprays.wind_mean_m_s")
        self.limit_m_s = parameters.number("sprays.wind_limit_m_s")
        self.by_hour = parameters.numbers("sprays.wind_by_hour")
        self.drift_wind_m_s = parameters.numbers("sprays.drift_wind_m_s")
        self.drift_shares = parameters.numbers("sprays.drift_share")

    def at(self, day: int, hour: int) -> float:
        """Return the wind speed [m/s] at an ``Hour`` of a day."""
        spread = math.sqrt(-math.log(1.0 - chance(self.key, day, _WIND)))
        return float(self.mean_m_s * spread * 2.0 / math.sqrt(math.pi) * self.by_hour[hour])

    def drift_at(self, day: int, hour: int) -> float:
        """Return the share of a dose that falls at the reference distance."""
        return float(np.interp(self.at(day, hour), self.drift_wind_m_s, self.drift_shares))


@lru_cache(maxsize=8)
def _mixtures(parameters: Parameters) -> Records:
    mixtures = records(np.zeros(PRODUCTS, MIXTURE))
    for product in Product:
        for name in MIXTURE.names or ():
            mixtures[product][name] = parameters.number(f"sprays.{word(product)}.{name}")
    return mixtures
