"""What a gardener can do in a day, what is seen, and what was done: the words between the gardener and the garden."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from typing import Any, Literal, Protocol


class Task(IntEnum):
    """Kinds of work, the most pressing first; also the order of the ledger's columns."""

    PLANT = 0
    UNCOVER = 1
    COVER = 2
    PICK = 3
    HAND_POLLINATE = 4
    SPRAY = 5
    SCOUT = 6
    HAND_PICK = 7
    WASH_OFF = 8
    CHECK_NET = 9
    WEED = 10
    CLEAN_UP = 11
    TILL = 12
    PLANT_FLOWER_STRIP = 13
    PLANT_HEDGEROW = 14
    PUT_UP_NEST_BOX = 15


TASKS = len(Task)
NO_BED = -1
"""The bed of work that belongs to the garden as a whole."""

Event = Literal["first_bloom", "bloom_half", "heading", "first_picking"]
"""Moments of a crop that a gardener acts upon."""


@dataclass(frozen=True, slots=True)
class BedFacts:
    """What the gardener knows of a bed beforehand.

    Attributes
    ----------
    crop
        ``Crop``.
    area_m2
        Ground of the bed [m²].
    plants
        Plants or sowing places, from 1.
    planted
        Month and day of planting, such as ``"04-10"``; None for a bed that is left unplanted.
    harvest
        ``"picking"`` again and again, ``"once"``, or ``"none"``.
    is_sown
        Sown rather than transplanted.
    """

    crop: int
    area_m2: float
    plants: int
    planted: str | None
    harvest: Literal["picking", "once", "none"]
    is_sown: bool


@dataclass(frozen=True, slots=True)
class Seen:
    """What a scouting wrote down: shares of the plants looked at, and beetles per plant looked at."""

    caterpillar_infested_share: float = 0.0
    harlequin_infested_share: float = 0.0
    flea_beetles_per_plant: float = 0.0
    cucumber_beetles_per_plant: float = 0.0
    aphid_infested_share: float = 0.0


class Look(Protocol):
    """What a gardener can see by walking past; the garden answers."""

    def crop_event(self, bed: int, event: Event) -> bool:
        """Return whether the bed's crop has reached this moment; False before it is planted."""

    def is_finished(self, bed: int) -> bool:
        """Return whether nothing more is to be had from a bed that was planted."""

    def is_cleared(self, bed: int) -> bool:
        """Return whether every plant that was put in is gone or dead, so that nothing can come any more."""

    def ripe(self, bed: int) -> int:
        """Return how many leaves, heads, roots or fruits could be picked now."""

    def flowers_open(self, bed: int) -> int:
        """Return how many female flowers are open today."""

    def seen(self, bed: int, plants: int, day: int) -> Seen:
        """Return what a look at so many plants of the bed finds today."""

    def is_fit_to_spray(self, hour: int) -> bool:
        """Return whether wind and rain let a careful gardener spray at this hour today."""


@dataclass(frozen=True, slots=True)
class Covering:
    """A bed that was covered this morning; ``material`` and ``edges`` are those of ``fabrics``."""

    bed: int
    material: int
    edges: int
    gap_share: float
    open_hours: tuple[float, float] | None


@dataclass(slots=True)
class Workday:
    """What was done in one day, for the garden to carry out, in the order of the fields.

    Attributes
    ----------
    planted, uncovered, net_checks, weeded, cleaned_up, tilled
        Beds.
    covered
        ``Covering`` each.
    openings
        (bed, minutes) for which a net stood open for jobs.
    picked
        Beds gone over for harvest.
    pollinated
        (bed, visits a flower, share of the open flowers).
    sprayed
        (bed, product, hour).
    scouted
        (bed, what was seen).
    hand_picked
        (bed, share of the plants searched, seconds a plant).
    washed
        (bed, share of the plants washed).
    flower_strip_m2, hedgerows, nest_boxes
        Added today: area; (length in metres, age in years); (kind, count, distance in metres).
    """

    planted: list[int] = field(default_factory=list)
    uncovered: list[int] = field(default_factory=list)
    covered: list[Covering] = field(default_factory=list)
    openings: list[tuple[int, float]] = field(default_factory=list)
    picked: list[int] = field(default_factory=list)
    pollinated: list[tuple[int, int, float]] = field(default_factory=list)
    sprayed: list[tuple[int, int, int]] = field(default_factory=list)
    scouted: list[tuple[int, Seen]] = field(default_factory=list)
    hand_picked: list[tuple[int, float, float]] = field(default_factory=list)
    washed: list[tuple[int, float]] = field(default_factory=list)
    net_checks: list[int] = field(default_factory=list)
    weeded: list[int] = field(default_factory=list)
    cleaned_up: list[int] = field(default_factory=list)
    tilled: list[int] = field(default_factory=list)
    flower_strip_m2: float = 0.0
    hedgerows: list[tuple[float, float]] = field(default_factory=list)
    nest_boxes: list[tuple[str, int, float]] = field(default_factory=list)


def single(today: Any) -> Any:
    """Return the one record of today, given by itself or as an array of one."""
    return today[0] if getattr(today, "ndim", 0) else today
