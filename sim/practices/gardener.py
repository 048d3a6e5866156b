"""The gardener: does a plan's actions on their days, as far as the day's minutes reach.

========  =====================================================================================================
Takes     a plan's actions, the calendar, what can be seen in the beds (``Look``), numbers of ``labour.toml``
Keeps     the agenda, what is covered, planted, sprayed and scouted, and the ledger of minutes and money
Changes   nothing in the garden: it returns a ``Workday`` that the garden carries out
========  =====================================================================================================

Work is done in the order of ``Task``. What does not fit into the day is put off to the next; a job that was begun goes
on where it stopped. A net comes off a bed that is finished, as weeding and spraying stop there: it would be walked
along until winter. The gardener never knows the truth: a threshold is compared with what the last scouting wrote down.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

import mesa
import numpy as np

from sim.cast import Product
from sim.compiled import Floats, Ints
from sim.parameters.table import Parameters
from sim.practices.fabrics import Material
from sim.practices.jobs import CARRY_OUT, MINUTES_OF, later_share_usd, spray_hour
from sim.practices.kills import wait_days
from sim.practices.labour import Labour
from sim.practices.orders import NEVER, Order, cutting_order, days_of_year, no_day, orders_for, when
from sim.practices.workday import NO_BED, TASKS, BedFacts, Look, Seen, Task, Workday, single
from sim.scenario.actions import Action, Repeated, SprayAtThreshold, Uncover
from sim.surroundings import MINUTES_PER_HOUR

EVERY_WEEKDAY = (0, 1, 2, 3, 4, 5, 6)
_BY_THE_PLANT = (Task.HAND_PICK, Task.WASH_OFF, Task.HAND_POLLINATE)
"""Work of which a part does a part of the good; all else counts only when it is finished."""
_ONLY_WITH_NET = (Task.UNCOVER, Task.CHECK_NET)
_WITHOUT_LIFTING = (Task.COVER, Task.UNCOVER, Task.CHECK_NET)
_WITH_THE_CROP = Uncover(do="uncover", at="last_picking")
"""What a gardener does who comes to look at a net and finds that nothing more is to be had from the bed."""


class Gardener(mesa.Agent):
    """One gardener with one plan for one season.

    Parameters
    ----------
    garden
        The model that the actor belongs to.
    parameters
        The numbers of nature and work.
    beds
        What is known of each bed, in order, without the margin.
    actions
        The plan's actions, picking included.
    bed_positions
        Gives the places of named beds or groups of beds; of all beds for no name.
    first_date
        Date of the season's first day.
    day_count
        Days of the season.
    minutes_per_day
        Most minutes of work in a day; infinite is allowed.
    works_on
        Weekdays of work, Monday 0 to Sunday 6.
    first_day
        What ``today["day"]`` says on the season's first day; the ledger and all days here count from it.
    is_first_season
        Whether hedgerow, flower strip and nest boxes have still to be put in; later seasons find them there.
    labour_usd_per_hour
        What an hour of work is worth [US$/h].
    """

    labour: Labour
    beds: tuple[BedFacts, ...]
    has_mixed: bool
    planted_day: Ints
    is_covered: list[bool]
    scouted: dict[int, Seen]

    def __init__(
        self,
        garden: mesa.Model,
        parameters: Parameters,
        *,
        beds: Sequence[BedFacts],
        actions: tuple[Action, ...],
        bed_positions: Callable[[tuple[str, ...]], tuple[int, ...]],
        first_date: date,
        day_count: int,
        minutes_per_day: float,
        works_on: Sequence[int] = EVERY_WEEKDAY,
        first_day: int = 0,
        is_first_season: bool = True,
        labour_usd_per_hour: float = 0.0,
    ) -> None:
        super().__init__(garden)
        self.beds = tuple(beds)
        self.labour = Labour(parameters)
        self.minutes_per_day = minutes_per_day
        self.labour_usd_per_hour = labour_usd_per_hour
        self.works_on = frozenset(works_on)
        self.wait_days = wait_days(parameters)
        self._days = days_of_year(first_date, day_count)
        self.planted_day = no_day(len(beds))
        self.sprayed_day: Ints = no_day(len(beds))
        self.pick_from_day: Ints = np.zeros(len(beds), dtype=np.int64)
        self.is_covered = [False] * len(beds)
        self.scouted = {}
        self.minutes: Floats = np.zeros((day_count, TASKS))
        self.cost_usd: Floats = np.zeros((day_count, TASKS))
        self.done: Ints = np.zeros((day_count, TASKS), dtype=np.int64)
        self.put_off: Ints = np.zeros((day_count, TASKS), dtype=np.int64)
        self.days_lost_to_weather: set[int] = set()
        self.owns_sprayer = False
        self.nets_owned: set[tuple[int, Material]] = set()
        self.edges_walked: set[int] = set()
        self.lifted: set[int] = set()
        self.has_mixed = False
        self.left_minutes = 0.0
        self.agenda: dict[int, list[Order]] = defaultdict(list)
        self.first_day = first_day
        self._write_agenda(actions, bed_positions, is_first_season)

    def day_of(self, month_day: str) -> int:
        """Return the day of the season of a ``"04-10"``; a day outside it is never reached."""
        return self._days.get(month_day, len(self._days) * 2)

    def spent_usd(self) -> Floats:
        """Return what was bought, and the hours at their price, by day and task, shape (days, TASKS) [US$]."""
        hours: Floats = self.minutes / MINUTES_PER_HOUR
        return self.cost_usd + hours * self.labour_usd_per_hour

    def _write_agenda(
        self,
        actions: tuple[Action, ...],
        bed_positions: Callable[[tuple[str, ...]], tuple[int, ...]],
        is_first_season: bool,
    ) -> None:
        for place, bed in enumerate(self.beds):
            if bed.planted is not None:
                planting_day = self.day_of(bed.planted)
                self.agenda[planting_day].append(Order(Task.PLANT, place, due_day=planting_day))
        orders = orders_for(actions, bed_positions)
        picked = {order.bed for order in orders if order.task == Task.PICK}
        orders += [
            cutting_order(place, self.labour.cut_rhythm_days)
            for place, bed in enumerate(self.beds)
            if bed.harvest == "once" and place not in picked
        ]
        for order in orders:
            if order.bed == NO_BED and not is_first_season:
                self.cost_usd[0, order.task] += later_share_usd(self, order)
            elif order.bed == NO_BED or self.beds[order.bed].planted is not None:
                self.agenda[0].append(order)

    def work(self, today: Any, today_date: date, look: Look) -> Workday:
        """Do a day's work.

        Parameters
        ----------
        today
            The ``TODAY`` record; only its day is read.
        today_date
            Its date, for the weekday.
        look
            Answers what can be seen in the beds.

        Returns
        -------
        Workday
            What was done, for the garden to carry out.
        """
        day = int(single(today)["day"]) - self.first_day
        workday = Workday()
        due = self.agenda.pop(day, [])
        if day == 0:
            due = self._settle_in(due, workday, look)
        if today_date.weekday() not in self.works_on:
            self.agenda[day + 1] += due
            return workday
        self.left_minutes = self.minutes_per_day
        self.lifted.clear()
        self.has_mixed = False
        self._do_in_order([order for order in due if order.task == Task.PLANT], day, workday, look)
        jobs = self._sort_out([order for order in due if order.task != Task.PLANT], day, look)
        self._do_in_order(jobs, day, workday, look)
        return workday

    def _settle_in(self, due: list[Order], workday: Workday, look: Look) -> list[Order]:
        """Put in what a plan has "from the start": done before the season, written down on its first day."""
        later = []
        for order in due:
            if order.bed == NO_BED and getattr(order.action, "on", None) is None:
                self._finish(order, MINUTES_OF[order.task](self, order, look), 0, workday, look)
            else:
                later.append(order)
        return later

    def _sort_out(self, due: list[Order], day: int, look: Look) -> list[Order]:
        """Return today's jobs, the most pressing first; write the others down for the day to ask again."""
        jobs = []
        for order in due:
            if order.task == Task.CHECK_NET and self.is_covered[order.bed] and look.is_finished(order.bed):
                self._let_go(order)
                jobs.append(Order(Task.UNCOVER, order.bed, _WITH_THE_CROP))
                continue
            due_day = when(order, day, look, self)
            if due_day == NEVER:
                self._let_go(order)
                continue
            if due_day > day:
                self.agenda[due_day].append(order)
            elif order.task == Task.SPRAY and not look.is_fit_to_spray(spray_hour(order)):
                self.days_lost_to_weather.add(day)
                self.agenda[day + 1].append(order)
            else:
                jobs.append(order)
        jobs.sort(key=lambda order: (order.task, order.bed))
        return jobs

    def _do_in_order(self, jobs: list[Order], day: int, workday: Workday, look: Look) -> None:
        for order in jobs:
            if order.task in _ONLY_WITH_NET and not self.is_covered[order.bed]:  # taken off earlier today
                self._let_go(order)
                continue
            lift_minutes = self._lift_minutes(order)
            ready_minutes = lift_minutes + self._mixing_minutes(order)
            whole_minutes = MINUTES_OF[order.task](self, order, look)
            job_minutes = whole_minutes * order.share_left
            if ready_minutes + job_minutes <= self.left_minutes:
                self._open_net(order, lift_minutes, job_minutes, workday)
                self._finish(order, ready_minutes + job_minutes, day, workday, look)
            else:
                self.put_off[day, order.task] += 1
                job_minutes = self.left_minutes - ready_minutes
                if job_minutes > 0.0:
                    self._open_net(order, lift_minutes, job_minutes, workday)
                    self._do_a_part(order, job_minutes / whole_minutes, day, workday, look)
                self._put_off(order, day)

    def _let_go(self, order: Order) -> None:
        if order.task == Task.CHECK_NET:
            self.edges_walked.discard(order.bed)

    def _lift_minutes(self, order: Order) -> float:
        if order.bed == NO_BED or not self.is_covered[order.bed] or order.task in _WITHOUT_LIFTING:
            return 0.0
        return 0.0 if order.bed in self.lifted else self.labour.lift_minutes(self.beds[order.bed])

    def _mixing_minutes(self, order: Order) -> float:
        return self.labour.mixing_minutes() if order.task == Task.SPRAY and not self.has_mixed else 0.0

    def _open_net(self, order: Order, lift_minutes: float, job_minutes: float, workday: Workday) -> None:
        if lift_minutes > 0.0:
            self.lifted.add(order.bed)
        if order.bed in self.lifted and order.task not in _WITHOUT_LIFTING:
            workday.openings.append((order.bed, lift_minutes + job_minutes))

    def _do_a_part(self, order: Order, share: float, day: int, workday: Workday, look: Look) -> None:
        """Use up what is left of the day on a share of a job."""
        order.share_left -= share
        self.minutes[day, order.task] += self.left_minutes
        self.left_minutes = 0.0
        if order.task == Task.SPRAY:
            self.has_mixed = True
        if order.task in _BY_THE_PLANT:
            CARRY_OUT[order.task](self, order, day, share, workday, look)

    def _put_off(self, order: Order, day: int) -> None:
        if order.task == Task.HAND_POLLINATE:  # today's flowers are over tomorrow
            self._write_next(order, day)
        else:
            self.agenda[day + 1].append(order)

    def _finish(self, order: Order, minutes: float, day: int, workday: Workday, look: Look) -> None:
        self.left_minutes -= minutes
        self.minutes[day, order.task] += minutes
        self.done[day, order.task] += 1
        self.cost_usd[day, order.task] += CARRY_OUT[order.task](self, order, day, order.share_left, workday, look)
        order.times_done += 1
        self._write_next(order, day)

    def _write_next(self, order: Order, day: int) -> None:
        """Write the order down for the next time, if there is one."""
        order.share_left = 1.0
        if isinstance(order.action, Repeated):
            order.due_day = day + order.action.every_days
        elif isinstance(order.action, SprayAtThreshold):
            order.due_day = day + order.action.rest_days
        elif order.task == Task.CHECK_NET:
            order.due_day = day + self.labour.net_check_every_days
        else:
            return
        self.agenda[order.due_day].append(order)

    def note_cover(self, bed: int, material: Material, day: int) -> float:
        """Remember that a bed is covered, plan the walks along its edge, and return what the net costs this season."""
        self.is_covered[bed] = True
        if bed not in self.edges_walked:
            self.edges_walked.add(bed)
            due_day = day + self.labour.net_check_every_days
            self.agenda[due_day].append(Order(Task.CHECK_NET, bed, due_day=due_day))
        if (bed, material) in self.nets_owned:
            return 0.0
        self.nets_owned.add((bed, material))
        return self.labour.net_usd(self.beds[bed], material)

    def note_spray(self, bed: int, product: Product, day: int) -> float:
        """Remember a spray and the days to wait before picking, and return what it costs."""
        bed_facts = self.beds[bed]
        wait = int(self.wait_days[product, bed_facts.crop])
        self.sprayed_day[bed] = day
        self.pick_from_day[bed] = max(int(self.pick_from_day[bed]), day + wait)
        self.scouted.pop(bed, None)
        usd = self.labour.spray_usd(bed_facts, product)
        if not self.owns_sprayer:
            self.owns_sprayer = True
            usd += self.labour.sprayer_usd()
        self.has_mixed = True
        return usd
