"""What a sweep says, in a sentence: by the same rule as any comparison, and no more than the seasons bear out.

Ends of a range, or each value against the first, are compared by season: pairs that were settled beforehand, not
picked because they looked far apart.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sim.comparison import unit_of, words_of
from sim.compiled import Floats
from sim.settings import Setting, Value
from sim.sweep import Point, Sweep
from sim.uncertainty import Estimate, Score, held_against


def curve_in_words(sweep: Sweep, measure: str, plan: str) -> str:
    """Return what varying the settings does to a measure under a plan.

    Parameters
    ----------
    sweep
        The sweep.
    measure
        Name of a measure, such as ``marketable_kg``.
    plan
        Name of a plan.
    """
    if len(sweep.settings) > 1:
        said = " ".join(_main_effect(sweep, place, measure, plan) for place in range(len(sweep.settings)))
    else:
        setting = sweep.settings[0]
        is_curve = setting.is_ordered and len(setting.values) > 1
        said = _curve(sweep, setting, measure, plan) if is_curve else _list(sweep, setting, measure, plan)
    words = words_of(measure)
    return f"{words[:1].upper()}{words[1:]}, under '{plan}': {said}"


def _curve(sweep: Sweep, setting: Setting, measure: str, plan: str) -> str:
    rows = [sweep.values((value,), plan, measure) for value in setting.values]
    ends = f"from {setting.values[0]} to {setting.values[-1]}"
    text = f"as {setting.name} goes {ends}, it {_change(rows[0], rows[-1], measure)}."
    peak = _peak(rows)
    if peak is not None:
        place, is_high = peak
        text += (
            f" In between it is {'higher' if is_high else 'lower'} than at both ends: {_amount(rows[place], measure)} "
        )
        text += f"at {setting.values[place]}."
    return text + (_steepest(setting, rows, measure) if len(rows) > 2 else "")


def _list(sweep: Sweep, setting: Setting, measure: str, plan: str) -> str:
    rows = [sweep.values((value,), plan, measure) for value in setting.values]
    text = f"with {setting.name} = {setting.values[0]} it is {_amount(rows[0], measure)}"
    for value, row in zip(setting.values[1:], rows[1:], strict=True):
        text += f"; with {value} it {_change(rows[0], row, measure)}"
    return text + "."


def _main_effect(sweep: Sweep, place: int, measure: str, plan: str) -> str:
    setting = sweep.settings[place]
    low = _average_at(sweep, place, setting.values[0], measure, plan)
    high = _average_at(sweep, place, setting.values[-1], measure, plan)
    others = " and ".join(other.name for other in sweep.settings if other is not setting)
    between = f"from {setting.values[0]} to {setting.values[-1]}"
    return f"averaged over {others}, with {setting.name} {between} it {_change(low, high, measure)}."


def _average_at(sweep: Sweep, place: int, value: Value, measure: str, plan: str) -> Floats:
    points: list[Point] = [point for point in sweep.comparisons if point[place] == value]
    average: Floats = np.mean([sweep.values(point, plan, measure) for point in points], axis=0)
    return average


def _change(first: Floats, last: Floats, measure: str) -> str:
    """Return the end of a sentence: ``falls from … to … (lower in 18 of 20 seasons; …)``."""
    difference, tally = held_against(last, first, "more")
    if not tally.seasons:
        return "has no value in these seasons"
    if tally.verdict == "level":
        return f"stays at {_amount(first, measure)} in every season"
    if tally.verdict == "too close to call":
        return (
            f"does not change in a way that {tally.seasons} seasons can tell ({_tally(tally)}; {_still_needed(tally)})"
        )
    verb = "rises" if tally.verdict == "ahead" else "falls"
    return f"{verb} from {_mean(first)} to {_amount(last, measure)} ({_tally(tally)}; {_range(difference, measure)})"


def _tally(tally: Score) -> str:
    word, count = ("higher", tally.ahead) if tally.ahead >= tally.behind else ("lower", tally.behind)
    return f"{word} in {count} of {tally.seasons} seasons"


def _range(difference: Estimate, measure: str) -> str:
    return f"a change of {difference.low:.3g} to {difference.high:.3g}{_unit(measure)}"


def _still_needed(tally: Score) -> str:
    needed = tally.more_seasons_needed
    return "more seasons may not settle it" if needed is None else f"about {needed} more would settle it"


def _peak(rows: list[Floats]) -> tuple[int, bool] | None:
    """Return the place of a high or low point that the rule tells from both ends, and whether it is high."""
    means = np.array([np.nanmean(row) if np.isfinite(row).any() else np.nan for row in rows])
    if len(rows) <= 2 or np.isnan(means).any():
        return None
    for place, is_high in ((int(np.argmax(means)), True), (int(np.argmin(means)), False)):
        wanted = "ahead" if is_high else "behind"
        ends = [held_against(rows[place], rows[end], "more")[1].verdict for end in (0, -1)]
        if ends == [wanted, wanted]:
            return place, is_high
    return None


def _steepest(setting: Setting, rows: list[Floats], measure: str) -> str:
    slopes: list[tuple[float, Any, Any]] = []
    for place in range(len(rows) - 1):
        here, there = setting.values[place], setting.values[place + 1]
        difference, tally = held_against(rows[place + 1], rows[place], "more")
        if tally.verdict in ("ahead", "behind"):
            slopes.append((difference.mean / setting.distance(here, there), here, there))
    if not slopes:
        return ""
    slope, here, there = max(slopes, key=lambda entry: abs(entry[0]))
    each = "a day" if isinstance(here, str) else "for each 1"
    return f" It changes fastest between {here} and {there}: {slope:+.3g}{_unit(measure)} {each}."


def _mean(values: Floats) -> str:
    known = values[~np.isnan(values)]
    return f"{known.mean():.3g}" if len(known) else "no value"


def _amount(values: Floats, measure: str) -> str:
    return f"{_mean(values)}{_unit(measure)}"


def _unit(measure: str) -> str:
    unit = unit_of(measure)
    return f" {unit}" if unit not in ("", "1") else ""
