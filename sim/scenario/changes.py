"""Change a scenario by dotted keys, list every key with its value, and describe the whole as a JSON Schema."""

from __future__ import annotations

import difflib
import hashlib
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from sim.errors import ParameterError, ScenarioError, quoted, tell, unknown
from sim.scenario.messages import first_mistake
from sim.scenario.model import Scenario


def changed(scenario: Scenario, changes: Mapping[str, Any]) -> Scenario:
    """Return a scenario with other values at dotted keys.

    Parameters
    ----------
    scenario
        The scenario to start from; it stays as it is.
    changes
        Values by dotted key. Beds and plans go by name or place; actions by place from 0, or by what they do, and then
        all of a plan that do it are changed (``plans.net.actions.cover.edges``); numbers of nature by ``numbers.`` and
        their own dotted key.

    Raises
    ------
    ScenarioError
        If a key is unknown or a value is not allowed.
    """
    raw = scenario.model_dump(mode="json")
    for key, value in changes.items():
        for path in paths_of(scenario, key):
            _put(raw, path, value)
    try:
        result = Scenario.model_validate(raw)
    except ValidationError as error:
        raise ScenarioError(
            tell("Scenario '{name}': {sentence}", name=scenario.name, sentence=first_mistake(error, Scenario, raw))
        ) from None
    if result.numbers != scenario.numbers:
        check_numbers(result)
    return result


def settings(scenario: Scenario) -> dict[str, Any]:
    """Return every setting with its dotted key, beds and plans by name."""
    return dict(_leaves(scenario, ""))


def json_schema() -> dict[str, Any]:
    """Return the JSON Schema of a scenario file."""
    return Scenario.model_json_schema()


def fingerprint(scenario: Scenario) -> str:
    """Return 12 hex digits that change with any value of the scenario, and with what its weather file holds."""
    raw = scenario.model_dump(mode="json")
    if scenario.place.weather_file is not None:
        raw["place"]["weather_file"] = hashlib.sha256(Path(scenario.place.weather_file).read_bytes()).hexdigest()
    text = json.dumps(raw, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def check_numbers(scenario: Scenario) -> None:
    """Refuse numbers of nature that are unknown or outside their stated range.

    Raises
    ------
    ScenarioError
        If one is.
    """
    if not scenario.numbers:
        return
    from sim.parameters.table import load_parameters  # brings in the compiler, which other checks can do without

    try:
        load_parameters().with_changes(scenario.numbers)
    except ParameterError as error:
        raise ScenarioError(tell("Scenario '{name}', numbers: {why}", name=scenario.name, why=error)) from None


def paths_of(scenario: Scenario, key: str) -> list[tuple[str | int, ...]]:
    """Return the way to each value that a dotted key means: fields by name, members of lists by place.

    Raises
    ------
    ScenarioError
        If the scenario has no such key.
    """
    return list(_walk(scenario, scenario, (), key.split("."), key))


def _walk(
    scenario: Scenario, node: Any, path: tuple[str | int, ...], parts: list[str], key: str
) -> Iterator[tuple[str | int, ...]]:
    """Walk the models, not the raw values, so that only keys that exist are taken."""
    if not parts:
        yield path
        return
    if node is scenario.numbers:
        yield (*path, ".".join(parts))
        return
    steps = _steps(node, parts[0])
    if not steps:
        before = key.split(".")[: -len(parts)]
        said = tell("There is no setting '{key}' in scenario '{garden}'", key=key, garden=scenario.name)
        if meant := list(_with_one_part_mended(node, before, parts)):
            raise ScenarioError(tell("{found}. Did you mean {names}?", found=said, names=quoted(meant, is_choice=True)))
        known = dict.fromkeys([*settings(scenario), *_allowed_next(node, ".".join(before))])
        raise ScenarioError(unknown(said, key, known, is_listed=False))
    for step in steps:
        child = node[step] if isinstance(step, int) else getattr(node, step)
        yield from _walk(scenario, child, (*path, step), parts[1:], key)


def _put(raw: Any, path: tuple[str | int, ...], value: Any) -> None:
    for step in path[:-1]:
        raw = raw[step]
    raw[path[-1]] = value


def _steps(node: Any, part: str) -> list[str | int]:
    """Return the field or the places in a list that a part of a key means; none if there is no such thing."""
    if isinstance(node, BaseModel):
        return [part] if part in type(node).model_fields else []
    if isinstance(node, tuple):
        meant: list[str | int] = [place for place, item in enumerate(node) if part in _names_of(item)]
        if meant:
            return meant
        return [int(part)] if part in map(str, range(len(node))) else []
    return []


def _with_one_part_mended(node: Any, before: list[str], parts: list[str]) -> Iterator[str]:
    """Yield the keys that lead somewhere once the first of the parts that are left is spelt as one that is there.

    Held against whole keys, a slip in the name of a plan would lead to that plan's longest list of settings.
    """
    names = [name for item in node for name in _names_of(item)] if isinstance(node, tuple) else list(_fields_of(node))
    for name in difflib.get_close_matches(parts[0], dict.fromkeys(names)):
        if _leads_somewhere(node, [name, *parts[1:]]):
            yield ".".join([*before, name, *parts[1:]])


def _leads_somewhere(node: Any, parts: list[str]) -> bool:
    if not parts:
        return True
    return any(
        _leads_somewhere(node[step] if isinstance(step, int) else getattr(node, step), parts[1:])
        for step in _steps(node, parts[0])
    )


def _names_of(item: Any) -> list[str]:
    return [name for name in (getattr(item, "name", None), getattr(item, "do", None)) if name is not None]


def _fields_of(node: Any) -> Iterator[str]:
    if isinstance(node, BaseModel):
        yield from type(node).model_fields


def _allowed_next(node: Any, prefix: str) -> Iterator[str]:
    yield from (f"{prefix}.{name}" if prefix else name for name in _fields_of(node))


def _leaves(node: Any, prefix: str) -> Iterator[tuple[str, Any]]:
    if isinstance(node, BaseModel):
        for name in type(node).model_fields:
            yield from _leaves(getattr(node, name), f"{prefix}.{name}" if prefix else name)
    elif isinstance(node, dict):
        yield from ((f"{prefix}.{name}", value) for name, value in node.items())
    elif isinstance(node, tuple) and any(isinstance(item, BaseModel) for item in node):
        for place, item in enumerate(node):
            yield from _leaves(item, f"{prefix}.{getattr(item, 'name', place)}")
    else:
        yield prefix, node
