"""Climates: what days are usually like in each month of the year, read from ``sim/parameters/climates.toml``.

Takes    the table of three climates.
Keeps    twelve months a climate, with the place and the source of each month.
Changes  nothing.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

DAYS_OF_MONTH = (31.0, 28.25, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0)
"""Mean lengths of the months in days, leap years included."""


@dataclass(frozen=True, slots=True)
class Month:
    """One month of a climate: means and standard deviations of its days; units stand in the names."""

    month: int
    tmax_dry_c: float
    tmax_dry_sd_c: float
    tmax_wet_c: float
    tmax_wet_sd_c: float
    tmin_c: float
    tmin_sd_c: float
    radiation_dry_mj_m2: float
    radiation_dry_sd_mj_m2: float
    radiation_wet_mj_m2: float
    radiation_wet_sd_mj_m2: float
    rain_mm: float
    wet_days: float
    gamma_shape: float
    wet_after_dry_share: float
    source: str
    evidence: str

    @property
    def wet_share(self) -> float:
        """Share of the month's days that are wet."""
        return self.wet_days / DAYS_OF_MONTH[self.month - 1]

    @property
    def persistence(self) -> float:
        """How much likelier rain is after a wet day than after a dry one (the chain's lag-one correlation)."""
        return 1.0 - self.wet_after_dry_share / self.wet_share

    @property
    def wet_after_wet_share(self) -> float:
        """Chance of rain on the day after a wet one, so that the month keeps its wet days."""
        return self.wet_after_dry_share + self.persistence

    @property
    def tmax_c(self) -> float:
        """Mean highest temperature of all days [°C]."""
        return self.wet_share * self.tmax_wet_c + (1.0 - self.wet_share) * self.tmax_dry_c

    @property
    def radiation_mj_m2(self) -> float:
        """Mean radiation of all days [MJ/m²]."""
        return self.wet_share * self.radiation_wet_mj_m2 + (1.0 - self.wet_share) * self.radiation_dry_mj_m2


@dataclass(frozen=True, slots=True)
class Climate:
    """A place's usual year.

    Attributes
    ----------
    name, title
        Short name in files, and the name shown.
    data_from
        Whose days were counted.
    latitude_deg, elevation_m
        The place.
    wet_from_mm
        Least rain on a wet day [mm].
    months
        January to December.
    note
        What to know about the figures.
    """

    name: str
    title: str
    data_from: str
    latitude_deg: float
    elevation_m: float
    wet_from_mm: float
    months: tuple[Month, ...]
    note: str


def _climate(name: str, raw: Mapping[str, Any], columns: list[str]) -> Climate:
    months = tuple(Month(**dict(zip(columns, row, strict=True))) for row in raw["months"])
    return Climate(**{**raw, "name": name, "months": months})


@cache
def load_climates() -> dict[str, Climate]:
    """Return the climates shipped with the package by their short names."""
    raw = tomllib.loads((files("sim.parameters") / "climates.toml").read_text(encoding="utf-8"))
    columns = raw.pop("columns")
    return {name: _climate(name, climate, columns) for name, climate in raw.items()}
