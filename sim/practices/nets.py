"""Nets over beds: who gets in, and what a day is like beneath one.

========  =====================================================================================================
Takes     today's weather; the gardener's ``put_on``, ``take_off``, ``open_for``; numbers of ``nets.toml``
Keeps     for each bed its cover, its edges, its daily opening hours and whether it was badly closed
Changes   ``surroundings.beds`` (all of it but the area) and ``surroundings.gets_in``; ``entangle_per_contact``
========  =====================================================================================================
"""

from __future__ import annotations

from typing import Any

import mesa
import numpy as np

from sim.cast import Visitor
from sim.compiled import Floats, Records, loop, records, rule
from sim.parameters.table import Parameters
from sim.practices.fabrics import Edges, Material, fabric_table, mesh_table
from sim.practices.workday import Workday, single
from sim.randomness import chance, stream_key
from sim.surroundings import MINUTES_PER_HOUR, Surroundings

__all__ = ["BARE", "Edges", "Material", "Nets", "leak_of", "open_share_of"]


BARE = -1
"""The material of a bed without a cover."""
_BIRD = int(Visitor.BIRD)
_SLACK = int(Edges.SLACK)
_LIFT = 0  # the question asked of a bed's key: was the edge closed badly after this lift?
_NOON_HOUR = 12.0
_HOURS_A_DAY = 24.0

COVER = np.dtype(
    [
        ("key", "u8"),
        ("material", "i8"),  # Material, or BARE
        ("edges", "i8"),  # Edges
        ("leak_share", "f8"),  # of tries that find a way under the edge or through its gaps
        ("open_from_hour", "f8"),
        ("open_to_hour", "f8"),  # equal to open_from_hour: not opened by the clock
        ("minutes_open", "f8"),  # for jobs, today
        ("is_badly_closed", "u1"),  # since the last lift
    ],
    align=True,
)
"""One record a bed."""

HABIT = np.dtype(
    [
        ("sun_bonus_c", "f8"),
        ("shade_limit_share", "f8"),
        ("badly_closed_share", "f8"),
        ("badly_closed_leak_share", "f8"),
        ("bird_leak_share", "f8"),
    ],
    align=True,
)
"""What holds for every net; one record."""


@rule
def leak_of(edge_leak: float, gap_share: float, whole_gap_leak: float) -> float:
    """Return the share of tries that get under an edge of which a share stands open."""
    return 1.0 - (1.0 - edge_leak) * (1.0 - gap_share * whole_gap_leak)


@rule
def open_share_of(cover: Any, day_length_hours: float) -> float:
    """Return the share of daylight in which the net stands open, by the clock and for jobs."""
    sunrise = _NOON_HOUR - day_length_hours / 2.0
    sunset = _NOON_HOUR + day_length_hours / 2.0
    by_clock = max(0.0, min(cover.open_to_hour, sunset) - max(cover.open_from_hour, sunrise))
    return float(min(1.0, (by_clock + cover.minutes_open / MINUTES_PER_HOUR) / day_length_hours))


@loop
def write_beds(
    covers: Records,
    fabrics: Records,
    mesh_pass: Floats,
    habit: Records,
    day: int,
    weather: Floats,
    beds: Records,
    gets_in: Floats,
    fits_through: Floats,
    gap_pass: Floats,
    entangle: Floats,
) -> None:
    """Write a day in each bed; ``weather`` is tmin, tmax, rain, day length and clear share."""
    tmin_c, tmax_c, rain_mm, day_length_hours, clear_share = weather[0], weather[1], weather[2], weather[3], weather[4]
    rules: Any = habit[0]
    sun_bonus_c = rules.sun_bonus_c * clear_share
    for b in range(covers.size):
        cover: Any = covers[b]
        bed: Any = beds[b]
        if cover.material == BARE:
            _write_bare(bed, tmin_c, tmax_c, rain_mm, sun_bonus_c)
            gets_in[b, :] = 1.0
            fits_through[b, :] = 1.0
            gap_pass[b, :] = 1.0
            entangle[b] = 0.0
        else:
            if cover.minutes_open > 0.0:
                cover.is_badly_closed = 1 if chance(cover.key, day, _LIFT) < rules.badly_closed_share else 0
            fabric: Any = fabrics[cover.material]
            open_share = open_share_of(cover, day_length_hours)
            _write_covered(bed, fabric, open_share, tmin_c, tmax_c, rain_mm)
            bed.sun_bonus_c = sun_bonus_c if 1.0 - bed.light_share <= rules.shade_limit_share else 0.0
            _let_in(b, cover, mesh_pass, rules, open_share, gets_in, fits_through, gap_pass)
            is_loose = cover.edges == _SLACK or cover.is_badly_closed == 1
            entangle[b] = fabric.entangle_loose if is_loose else fabric.entangle_tight
        cover.minutes_open = 0.0


@rule
def _write_bare(bed: Any, tmin_c: float, tmax_c: float, rain_mm: float, sun_bonus_c: float) -> None:
    bed.is_covered = 0
    bed.tmin_c = tmin_c
    bed.tmax_c = tmax_c
    bed.rain_mm = rain_mm
    bed.light_share = 1.0
    bed.sun_bonus_c = sun_bonus_c
    bed.open_share = 1.0


@rule
def _write_covered(bed: Any, fabric: Any, open_share: float, tmin_c: float, tmax_c: float, rain_mm: float) -> None:
    closed_share = 1.0 - open_share
    bed.is_covered = 1
    bed.tmin_c = tmin_c + fabric.night_warming_c  # nights are spent closed
    bed.tmax_c = tmax_c + fabric.warming_c * closed_share
    bed.rain_mm = rain_mm * (1.0 - (1.0 - fabric.rain_share) * closed_share)
    bed.light_share = 1.0 - (1.0 - fabric.light_share) * closed_share
    bed.open_share = open_share


@rule
def _let_in(
    b: int, cover: Any, mesh_pass: Floats, rules: Any, open_share: float, gets_in: Floats, fits_through: Floats,
    gap_pass: Floats,
) -> None:  # fmt: skip
    leak = cover.leak_share
    is_loose = cover.edges == _SLACK or cover.is_badly_closed == 1
    if cover.is_badly_closed == 1:
        leak = 1.0 - (1.0 - leak) * (1.0 - rules.badly_closed_leak_share)
    for visitor in range(gets_in.shape[1]):
        edge = leak
        if visitor == _BIRD:
            edge = leak * rules.bird_leak_share if is_loose else 0.0
        fits_through[b, visitor] = mesh_pass[cover.material, visitor]
        gap_pass[b, visitor] = 1.0 - (1.0 - open_share) * (1.0 - edge)
        gets_in[b, visitor] = 1.0 - (1.0 - mesh_pass[cover.material, visitor]) * (1.0 - gap_pass[b, visitor])


class Nets(mesa.Agent):
    """The covers of all beds.

    Parameters
    ----------
    garden
        The model that the actor belongs to.
    parameters
        The numbers of nature; those under ``nets`` are read.
    bed_count
        Beds of the garden, B, the margin last; the margin is never covered.
    seed
        The season's seed.
    """

    def __init__(self, garden: mesa.Model, parameters: Parameters, *, bed_count: int, seed: int) -> None:
        super().__init__(garden)
        self.fabrics = fabric_table(parameters)
        self.mesh_pass = mesh_table(parameters)
        self.edge_leak = parameters.numbers("nets.edge_leak_share")
        self.gap_leak = parameters.number("nets.gap_leak_share")
        self.entangle_per_contact: Floats = np.zeros(bed_count)
        self.covers = records(np.zeros(bed_count, COVER))
        self.covers["material"] = BARE
        self.covers["key"] = [stream_key(seed, "nets", bed) for bed in range(bed_count)]
        self.habit = records(np.zeros(1, HABIT))
        for name in HABIT.names or ():
            self.habit[name] = parameters.number(f"nets.{name}")
        self._weather: Floats = np.zeros(5)

    def put_on(
        self,
        bed: int,
        material: int,
        edges: int,
        gap_share: float = 0.0,
        open_hours: tuple[float, float] | None = None,
    ) -> None:
        """Cover a bed from this morning on.

        Parameters
        ----------
        bed
            Place of the bed; not the last, which is the margin.
        material, edges
            ``Material`` and ``Edges``.
        gap_share
            Share of the edge that stands open, 0 to 1.
        open_hours
            Hours of the clock, solar time, between which the net is opened every day; None for never.
        """
        if not 0 <= bed < len(self.covers) - 1:
            raise IndexError(f"bed {bed} cannot be covered")
        cover = self.covers[bed]
        cover["material"] = int(material)
        cover["edges"] = int(edges)
        cover["leak_share"] = leak_of(float(self.edge_leak[edges]), float(gap_share), self.gap_leak)
        cover["open_from_hour"], cover["open_to_hour"] = open_hours or (0.0, 0.0)
        cover["minutes_open"] = 0.0
        cover["is_badly_closed"] = 0

    def take_off(self, bed: int) -> None:
        """Uncover a bed from this morning on."""
        self.covers[bed]["material"] = BARE
        self.covers[bed]["is_badly_closed"] = 0

    def is_covered(self, bed: int) -> bool:
        """Return whether a cover lies on the bed."""
        return bool(self.covers[bed]["material"] != BARE)

    def open_for(self, bed: int, minutes: float) -> None:
        """Lift the net for a job of so many minutes today; bare beds take no notice."""
        if self.is_covered(bed):
            self.covers[bed]["minutes_open"] += minutes

    def check(self, bed: int) -> None:
        """Walk along the edge and close what is badly closed."""
        self.covers[bed]["is_badly_closed"] = 0

    def follow(self, workday: Workday) -> None:
        """Carry out what the gardener did to the nets this morning; call it before ``write``."""
        for bed in workday.uncovered:
            self.take_off(bed)
        for covering in workday.covered:
            self.put_on(covering.bed, covering.material, covering.edges, covering.gap_share, covering.open_hours)
        for bed, minutes in workday.openings:
            self.open_for(bed, minutes)
        for bed in workday.net_checks:
            self.check(bed)

    def write(self, today: Any, surroundings: Surroundings) -> None:
        """Write what the day is like in each bed and who gets in."""
        record = single(today)
        weather = self._weather
        weather[0] = record["tmin_c"]
        weather[1] = record["tmax_c"]
        weather[2] = record["rain_mm"]
        weather[3] = min(_HOURS_A_DAY, max(1.0, float(record["day_length_h"])))
        weather[4] = record["clear_share"]
        write_beds(
            self.covers,
            self.fabrics,
            self.mesh_pass,
            self.habit,
            int(record["day"]),
            weather,
            surroundings.beds,
            surroundings.gets_in,
            surroundings.fits_through,
            surroundings.gap_pass,
            self.entangle_per_contact,
        )
