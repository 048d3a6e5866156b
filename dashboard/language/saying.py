"""The one place where a number, a date or a unit becomes words, in the language and the units spoken now.

Files (CSV and the like) never pass here: they keep points, ISO dates and the model's units.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time
from functools import lru_cache

from dashboard.language.tongue import FIRST_LANGUAGE, FIRST_UNITS, _, current_language, current_units, many, mark
from sim.errors import LeafnestError, Sentence

LOCALES = {"en": "en_US", "es": "es_US"}
"""Language → whose habits its numbers and dates follow: readers in the United States."""
MINUS = "\N{MINUS SIGN}"
"""Before a figure that is less than none. A hyphen is shorter, is read aloud as a dash, and may end a line."""
ANY_YEAR = 2025
_LEAP_YEAR = 2024
LISTED_TWO = mark("{first} and {last}")
_POUNDS_A_KG, _OUNCES_A_G = 2.204_622_6, 0.035_273_962
_FEET_A_M, _INCHES_A_MM, _INCHES_A_CM = 3.280_839_9, 0.039_370_079, 0.393_700_79


@dataclass(frozen=True)
class Unit:
    """A unit as the model counts in it, and what stands for it in US customary units.

    Parameters
    ----------
    short, word
        What stands after a number, and the unit by its name, in the plural.
    us_short, us_word
        The same in US customary units.
    factor, shift
        US figure = factor * figure + shift; the shift is 0 for a difference.
    """

    short: str
    word: str
    us_short: str
    us_word: str
    factor: float
    shift: float = 0.0


UNITS = {
    "kg": Unit("kg", mark("kilograms"), "lb", mark("pounds"), _POUNDS_A_KG),
    "g": Unit("g", mark("grams"), "oz", mark("ounces"), _OUNCES_A_G),
    "m": Unit("m", mark("meters"), mark("ft"), mark("feet"), _FEET_A_M),
    "m2": Unit("m²", mark("square meters"), mark("sq ft"), mark("square feet"), _FEET_A_M**2),
    "cm2": Unit("cm²", mark("square centimeters"), mark("sq in"), mark("square inches"), _INCHES_A_CM**2),
    "mm": Unit("mm", mark("millimeters"), mark("in"), mark("inches"), _INCHES_A_MM),
    "c": Unit("°C", mark("degrees Celsius"), "°F", mark("degrees Fahrenheit"), 1.8, 32.0),
    "c_difference": Unit("°C", mark("degrees Celsius"), "°F", mark("degrees Fahrenheit"), 1.8),
}
"""The model's unit → how it is said. ``c_difference`` is for so many degrees warmer or colder."""


def in_units(value: float, unit: str) -> float:
    """Return a figure in the units measured in now; one whose unit is not in ``UNITS`` stays as it is."""
    known = UNITS.get(unit)
    return value if known is None or current_units() == FIRST_UNITS else known.factor * value + known.shift


def from_units(figure: float, unit: str) -> float:
    """Return the model's value of a figure that was given in the units measured in now."""
    known = UNITS.get(unit)
    return figure if known is None or current_units() == FIRST_UNITS else (figure - known.shift) / known.factor


def unit_after(unit: str) -> str:
    """Return the unit as it stands after a number: ``kg`` or ``lb``."""
    known, is_metric = UNITS.get(unit), current_units() == FIRST_UNITS
    return _(unit if known is None else known.short if is_metric else known.us_short)


def unit_named(unit: str) -> str:
    """Return the unit by its name: ``kilograms`` or ``pounds``."""
    known, is_metric = UNITS.get(unit), current_units() == FIRST_UNITS
    return _(unit if known is None else known.word if is_metric else known.us_word)


def short_number(value: float) -> str:
    """Return a number as a reader would say it: 1,240 · 86 · 7.4 · 0.62; in US units with more small digits."""
    size = abs(value)
    if size >= 9.95:
        return say_number(value)
    if size >= 0.995:
        return say_number(value, 1)
    # A gram is 0.035 oz: what is two digits in grams would be none in ounces.
    decimals = 2 if current_units() == FIRST_UNITS or size >= 0.0995 else 3 if size >= 0.00995 else 4
    return "0" if size < 0.5 * 10**-decimals else say_number(value, decimals)


def numbers_apart(values: Sequence[float]) -> list[str]:
    """Return short numbers, with up to three more decimals where two that differ would read alike.

    For figures beside places: who reads 17 twice cannot see why one stands first.
    """
    told = [short_number(value) for value in values]
    for _more in range(3):
        pairs = set(zip(told, values, strict=True))
        alike = {text for text in told if sum(text == other for other, _value in pairs) > 1}
        told = [
            say_number(value, len(text.partition(".")[2]) + 1) if text in alike else text
            for text, value in zip(told, values, strict=True)
        ]
    return told


def current_locale() -> str:
    """Return the language and country by whose ways numbers and dates are written, such as ``es_US``."""
    return LOCALES.get(current_language(), LOCALES[FIRST_LANGUAGE])


def say_number(value: float, decimals: int = 0) -> str:
    """Return a number with its thousands and decimals marked as the language does; what rounds to none has no sign."""
    return _marked(f"{value:z,.{decimals}f}")


def say_setting(value: float) -> str:
    """Return a number that somebody has set, with as many decimals as it has, six figures at most."""
    return _marked(f"{value:,.6g}")


def say_amount(value: float, unit: str) -> str:
    """Return a figure of the model with its unit, both as measured now: ``12 kg`` or ``26 lb``."""
    return _("{figure} {unit}").format(figure=short_number(in_units(value, unit)), unit=unit_after(unit))


def say_share(share: float) -> str:
    """Return a share of one as parts of a hundred: ``62%``."""
    return _("{figure}%").format(figure=say_number(100 * share))


def say_date(day: date | str) -> str:
    """Return a day without its year as the reader writes it: ``May 1``; ``1 de mayo``."""
    if isinstance(day, str):
        month, _dash, number = day[-5:].partition("-")
        day = date(_LEAP_YEAR, int(month), int(number))
    return _said_date(day, current_locale())


def say_full_date(day: date) -> str:
    """Return a day with its year as the reader writes it: ``May 1, 2026``; ``1 de mayo de 2026``."""
    from babel.dates import format_date

    return str(format_date(day, "long", locale=current_locale()))


def say_month(day: date) -> str:
    """Return the month of a day in short: ``Apr``; ``abr``."""
    return _said_month(day.month, current_locale())


def say_hour(hour: float) -> str:
    """Return an hour of the day as the reader writes it: ``6 AM``; ``6 a.m.``."""
    return _said_hour(hour, current_locale())


def say_list(words: list[str]) -> str:
    """Return words one after another: ``kale, lettuce and collards``."""
    if len(words) < 2:
        return "".join(words)
    return _(LISTED_TWO).format(first=", ".join(words[:-1]), last=words[-1])


def say_error(error: LeafnestError) -> str:
    """Return what is wrong, in the language spoken now."""
    return say_sentence(error.sentence)


def say_sentence(text: str) -> str:
    """Return a sentence of the model in the language spoken now; a text that is none, such as a name, as it is."""
    if not isinstance(text, Sentence):
        return text
    values = {
        name: say_error(value) if isinstance(value, LeafnestError) else say_sentence(value) if isinstance(value, str)
        else value
        for name, value in text.values.items()
    }  # fmt: skip
    one, *several = text.templates
    return (many(one, several[0], text.values["count"]) if several else _(one)).format(**values)


@lru_cache(maxsize=2_000)
def _said_date(day: date, locale: str) -> str:
    from babel.dates import format_skeleton

    return str(format_skeleton("MMMMd", day, locale=locale))


@lru_cache(maxsize=100)
def _said_month(month: int, locale: str) -> str:
    from babel.dates import format_date

    return str(format_date(date(_LEAP_YEAR, month, 1), "LLL", locale=locale)).rstrip(".")


def with_minus(figure: str) -> str:
    """Return a figure that was written as Python writes it, with hyphens, with the sign that readers are shown."""
    return figure.replace("-", MINUS)


def _marked(figure: str) -> str:
    """Return a figure as Python writes it with the marks of the language."""
    language, figure = current_language(), with_minus(figure)
    if language == FIRST_LANGUAGE:
        return figure
    thousands, decimals = _marks(LOCALES[language])
    return figure.translate({ord(","): thousands, ord("."): decimals})


@lru_cache(maxsize=8)
def _marks(locale: str) -> tuple[str, str]:
    from babel.numbers import get_decimal_symbol, get_group_symbol

    return get_group_symbol(locale), get_decimal_symbol(locale)


@lru_cache(maxsize=100)
def _said_hour(hour: float, locale: str) -> str:
    from babel.dates import format_skeleton

    minutes = round(60 * hour)
    moment = time(minutes // 60 % 24, minutes % 60)
    return str(format_skeleton("hm" if moment.minute else "h", moment, locale=locale)).replace("\u202f", " ")
