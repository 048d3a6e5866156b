"""Tell a mistake in a scenario in one sentence: where it is, what was found, what is allowed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, time
from functools import cache
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from sim.errors import Sentence, near_names, refusal, tell, unknown

Location = tuple[str | int, ...]
LineOf = Callable[[Location], int | None]

_LONGEST_QUOTE = 60
_LONGEST_BITS = 1024
_NUMBERS = {"integer": tell("a whole number"), "number": tell("a number")}
_ORDER = {"extra_forbidden": 0, "missing": 2, "too_short": 2}
"""A key that is not known comes first, for what is missing may be that key misspelt; and a list may be too short only
because its items are wrong."""


def first_mistake(error: ValidationError, model: type[BaseModel], raw: Any, line_of: LineOf | None = None) -> Sentence:
    """Return the sentence for the first mistake.

    Parameters
    ----------
    error
        What pydantic found.
    model
        The model that was asked for.
    raw
        The raw values, in which beds and plans have their names.
    line_of
        Gives the line of a location in the file, where there is a file.
    """
    details = error.errors(include_url=False)
    chosen = min(details, key=lambda detail: _ORDER.get(detail["type"], 1))
    location = _written_location(chosen)
    number = line_of(location) if line_of else None
    sentence = _sentence(chosen, location, raw, _Schema(model))
    return in_line(number, sentence)


def in_line(number: int | None, sentence: Sentence) -> Sentence:
    """Return a sentence with the line that it is about in front, where there is one."""
    return tell("line {line}: {sentence}", line=number, sentence=sentence) if number else sentence


def in_file(name: str, sentence: Sentence) -> Sentence:
    """Return a sentence with the file that it is about in front."""
    if sentence.startswith("line "):
        return tell("{name}, {sentence}", name=name, sentence=sentence)
    return tell("{name}: {sentence}", name=name, sentence=sentence)


def dotted(location: Sequence[str | int], raw: Any) -> str:
    """Return a location as the dotted key that a user may write, with beds and plans by name."""
    parts = []
    node = raw
    for part in location:
        node = _child(node, part)
        named = isinstance(part, int) and isinstance(node, Mapping) and isinstance(node.get("name"), str)
        parts.append(str(node["name"] if named else part))
    return ".".join(parts)


def shown(value: Any) -> str:
    """Return a value as it would stand in the file, cut short if it is long."""
    if value is None:
        return tell("nothing")
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return tell("a table of keys")
    if isinstance(value, list | tuple):
        return tell("a list") if value else tell("an empty list")
    if isinstance(value, date | time):
        return tell("{day} (a date of one year)", day=value.isoformat())
    mark = "'" if isinstance(value, str) else ""
    if isinstance(value, int) and value.bit_length() > _LONGEST_BITS:
        value = hex(value)  # Python declines to write more than some thousand digits
    text = f"{mark}{value}{mark}"
    return text if len(text) <= _LONGEST_QUOTE else f"{text[:_LONGEST_QUOTE]}…{mark}"


def _child(node: Any, part: str | int) -> Any:
    try:
        return node[part]
    except (KeyError, IndexError, TypeError):
        return None


def _written_location(detail: ErrorDetails) -> Location:
    """Return where it stands in the file: pydantic puts in the word of the action and the kind of number."""
    location: Location = tuple(detail["loc"])
    if location[:1] == ("numbers",):
        location = location[:2]
    if "actions" in location:
        place = location.index("actions") + 2
        location = location[:place] + location[place + 1 :]
    if detail["type"] in {"union_tag_invalid", "union_tag_not_found"}:
        return (*location, "do")
    if detail["type"] == "refused":
        key = str(detail["ctx"]["key"])
        location += tuple(int(part) if part.isdigit() else part for part in key.split(".") if part)
    return location


def _sentence(detail: ErrorDetails, location: Location, raw: Any, schema: _Schema) -> Sentence:
    key, kind = dotted(location, raw), detail["type"]
    context = detail.get("ctx", {})
    if kind == "extra_forbidden":
        return unknown(
            tell("there is no key '{key}' here", key=key), str(location[-1]), schema.keys(detail["loc"][:-1])
        )
    if kind == "missing":
        return refusal(tell("'{key}' is missing", key=key), schema.allowed(detail["loc"]))
    if kind in {"union_tag_invalid", "union_tag_not_found"}:
        tag = context.get("tag")
        return unknown(_is(key, tag), str(tag or ""), schema.words_of_actions())
    if kind == "refused":
        found = _is(key, detail["input"] if context["found"] is None else context["found"])
        has = tell("'{key}' has {has}", key=key, has=context["has"]) if context["has"] else found
        return refusal(has, context["allowed"], context["near"])
    near = near_names(detail["input"], schema.choices(detail["loc"])) if isinstance(detail["input"], str) else ""
    return refusal(_is(key, detail["input"]), schema.allowed(detail["loc"]), near)


def _is(key: str, value: Any) -> Sentence:
    return tell("'{key}' is {found}", key=key, found=shown(value))


class _Schema:
    """The JSON Schema of a model, asked for what may stand at a location."""

    def __init__(self, model: type[BaseModel]) -> None:
        self._root = _schema_of(model)

    def keys(self, location: Sequence[str | int]) -> list[str]:
        return list(self._at(location).get("properties", {}))

    def choices(self, location: Sequence[str | int]) -> list[str]:
        return [str(word) for word in self._at(location).get("enum", [])]

    def words_of_actions(self) -> list[str]:
        return list(self._at(("plans", 0, "actions", 0))["discriminator"]["mapping"])

    def allowed(self, location: Sequence[str | int]) -> str:
        """Return what may stand there, in words."""
        return _described(self._at(location))

    def _at(self, location: Sequence[str | int]) -> dict[str, Any]:
        node = self._resolved(self._root)
        for part in location:
            node = self._resolved(self._step(node, part))
        return node

    def _step(self, node: dict[str, Any], part: str | int) -> dict[str, Any]:
        if isinstance(part, int):
            step = node.get("items", {})
        elif "discriminator" in node:
            step = {"$ref": node["discriminator"]["mapping"][part]}
        else:
            step = node.get("properties", {}).get(part, node.get("additionalProperties"))
        return step if isinstance(step, dict) else {}

    def _resolved(self, node: dict[str, Any]) -> dict[str, Any]:
        if "$ref" in node:
            return self._resolved(self._root["$defs"][node["$ref"].rpartition("/")[2]])
        ways = [way for way in node.get("anyOf", []) if way.get("type") != "null"]
        return self._resolved(ways[0]) if len(ways) == 1 else node


@cache
def _schema_of(model: type[BaseModel]) -> dict[str, Any]:
    return model.model_json_schema()


def _described(node: dict[str, Any]) -> str:
    if "anyOf" in node:
        first, *others = (_described(way) for way in node["anyOf"])
        for other in others:
            first = tell("{these} or {those}", these=first, those=other)
        return first
    if "enum" in node:
        return ", ".join(f"'{word}'" for word in node["enum"])
    if "const" in node:
        return f"'{node['const']}'"
    kind = node.get("type")
    if kind in {"number", "integer"}:
        return tell("{number}{span}", number=_NUMBERS[str(kind)], span=_range(node))
    if kind == "string":
        return tell('month and day in quotes, as "04-10"') if "pattern" in node else tell("text in quotes")
    if kind == "array":
        some = tell("a list in square brackets, with at least one item")
        return some if node.get("minItems") else tell("a list in square brackets")
    return tell("true or false") if kind == "boolean" else tell("a table of keys")


def _range(node: dict[str, Any]) -> str:
    low, above, high = node.get("minimum"), node.get("exclusiveMinimum"), node.get("maximum")
    if low is not None:
        span = (
            tell(" from {low:g} up", low=low) if high is None else tell(" from {low:g} to {high:g}", low=low, high=high)
        )
        return span
    if above is not None:
        only = tell(" above {low:g}", low=above)
        return only if high is None else tell(" above {low:g} and up to {high:g}", low=above, high=high)
    return "" if high is None else tell(" up to {high:g}", high=high)
