"""The work desk: seasons that pages ask for, run by a few processes, the most urgent first, each season once.

First answers go before all else. Then a lesson's sheets, which show nothing before they are whole, take turns with the
refining of answers that are on a screen already; a handout's seasons are such refining. Those who ask for the same
season share one run. An order that nobody waits for any more is taken off the pile. What has been run is remembered,
for all who use this server.
"""

from __future__ import annotations

import heapq
import logging
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import BrokenExecutor, CancelledError, Executor, Future
from dataclasses import dataclass, field
from functools import cache
from itertools import count
from typing import TYPE_CHECKING, Any

from dashboard.seasons.wishes import Lived, Wish, live
from sim.errors import RunError, tell

if TYPE_CHECKING:
    from sim.store import SeasonKey

SEASONS_REMEMBERED = 3_000
FILMS_REMEMBERED = 60
"""Of seasons with a task of their own, which are larger, so many are remembered."""
MOST_WORKERS = 4
MOST_TRIES = 3
STEPS = (1, 5, 20)
"""An answer is shown after so many seasons, and again after the next so many."""
EXTRA_URGENCY = len(STEPS) + 1
"""Of what may wait until all answers are there."""
PAPER_URGENCY = -1
"""Of a lesson's sheets: a pile of its own, which takes turns with whatever comes after first answers."""
FIRST_ANSWER = 0
LOSSES = (BrokenExecutor, OSError, EOFError)
"""What says that a worker was lost, or that the machine had none to give, and not that the season cannot be run."""


@dataclass
class _Task:
    wish: Wish
    number: int
    urgency: int
    orders: set[Order] = field(default_factory=set)
    is_running: bool = False
    tries: int = 0


class Order:
    """Seasons that one page waits for; leaving the ``with`` block takes back what has not begun."""

    def __init__(self, desk: Desk, wished: Sequence[Wish]) -> None:
        self._desk = desk
        self._open = {wish.key for wish in wished}
        self._fresh: dict[SeasonKey, Lived] = {}
        self._error: BaseException | None = None

    def __enter__(self) -> Order:
        return self

    def __exit__(self, *_: object) -> None:
        self._desk.take_back(self)

    @property
    def is_done(self) -> bool:
        """Whether every season has been handed over; never while there is an error to tell."""
        return not self._open and not self._fresh and self._error is None

    def wait(self, seconds: float) -> dict[SeasonKey, Lived]:
        """Return the seasons finished since the last time, as soon as there is one or when the time is up.

        Raises
        ------
        LeafnestError
            If a season cannot be run as asked.
        """
        with self._desk.changed:
            if not self._fresh and not self._error and self._open:
                self._desk.changed.wait_for(lambda: self._fresh or self._error, timeout=seconds)
            if self._error:
                raise self._error
            fresh, self._fresh = self._fresh, {}
            return fresh


class Desk:
    """Where pages hand in orders.

    Parameters
    ----------
    executor
        Who works.
    at_once
        How many seasons are given out at a time; the rest wait here, where they can be re-ordered and taken back.
    task
        Stands in for :func:`live` in tests.
    is_open
        Whether work begins now, or only with :meth:`open`.
    """

    def __init__(
        self, executor: Executor, at_once: int, task: Callable[..., Lived] = live, *, is_open: bool = True
    ) -> None:
        self.changed = threading.Condition(threading.RLock())
        self._executor = executor
        self._at_once = at_once
        self._task = task
        self._numbers = count()
        self._is_open = is_open
        self.is_closed = False
        self._pile: list[tuple[int, int, SeasonKey]] = []
        self._papers: list[tuple[int, int, SeasonKey]] = []
        self._was_paper = False
        self._tasks: dict[SeasonKey, _Task] = {}
        self._remembered: OrderedDict[SeasonKey, Lived] = OrderedDict()
        self._films: OrderedDict[SeasonKey, None] = OrderedDict()
        self._running = 0
        self._is_handing_out = False

    def order(self, wished: Sequence[Wish], urgency: int | None = None) -> Order:
        """Hand in seasons; by default those of the first step are the most urgent, then those of the next.

        With ``PAPER_URGENCY`` all are of one paper.
        """
        order = Order(self, wished)
        places = {season: place for place, season in enumerate(dict.fromkeys(wish.season for wish in wished))}
        with self.changed:
            for wish in wished:
                step = sum(places[wish.season] >= size for size in STEPS) if urgency is None else urgency
                self._put(wish, step, order)
        self._hand_out()
        return order

    def take_back(self, order: Order) -> None:
        """Let go of what an order still waits for; a season that is running is finished and remembered."""
        with self.changed:
            for key in order._open:
                task = self._tasks.get(key)
                if task is not None:
                    task.orders.discard(order)
                    if not task.orders and not task.is_running:
                        del self._tasks[key]
            order._open.clear()

    def forget(self, keys: Iterable[SeasonKey]) -> None:
        """Let go of what these seasons gave."""
        with self.changed:
            for key in keys:
                self._remembered.pop(key, None)

    @property
    def waiting_count(self) -> int:
        """How many seasons wait for a worker."""
        with self.changed:
            return sum(not task.is_running for task in self._tasks.values())

    def _put(self, wish: Wish, urgency: int, order: Order) -> None:
        if wish.key in self._remembered:
            self._remembered.move_to_end(wish.key)
            order._fresh[wish.key] = self._remembered[wish.key]
            order._open.discard(wish.key)
            return
        task = self._tasks.get(wish.key)
        if task is None:
            task = self._tasks[wish.key] = _Task(wish, next(self._numbers), urgency)
        elif task.urgency == PAPER_URGENCY or urgency == PAPER_URGENCY:  # in both piles: whichever comes first
            task.urgency = max(urgency, task.urgency)
        elif urgency < task.urgency:
            task.urgency = urgency
        task.orders.add(order)
        if not task.is_running:
            self._lay(task, urgency)

    def _lay(self, task: _Task, urgency: int) -> None:
        pile = self._papers if urgency == PAPER_URGENCY else self._pile
        heapq.heappush(pile, (urgency, task.number, task.wish.key))

    def _hand_out(self) -> None:
        with self.changed:
            if self._is_handing_out:
                return  # an executor that works at once calls back from within; the loop below goes on
            self._is_handing_out = True
            try:
                while self._is_open and self._running < self._at_once and (task := self._next()) is not None:
                    self._give(task)
            finally:
                self._is_handing_out = False

    def _next(self) -> _Task | None:
        """Return what to do next: a first answer if there is one, or else the next of papers and refining in turn."""
        answer, paper = self._top(self._pile), self._top(self._papers)
        if answer is None or paper is None:
            return answer or paper
        if answer.urgency == FIRST_ANSWER:
            return answer
        self._was_paper = not self._was_paper
        return paper if self._was_paper else answer

    def _top(self, pile: list[tuple[int, int, SeasonKey]]) -> _Task | None:
        """Return what lies on top of a pile, once what was done, taken back or laid elsewhere is off it."""
        while pile:
            urgency, number, key = pile[0]
            task = self._tasks.get(key)
            is_paper = urgency == PAPER_URGENCY
            if (
                task is not None
                and not task.is_running
                and task.number == number
                and (is_paper or task.urgency == urgency)
            ):
                return task
            heapq.heappop(pile)
        return None

    def _give(self, task: _Task) -> None:
        task.is_running = True
        task.tries += 1
        self._running += 1
        wish = task.wish
        try:
            future = self._executor.submit(wish.task or self._task, wish.scenario, wish.plan, wish.season)
        except Exception as error:  # whatever it is, those who wait must hear of it, and the next must get their turn
            refusal = BrokenExecutor("the work was not taken")
            refusal.__cause__ = error
            future = Future()
            future.set_exception(refusal)
        future.add_done_callback(lambda done: self._take(task, done))

    def _take(self, task: _Task, done: Future[Any]) -> None:
        with self.changed:
            self._running -= 1
            error = CancelledError() if done.cancelled() else done.exception()
            if isinstance(error, LOSSES) and task.tries < MOST_TRIES:
                task.is_running = False
                self._lay(task, task.urgency)
            else:
                self._settle(task, None if error else done.result(), error)
        self._hand_out()

    def _remember(self, wish: Wish, lived: Lived) -> None:
        self._remembered[wish.key] = lived
        if wish.task is not None:
            self._films[wish.key] = None
            if len(self._films) > FILMS_REMEMBERED:
                self._remembered.pop(self._films.popitem(last=False)[0], None)
        if len(self._remembered) > SEASONS_REMEMBERED:
            self._remembered.popitem(last=False)

    def _settle(self, task: _Task, lived: Lived | None, error: BaseException | None) -> None:
        key = task.wish.key
        del self._tasks[key]
        if isinstance(error, LOSSES):
            logging.getLogger(__name__).exception("A season lost its worker again and again.", exc_info=error)
            error = RunError(
                tell("The processes that run seasons stopped again and again; close other programs, try again.")
            )
        if lived is not None:
            self._remember(task.wish, lived)
        for order in task.orders:
            order._open.discard(key)
            if lived is not None:
                order._fresh[key] = lived
            else:
                order._error = error
        self.changed.notify_all()

    def open(self) -> None:
        """Let the work begin, unless the desk has been closed."""
        with self.changed:
            self._is_open = not self.is_closed
        self._hand_out()

    def close(self) -> None:
        """Give out nothing any more, for the program ends."""
        with self.changed:
            self.is_closed, self._is_open = True, False


@cache
def desk() -> Desk:
    """Return the one desk of this server; it opens by itself when the rules are there and the processes stand ready."""
    from sim.workers import cores, processes

    at_once = min(cores(), MOST_WORKERS)
    made = Desk(processes(at_once), at_once, is_open=False)
    threading.Thread(target=_open, args=(made, processes(at_once)), name="opening", daemon=True).start()
    return made


def _open(made: Desk, executor: Executor) -> None:
    """Make ready without anybody waiting in line for it: pages can hand in orders, and say why it takes long."""
    from sim.first_start import compile_once

    try:
        compile_once()
        executor.submit(_stand_ready).result()
    except Exception:  # whatever it is: the desk opens, and the first season tells
        if not made.is_closed:
            logging.getLogger(__name__).exception("The processes that run seasons could not be made ready.")
    finally:
        made.open()


def _stand_ready() -> None:
    """Load what a season needs, where processes do not begin with it."""
    from sim import season  # noqa: F401


def warm_up() -> None:
    """Begin to make ready before anybody asks; without a server, as in tests of single pages, nothing is done."""
    from streamlit import runtime

    if runtime.exists():
        desk()
