"""What can be moved in a garden and a plan: each choice a slider, a switch or a list, bound to dotted keys.

Keys that mean the same thing, such as the days between the sprays of a plan, move together where they stand at one
value. Where numbers differ, each value has a choice of its own, named by what sets it apart, so that a choice always
tells what stands; where words of a list differ, the list begins with all of them, as the plan has it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from math import isfinite
from typing import Any, Literal

from dashboard.language.saying import (
    ANY_YEAR,
    from_units,
    in_units,
    say_amount,
    say_date,
    say_hour,
    say_list,
    say_setting,
    unit_after,
)
from dashboard.language.tongue import FIRST_UNITS, _, current_units, mark
from dashboard.plans.alike import Alike, alike_actions, alike_settings
from dashboard.plans.deeds import say_name
from dashboard.plans.movable import (
    CLIMATES,
    CROPS,
    LISTS_OF_ACTIONS,
    NESTS,
    OF_ACTIONS,
    OF_WORLD,
    OPENINGS,
    MovedNumber,
)
from sim.scenario import Scenario
from sim.scenario.values import date_in

Kind = Literal["number", "date", "list", "switch"]
EARLIER_DAYS, LATER_DAYS = 30, 60
"""How far a planting day can be moved."""
_NOTHING = object()
"""What is said of a key of which nothing is said: None is a value."""
GARDENER, WORLD = mark("What the gardener decides"), mark("What the world does")


@dataclass(frozen=True)
class Choice:
    """One thing that can be moved.

    Parameters
    ----------
    keys
        Dotted keys of the scenario, moved together, that hold the same value.
    words
        Its label, unit included, in the language and the units of the moment.
    group
        Who decides it, marked.
    now
        The value that the scenario holds.
    low, high, step
        Of a number; whole numbers stay whole. Of a date: days earlier (below 0) and later.
    options
        Of a list: value → words, marked.
    written
        Of a list whose values are no values of the scenario: value → the changes that it stands for.
    unit
        Unit of ``saying.UNITS`` that a number is in; nothing if it has none that US units change.
    kin
        Its label without what sets it apart from others of its kind; nothing where it has no others.
    deed
        What the gardener does, of an action; nothing of anything else.
    """

    keys: tuple[str, ...]
    words: str
    group: str
    kind: Kind
    now: Any
    low: float = 0.0
    high: float = 1.0
    step: float = 1.0
    options: Mapping[str, str] | None = None
    unit: str = ""
    written: Mapping[str, Mapping[str, Any]] | None = None
    kin: str = ""
    deed: str = ""

    def changes(self, value: Any) -> dict[str, Any]:
        """Return the changes that bring the scenario to this value."""
        return dict(self.written[value]) if self.written else dict.fromkeys(self.keys, value)

    def value_in(self, changes: Mapping[str, Any]) -> Any:
        """Return the value that changes bring it to; the one that the scenario holds where they say nothing of it.

        A number that is none or has no end, which a file may say for "no limit", has no place on a control; nor have
        changes that bring its keys to several values.
        """
        if self.written is None:
            value, *others = (changes.get(key, self.now) for key in self.keys)
            is_one = all(other == value for other in others)
            return value if is_one and (self.kind != "number" or _has_an_end(value)) else self.now
        stand_for = (value for value, said in self.written.items() if said and said.items() <= changes.items())
        return next(stand_for, self.now)

    def holding(self, value: Any) -> Choice:
        """Return the same choice with room for a value, for a link may bring more than is offered."""
        if self.kind == "list" and value not in (self.options or {}):
            return replace(self, options={**(self.options or {}), value: str(value)})
        if self.kind in ("number", "date"):
            place = days_from(self.now, value) if self.kind == "date" else type(self.low)(value)
            return replace(self, low=min(self.low, place), high=max(self.high, place))
        return self

    def says(self, key: str, changes: Mapping[str, Any]) -> bool:
        """Return whether its control stands for what changes say of a key."""
        return bool(self.changes(self.value_in(changes)).get(key, _NOTHING) == changes[key])

    def say(self, value: Any) -> str:
        """Return a value in words."""
        if self.kind == "switch":
            return _("yes") if value else _("no")
        if self.options:
            return _(self.options.get(value, str(value)))
        if self.kind == "date":
            return say_date(value)
        return say_setting(self.shown(value))

    def shown(self, value: float) -> float:
        """Return a number as its control shows it: in US units in steps of a whole one."""
        return float(round(in_units(value, self.unit))) if self._is_in_us_units else value

    def value_of(self, shown: float) -> float:
        """Return the model's value of a number that a control shows; what has not been moved stays to the last bit."""
        return self.now if shown == self.shown(self.now) else round(from_units(shown, self.unit), 4)

    @property
    def shown_range(self) -> tuple[float, float, float]:
        """Lowest, highest and step of a number as its control shows them."""
        step = 1.0 if self._is_in_us_units else self.step
        return self.shown(self.low), self.shown(self.high), step

    @property
    def _is_in_us_units(self) -> bool:
        return bool(self.unit) and current_units() != FIRST_UNITS


def choices(scenario: Scenario, plan: str) -> list[Choice]:
    """Return everything that can be moved in this garden under this plan: the gardener's first, then the world's."""
    return [*_plan_choices(scenario, plan), *_bed_choices(scenario), *_world_choices(scenario)]


def describe(changes: Mapping[str, Any], offered: Sequence[Choice]) -> list[str]:
    """Return each change in words, those that move together once; a key that no choice holds stands for itself."""
    said, told = [], set()
    for choice in offered:
        value = choice.value_in(changes)
        if value == choice.now and not all(key in changes and choice.says(key, changes) for key in choice.keys):
            continue
        said.append(f"{choice.words}: {choice.say(choice.now)} → {choice.say(value)}")
        told |= set(choice.keys)
    return said + [f"{key} = {value}" for key, value in changes.items() if key not in told]


def without_control(changes: Mapping[str, Any], offered: Sequence[Choice]) -> list[str]:
    """Return each change, as a key and its value, that no control of those offered stands for."""
    return [
        f"{key} = {value}" for key, value in changes.items() if not any(choice.says(key, changes) for choice in offered)
    ]


def days_from(first: str, last: str) -> int:
    """Return how many days lie between two days of the year."""
    return (date_in(last, ANY_YEAR) - date_in(first, ANY_YEAR)).days


def day_after(first: str, days: int) -> str:
    """Return the day of the year so many days later."""
    return (date_in(first, ANY_YEAR) + timedelta(days=days)).strftime("%m-%d")


def _plan_choices(scenario: Scenario, plan: str) -> Iterator[Choice]:
    actions = list(enumerate(scenario.plan(plan).actions))
    deeds = dict.fromkeys(action.do for _place, action in actions)
    for deed in sorted(
        deeds, key=lambda deed: deed == "weed"
    ):  # weeding is alike in all plans: nobody asks for it first
        same = [(f"plans.{plan}.actions.{place}", action) for place, action in actions if action.do == deed]
        for field, (words, options) in LISTS_OF_ACTIONS.get(deed, {}).items():
            yield _list_of_actions(words, options, same, field, deed)
        for number in OF_ACTIONS.get(deed, ()):
            holding = [(key, action) for key, action in same if getattr(action, number.field) is not None]
            for group in alike_actions(scenario, holding, number.field):
                yield _number(group, number, GARDENER, deed)
    yield from _opening_choices(plan, actions)
    yield from _bare_choices(scenario, plan, actions)


def _list_of_actions(
    words: str, options: Mapping[str, str], same: Sequence[tuple[str, Any]], field: str, deed: str
) -> Choice:
    """Return a list for all actions of a kind; where they differ it begins with all of them, as the plan has it."""
    keys = tuple(f"{key}.{field}" for key, _action in same)
    held = list(dict.fromkeys(getattr(action, field) for _key, action in same))
    choice = Choice(keys, _(words), GARDENER, "list", held[0], options=options, deed=deed)
    if len(held) == 1:
        return choice
    written: dict[str, dict[str, Any]] = {"": {}, **{value: dict.fromkeys(keys, value) for value in options}}
    as_planned = say_list([_(options[value]) for value in held])
    return replace(choice, now="", options={"": as_planned, **options}, written=written)


def _opening_choices(plan: str, actions: Sequence[tuple[int, Any]]) -> Iterator[Choice]:
    """Yield the hours in which the net that goes on last is open each day."""
    covers = [(place, action) for place, action in actions if action.do == "cover"]
    if not covers:
        return
    place, cover = covers[-1]
    keys = tuple(f"plans.{plan}.actions.{place}.{field}" for field in ("open_from_hour", "open_to_hour"))
    held = (cover.open_from_hour, cover.open_to_hour)
    hours = {_hours_name(both): both for both in (*OPENINGS, held)}
    yield Choice(
        keys,
        _("Net: open each day"),
        GARDENER,
        "list",
        _hours_name(held),
        options={name: _hours_said(both) for name, both in hours.items()},
        written={name: dict(zip(keys, both, strict=True)) for name, both in hours.items()},
    )


def _hours_name(both: tuple[float | None, float | None]) -> str:
    return "never" if both[0] is None else f"{both[0]:g}-{both[1]:g}"


def _hours_said(both: tuple[float | None, float | None]) -> str:
    first, last = both
    if first is None or last is None:
        return _("never")
    return _("from {first} to {last}").format(first=say_hour(first), last=say_hour(last))


def _bare_choices(scenario: Scenario, plan: str, actions: Sequence[tuple[int, Any]]) -> Iterator[Choice]:
    """Yield which bed, of those under the net, is left bare, so that butterflies and birds find something."""
    covered = [action.beds or tuple(bed.name for bed in scenario.beds) for _, action in actions if action.do == "cover"]
    nets = [(place, action) for place, action in actions if action.do in ("cover", "uncover")]
    written: dict[str, dict[str, Any]] = {"": {}}
    for bed in dict.fromkeys(name for beds in covered for name in beds):
        changes = {}
        for place, action in nets:
            beds = action.beds or (tuple(one.name for one in scenario.beds) if action.do == "cover" else ())
            if bed in beds:
                changes[f"plans.{plan}.actions.{place}.beds"] = [name for name in beds if name != bed]
        if all(changes.values()):
            written[bed] = changes
    if len(written) > 1:
        keys = tuple(dict.fromkeys(key for changes in written.values() for key in changes))
        options = {bed: _name(bed) if bed else mark("no bed") for bed in written}
        words = _("Net: bed left bare beside it")
        yield Choice(keys, words, GARDENER, "list", "", options=options, written=written)


def _bed_choices(scenario: Scenario) -> Iterator[Choice]:
    for bed in scenario.beds:
        if bed.crop == "cucumber":
            words = _("{bed}: a kind that sets fruit without bees").format(bed=_name(bed.name))
            yield Choice((f"beds.{bed.name}.self_fruitful",), words, GARDENER, "switch", bed.self_fruitful)
    for bed in scenario.beds:
        crops = CROPS.get(bed.harvest, {})
        if bed.crop in crops:
            words = _("{bed}: what grows there").format(bed=_name(bed.name))
            yield Choice((f"beds.{bed.name}.crop",), words, GARDENER, "list", bed.crop, options=crops)
    for bed in scenario.beds:
        words = _("{bed}: days earlier or later than {day}").format(bed=_name(bed.name), day=say_date(bed.planted))
        earlier = max(-EARLIER_DAYS, days_from(bed.planted, scenario.season.first_day))
        later = min(LATER_DAYS, days_from(bed.planted, scenario.season.last_day))
        yield Choice((f"beds.{bed.name}.planted",), words, GARDENER, "date", bed.planted, earlier, later)
    vigour = MovedNumber("vigour", mark("Soil and care{where}, times the usual"), 0.5, 1.3, 0.05)
    for group in alike_settings((f"beds.{bed.name}.vigour", bed.vigour, say_name(bed.name)) for bed in scenario.beds):
        yield _number(group, vigour, GARDENER)
    minutes = MovedNumber("minutes", mark("Gardener's minutes each day"), 0.0, 480.0, 15.0)
    if isfinite(scenario.gardener.minutes_per_day):  # a gardener without a limit has nothing to move
        yield _number(Alike(("gardener.minutes_per_day",), scenario.gardener.minutes_per_day), minutes, GARDENER)


def _world_choices(scenario: Scenario) -> Iterator[Choice]:
    if scenario.place.climate is not None:
        where = _("Where the garden lies")
        yield Choice(("place.climate",), where, WORLD, "list", scenario.place.climate, options=CLIMATES)
    for keys, number in OF_WORLD:
        if scenario.place.climate is None and keys[0].startswith("place."):
            continue  # the days of a weather file are taken as they are
        fields = [(key, *key.split(".")) for key in keys]
        held = [(key, getattr(getattr(scenario, part), field), say_name(field)) for key, part, field in fields]
        for group in alike_settings(held):
            yield _number(group, number, WORLD)
    for place, nest in enumerate(scenario.birds.nests):
        words = _(NESTS[nest.kind]).format(far=say_amount(nest.distance_m, "m"))
        yield Choice((f"birds.nests.{place}.count",), words, WORLD, "number", nest.count, 0, max(6, nest.count), 1)


def _number(group: Alike, number: MovedNumber, who: str, deed: str = "") -> Choice:
    kind = type(number.low)
    now = kind(group.now)
    low, high = min(number.low, now), max(number.high, now)
    unit = unit_after(number.unit) if number.unit else ""
    kin, words = (_(number.words).format(unit=unit, where=where) for where in ("", group.where and f" ({group.where})"))
    return Choice(
        group.keys, words, who, "number", now, low, high, kind(number.step), unit=number.unit,
        kin=kin if group.where else "", deed=deed,
    )  # fmt: skip


def _has_an_end(value: Any) -> bool:
    return isinstance(value, int | float) and isfinite(value)


def _name(bed: str) -> str:
    return say_name(bed).capitalize()
