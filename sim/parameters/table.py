"""The table of parameters: read from TOML, checked, changed within stated ranges, and fingerprinted.

A guild file such as ``birds.toml`` holds entries like::

    [tit_like.clutch_eggs]
    value = 7
    unit = "egg"
    low = 5
    high = 10
    source = "pug"            # key in sources.toml, or "none" for memory and common practice
    evidence = "read"         # read | memory | common practice | derived
    note = "6 to 8 in most nests"

Its dotted key is ``birds.tit_like.clutch_eggs``. A value may be a list; then ``axis`` names its places and low and
high are lists too (or one number for all).
"""

from __future__ import annotations

import hashlib
import json
import math
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np

from sim.compiled import Floats
from sim.errors import ParameterError, tell, tell_many, unknown

EVIDENCE = ("read", "memory", "common practice", "derived")
_NOT_A_GUILD = {"sources.toml", "climates.toml"}


@dataclass(frozen=True, slots=True)
class Parameter:
    """One number of nature, or a row of numbers, with where it comes from."""

    key: str
    value: float | tuple[float, ...]
    unit: str
    low: float | tuple[float, ...]
    high: float | tuple[float, ...]
    source: str
    evidence: str
    note: str
    axis: tuple[str, ...]

    def bounds(self) -> list[tuple[float, float, float]]:
        """Return (low, value, high) for each place of the value."""
        values = self.value if isinstance(self.value, tuple) else (self.value,)
        lows = self.low if isinstance(self.low, tuple) else (self.low,) * len(values)
        highs = self.high if isinstance(self.high, tuple) else (self.high,) * len(values)
        return list(zip(lows, values, highs, strict=True))


class Parameters(Mapping[str, Parameter]):
    """All parameters by dotted key; never changed in place."""

    def __init__(self, entries: Mapping[str, Parameter]) -> None:
        self._entries = dict(entries)
        self._fingerprint = ""

    def __getitem__(self, key: str) -> Parameter:
        try:
            return self._entries[key]
        except KeyError:
            said = tell("There is no parameter '{key}'", key=key)
            raise ParameterError(unknown(said, key, self._entries, is_listed=False)) from None

    def __iter__(self) -> Iterator[str]:
        return iter(self._entries)

    def __len__(self) -> int:
        return len(self._entries)

    def __hash__(self) -> int:
        return hash(self.fingerprint)

    def number(self, key: str) -> float:
        """Return a single value."""
        value = self[key].value
        if isinstance(value, tuple):
            raise TypeError(f"{key} is a row of {len(value)} numbers")
        return value

    def numbers(self, key: str) -> Floats:
        """Return a row of values, shape (n,)."""
        value = self[key].value
        return np.array(value if isinstance(value, tuple) else [value], dtype=np.float64)

    def with_changes(self, changes: Mapping[str, Any]) -> Parameters:
        """Return a table with other values, each checked against its stated range.

        Raises
        ------
        ParameterError
            If a key is unknown, a value is no number, or it lies outside the range.
        """
        entries = dict(self._entries)
        for key, value in changes.items():
            entries[key] = _changed(self[key], value)
        return Parameters(entries)

    @property
    def fingerprint(self) -> str:
        """Return 12 hex digits that change with any value."""
        if not self._fingerprint:
            text = json.dumps({key: entry.value for key, entry in sorted(self._entries.items())})
            self._fingerprint = hashlib.sha256(text.encode()).hexdigest()[:12]
        return self._fingerprint


def _changed(entry: Parameter, value: Any) -> Parameter:
    wanted = tuple(value) if isinstance(value, list | tuple) else value
    numbers = wanted if isinstance(wanted, tuple) else (wanted,)
    for number in numbers:
        if isinstance(number, bool) or not isinstance(number, int | float) or not math.isfinite(number):
            raise ParameterError(
                tell(
                    "'{key}' is {value!r}; it must be a number of {unit}.", key=entry.key, value=value, unit=entry.unit
                )
            )
    changed = replace(entry, value=tuple(map(float, wanted)) if isinstance(wanted, tuple) else float(wanted))
    if isinstance(changed.value, tuple) != isinstance(entry.value, tuple) or len(numbers) != len(entry.bounds()):
        raise ParameterError(
            tell_many(
                "'{key}' needs one number, found {found}.",
                "'{key}' needs {count} numbers, found {found}.",
                key=entry.key,
                count=len(entry.bounds()),
                found=len(numbers),
            )
        )
    for low, number, high in changed.bounds():
        if not low <= number <= high:
            raise ParameterError(
                tell(
                    "'{key}' is {number:g} {unit}; its stated range is {low:g} to {high:g}.",
                    key=entry.key,
                    number=number,
                    unit=entry.unit,
                    low=low,
                    high=high,
                )
            )
    return changed


def _walk(prefix: str, node: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any]]]:
    if "value" in node:
        yield prefix, node
        return
    for name, child in node.items():
        if not isinstance(child, Mapping):
            raise ParameterError(
                tell(
                    "'{prefix}.{name}' has no table of value, unit, low, high, source, evidence.",
                    prefix=prefix,
                    name=name,
                )
            )
        yield from _walk(f"{prefix}.{name}", child)


def _number_or_row(key: str, name: str, raw: Any) -> float | tuple[float, ...]:
    numbers = raw if isinstance(raw, list) else [raw]
    for number in numbers:
        if isinstance(number, bool) or not isinstance(number, int | float):
            raise ParameterError(
                tell("'{key}' has {name} = {raw!r}; a number is allowed.", key=key, name=name, raw=raw)
            )
    return tuple(map(float, raw)) if isinstance(raw, list) else float(raw)


def parameter_from(key: str, raw: Mapping[str, Any]) -> Parameter:
    """Return one checked parameter from its TOML table."""
    allowed = {"value", "unit", "low", "high", "source", "evidence", "note", "axis"}
    unknown = set(raw) - allowed
    missing = {"value", "unit", "low", "high", "source", "evidence"} - set(raw)
    if unknown or missing:
        raise ParameterError(
            tell(
                "'{key}' has unknown fields {unknown} and lacks {missing}.",
                key=key,
                unknown=sorted(unknown),
                missing=sorted(missing),
            )
        )
    if raw["evidence"] not in EVIDENCE:
        raise ParameterError(
            tell(
                "'{key}' has evidence {evidence!r}; allowed: {known}.",
                key=key,
                evidence=raw["evidence"],
                known=", ".join(EVIDENCE),
            )
        )
    entry = Parameter(
        key=key,
        value=_number_or_row(key, "value", raw["value"]),
        unit=str(raw["unit"]),
        low=_number_or_row(key, "low", raw["low"]),
        high=_number_or_row(key, "high", raw["high"]),
        source=str(raw["source"]),
        evidence=str(raw["evidence"]),
        note=str(raw.get("note", "")),
        axis=tuple(map(str, raw.get("axis", ()))),
    )
    for low, value, high in entry.bounds():
        if not low <= value <= high:
            raise ParameterError(
                tell(
                    "'{key}' is {value:g}, outside its own range {low:g} to {high:g}.",
                    key=key,
                    value=value,
                    low=low,
                    high=high,
                )
            )
    return entry


@cache
def load_parameters() -> Parameters:
    """Return every parameter shipped with the package."""
    entries: dict[str, Parameter] = {}
    for resource in sorted(files("sim.parameters").iterdir(), key=lambda item: item.name):
        if resource.name.endswith(".toml") and resource.name not in _NOT_A_GUILD:
            guild = resource.name.removesuffix(".toml")
            for key, raw in _walk(guild, tomllib.loads(resource.read_text(encoding="utf-8"))):
                entries[key] = parameter_from(key, raw)
    return Parameters(entries)


@cache
def sources() -> dict[str, dict[str, str]]:
    """Return the bibliography: key → author, year, title, where, read."""
    text = (files("sim.parameters") / "sources.toml").read_text(encoding="utf-8")
    return {key: {name: str(part) for name, part in entry.items()} for key, entry in tomllib.loads(text).items()}
