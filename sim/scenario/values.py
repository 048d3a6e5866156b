"""Kinds of value that a scenario is made of: what is allowed, said once, in words that an error can repeat."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, Strict
from pydantic_core import PydanticCustomError

from sim.errors import Sentence, near_names, tell

_SLUG = re.compile(r"[a-z][a-z0-9_-]*")
_COMMON_YEAR = 2025
"""A year without a 29 February: a day of the calendar here must be there every year."""
_MOST_DAYS = 730
"""As long as a garden can be followed: no deed is due later, and no date runs out of the calendar."""
_MOST_COUNTED = 999_999
"""More of anything is a slip of the keyboard; what fills the memory has a lower limit of its own."""
_LOWEST_LATITUDE_DEG, _HIGHEST_LATITUDE_DEG = 23.5, 66.0
"""From the tropic to the polar circle: flights, nests and winter rest go by the calendar of lands with a winter."""


class Part(BaseModel):
    """A part of a scenario: never changed in place, and without keys that it does not know."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=True, ser_json_inf_nan="constants")


def refuse(
    allowed: Sentence, *, key: str = "", found: Any = None, has: Sentence | None = None, known: Iterable[str] = ()
) -> PydanticCustomError:
    """Return the error for a value that is not allowed.

    Parameters
    ----------
    allowed
        What may stand there, as the end of a sentence.
    key
        Dotted key below the place where the check runs, if it is not that place itself.
    found
        The value that was found, if it is not the one at that place.
    has
        What was found in words, where it is no single value.
    known
        Names of which one may have been meant by the one that was found.
    """
    context = {"allowed": allowed, "key": key, "found": found, "has": has, "near": near_names(str(found), known)}
    return PydanticCustomError("refused", "{allowed}", context)


def date_in(month_day: str, year: int) -> date:
    """Return the date of a ``"04-10"`` in a year."""
    month, day = (int(part) for part in month_day.split("-"))
    return date(year, month, day)


def _day_of_every_year(text: str) -> str:
    try:
        return date_in(text, _COMMON_YEAR).strftime("%m-%d")
    except ValueError:
        raise refuse(tell('a day that every year has, written as month and day: "04-10" is 10 April')) from None


def _slug(text: str) -> str:
    if not _SLUG.fullmatch(text):
        raise refuse(tell("small letters from a to z without accents, digits, '_' and '-', beginning with a letter"))
    return text


def _northern(latitude_deg: float) -> float:
    if not _LOWEST_LATITUDE_DEG <= latitude_deg <= _HIGHEST_LATITUDE_DEG:
        raise refuse(
            tell(
                "{least:g} to {most:g} degrees north, since insects and nests here follow the seasons of the north; "
                "the tropics and the southern half of the earth are left out",
                least=_LOWEST_LATITUDE_DEG,
                most=_HIGHEST_LATITUDE_DEG,
            )
        )
    return latitude_deg


def flat_items(nested: dict[Any, Any], prefix: str = "") -> Iterable[tuple[str, Any]]:
    """Yield dotted keys, so that ``birds.use = 1`` means the same with and without quotes round the key."""
    for key, value in nested.items():
        if isinstance(value, dict):
            yield from flat_items(value, f"{prefix}{key}.")
        else:
            yield f"{prefix}{key}", value


Text = Annotated[str, Strict()]
Truth = Annotated[bool, Strict()]
Slug = Annotated[str, Strict(), AfterValidator(_slug)]
MonthDay = Annotated[
    str,
    Strict(),
    AfterValidator(_day_of_every_year),
    Field(json_schema_extra={"pattern": "^[0-9]{1,2}-[0-9]{1,2}$", "examples": ["04-10"]}),
]
Number = Annotated[float, Strict(), Field(allow_inf_nan=False)]
Size = Annotated[float, Strict(), Field(gt=0, le=_MOST_COUNTED, allow_inf_nan=False)]
Amount = Annotated[float, Strict(), Field(ge=0, le=_MOST_COUNTED, allow_inf_nan=False)]
Factor = Annotated[float, Strict(), Field(ge=0, le=1000, allow_inf_nan=False)]
Share = Annotated[float, Strict(), Field(ge=0, le=1, allow_inf_nan=False)]
CountFromOne = Annotated[int, Strict(), Field(ge=1, le=_MOST_COUNTED)]
Days = Annotated[int, Strict(), Field(ge=0, le=_MOST_DAYS)]
DaysFromOne = Annotated[int, Strict(), Field(ge=1, le=_MOST_DAYS)]
Latitude = Annotated[
    float,
    Strict(),
    AfterValidator(_northern),
    Field(json_schema_extra={"minimum": _LOWEST_LATITUDE_DEG, "maximum": _HIGHEST_LATITUDE_DEG}),
]
Hour = Annotated[float, Strict(), Field(ge=0, le=24, allow_inf_nan=False)]
Names = tuple[Slug, ...]
