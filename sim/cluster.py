"""Work done on many machines: the workers of a Dask cluster, as one more executor."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future
from contextlib import contextmanager
from importlib import import_module
from typing import Any, ParamSpec, TypeVar
from urllib.parse import urlsplit

from sim.errors import RunError, tell

_WAYS = ("tcp", "tls", "ws", "wss")
"""How a scheduler is spoken to."""

Inputs = ParamSpec("Inputs")
Result = TypeVar("Result")


class Cluster(Executor):
    """The workers of a Dask cluster, by the address of its scheduler.

    Raises
    ------
    RunError
        If Dask is not installed, or the address is none of a scheduler that answers.
    """

    def __init__(self, address: str, *, timeout_seconds: float = 10) -> None:
        absent = RunError(
            tell(
                "No cluster answers at '{address}'; the address of a scheduler looks like tcp://192.0.2.1:8786.",
                address=address,
            )
        )
        if not _is_whole_address(address):  # Dask would look for it in its own ways, and tell at length
            raise absent
        try:
            distributed: Any = import_module("distributed")
        except ImportError:
            raise RunError(
                tell("A cluster needs the package 'distributed'; install it with: pip install 'leafnest[cluster]'.")
            ) from None
        try:
            with _no_logs():  # what goes wrong is told in our sentence
                self._client: Any = distributed.Client(address, timeout=timeout_seconds, set_as_default=False)
        except (OSError, ValueError, TimeoutError):
            raise absent from None
        if not self._client.ncores():
            self._client.close()
            raise RunError(
                tell("The cluster at '{address}' has no workers; start some and run again.", address=address)
            )
        self._executor: Any = self._client.get_executor(pure=False)

    @property
    def max_workers(self) -> int:
        """How many pieces of work the cluster does at once, now."""
        return max(1, sum(map(int, self._client.ncores().values())))

    def submit(
        self, function: Callable[Inputs, Result], /, *args: Inputs.args, **kwargs: Inputs.kwargs
    ) -> Future[Result]:
        """Hand work to the cluster, which gives it to another worker if the first one dies."""
        future: Future[Result] = self._executor.submit(function, *args, **kwargs)
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Let go of the cluster; it runs on for others."""
        self._executor.shutdown(wait=wait and not cancel_futures)
        self._client.close()


def _is_whole_address(address: str) -> bool:
    """Return whether an address says how to get there, where and at which port."""
    try:
        parts = urlsplit(address)
        return bool(parts.scheme in _WAYS and parts.hostname and parts.port)
    except ValueError:  # a port that is none, or brackets that do not close
        return False


@contextmanager
def _no_logs() -> Iterator[None]:
    before = logging.root.manager.disable
    logging.disable(logging.CRITICAL)
    try:
        yield
    finally:
        logging.disable(before)


def cluster(address: str, *, timeout_seconds: float = 10) -> Cluster:
    """Return an executor that works on the Dask cluster at this address, such as ``tcp://192.0.2.1:8786``."""
    return Cluster(address, timeout_seconds=timeout_seconds)
