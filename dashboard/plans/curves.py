"""What if: the values that one choice is tried at, and what the seasons say along them, in plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from dashboard.language.saying import short_number
from dashboard.language.spoken import Spoken
from dashboard.language.tongue import _
from dashboard.plans.choices import Choice, day_after, days_from
from sim.comparison import Comparison
from sim.uncertainty import held_against

POINTS = 7


def values_along(choice: Choice, value: Any) -> list[Any]:
    """Return the values of a curve, in order: both ends, some between, what the plan has and what it is moved to."""
    if choice.kind == "switch":
        return [False, True]
    if choice.kind == "list":
        return list(choice.options or {})
    kind = int if choice.kind == "date" else type(choice.low)
    step = kind(choice.step)
    spread = np.linspace(choice.low, choice.high, POINTS)
    steps = {round(float(choice.low + step * round((one - choice.low) / step)), 6) for one in spread}
    numbers = {kind(min(one, choice.high)) for one in steps}
    if choice.kind == "date":
        offsets = sorted({*map(int, numbers), 0, days_from(choice.now, value)})
        return [day_after(choice.now, days) for days in offsets]
    return sorted({*numbers, kind(choice.now), kind(value)})


def changes_at(choice: Choice, value: Any, others: Mapping[str, Any]) -> dict[str, Any]:
    """Return the changes with this choice at a value and all others as they are."""
    kept = {key: one for key, one in others.items() if key not in choice.keys}
    return kept if value == choice.now else {**kept, **choice.changes(value)}


def place_of(choice: Choice, value: Any, number: int) -> float:
    """Return where a value stands on the axis: a number in its unit, a date by its days, else its place in the list."""
    if choice.kind == "date":
        return float(days_from(choice.now, value))
    return float(choice.shown(value)) if choice.kind == "number" else float(number)


def curve_sentences(comparison: Comparison, choice: Choice, said: Sequence[str], spoken: Spoken) -> list[str]:
    """Return what the seasons say along a curve.

    Parameters
    ----------
    comparison
        Its plans are the values, in order.
    choice
        What was varied.
    said
        The values in words, in the same order.
    spoken
        The measure.
    """
    values = comparison.values[:, :, comparison.measures.index(spoken.measure)] * spoken.factor
    means = np.nanmean(values, axis=1)
    sentences = []
    if choice.kind in ("number", "date", "switch"):
        sentences.append(_ends_sentence(values, said, spoken))
    most, least = int(np.nanargmax(means)), int(np.nanargmin(means))
    told = _("On average most at {most} ({high} {unit}), least at {least} ({low} {unit}).")
    if means[most] > means[least]:
        sentences.append(
            told.format(
                most=said[most],
                high=short_number(float(means[most])),
                least=said[least],
                low=short_number(float(means[least])),
                unit=spoken.unit,
            )
        )
    return sentences


def _ends_sentence(values: np.ndarray, said: Sequence[str], spoken: Spoken) -> str:
    found, tally = held_against(values[-1], values[0], "more")
    figures = {"last": said[-1], "first": said[0], "what": spoken.title, "count": tally.seasons}
    if tally.verdict == "level":
        return _("{what}: the same at {last} as at {first} in every season.").format(**figures)
    if tally.verdict == "too close to call":
        told = _("{what} at {last} against {first}: more in {more}, less in {less} of {count}. **Too close to call.**")
        return told.format(**figures, more=tally.ahead, less=tally.behind)
    is_more = tally.verdict == "ahead"
    if is_more == (found.mean < 0):  # the few other seasons changed most
        more, less = (
            _("{what}: more at {last} than at {first} in {often} of {count} seasons, the mean {amount} {unit} less."),
            _("{what}: less at {last} than at {first} in {often} of {count} seasons, the mean {amount} {unit} more."),
        )
    else:
        more, less = (
            _("{what}: more at {last} than at {first} in {often} of {count} seasons, by {amount} {unit} on average."),
            _("{what}: less at {last} than at {first} in {often} of {count} seasons, by {amount} {unit} on average."),
        )
    told = more if is_more else less
    often = tally.ahead if is_more else tally.behind
    return told.format(**figures, often=often, amount=short_number(abs(found.mean)), unit=spoken.unit)
