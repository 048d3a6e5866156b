"""What a sweep says, in a sentence: by the same rule as any comparison, and no more than the seasons bear out.

Ends of a range, or each value against the first, are compared by season: pairs that were settled beforehand, not
picked because they looked far apart. What is picked out afterwards, the highest point between and the steepest step,
is told only if it stands against all that it was picked from.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sim.comparison import unit_of, words_of
from sim.compiled import Floats
from sim.settings import Setting, Value
from sim.sweep import Point, Sweep
from sim.uncertainty import SIGNIFICANCE, Estimate, Score, held_against, sign_test

_HUNDRED, _THOUSAND = 100.0, 1000.0


def too_few_in_words(sweep: Sweep) -> str:
    """Return a warning if the sweep has so few seasons that none of its comparisons can be settled, else nothing."""
    seasons, needed = len(sweep.seeds), 1
    while sign_test(needed, 0) > SIGNIFICANCE:
        needed += 1
    if seasons >= needed:
        return ""
    are = "is" if seasons == 1 else "are"
    return (
        f"{_seasons(seasons)} {are} too few to call any difference, whatever they show; "
        f"{needed} are the fewest that can."
    )


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
    varied = [place for place, setting in enumerate(sweep.settings) if len(setting.values) > 1]
    if len(varied) > 1:
        said = "; ".join(_main_effect(sweep, place, measure, plan) for place in varied) + "."
    else:
        setting = sweep.settings[varied[0] if varied else 0]
        rows = [sweep.values(point, plan, measure) for point in sweep.comparisons]
        is_curve = setting.is_ordered and bool(varied)
        said = _curve(setting, rows, measure) if is_curve else _list(setting, rows, measure)
    words = words_of(measure)
    return f"{words[:1].upper()}{words[1:]}, under '{plan}': {said}"


def plans_in_words(sweep: Sweep, measure: str, plan: str) -> str:
    """Return at which points a plan gives more of a measure than the first plan, less, or neither for sure.

    Parameters
    ----------
    sweep
        The sweep, of two plans or more.
    measure
        Name of a measure.
    plan
        Name of a plan that is not the first.
    """
    found: dict[str, list[str]] = {}
    for point in sweep.comparisons:
        first, here = (sweep.values(point, name, measure) for name in (sweep.plans[0], plan))
        _, tally = held_against(here, first, "more")
        verdict = tally.verdict if tally.seasons else "unknown"
        found.setdefault(verdict, []).append(point_in_words(sweep, point))
    count = len(sweep.comparisons)
    parts = [_VERDICTS[verdict].format(_listed(found[verdict], count)) for verdict in _VERDICTS if verdict in found]
    words = words_of(measure)
    return f"{words[:1].upper()}{words[1:]}: against '{sweep.plans[0]}', '{plan}' gives {'; '.join(parts)}."


def point_in_words(sweep: Sweep, point: Point) -> str:
    """Return the values of a point that vary, in words."""
    pairs = zip(sweep.settings, point, strict=True)
    varied = [(setting, value) for setting, value in pairs if len(setting.values) > 1]
    if len(varied) > 1:
        return ", ".join(_beside(setting, value) for setting, value in varied)
    return varied[0][0].say(varied[0][1]) if varied else "the only point"


def _beside(setting: Setting, value: Value) -> str:
    return setting.beside_words.get(value) or f"{_short(setting)} {setting.say(value)}"


def _short(setting: Setting) -> str:
    """Return a word or two for a setting: its field, or what its keys have in common."""
    parts = setting.keys[0].split(".")
    return (parts[0] if len(setting.keys) > 1 else parts[-1]).replace("_", " ")


_VERDICTS = {
    "ahead": "more at {}",
    "behind": "less at {}",
    "level": "the same in every season at {}",
    "too close to call": "no difference that these seasons can tell at {}",
    "unknown": "no value at {}",
}
_MOST_POINTS_NAMED = 9
"""More points than these are counted, not named."""


def _listed(points: list[str], count: int) -> str:
    if len(points) == count:
        return f"all {count} points" if count > 1 else points[0]
    if len(points) > _MOST_POINTS_NAMED:
        return f"{len(points)} of {count} points"
    return ", ".join(points)


def _curve(setting: Setting, rows: list[Floats], measure: str) -> str:
    ends = f"from {setting.say(setting.values[0])} to {setting.say(setting.values[-1])}"
    text = f"as {_named(setting)} goes {ends}, it {_change(rows[0], rows[-1], measure)}."
    peak = _peak(rows)
    if peak is not None:
        place, is_high = peak
        text += (
            f" In between it is {'higher' if is_high else 'lower'} than at both ends: {_amount(rows[place], measure)} "
        )
        text += f"at {setting.say(setting.values[place])}."
    return text + (_steepest(setting, rows, measure) if len(rows) > 2 else "")


def _list(setting: Setting, rows: list[Floats], measure: str) -> str:
    text = f"with {_named(setting)} = {setting.say(setting.values[0])} it is {_amount(rows[0], measure)}"
    for value, row in zip(setting.values[1:], rows[1:], strict=True):
        text += f"; with {setting.say(value)} it {_change(rows[0], row, measure)}"
    return text + "."


def _named(setting: Setting) -> str:
    return f"'{setting.words}'" if setting.words else setting.name


def _main_effect(sweep: Sweep, place: int, measure: str, plan: str) -> str:
    setting = sweep.settings[place]
    low = _average_at(sweep, place, setting.values[0], measure, plan)
    high = _average_at(sweep, place, setting.values[-1], measure, plan)
    others = " and ".join(_named(other) for other in sweep.settings if other is not setting and len(other.values) > 1)
    between = f"from {setting.say(setting.values[0])} to {setting.say(setting.values[-1])}"
    return f"averaged over {others}, with {_named(setting)} {between} it {_change(low, high, measure)}"


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
        told = f"{_tally(tally)}; {_still_needed(tally)}"
        return f"does not change in a way that {_seasons(tally.seasons)} can tell ({told})"
    verb = "rises" if tally.verdict == "ahead" else "falls"
    ends = f"from {_mean(first, measure)} to {_amount(last, measure)}"
    return f"{verb} {ends} ({_tally(tally)}; {_range(difference, measure)})"


def _tally(tally: Score) -> str:
    word, count = ("higher", tally.ahead) if tally.ahead >= tally.behind else ("lower", tally.behind)
    return f"{word} in {count} of {_seasons(tally.seasons)}"


def _seasons(count: int) -> str:
    return "1 season" if count == 1 else f"{count} seasons"


def _range(difference: Estimate, measure: str) -> str:
    low, high = (_figure(end, measure) for end in (difference.low, difference.high))
    return f"a change of {low} to {high}{_unit(measure)}"


def _still_needed(tally: Score) -> str:
    needed = tally.more_seasons_needed
    return "more seasons may not settle it" if needed is None else f"about {needed} more may settle it"


def _peak(rows: list[Floats]) -> tuple[int, bool] | None:
    """Return the place of a high or low point that the rule tells from both ends, and whether it is high."""
    means = np.array([np.nanmean(row) if np.isfinite(row).any() else np.nan for row in rows])
    if len(rows) <= 2 or np.isnan(means).any():
        return None
    for place, is_high in ((int(np.argmax(means)), True), (int(np.argmin(means)), False)):
        wanted = "ahead" if is_high else "behind"
        ends = [held_against(rows[place], rows[end], "more")[1] for end in (0, -1)]
        if all(end.verdict == wanted and end.is_called_among(len(rows) - 2) for end in ends):
            return place, is_high
    return None


def _steepest(setting: Setting, rows: list[Floats], measure: str) -> str:
    slopes: list[tuple[float, Any, Any]] = []
    steps = len(rows) - 1
    for place in range(steps):
        here, there = setting.values[place], setting.values[place + 1]
        difference, tally = held_against(rows[place + 1], rows[place], "more")
        if tally.verdict in ("ahead", "behind") and tally.is_called_among(steps):
            slopes.append((difference.mean / setting.distance(here, there), here, there))
    if not slopes:
        return ""
    slope, here, there = max(slopes, key=lambda entry: abs(entry[0]))
    each = "a day" if isinstance(here, str) else "for each 1"
    between = f"between {setting.say(here)} and {setting.say(there)}"
    return f" It changes fastest {between}: {_figure(slope, measure, sign='+')}{_unit(measure)} {each}."


def _mean(values: Floats, measure: str) -> str:
    known = values[~np.isnan(values)]
    return _figure(float(known.mean()), measure) if len(known) else "no value"


def _amount(values: Floats, measure: str) -> str:
    return f"{_mean(values, measure)}{_unit(measure)}"


def _figure(value: float, measure: str, *, sign: str = "") -> str:
    """Return three figures of a number as it is read aloud: 24,500 · 41.8 · 0.62; shares as parts of 100."""
    rounded = float(f"{value * (_HUNDRED if _is_share(measure) else 1):.3g}")
    return f"{rounded:{sign},.0f}" if abs(rounded) >= _THOUSAND else f"{rounded:{sign}g}"


def _unit(measure: str) -> str:
    """Return the unit with its space; a count has none, for its words say what is counted."""
    unit = "%" if _is_share(measure) else unit_of(measure)
    return "" if unit in ("", "1") or measure.endswith("_count") else f" {unit}"


def _is_share(measure: str) -> bool:
    return unit_of(measure) == "share"
