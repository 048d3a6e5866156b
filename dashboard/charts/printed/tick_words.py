"""Words under the marks of an axis that never run into each other: on one line, on two by turns, or some left out."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from dashboard.charts.printed.lettering import LINE_HEIGHT, POINTS_PER_INCH, SLACK, width_inches, wrapped

if TYPE_CHECKING:
    from matplotlib.axes import Axes

GAP_LETTERS = 0.7
"""Between two words side by side, of the size of a letter."""
MOST_LINES = 3
MARK_POINTS, PAD_LETTERS = 3.5, 0.5


def name_places(
    axes: Axes,
    places: Sequence[float],
    words: Sequence[str],
    points: float,
    inches_a_unit: float,
    first: Sequence[int] = (),
) -> int:
    """Mark every value along the foot and write its words below it, as far as they can be read.

    Parameters
    ----------
    places
        Where each value stands, rising.
    words
        What is written there.
    points
        Size of the letters.
    inches_a_unit
        Least length on paper of one unit of the places.
    first
        Numbers of values that stand before all others, after both ends.

    Returns
    -------
    int
        How many lines the words take.
    """
    said = placed(places, words, points, inches_a_unit, first)
    axes.set_xticks(list(places), ["" if one.startswith("\n") else one for one in said])
    pad = PAD_LETTERS * points
    axes.tick_params(axis="x", pad=pad)
    low = [(place, one[1:]) for place, one in zip(places, said, strict=True) if one.startswith("\n")]
    if low:
        axes.xaxis.remove_overlapping_locs = False  # a word that was lowered stands below its own mark
        axes.set_xticks([place for place, _words in low], [one for _place, one in low], minor=True)
        axes.tick_params(axis="x", which="minor", pad=LINE_HEIGHT * points + pad, length=MARK_POINTS)
    return max(one.count("\n") + 1 for one in said) if said else 1


def placed(
    places: Sequence[float],
    words: Sequence[str],
    points: float,
    inches_a_unit: float,
    first: Sequence[int] = (),
    *,
    lines: int = 2,
) -> list[str]:
    """Return the words: broken where each has a column of its own, else one below the other by turns, else thinned."""
    if len(places) < 2:
        return list(words)
    column = 0.94 * inches_a_unit * min(later - earlier for earlier, later in pairwise(places))
    if lines > 1 and all(width_inches(part, points) <= SLACK * column for one in words for part in one.split()):
        broken = [wrapped(one, points, column) for one in words]
        if max(one.count("\n") for one in broken) < MOST_LINES:
            return broken
    halves = [(width_inches(one, points) + GAP_LETTERS * points / POINTS_PER_INCH) / 2 for one in words]
    spans = [
        (inches_a_unit * place - half, inches_a_unit * place + half) for place, half in zip(places, halves, strict=True)
    ]
    return _by_turns(words, spans, dict.fromkeys([0, len(words) - 1, *first, *range(len(words))]), lines)


def _by_turns(
    words: Sequence[str], spans: Sequence[tuple[float, float]], order: dict[int, None], lines: int
) -> list[str]:
    """Return each word on the first line that has room for it, or nothing; earlier ones in the order choose first."""
    taken: list[list[tuple[float, float]]] = [[] for _line in range(lines)]
    said = [""] * len(words)
    for number in order:
        left, right = spans[number]
        for down, others in enumerate(taken):
            if all(right <= start or end <= left for start, end in others):
                others.append((left, right))
                said[number] = "\n" * down + words[number]
                break
    return said
