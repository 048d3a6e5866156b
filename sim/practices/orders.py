"""Standing orders: each action of a plan for one bed, and the day on which it is next due.

An order is asked "when?" on the day that it stands in the agenda for. It answers with a day: today or earlier means
now, a later day means ask again then, ``NEVER`` means that it is done with.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import lru_cache
from typing import Any, Protocol, TypeAlias

import numpy as np

from sim.compiled import Ints
from sim.practices.workday import NO_BED, BedFacts, Look, Seen, Task
from sim.scenario.actions import (
    Action,
    CleanUp,
    Cover,
    HandPick,
    HandPollinate,
    Pick,
    PlantFlowerStrip,
    PlantHedgerow,
    PutUpNestBox,
    Repeated,
    Scout,
    Spray,
    SprayAtThreshold,
    Till,
    Timed,
    Uncover,
    WashOff,
    Weed,
)

NEVER = -1
"""The answer of an order that will not be due again."""
UNKNOWN = -1
"""A day that is not known yet."""

_WHEN_THERE_IS_SOME = (Task.PICK, Task.HAND_POLLINATE)
"""Work that waits for ripe units or open flowers, whether or not the bed is finished."""

TASK_OF: dict[type, Task] = {
    Cover: Task.COVER,
    Uncover: Task.UNCOVER,
    Spray: Task.SPRAY,
    SprayAtThreshold: Task.SPRAY,
    Scout: Task.SCOUT,
    HandPick: Task.HAND_PICK,
    WashOff: Task.WASH_OFF,
    HandPollinate: Task.HAND_POLLINATE,
    Weed: Task.WEED,
    Pick: Task.PICK,
    CleanUp: Task.CLEAN_UP,
    Till: Task.TILL,
    PlantFlowerStrip: Task.PLANT_FLOWER_STRIP,
    PlantHedgerow: Task.PLANT_HEDGEROW,
    PutUpNestBox: Task.PUT_UP_NEST_BOX,
}
"""What kind of work an action is; leaving a bed unplanted is none."""


@dataclass(slots=True, eq=False)
class Order:
    """One action for one bed and how far it has come.

    Attributes
    ----------
    task, bed, action
        The kind of work, its bed or ``NO_BED``, and the plan's action; None for planting and other work that every
        plan has.
    due_day
        Day on which it is next due, ``UNKNOWN`` before that is known.
    share_left
        Of the job that was begun, 1 to 0.
    times_done
        How often it has been done.
    answer
        How it answers "when?", by the kind of its action; looked up once, for it is asked on many days.
    """

    task: Task
    bed: int
    action: Action | None = None
    due_day: int = UNKNOWN
    share_left: float = 1.0
    times_done: int = 0
    answer: Answer = field(init=False, repr=False)

    def __post_init__(self) -> None:
        self.answer = _answer_of(self.action)


class Knowledge(Protocol):
    """What an order asks of the gardener's memory."""

    beds: tuple[BedFacts, ...]
    planted_day: Ints
    sprayed_day: Ints
    scouted: dict[int, Seen]
    is_covered: list[bool]
    pick_from_day: Ints

    def day_of(self, month_day: str) -> int:
        """Return the day of the season of a ``"04-10"``."""


Answer: TypeAlias = Callable[[Order, Any, int, Look, Knowledge], int]
"""Order, its action, today, what can be seen, what is known → the day it is due, to ask again, or ``NEVER``."""


@lru_cache(maxsize=8)
def days_of_year(first_date: date, day_count: int) -> dict[str, int]:
    """Return the day of the season, from 0, of each month and day; dates of a year's season are resolved once."""
    days = [first_date + timedelta(days=day) for day in range(day_count)]
    return {f"{day:%m-%d}": place for place, day in reversed(list(enumerate(days)))}


def orders_for(actions: tuple[Action, ...], positions: Callable[[tuple[str, ...]], tuple[int, ...]]) -> list[Order]:
    """Return one order for each action and bed; ``positions`` gives the places of named beds, all for no name."""
    orders: list[Order] = []
    covered = {bed for action in actions if isinstance(action, Cover) for bed in positions(action.beds)}
    for action in actions:
        task = TASK_OF.get(type(action))
        if task is None:
            continue
        if not isinstance(action, Timed | Repeated | SprayAtThreshold):
            orders.append(Order(task, NO_BED, action))
            continue
        beds = positions(action.beds)
        if isinstance(action, Uncover) and not action.beds:
            beds = tuple(bed for bed in beds if bed in covered)
        orders.extend(Order(task, bed, action) for bed in beds)
    return orders


def when(order: Order, day: int, look: Look, known: Knowledge) -> int:
    """Return the day on which an order is due, a day to ask again, or ``NEVER``."""
    return order.answer(order, order.action, day, look, known)


def _answer_of(action: Action | None) -> Answer:
    if isinstance(action, Timed):
        return _when_timed
    if isinstance(action, SprayAtThreshold):
        return _when_over_threshold
    if isinstance(action, Repeated):
        return _when_repeated
    if isinstance(action, PlantFlowerStrip | PlantHedgerow | PutUpNestBox) and action.on is not None:
        return _when_the_date_comes
    return _when_written_down


def _when_the_date_comes(order: Order, action: Any, day: int, look: Look, known: Knowledge) -> int:
    return known.day_of(action.on)


def _when_written_down(order: Order, action: Any, day: int, look: Look, known: Knowledge) -> int:
    if order.task == Task.CHECK_NET and not known.is_covered[order.bed]:
        return NEVER
    return max(order.due_day, 0)


def _when_planted(bed: int, day: int, known: Knowledge) -> int:
    """Return the day to ask again about a bed that is not planted: its planting day, or tomorrow once that is past."""
    planted = known.beds[bed].planted
    return day + 1 if planted is None else max(day + 1, known.day_of(planted))


def _when_timed(order: Order, action: Timed, day: int, look: Look, known: Knowledge) -> int:
    if order.due_day == UNKNOWN:
        begun_day = _day_it_begins(order.bed, action, day, look, known)
        if begun_day == UNKNOWN:
            is_planted = known.planted_day[order.bed] != UNKNOWN
            return day + 1 if is_planted else _when_planted(order.bed, day, known)
        order.due_day = begun_day + action.delay_days
    if order.task == Task.UNCOVER and order.due_day <= day and not known.is_covered[order.bed]:
        return day + 1  # the covering was put off; it comes off as soon as it is on
    return order.due_day


def _day_it_begins(bed: int, action: Timed, day: int, look: Look, known: Knowledge) -> int:
    if action.on is not None:
        return known.day_of(action.on)
    planted_day = int(known.planted_day[bed])
    if planted_day == UNKNOWN:
        return UNKNOWN
    if action.at is None or action.at == "planting":
        return planted_day + (action.days_after_planting or 0)
    has_come = look.is_finished(bed) if action.at == "last_picking" else look.crop_event(bed, action.at)
    return day if has_come else UNKNOWN


def _when_repeated(order: Order, action: Any, day: int, look: Look, known: Knowledge) -> int:
    planted_day = int(known.planted_day[order.bed])
    if planted_day == UNKNOWN:
        return _when_planted(order.bed, day, known)
    if action.until is not None and day > known.day_of(action.until):
        return NEVER
    if order.task == Task.SPRAY and action.times is not None and order.times_done >= action.times:
        return NEVER
    if order.due_day == UNKNOWN:
        since = known.day_of(action.since) if action.since is not None else 0
        order.due_day = max(since, planted_day + (action.days_after_planting or 0))
    if order.due_day > day:
        return order.due_day
    if order.task in _WHEN_THERE_IS_SOME:
        if _is_there_some(order, day, look, known):
            return day
        return NEVER if order.times_done > 0 and look.is_cleared(order.bed) else day + 1
    return NEVER if look.is_finished(order.bed) else day


def _is_there_some(order: Order, day: int, look: Look, known: Knowledge) -> bool:
    if order.task == Task.PICK:
        is_cut_at_once = known.beds[order.bed].harvest == "once"
        if is_cut_at_once and order.times_done == 0 and not look.crop_event(order.bed, "first_picking"):
            return False
        return bool(day >= known.pick_from_day[order.bed]) and look.ripe(order.bed) > 0
    return look.flowers_open(order.bed) > 0


def _when_over_threshold(order: Order, action: SprayAtThreshold, day: int, look: Look, known: Knowledge) -> int:
    if known.planted_day[order.bed] == UNKNOWN:
        return _when_planted(order.bed, day, known)
    seen = known.scouted.get(order.bed)
    sprayed_day = int(known.sprayed_day[order.bed])
    has_rested = sprayed_day == UNKNOWN or day >= sprayed_day + action.rest_days
    if seen is None or not has_rested or not is_over(seen, action):
        return day + 1
    return NEVER if look.is_finished(order.bed) else day


def is_over(seen: Seen, action: SprayAtThreshold) -> bool:
    """Return whether what was seen reaches any of the action's thresholds."""
    return any(getattr(seen, name) >= threshold for name, threshold in action.thresholds().items())


def cutting_order(bed: int, rhythm_days: int) -> Order:
    """Return the order to cut a bed that is harvested at once: when half is ready, then those that were not."""
    return Order(Task.PICK, bed, Pick(do="pick", every_days=rhythm_days))


def no_day(bed_count: int) -> Ints:
    """Return a day for each bed, none known."""
    return np.full(bed_count, UNKNOWN, dtype=np.int64)
