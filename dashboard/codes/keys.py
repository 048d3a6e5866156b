"""Settings by their dotted keys, as codes spell them: every key that can be, and changes said as shortly as they go."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from sim.scenario import Scenario
from sim.scenario.changes import json_schema, paths_of, settings


def canonical(changes: Mapping[str, Any], garden: Scenario) -> dict[str, Any]:
    """Return changes with every dotted key spelled out: one key a value, actions by place."""
    return {spelled: value for key, value in changes.items() for spelled in _spelled_out(garden, key)}


def _spelled_out(garden: Scenario, key: str) -> Iterator[str]:
    for path in paths_of(garden, key):
        parts: list[str] = []
        node: Any = garden
        for step in path:
            node = _below(node, step)
            parts.append(str(getattr(node, "name", step) if isinstance(step, int) else step))
        yield ".".join(parts)


def _below(node: Any, step: str | int) -> Any:
    if isinstance(node, dict):
        return node.get(step)
    return node[step] if isinstance(step, int) else getattr(node, step)


def gathered(changes: Mapping[str, Any], garden: Scenario) -> dict[str, Any]:
    """Return changes with those of all actions that do the same, to the same value, said once."""
    gathered = dict(changes)
    by_deed: dict[str, list[str]] = defaultdict(list)
    for key in changes:
        deed = _by_deed(key, garden)
        if deed:
            by_deed[deed].append(key)
    for deed, keys in by_deed.items():
        values = {json.dumps(changes[key]) for key in keys}
        if len(values) == 1 and sorted(keys) == sorted(_spelled_out(garden, deed)):
            for key in keys:
                del gathered[key]
            gathered[deed] = changes[keys[0]]
    return gathered


def _by_deed(key: str, garden: Scenario) -> str:
    """Return ``plans.net.actions.cover.edges`` for ``plans.net.actions.0.edges``, or nothing for other keys."""
    parts = key.split(".")
    if len(parts) != 5 or parts[0] != "plans" or parts[2] != "actions" or not parts[3].isdigit():
        return ""
    action = garden.plan(parts[1]).actions[int(parts[3])]
    return ".".join([*parts[:3], action.do, parts[4]])


def known_keys(garden: Scenario) -> tuple[str, ...]:
    """Return every dotted key that can be changed in a garden, numbers of nature among them."""
    from sim.parameters import load_parameters

    listed = settings(garden)
    deeds = [_by_deed(key, garden) for key in listed]
    return tuple(dict.fromkeys([*listed, *filter(None, deeds), *(f"numbers.{key}" for key in load_parameters())]))


@lru_cache(maxsize=1)
def known_words() -> tuple[str, ...]:
    """Return every word that a scenario can be asked to choose among."""
    return tuple(sorted(set(_words_in(json_schema()))))


def _words_in(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        for word in (*node.get("enum", ()), node.get("const")):
            if isinstance(word, str):
                yield word
        for child in node.values():
            yield from _words_in(child)
    elif isinstance(node, list):
        for child in node:
            yield from _words_in(child)
