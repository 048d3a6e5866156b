"""Change a scenario by dotted keys, list every key with its value, and describe the whole as a JSON Schema."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from sim.errors import ParameterError, ScenarioError, near_names
from sim.scenario.messages import first_mistake
from sim.scenario.model import Scenario


def changed(scenario: Scenario, changes: Mapping[str, Any]) -> Scenario:
    """Return a scenario with other values at dotted keys.

    Parameters
    ----------
    scenario
        The scenario to start from; it stays as it is.
    changes
        Values by dotted key. Beds and plans go by name or place, actions by place from 0, numbers of nature by
        ``numbers.`` and their own dotted key.

    Raises
    ------
    ScenarioError
        If a key is unknown or a value is not allowed.
    """
    raw = scenario.model_dump(mode="json")
    for key, value in changes.items():
        _put(scenario, raw, key, value)
    try:
        result = Scenario.model_validate(raw)
    except ValidationError as error:
        raise ScenarioError(f"Scenario '{scenario.name}': {first_mistake(error, Scenario, raw)}") from None
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
        raise ScenarioError(f"Scenario '{scenario.name}', numbers: {error}") from None


def _put(scenario: Scenario, raw: Any, key: str, value: Any) -> None:
    """Set a value in the raw scenario, walking the models so that only keys that exist are taken."""
    node: Any = scenario
    parts = key.split(".")
    for place, part in enumerate(parts):
        if node is scenario.numbers:
            raw[".".join(parts[place:])] = value
            return
        step = _step(node, part)
        if step is None:
            known = dict.fromkeys([*settings(scenario), *_allowed_next(node, ".".join(parts[:place]))])
            raise ScenarioError(f"There is no setting '{key}' in scenario '{scenario.name}'.{near_names(key, known)}")
        if place == len(parts) - 1:
            raw[step] = value
            return
        node, raw = node[step] if isinstance(step, int) else getattr(node, step), raw[step]


def _step(node: Any, part: str) -> str | int | None:
    """Return the field or the place in a list that a part of a key means; None if there is none."""
    if isinstance(node, BaseModel):
        return part if part in type(node).model_fields else None
    if isinstance(node, tuple):
        names = [getattr(item, "name", None) for item in node]
        if part in names:
            return names.index(part)
        return int(part) if part.isdigit() and int(part) < len(node) else None
    return None


def _allowed_next(node: Any, prefix: str) -> Iterator[str]:
    if isinstance(node, BaseModel):
        yield from (f"{prefix}.{name}" if prefix else name for name in type(node).model_fields)


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
