"""Which of several settings hold the same value, and what sets each such group apart: its beds, its product.

A slider can tell the truth only of settings that stand at one value. Where the actions of one kind differ, each group
gets a slider of its own, named by where it acts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from dashboard.language.saying import say_list
from dashboard.language.tongue import _
from dashboard.plans.deeds import PRODUCTS, say_name
from sim.scenario import Scenario

_MOST_NAMED, _MOST_LEFT_OUT = 4, 2
"""Beyond so many beds those left out are named, if they are few."""


@dataclass(frozen=True)
class Alike:
    """Settings that hold the same value.

    Parameters
    ----------
    keys
        Their dotted keys.
    now
        The value.
    where
        What sets them apart from others of their kind, in the language of the moment; nothing where all are alike.
    """

    keys: tuple[str, ...]
    now: Any
    where: str = ""


def alike_actions(scenario: Scenario, holding: Sequence[tuple[str, Any]], field: str) -> list[Alike]:
    """Return actions of one kind, each with its dotted key, by the value of a field: one group where all agree."""
    groups = _by_value((f"{key}.{field}", getattr(action, field), action) for key, action in holding)
    return _named(groups, lambda actions: _names_of_actions(scenario, actions))


def alike_settings(held: Iterable[tuple[str, Any, str]]) -> list[Alike]:
    """Return settings, each a key with its value and its name in words, by value: one group where all agree."""
    return _named(_by_value(held), lambda names: [say_list(own) for own in names])


def _by_value(held: Iterable[tuple[str, Any, Any]]) -> dict[Any, list[tuple[str, Any]]]:
    groups: dict[Any, list[tuple[str, Any]]] = {}
    for key, value, whose in held:
        groups.setdefault(value, []).append((key, whose))
    return groups


def _named(groups: dict[Any, list[tuple[str, Any]]], name: Callable[[list[list[Any]]], list[str]]) -> list[Alike]:
    keys = [tuple(key for key, _whose in group) for group in groups.values()]
    if len(groups) < 2:
        return [Alike(own, value) for own, value in zip(keys, groups, strict=True)]
    said = name([[whose for _key, whose in group] for group in groups.values()])
    if len(set(said)) < len(said):
        said = [", ".join(filter(None, (one, str(number)))) for number, one in enumerate(said, 1)]
    return [Alike(own, value, one) for own, value, one in zip(keys, groups, said, strict=True)]


def _names_of_actions(scenario: Scenario, groups: list[list[Any]]) -> list[str]:
    """Return each group by its beds, and by its product, too, where beds alone do not tell the groups apart."""
    names = [_beds(scenario, actions) for actions in groups]
    places = [{place for one in actions for place in _places(scenario, one)} for actions in groups]
    if not any(one & other for one, other in combinations(places, 2)):
        return names
    return [", ".join([*_products(actions), own]) for actions, own in zip(groups, names, strict=True)]


def _places(scenario: Scenario, action: Any) -> Iterable[int]:
    return scenario.bed_positions(getattr(action, "beds", ()))


def _products(actions: list[Any]) -> Iterator[str]:
    products = dict.fromkeys(action.product for action in actions if hasattr(action, "product"))
    if products:
        yield say_list([_(PRODUCTS[product]) for product in products])


def _beds(scenario: Scenario, actions: list[Any]) -> str:
    if not hasattr(actions[0], "beds"):
        return ""
    every = [bed.name for bed in scenario.beds]
    named = list(dict.fromkeys(name for one in actions for name in (getattr(one, "beds", ()) or every)))
    left = [name for name in every if name not in named]
    if set(named) >= set(every):
        return _("all beds")
    if len(named) > _MOST_NAMED and len(left) <= _MOST_LEFT_OUT and set(named) <= set(every):
        return _("all but {beds}").format(beds=say_list([say_name(name) for name in left]))
    return say_list([say_name(name) for name in named])
