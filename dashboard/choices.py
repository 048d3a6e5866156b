"""What can be moved in a garden and a plan: each choice a slider, a switch or a list, bound to dotted keys.

Keys that mean the same thing, such as the product of every spray of a plan, move together. A choice shows what the
scenario holds; where such keys differ it shows the first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Literal

from dashboard.deeds import EDGES, HOURS, MATERIALS, PRODUCTS, say_name
from dashboard.saying import ANY_YEAR, from_units, in_units, say_amount, say_date, say_setting, unit_after
from dashboard.tongue import FIRST_UNITS, _, current_units, mark
from sim.scenario import Scenario
from sim.scenario.values import date_in

Kind = Literal["number", "date", "list", "switch"]
CLIMATES = {
    "warm_humid": mark("warm and humid"),
    "cool_maritime": mark("cool, near the sea"),
    "dry_summer_maritime": mark("dry summers, near the sea"),
}
EARLIER_DAYS, LATER_DAYS = 30, 60
"""How far a planting day can be moved."""
NESTS = {
    "tit_like": mark("Nests of small birds that nest in holes, {far} away"),
    "wren_like": mark("Nests of wren-like birds, {far} away"),
    "woodpecker_like": mark("Nests of woodpecker-like birds, {far} away"),
}
GARDENER, WORLD = mark("What the gardener decides"), mark("What the world does")


@dataclass(frozen=True)
class Choice:
    """One thing that can be moved.

    Parameters
    ----------
    keys
        Dotted keys of the scenario, moved together.
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
    unit
        Unit of ``saying.UNITS`` that a number is in; nothing if it has none that US units change.
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

    def changes(self, value: Any) -> dict[str, Any]:
        """Return the changes that bring the scenario to this value."""
        return dict.fromkeys(self.keys, value)

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


@dataclass(frozen=True)
class _Number:
    field: str
    words: str
    low: float
    high: float
    step: float = 1.0
    unit: str = ""


_OF_ACTIONS: dict[str, tuple[_Number, ...]] = {
    "cover": (_Number("days_after_planting", mark("Net: days after planting that it goes on"), 0, 60),),
    "uncover": (_Number("delay_days", mark("Net: days later than planned that it comes off"), 0, 60),),
    "spray": (_Number("every_days", mark("Spray: days from one to the next"), 3, 42),),
    "scout": (
        _Number("every_days", mark("Looking over plants: days from one to the next"), 1, 28),
        _Number("plants", mark("Looking over plants: plants in each bed"), 2, 20),
    ),
    "spray_at_threshold": (
        _Number("caterpillar_infested_share", mark("Spray when this share of plants has caterpillars"), 0.0, 1.0, 0.05),
        _Number("rest_days", mark("Days at least from one spray to the next"), 3, 28),
    ),
    "hand_pick": (
        _Number("every_days", mark("Picking by hand: days from one to the next"), 1, 28),
        _Number("seconds_per_plant", mark("Picking by hand: seconds a plant"), 5.0, 60.0, 5.0),
    ),
    "weed": (_Number("every_days", mark("Weeding: days from one to the next"), 7, 60),),
    "plant_hedgerow": (_Number("length_m", mark("Hedgerow: {unit}"), 1.0, 60.0, 1.0, "m"),),
    "hand_pollinate": (_Number("every_days", mark("Pollen by hand: days from one to the next"), 1, 7),),
}
_LISTS_OF_ACTIONS: dict[str, dict[str, tuple[str, Mapping[str, str]]]] = {
    "cover": {"material": (mark("Net: what it is made of"), MATERIALS), "edges": (mark("Net: its edges"), EDGES)},
    "spray": {"product": (mark("Spray: kind"), PRODUCTS), "hour": (mark("Spray: time of day"), HOURS)},
    "spray_at_threshold": {"product": (mark("Spray: kind"), PRODUCTS), "hour": (mark("Spray: time of day"), HOURS)},
}
_WORLD: tuple[tuple[tuple[str, ...], _Number], ...] = (
    (("pests.arrivals",), _Number("arrivals", mark("Pests that come, times a usual year"), 0.0, 5.0, 0.25)),
    (("place.warmer_c",), _Number("warmer_c", mark("Warmer than usual, {unit}"), -3.0, 5.0, 0.5, "c_difference")),
    (("place.wetter",), _Number("wetter", mark("Rain, times the usual"), 0.2, 3.0, 0.1)),
    (
        ("birds.use_of_garden",),
        _Number("use", mark("How readily birds hunt in the beds, times the usual"), 0.0, 10.0, 0.5),
    ),
    (
        ("birds.territory_food",),
        _Number("food", mark("Birds' food outside the garden, times the usual"), 0.0, 2.0, 0.1),
    ),
    (
        ("bees.honey_bees", "bees.bumble_bees", "bees.small_bees"),
        _Number("bees", mark("Bees, times the usual"), 0.0, 3.0, 0.25),
    ),
    (
        ("enemies.ground_beetles", "enemies.spiders", "enemies.lady_beetles", "enemies.lacewings"),
        _Number("enemies", mark("Crawling hunters, times the usual"), 0.0, 3.0, 0.25),
    ),
    (("margin.wild_host_plants",), _Number("hosts", mark("Wild plants of the cabbage family beside the beds"), 0, 60)),
    (("margin.hedgerow_m",), _Number("hedgerow", mark("Hedgerow that is there already, {unit}"), 0.0, 60.0, 5.0, "m")),
    (
        ("margin.flower_strip_m2",),
        _Number("strip", mark("Flower strip that is there already, {unit}"), 0.0, 40.0, 2.0, "m2"),
    ),
)


def choices(scenario: Scenario, plan: str) -> list[Choice]:
    """Return everything that can be moved in this garden under this plan: the gardener's first, then the world's."""
    return [*_plan_choices(scenario, plan), *_bed_choices(scenario), *_world_choices(scenario)]


def describe(changes: Mapping[str, Any], offered: Sequence[Choice]) -> list[str]:
    """Return each change in words, those that move together once; a key that no choice holds stands for itself."""
    said, told = [], set()
    for choice in offered:
        if all(key in changes for key in choice.keys):
            said.append(f"{choice.words}: {choice.say(choice.now)} → {choice.say(changes[choice.keys[0]])}")
            told |= set(choice.keys)
    return said + [f"{key} = {value}" for key, value in changes.items() if key not in told]


def days_from(first: str, last: str) -> int:
    """Return how many days lie between two days of the year."""
    return (date_in(last, ANY_YEAR) - date_in(first, ANY_YEAR)).days


def day_after(first: str, days: int) -> str:
    """Return the day of the year so many days later."""
    return (date_in(first, ANY_YEAR) + timedelta(days=days)).strftime("%m-%d")


def _plan_choices(scenario: Scenario, plan: str) -> Iterator[Choice]:
    actions = list(enumerate(scenario.plan(plan).actions))
    for deed in dict.fromkeys(action.do for _place, action in actions):
        same = [(f"plans.{plan}.actions.{place}", action) for place, action in actions if action.do == deed]
        for field, (words, options) in _LISTS_OF_ACTIONS.get(deed, {}).items():
            keys, now = _held(same, field)
            yield Choice(keys, _(words), GARDENER, "list", now, options=options)
        for number in _OF_ACTIONS.get(deed, ()):
            holding = [(key, action) for key, action in same if getattr(action, number.field) is not None]
            if holding:
                keys, now = _held(holding, number.field)
                yield _number(keys, number, now, GARDENER)


def _bed_choices(scenario: Scenario) -> Iterator[Choice]:
    for bed in scenario.beds:
        if bed.crop == "cucumber":
            words = _("{bed}: a kind that sets fruit without bees").format(bed=_name(bed.name))
            yield Choice((f"beds.{bed.name}.self_fruitful",), words, GARDENER, "switch", bed.self_fruitful)
    for bed in scenario.beds:
        words = _("{bed}: days earlier or later than {day}").format(bed=_name(bed.name), day=say_date(bed.planted))
        earlier = max(-EARLIER_DAYS, days_from(bed.planted, scenario.season.first_day))
        later = min(LATER_DAYS, days_from(bed.planted, scenario.season.last_day))
        yield Choice((f"beds.{bed.name}.planted",), words, GARDENER, "date", bed.planted, earlier, later)
    keys = tuple(f"beds.{bed.name}.vigour" for bed in scenario.beds)
    vigour = _Number("vigour", mark("Soil and care, times the usual"), 0.5, 1.3, 0.05)
    yield _number(keys, vigour, scenario.beds[0].vigour, GARDENER)
    minutes = _Number("minutes", mark("Gardener's minutes each day"), 0.0, 480.0, 15.0)
    yield _number(("gardener.minutes_per_day",), minutes, scenario.gardener.minutes_per_day, GARDENER)


def _world_choices(scenario: Scenario) -> Iterator[Choice]:
    if scenario.place.climate is not None:
        where = _("Where the garden lies")
        yield Choice(("place.climate",), where, WORLD, "list", scenario.place.climate, options=CLIMATES)
    for keys, number in _WORLD:
        part, field = keys[0].split(".")
        yield _number(keys, number, getattr(getattr(scenario, part), field), WORLD)
    for place, nest in enumerate(scenario.birds.nests):
        words = _(NESTS[nest.kind]).format(far=say_amount(nest.distance_m, "m"))
        yield Choice((f"birds.nests.{place}.count",), words, WORLD, "number", nest.count, 1, max(6, nest.count))


def _held(holding: Sequence[tuple[str, Any]], field: str) -> tuple[tuple[str, ...], Any]:
    """Return the keys of a field of several actions, and the value that the first of them holds."""
    return tuple(f"{key}.{field}" for key, _action in holding), getattr(holding[0][1], field)


def _number(keys: tuple[str, ...], number: _Number, now: float, group: str) -> Choice:
    kind = type(number.low)
    low, high = min(number.low, kind(now)), max(number.high, kind(now))
    words = _(number.words).format(unit=unit_after(number.unit) if number.unit else "")
    return Choice(keys, words, group, "number", kind(now), low, high, kind(number.step), unit=number.unit)


def _name(bed: str) -> str:
    return say_name(bed).capitalize()
