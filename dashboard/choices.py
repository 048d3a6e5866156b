"""What can be moved in a garden and a plan: each choice a slider, a switch or a list, bound to dotted keys.

Keys that mean the same thing, such as the product of every spray of a plan, move together. A choice shows what the
scenario holds; where such keys differ it shows the first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Literal

from dashboard.deeds import ANY_YEAR, EDGES, HOURS, MATERIALS, PRODUCTS
from sim.scenario import Scenario
from sim.scenario.values import date_in

Kind = Literal["number", "date", "list", "switch"]
CLIMATES = {
    "warm_humid": "warm and humid",
    "cool_maritime": "cool, near the sea",
    "dry_summer_maritime": "dry summers, near the sea",
}
EARLIER_DAYS, LATER_DAYS = 30, 60
"""How far a planting day can be moved."""
GARDENER, WORLD = "What the gardener decides", "What the world does"


@dataclass(frozen=True)
class Choice:
    """One thing that can be moved.

    Parameters
    ----------
    keys
        Dotted keys of the scenario, moved together.
    words
        Its label, unit included.
    group
        Who decides it.
    now
        The value that the scenario holds.
    low, high, step
        Of a number; whole numbers stay whole. Of a date: days earlier (below 0) and later.
    options
        Of a list: value → words.
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

    def changes(self, value: Any) -> dict[str, Any]:
        """Return the changes that bring the scenario to this value."""
        return dict.fromkeys(self.keys, value)

    def say(self, value: Any) -> str:
        """Return a value in words."""
        if self.kind == "switch":
            return "yes" if value else "no"
        if self.options:
            return self.options.get(value, str(value))
        if self.kind == "date":
            return say_month_day(value)
        return f"{value:g}"


@dataclass(frozen=True)
class _Number:
    field: str
    words: str
    low: float
    high: float
    step: float = 1.0


_OF_ACTIONS: dict[str, tuple[_Number, ...]] = {
    "cover": (_Number("days_after_planting", "Net: days after planting that it goes on", 0, 60),),
    "uncover": (_Number("delay_days", "Net: days later than planned that it comes off", 0, 60),),
    "spray": (_Number("every_days", "Spray: days from one to the next", 3, 42),),
    "scout": (
        _Number("every_days", "Looking over plants: days from one to the next", 1, 28),
        _Number("plants", "Looking over plants: plants in each bed", 2, 20),
    ),
    "spray_at_threshold": (
        _Number("caterpillar_infested_share", "Spray when this share of plants has caterpillars", 0.0, 1.0, 0.05),
        _Number("rest_days", "Days at least from one spray to the next", 3, 28),
    ),
    "hand_pick": (
        _Number("every_days", "Picking by hand: days from one to the next", 1, 28),
        _Number("seconds_per_plant", "Picking by hand: seconds a plant", 5.0, 60.0, 5.0),
    ),
    "weed": (_Number("every_days", "Weeding: days from one to the next", 7, 60),),
    "plant_hedgerow": (_Number("length_m", "Hedgerow: metres", 1.0, 60.0, 1.0),),
    "hand_pollinate": (_Number("every_days", "Pollen by hand: days from one to the next", 1, 7),),
}
_LISTS_OF_ACTIONS: dict[str, dict[str, tuple[str, Mapping[str, str]]]] = {
    "cover": {"material": ("Net: what it is made of", MATERIALS), "edges": ("Net: its edges", EDGES)},
    "spray": {"product": ("Spray: kind", PRODUCTS), "hour": ("Spray: time of day", HOURS)},
    "spray_at_threshold": {"product": ("Spray: kind", PRODUCTS), "hour": ("Spray: time of day", HOURS)},
}
_WORLD: tuple[tuple[tuple[str, ...], _Number], ...] = (
    (("pests.arrivals",), _Number("arrivals", "Pests that come, times a usual year", 0.0, 5.0, 0.25)),
    (("place.warmer_c",), _Number("warmer_c", "Warmer than usual, °C", -3.0, 5.0, 0.5)),
    (("place.wetter",), _Number("wetter", "Rain, times the usual", 0.2, 3.0, 0.1)),
    (("birds.use_of_garden",), _Number("use", "How readily birds hunt in the beds, times the usual", 0.0, 10.0, 0.5)),
    (("birds.territory_food",), _Number("food", "Birds' food outside the garden, times the usual", 0.0, 2.0, 0.1)),
    (
        ("bees.honey_bees", "bees.bumble_bees", "bees.small_bees"),
        _Number("bees", "Bees, times the usual", 0.0, 3.0, 0.25),
    ),
    (
        ("enemies.ground_beetles", "enemies.spiders", "enemies.lady_beetles", "enemies.lacewings"),
        _Number("enemies", "Crawling hunters, times the usual", 0.0, 3.0, 0.25),
    ),
    (("margin.wild_host_plants",), _Number("hosts", "Wild plants of the cabbage family beside the beds", 0, 60)),
    (("margin.hedgerow_m",), _Number("hedgerow", "Hedgerow that is there already, metres", 0.0, 60.0, 5.0)),
    (("margin.flower_strip_m2",), _Number("strip", "Flower strip that is there already, m²", 0.0, 40.0, 2.0)),
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


def say_month_day(value: str) -> str:
    """Return a month and day in words: ``1 May``."""
    moment = date_in(value, ANY_YEAR)
    return f"{moment.day} {moment.strftime('%B')}"


def days_from(first: str, last: str) -> int:
    """Return how many days lie between two days of the year."""
    return (date_in(last, ANY_YEAR) - date_in(first, ANY_YEAR)).days


def day_after(first: str, days: int) -> str:
    """Return the day of the year so many days later."""
    return (date_in(first, ANY_YEAR) + timedelta(days=days)).strftime("%m-%d")


def _plan_choices(scenario: Scenario, plan: str) -> Iterator[Choice]:
    actions = list(enumerate(scenario.plan(plan).actions))
    for deed in dict.fromkeys(action.do for _, action in actions):
        same = [(f"plans.{plan}.actions.{place}", action) for place, action in actions if action.do == deed]
        for field, (words, options) in _LISTS_OF_ACTIONS.get(deed, {}).items():
            keys, now = _held(same, field)
            yield Choice(keys, words, GARDENER, "list", now, options=options)
        for number in _OF_ACTIONS.get(deed, ()):
            holding = [(key, action) for key, action in same if getattr(action, number.field) is not None]
            if holding:
                keys, now = _held(holding, number.field)
                yield _number(keys, number, now, GARDENER)


def _bed_choices(scenario: Scenario) -> Iterator[Choice]:
    for bed in scenario.beds:
        if bed.crop == "cucumber":
            words = f"{_name(bed.name)}: a kind that sets fruit without bees"
            yield Choice((f"beds.{bed.name}.self_fruitful",), words, GARDENER, "switch", bed.self_fruitful)
    for bed in scenario.beds:
        words = f"{_name(bed.name)}: days earlier or later than {say_month_day(bed.planted)}"
        earlier = max(-EARLIER_DAYS, days_from(bed.planted, scenario.season.first_day))
        later = min(LATER_DAYS, days_from(bed.planted, scenario.season.last_day))
        yield Choice((f"beds.{bed.name}.planted",), words, GARDENER, "date", bed.planted, earlier, later)
    keys = tuple(f"beds.{bed.name}.vigour" for bed in scenario.beds)
    yield _number(
        keys, _Number("vigour", "Soil and care, times the usual", 0.5, 1.3, 0.05), scenario.beds[0].vigour, GARDENER
    )
    minutes = _Number("minutes", "Gardener's minutes each day", 0.0, 480.0, 15.0)
    yield _number(("gardener.minutes_per_day",), minutes, scenario.gardener.minutes_per_day, GARDENER)


def _world_choices(scenario: Scenario) -> Iterator[Choice]:
    if scenario.place.climate is not None:
        yield Choice(
            ("place.climate",), "Where the garden lies", WORLD, "list", scenario.place.climate, options=CLIMATES
        )
    for keys, number in _WORLD:
        part, field = keys[0].split(".")
        yield _number(keys, number, getattr(getattr(scenario, part), field), WORLD)
    for place, nest in enumerate(scenario.birds.nests):
        words = f"Nests of {nest.kind.replace('_', '-')} birds, {nest.distance_m:g} m away"
        yield _number((f"birds.nests.{place}.count",), _Number("count", words, 1, 6), nest.count, WORLD)


def _held(holding: Sequence[tuple[str, Any]], field: str) -> tuple[tuple[str, ...], Any]:
    """Return the keys of a field of several actions, and the value that the first of them holds."""
    return tuple(f"{key}.{field}" for key, _ in holding), getattr(holding[0][1], field)


def _number(keys: tuple[str, ...], number: _Number, now: float, group: str) -> Choice:
    kind = type(number.low)
    low, high = min(number.low, kind(now)), max(number.high, kind(now))
    return Choice(keys, number.words, group, "number", kind(now), low, high, kind(number.step))


def _name(bed: str) -> str:
    return bed.replace("_", " ").capitalize()
