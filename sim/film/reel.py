"""A finished film: what a camera saw, in a form that can be sent to another process and shown again and again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from sim.birds.nest import NEST
from sim.compiled import Floats, Ints, Records
from sim.film.camera import Camera
from sim.film.followed import Followed
from sim.film.happenings import Happening, happenings_of
from sim.film.pages import KINDS, Form, Look, Pages, Spots
from sim.film.runs import as_runs, from_runs
from sim.scenario import Scenario
from sim.season import Season, run_season

__all__ = ["Film", "Form", "Look", "film_season"]


@dataclass(frozen=True)
class Film:
    """One season of one plan, for showing; D days, S spots, B beds with the margin last, N nests.

    Attributes
    ----------
    plan, season, first_date
        What was filmed.
    bed_names, bed_boxes_m
        Of the beds without the margin; left, bottom, width, length, shape (B - 1, 4).
    spots
        The drawn plants.
    pages
        What was seen, day by day; its ``insects`` are empty here, being kept as runs.
    insect_runs
        Insects by kind, place and day, (KINDS, S + 2 B, D), as runs.
    nests
        ``NEST`` records, shape (D, N); empty records before a nest was there.
    bird_minutes
        Minutes of each nest's birds in each bed, shape (D, N, B).
    weather
        ``tmin_c``, ``tmax_c``, ``rain_mm``, ``clear_share`` of each day.
    picked_kg, sold_kg
        Picked, and of it fit to sell, each day.
    followed
        Lives of up to 200 insects.
    happenings
        What happened when.
    """

    plan: str
    season: int
    first_date: date
    bed_names: tuple[str, ...]
    bed_boxes_m: Floats
    spots: Spots
    pages: Pages
    insect_runs: bytes
    nests: Records
    bird_minutes: Floats
    weather: dict[str, Floats]
    picked_kg: Floats
    sold_kg: Floats
    followed: tuple[Followed, ...]
    happenings: tuple[Happening, ...]

    @property
    def days(self) -> int:
        """How many days the season has."""
        return len(self.pages.net)

    def date(self, day: int) -> date:
        """Return the date of a day of the season."""
        return self.first_date + timedelta(days=day)

    @property
    def places(self) -> int:
        """How many places insects are counted at: spots, then each bed's air, then its soil."""
        return len(self.spots) + 2 * (len(self.bed_names) + 1)

    def insects(self) -> Ints:
        """Return insects by kind, place and day, shape (KINDS, S + 2 B, D)."""
        return from_runs(self.insect_runs, (KINDS, self.places, self.days))

    def first_day(self, name: str) -> int:
        """Return the first day on which something of this name happened, or -1."""
        return next((one.day for one in self.happenings if one.name == name), -1)


def film_season(scenario: Scenario, plan: str, seed: int = 1) -> tuple[Film, Season]:
    """Live a season with a camera in the garden; return the film, and the season as it would be without one."""
    camera = Camera()
    season = run_season(scenario, plan, seed, camera)
    return _develop(camera, season, plan, seed), season


def _develop(camera: Camera, season: Season, plan: str, seed: int) -> Film:
    garden, pages = season.garden, camera.pages
    assert pages is not None  # a season has at least one day
    layout = garden.layout
    count = len(pages.nests[-1])
    nests = np.zeros((len(pages.nests), count), NEST)
    minutes = np.zeros((len(pages.nests), count, len(layout.names)))
    for day, (records, spent) in enumerate(zip(pages.nests, pages.bird_minutes, strict=True)):
        nests[day, : len(records)] = records
        minutes[day, : len(spent)] = spent
    happenings = happenings_of(pages)
    runs = as_runs(pages.insects.transpose(1, 2, 0))
    pages.insects, pages.nests, pages.bird_minutes = np.zeros((0, 0, 0), np.int32), [], []
    weather = {name: garden.days[name].copy() for name in ("tmin_c", "tmax_c", "rain_mm", "clear_share")}
    boxes = np.column_stack([layout.left_m, layout.bottom_m, layout.width_m, layout.length_m])
    book = garden.chronicle
    return Film(
        plan, seed, garden.first_date, layout.names[:-1], boxes[:-1], pages.spots, pages, runs, nests, minutes, weather,
        book.column("harvest_kg").copy(), book.column("marketable_kg").copy(), tuple(camera.following.all), happenings,
    )  # fmt: skip
