"""What files of ours in TOML go through alike, gardens and lessons: their names, their text, and their check."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from sim.errors import ScenarioError, Sentence, tell, why_of
from sim.scenario.lines import key_lines, line_of
from sim.scenario.messages import first_mistake, in_file
from sim.scenario.toml_text import decoded

SUFFIX = ".toml"
Model = TypeVar("Model", bound=BaseModel)


def names_in(folder: Traversable, first: str) -> tuple[str, ...]:
    """Return the names of the files in TOML of a folder, without their ending, the first one first."""
    names = sorted(item.name.removesuffix(SUFFIX) for item in folder.iterdir() if item.name.endswith(SUFFIX))
    return (first, *(name for name in names if name != first))


def text_of(path: Path, absent: Sentence) -> str:
    """Return the text of a user's file.

    Raises
    ------
    ScenarioError
        If there is none, which ``absent`` says, or if it is no text that can be read.
    """
    try:
        content = path.read_bytes()
    except FileNotFoundError:
        raise ScenarioError(absent) from None
    except OSError as fault:
        if isinstance(fault, IsADirectoryError | PermissionError) and path.is_dir():  # systems differ
            raise ScenarioError(tell("'{path}' is a folder; a file in TOML is needed.", path=path)) from None
        raise ScenarioError(tell("'{path}' cannot be read: {why}.", path=path, why=why_of(fault))) from None
    return decoded(content, path.name)


def checked(
    model: type[Model], raw: Mapping[str, Any], text: str, name: str, context: Mapping[str, Any] | None = None
) -> Model:
    """Return what raw values describe.

    Parameters
    ----------
    model
        What they should describe.
    raw
        The values.
    text
        The text that they stand in, for the line of a mistake.
    name
        What to call the file.
    context
        What the checks of the model need.

    Raises
    ------
    ScenarioError
        If they cannot be used as they stand; the sentence names file, line and key.
    """
    try:
        return model.model_validate(raw, context=dict(context or {}))
    except ValidationError as error:
        lines = key_lines(text)
        sentence = first_mistake(error, model, raw, lambda location: line_of(location, lines))
        raise ScenarioError(in_file(name, sentence)) from None
