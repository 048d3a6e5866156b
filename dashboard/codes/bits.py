"""Numbers and values as bits, five to a letter of a code, and back."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from datetime import date, timedelta
from typing import Any

from dashboard.codes.letters import CodeError
from sim.errors import tell

BITS_A_LETTER = 5
_NONE, _FALSE, _TRUE, _WHOLE, _DECIMAL, _WORD, _DAY, _TEXT = range(8)
_TAG_BITS, _WORD_BITS, _DAY_BITS, _PLACES_BITS, _STEP_BITS = 3, 15, 9, 4, 4
_MOST_PLACES = (1 << _PLACES_BITS) - 1
_LEAP_YEAR = 2024
"""Has every day of the year."""


def print_of(text: str, bits: int) -> int:
    """Return a number of so many bits that changes with the text."""
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[:8], "big") >> (64 - bits)


class BitWriter:
    """Bits in the order they were written."""

    def __init__(self) -> None:
        self.bits: list[int] = []

    def put(self, number: int, bits: int) -> None:
        """Write a number from 0 in so many bits."""
        if not 0 <= number < 1 << bits:
            raise ValueError(f"{number} does not fit into {bits} bits.")
        self.bits += [number >> place & 1 for place in reversed(range(bits))]

    def put_long(self, number: int) -> None:
        """Write a number from 0 that is mostly small: four bits at a time, each with a bit that says whether more."""
        rest, part = divmod(number, 1 << _STEP_BITS)
        while True:
            self.put(int(rest > 0), 1)
            self.put(part, _STEP_BITS)
            if not rest:
                return
            rest, part = divmod(rest, 1 << _STEP_BITS)

    def put_value(self, value: Any, words: Iterable[str]) -> None:
        """Write a setting's value; one of the known words takes less room than another."""
        if value is None or isinstance(value, bool):
            self.put({None: _NONE, False: _FALSE, True: _TRUE}[value], _TAG_BITS)
        elif isinstance(value, int):
            self.put(_WHOLE, _TAG_BITS)
            self.put_long(_folded(value))
        elif isinstance(value, float) and (decimal := _decimal(value)):
            digits, places = decimal
            self.put(_DECIMAL, _TAG_BITS)
            self.put(places, _PLACES_BITS)
            self.put_long(_folded(digits))
        elif isinstance(value, str) and _day_number(value) is not None:
            self.put(_DAY, _TAG_BITS)
            self.put(_day_number(value) or 0, _DAY_BITS)
        elif isinstance(value, str) and one_with(print_of(value, _WORD_BITS), _WORD_BITS, words) == value:
            self.put(_WORD, _TAG_BITS)
            self.put(print_of(value, _WORD_BITS), _WORD_BITS)
        else:
            self.put(_TEXT, _TAG_BITS)
            self.put_text(json.dumps(value))

    def put_text(self, text: str) -> None:
        """Write a text."""
        raw = text.encode()
        self.put_long(len(raw))
        for byte in raw:
            self.put(byte, 8)

    def digits(self) -> list[int]:
        """Return what was written as digits of five bits, the last filled up with zeros."""
        whole = [*self.bits, *[0] * (-len(self.bits) % BITS_A_LETTER)]
        return [
            int("".join(map(str, whole[start : start + BITS_A_LETTER])), 2)
            for start in range(0, len(whole), BITS_A_LETTER)
        ]


class BitReader:
    """Reads bits in the order they were written; what cannot be read is a ``CodeError``."""

    def __init__(self, digits: Iterable[int]) -> None:
        self._bits = [digit >> place & 1 for digit in digits for place in reversed(range(BITS_A_LETTER))]
        self._place = 0

    def take(self, bits: int) -> int:
        """Return the number in the next so many bits."""
        taken = self._bits[self._place : self._place + bits]
        if len(taken) < bits:
            raise CodeError(tell("The code ends too early: some letters are missing."))
        self._place += bits
        return int("".join(map(str, taken)), 2)

    def take_long(self) -> int:
        """Return a number that is mostly small."""
        number = place = 0
        while True:
            more = self.take(1)
            number |= self.take(_STEP_BITS) << place
            place += _STEP_BITS
            if not more:
                return number

    def take_value(self, words: Iterable[str]) -> Any:
        """Return a setting's value."""
        tag = self.take(_TAG_BITS)
        if tag in (_NONE, _FALSE, _TRUE):
            return {_NONE: None, _FALSE: False, _TRUE: True}[tag]
        if tag == _WHOLE:
            return _unfolded(self.take_long())
        if tag == _DECIMAL:
            places = self.take(_PLACES_BITS)
            return float(f"{_unfolded(self.take_long())}e-{places}")
        if tag == _DAY:
            day = date(_LEAP_YEAR, 1, 1) + timedelta(days=self.take(_DAY_BITS))
            return day.strftime("%m-%d")
        if tag == _WORD:
            found = one_with(self.take(_WORD_BITS), _WORD_BITS, words)
            if found is None:
                raise CodeError(tell("The code holds a word that this version of the program does not know."))
            return found
        return self.take_json()

    def take_json(self) -> Any:
        """Return a value that was written as a text."""
        try:
            return json.loads(self.take_text())
        except (ValueError, RecursionError):
            raise CodeError(tell("The code holds a value that cannot be read.")) from None

    def take_text(self) -> str:
        """Return a text."""
        count = self.take_long()
        if count * 8 > len(self._bits):
            raise CodeError(tell("The code ends too early: some letters are missing."))
        try:
            return bytes(self.take(8) for _byte in range(count)).decode()
        except UnicodeDecodeError:
            raise CodeError(tell("The code holds a value that cannot be read.")) from None

    def end(self) -> None:
        """Refuse anything after the end."""
        rest = self._bits[self._place :]
        if len(rest) >= BITS_A_LETTER or any(rest):
            raise CodeError(tell("The code goes on after its end; a later version of the program may have made it."))


def one_with(wanted: int, bits: int, words: Iterable[str]) -> str | None:
    """Return the only word that has this print, or None."""
    found = [word for word in words if print_of(word, bits) == wanted]
    return found[0] if len(found) == 1 else None


def _folded(number: int) -> int:
    return 2 * number if number >= 0 else -2 * number - 1


def _unfolded(number: int) -> int:
    return number // 2 if number % 2 == 0 else -(number // 2) - 1


def _decimal(value: float) -> tuple[int, int] | None:
    """Return digits and decimal places that give back exactly this value, or None."""
    for places in range(_MOST_PLACES + 1):
        digits = round(value * 10**places) if abs(value) < 1e15 else 0
        if float(f"{digits}e-{places}") == value and not (digits == 0 and str(value).startswith("-")):
            return digits, places
    return None


def _day_number(value: str) -> int | None:
    try:
        day = date.fromisoformat(f"{_LEAP_YEAR}-{value}")
    except ValueError:
        return None
    return (day - date(_LEAP_YEAR, 1, 1)).days if day.strftime("%m-%d") == value else None
