"""Which points of the ranges to try, and what the results there say, by the methods of SALib.

Morris (``morris1991``) moves one group at a time from many starting points: cheap, it tells which groups may be left
alone. Each number of the others then goes to both ends of its range while all else stands where it is used. Sobol'
indices (``saltelli2010``) share out the spread of a result among the few numbers that move it most, varied together.
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from importlib import import_module
from typing import Any

import numpy as np

from sim.compiled import Floats
from sim.errors import RunError, tell

LEVELS = 4
"""Places of the grid on which Morris moves; the usual choice."""


def needed(name: str) -> Any:
    """Return a module of SALib.

    Raises
    ------
    RunError
        If it is not installed.
    """
    try:
        return import_module(f"SALib.{name}")
    except ImportError:
        raise RunError(
            tell(
                "Making the ranking anew needs the package 'SALib'; install it with: pip install 'leafnest[research]'."
            )
        ) from None


def problem_of(names: Sequence[str], groups: Sequence[str] | None = None) -> dict[str, Any]:
    """Return what SALib wants to know: names, places from 0 to 1, and who moves together."""
    problem: dict[str, Any] = {"num_vars": len(names), "names": list(names), "bounds": [[0.0, 1.0]] * len(names)}
    return problem if groups is None else {**problem, "groups": list(groups)}


def morris_places(problem: dict[str, Any], trajectories: int, seed: int) -> Floats:
    """Return places to try, shape (trajectories · (what moves + 1), numbers)."""
    places = needed("sample.morris").sample(problem, trajectories, num_levels=LEVELS, seed=seed)
    return np.asarray(places, dtype=np.float64)


def morris_effects(problem: dict[str, Any], places: Floats, results: Floats) -> list[tuple[str, float, float]]:
    """Return (name, mean absolute effect of the whole range, its 95 % half-width), the largest first."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # a number that moves nothing has no spread to divide by
        found = needed("analyze.morris").analyze(problem, places, results, num_levels=LEVELS, seed=1)
    names = list(dict.fromkeys(problem["groups"])) if "groups" in problem else problem["names"]
    effect = dict(zip(found["names"], zip(found["mu_star"], found["mu_star_conf"], strict=True), strict=True))
    rows = [(name, *map(_known, effect[name])) for name in names]
    return sorted(rows, key=lambda row: (-row[1], row[0]))


def end_places(numbers: int) -> Floats:
    """Return places to try one at a time, the low end of each number, then its high end, shape (2 · numbers, numbers).

    All others stay in the middle, at the values used.
    """
    places = np.full((2 * numbers, numbers), 1 / 2)
    for number in range(numbers):
        places[number, number], places[numbers + number, number] = 0.0, 1.0
    return places


def end_effects(names: Sequence[str], results: Floats, stated: float) -> list[tuple[str, float, float, float]]:
    """Return (name, how far the result moves over the range, result at the low end, at the high end), largest first.

    Parameters
    ----------
    names
        What was moved.
    results
        At the places of :func:`end_places`, shape (2 · numbers,).
    stated
        The result at the values used.
    """
    lows, highs = results[: len(names)], results[len(names) :]
    rows = [
        (name, float(max(low, stated, high) - min(low, stated, high)), float(low), float(high))
        for name, low, high in zip(names, lows, highs, strict=True)
    ]
    return sorted(rows, key=lambda row: (-row[1], row[0]))


def sobol_places(problem: dict[str, Any], base: int, seed: int) -> Floats:
    """Return places to try, shape (base · (numbers + 2), numbers); ``base`` is a power of two."""
    places = needed("sample.sobol").sample(problem, base, calc_second_order=False, scramble=True, seed=seed)
    return np.asarray(places, dtype=np.float64)


def sobol_shares(problem: dict[str, Any], results: Floats) -> list[tuple[str, float, float, float]]:
    """Return (name, share of the spread alone, share with company, half-width of that), the largest first."""
    if np.ptp(results) == 0:
        return [(name, 0.0, 0.0, 0.0) for name in problem["names"]]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)
        found = needed("analyze.sobol").analyze(problem, results, calc_second_order=False, seed=1)
    rows = [
        (name, _known(first), _known(total), _known(width))
        for name, first, total, width in zip(problem["names"], found["S1"], found["ST"], found["ST_conf"], strict=True)
    ]
    return sorted(rows, key=lambda row: (-row[2], row[0]))


def spread_places(count: int, numbers: int, seed: int) -> Floats:
    """Return a Latin hypercube: every number takes each of ``count`` strips of its range once, shape (count, n)."""
    chance = np.random.default_rng(seed)
    strips = np.array([chance.permutation(count) for _ in range(numbers)]).T
    return np.asarray((strips + chance.random((count, numbers))) / count, dtype=np.float64)


def _known(value: Any) -> float:
    number = float(value)
    return number if np.isfinite(number) else 0.0
