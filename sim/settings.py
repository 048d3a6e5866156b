"""A setting to vary and its values, as said in one word: ``KEY=LOW:HIGH:STEPS`` or ``KEY=a,b,c``."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TypeAlias

import numpy as np

from sim.errors import RunError, tell

Value: TypeAlias = float | int | bool | str
MOST_STEPS = 1000
_ORDINARY_YEAR = 2025
"""Any year without a 29 February will do to count days between dates without a year."""
_MONTH_DAY = re.compile(r"(\d\d)-(\d\d)", re.ASCII)
_HOW = tell("say KEY=LOW:HIGH:STEPS, such as pests.arrivals=0:4:5, or KEY=a,b,c")


@dataclass(frozen=True, slots=True)
class Setting:
    """Dotted keys of a scenario that take each value together, and the values in order.

    ``words`` and ``value_words`` say for people what is varied and what the values are; without them, keys and values
    stand for themselves. ``beside_words`` say a value with what it is of, for where it stands beside those of others.

    Raises
    ------
    RunError
        If there is no key or value, or a value comes twice.
    """

    keys: tuple[str, ...]
    values: tuple[Value, ...]
    words: str = field(default="", compare=False)
    value_words: Mapping[Value, str] = field(default_factory=dict, compare=False)
    beside_words: Mapping[Value, str] = field(default_factory=dict, compare=False)

    def __post_init__(self) -> None:
        if not self.keys or not all(self.keys):
            raise RunError(tell("A setting has no key; {how}.", how=_HOW))
        if not self.values:
            raise RunError(tell("'{name}' has no values; {how}.", name=self.name, how=_HOW))
        twice = next((value for value in self.values if self.values.count(value) > 1), None)
        if twice is not None:
            raise RunError(tell("'{name}' has the value {value} twice; each is run once.", name=self.name, value=twice))

    @property
    def name(self) -> str:
        """The keys as one word, ``+`` between those that move together."""
        return "+".join(self.keys)

    @property
    def label(self) -> str:
        """What is varied, in words where it has them."""
        return self.words or self.name

    def say(self, value: Value) -> str:
        """Return a value in words where it has them."""
        return self.value_words.get(value, str(value))

    @property
    def is_ordered(self) -> bool:
        """Whether the values are numbers or dates that rise."""
        are_numbers = all(isinstance(value, int | float) and not isinstance(value, bool) for value in self.values)
        are_dates = all(isinstance(value, str) and is_month_day(value) for value in self.values)
        return (are_numbers or are_dates) and list(self.values) == sorted(self.values, key=_in_order)

    def distance(self, first: Value, last: Value) -> float:
        """Return how far apart two ordered values are: days between dates, else the difference."""
        if isinstance(first, str) and isinstance(last, str):
            return float((_date(last) - _date(first)).days)
        return float(last) - float(first)


def setting_from(text: str) -> Setting:
    """Return the setting that a text such as ``plans.net.actions.0.delay_days=0:35:8`` says.

    STEPS is how many values there are, both ends among them. Ends may be whole numbers, numbers or dates (``04-15``);
    whole ends whose steps are whole give whole numbers. ``KEY+KEY=…`` moves keys together.

    Raises
    ------
    RunError
        If it cannot be read, or the range is upside down.
    """
    name, equals, said = text.partition("=")
    if not equals:
        raise RunError(tell("'{text}' is no setting to vary; {how}.", text=text, how=_HOW))
    keys = tuple(key.strip() for key in name.split("+"))
    parts = [part.strip() for part in said.split(":")]
    if len(parts) == 1:
        words = [word.strip() for word in said.split(",")]
        if not all(words):
            raise RunError(tell("'{text}' has an empty value; {how}.", text=text, how=_HOW))
        return Setting(keys, tuple(map(_value_from, words)))
    if len(parts) != 2 + 1:
        raise RunError(tell("'{text}' has {count} parts between colons; {how}.", text=text, count=len(parts), how=_HOW))
    return Setting(keys, _range(text, *parts))


def change_from(text: str) -> dict[str, Value]:
    """Return the change that a text such as ``pests.arrivals=2`` says; ``KEY+KEY=…`` changes keys together.

    Raises
    ------
    RunError
        If it cannot be read, or says more than one value.
    """
    name, equals, said = text.partition("=")
    keys = [key.strip() for key in name.split("+")]
    if not equals or not all(keys) or not said.strip() or "," in said or ":" in said:
        raise RunError(tell("'{text}' is no change; say KEY=VALUE, such as pests.arrivals=2.", text=text))
    return dict.fromkeys(keys, _value_from(said.strip()))


def _range(text: str, low: str, high: str, steps: str) -> tuple[Value, ...]:
    count = _value_from(steps)
    if not isinstance(count, int) or isinstance(count, bool) or not 2 <= count <= MOST_STEPS:
        raise RunError(
            tell(
                "'{text}' has '{steps}' for its steps; a whole number from 2 to {most} is allowed.",
                text=text,
                steps=steps,
                most=MOST_STEPS,
            )
        )
    if _MONTH_DAY.fullmatch(low) and _MONTH_DAY.fullmatch(high):
        return _dates(text, low, high, count)
    first, last = _value_from(low), _value_from(high)
    if isinstance(first, bool | str) or isinstance(last, bool | str) or not _is_span(first, last):
        raise RunError(
            tell(
                "'{text}' goes from {low} to {high}; both must be numbers, or both dates such as 04-15.",
                text=text,
                low=low,
                high=high,
            )
        )
    _check_order(text, first, last)
    numbers = np.linspace(first, last, count).tolist()
    if isinstance(first, int) and isinstance(last, int) and (last - first) % (count - 1) == 0:
        return tuple(round(number) for number in numbers)
    return tuple(float(f"{number:.12g}") for number in numbers)


def _is_span(first: float, last: float) -> bool:
    """Return whether two numbers are so far apart as a number can say; `inf` and `nan` are no numbers of a garden."""
    try:
        return math.isfinite(float(last) - float(first))
    except OverflowError:
        return False


def _dates(text: str, low: str, high: str, count: int) -> tuple[Value, ...]:
    try:
        first, last = _date(low), _date(high)
    except ValueError:
        raise RunError(
            tell("'{text}' has a day that is not in the calendar; dates are month-day, such as 04-15.", text=text)
        ) from None
    _check_order(text, low, high)
    days = (last - first).days
    if days < count - 1:
        raise RunError(
            tell(
                "'{text}' asks for {count} days of the {days} from {low} to {high}; ask for fewer.",
                text=text,
                count=count,
                days=days + 1,
                low=low,
                high=high,
            )
        )
    return tuple((first + timedelta(round(days * step / (count - 1)))).strftime("%m-%d") for step in range(count))


def _check_order(text: str, low: Value, high: Value) -> None:
    if _in_order(low) >= _in_order(high):
        raise RunError(
            tell(
                "'{text}' is upside down: {low} is not below {high}; put the lower end first.",
                text=text,
                low=low,
                high=high,
            )
        )


def _in_order(value: Value) -> tuple[float, str]:
    return (0.0, value) if isinstance(value, str) else (float(value), "")


def is_month_day(text: str) -> bool:
    """Return whether a text is a day that every year has, such as ``04-15``."""
    if not _MONTH_DAY.fullmatch(text):
        return False
    try:
        _date(text)
    except ValueError:
        return False
    return True


def _date(month_day: str) -> date:
    month, day = month_day.split("-")
    return date(_ORDINARY_YEAR, int(month), int(day))


def _value_from(word: str) -> Value:
    if word in ("true", "false"):
        return word == "true"
    for kind in (int, float):
        try:
            return kind(word)
        except ValueError:
            continue
    return word
