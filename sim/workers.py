"""Who does the work: this process or processes of this machine; a Dask cluster has a file beside this one.

Anything that is a ``concurrent.futures.Executor`` will do. A season draws its chances from keys, not from a stream
that is used up, so every worker gives the same numbers, in whatever order. (Processors of different make may round
the last bit of a sine or exponential differently; nothing is promised across such machines.)
"""

from __future__ import annotations

import atexit
import gc
import os
import signal
import sys
import threading
import warnings
import weakref
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor
from multiprocessing import active_children, get_context, parent_process
from typing import Any, ParamSpec, TypeVar

from sim.errors import RunError, tell

START_SECONDS = 1.2
"""What fresh processes cost before their first season: starting Python, importing, loading the compiled rules.

Measured: 1.1 seconds of processor time a worker, two workers on two cores.
"""
SEEDBED = "sim.seedbed"
"""What the process that workers are copies of loads before the first."""
COPY_SECONDS = 1 / 20
"""The same for copies of this process, in which all of that has been done (measured: 0.03)."""
MOST_ON_WINDOWS = 61
"""So many processes Windows can wait for at once; Python makes no larger pool there."""
HAND_OVER_SECONDS = 1 / 50
"""What started processes cost all the same (measured: 0.003 a batch)."""

_REFUSALS = (BrokenExecutor, OSError, EOFError)
"""What handing over work ends in where processes died, cannot be started, or whoever starts them has died."""

Inputs = ParamSpec("Inputs")
Result = TypeVar("Result")


class Here(Executor):
    """Work done in this process, one thing after the other, as it is handed in."""

    max_workers = 0

    def submit(
        self, function: Callable[Inputs, Result], /, *args: Inputs.args, **kwargs: Inputs.kwargs
    ) -> Future[Result]:
        """Do the work now and return it as finished."""
        future: Future[Result] = Future()
        try:
            future.set_result(function(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


class Processes(Executor):
    """Processes of this machine, started at the first work and kept; new ones take the place of those that die."""

    def __init__(self, max_workers: int) -> None:
        self.max_workers = max_workers
        self._pool: ProcessPoolExecutor | None = None
        self._lock = threading.Lock()  # the pages of a dashboard share one pool
        _MADE.add(self)

    @property
    def is_started(self) -> bool:
        """Whether the processes are there, so that work costs no start."""
        return self._pool is not None

    @property
    def start_seconds(self) -> float:
        """About how long the next work waits before it begins."""
        if self.is_started:
            return HAND_OVER_SECONDS
        return COPY_SECONDS if _can_be_copied() else START_SECONDS

    def submit(
        self, function: Callable[Inputs, Result], /, *args: Inputs.args, **kwargs: Inputs.kwargs
    ) -> Future[Result]:
        """Hand work to the next free process; work handed out before a process died ends in ``BrokenExecutor``.

        Raises
        ------
        BrokenExecutor
            If the machine gives no new process, as when there are too many; later work asks for one again.
        """
        with self._lock:
            if self._pool is not None:
                try:
                    return self._pool.submit(_work, function, *args, **kwargs)
                except _REFUSALS:  # those that have begun finish, and end
                    self._pool.shutdown(wait=False)
                    self._pool = None
            pool, started = _new_pool(self.max_workers)
            try:
                with warnings.catch_warnings():
                    # Python 3.12 and later warn of any other thread; here only idle ones of linear algebra are left
                    warnings.simplefilter("ignore", DeprecationWarning)
                    first = pool.submit(_work, function, *args, **kwargs)
            except _REFUSALS as refusal:
                pool.shutdown(wait=False)
                started.kill()  # nobody is there yet who would give them work or end them
                raise BrokenExecutor(f"no process could be started: {refusal}") from refusal
            self._pool = pool
            return first

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """End the processes; later work starts them again."""
        with self._lock:
            pool, self._pool = self._pool, None
        if pool is not None:
            pool.shutdown(wait=wait, cancel_futures=cancel_futures)


def here() -> Here:
    """Return an executor that works in this process."""
    return Here()


def processes(count: int | None = None) -> Processes:
    """Return the kept pool of this many processes of this machine, or of as many as it can have; by default one a core.

    Raises
    ------
    RunError
        If the count is below 1.
    """
    wanted = cores() if count is None else count
    if wanted < 1:
        raise RunError(tell("{wanted} processes were asked for; at least 1 is needed.", wanted=wanted))
    if sys.platform == "win32":
        wanted = min(wanted, MOST_ON_WINDOWS)
    return _KEPT.setdefault(wanted, Processes(wanted))


def cores() -> int:
    """Return how many cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def worker_count(executor: Executor) -> int:
    """Return how many pieces of work an executor does at once; 0 when it works in this process."""
    count = getattr(executor, "max_workers", None) or getattr(executor, "_max_workers", None)
    return 0 if isinstance(executor, Here) else int(count or cores())


_KEPT: dict[int, Processes] = {}
_MADE: weakref.WeakSet[Processes] = weakref.WeakSet()


@atexit.register
def close_kept_pools() -> None:
    """End the processes kept for later work."""
    for pool in _KEPT.values():
        pool.shutdown(wait=False, cancel_futures=True)
    _KEPT.clear()


def end_workers() -> None:
    """End every worker now, in the middle of its work, and give back what workers and this process share.

    For a program about to leave without saying goodbye to its threads: only then are semaphores not given back by
    themselves, and Python warns of them.
    """
    for worker in active_children():
        worker.kill()
    for pool in list(_MADE):
        pool.shutdown(wait=True, cancel_futures=True)
    gc.collect()  # a pool and its queues name each other; a semaphore goes when nobody names it


class _Started:
    """A way to start processes that remembers those that it made; all else is asked of the way itself."""

    def __init__(self, way: Any) -> None:
        self._way = way
        self._made: list[Any] = []

    def __getattr__(self, name: str) -> Any:
        return getattr(self._way, name)

    def Process(self, *args: Any, **kwargs: Any) -> Any:  # noqa: N802 - the name that a pool asks for
        """Return a new process, not yet started."""
        self._made.append(self._way.Process(*args, **kwargs))
        return self._made[-1]

    def kill(self) -> None:
        """End those that were started."""
        for process in self._made:
            if process.pid is not None:
                process.kill()


def _new_pool(count: int) -> tuple[ProcessPoolExecutor, _Started]:
    """Return a pool and the processes that it starts, which begin as copies wherever that can be.

    Copies of this process, or of one that only waits to be copied. They share what was loaded before: two of them take
    40 MB more than one (measured), not 160 MB each.
    """
    way = "fork" if _can_be_copied() else "forkserver" if sys.platform == "linux" else "spawn"
    context = get_context(way)
    if way == "forkserver":
        context.set_forkserver_preload([SEEDBED])
    started: Any = _Started(context)
    return ProcessPoolExecutor(count, mp_context=started, initializer=_settle_in), started


def _can_be_copied() -> bool:
    """Return whether workers may begin as copies of this process, with everything loaded, instead of from nothing.

    Not beside another thread, such as a web server's: a copy would keep its locks locked for ever. Not on systems whose
    own libraries do not bear it. And for nothing where no season has been run yet.
    """
    return sys.platform == "linux" and threading.active_count() == 1 and "sim.season" in sys.modules


def _settle_in() -> None:
    """Leave Ctrl-C to the parent, end when the parent ends, however it ended, and take what is there now as lasting."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.freeze()
    parent = parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _work(function: Callable[..., Result], /, *args: Any, **kwargs: Any) -> Result:
    """Do the work in a worker and clear up after it, so that one season's leavings never lie beside the next one's.

    Measured: a worker that clears up stays 16 MB above what it began with, one that does not goes to 100 MB. It costs
    about 1 ms, since what was there at the beginning is not looked through.
    """
    result = function(*args, **kwargs)
    gc.collect()
    gc.freeze()  # what is left is remembered for later seasons; the next look need not go through it
    return result


def _end_with(parent: Any) -> None:
    parent.join()
    os._exit(1)
