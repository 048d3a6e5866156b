"""Read scenarios: the gardens that come with the package by name, and a user's own by path."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from sim.errors import ScenarioError, near_names, tell, why_of
from sim.scenario.changes import check_numbers
from sim.scenario.lines import key_lines, line_of
from sim.scenario.messages import first_mistake, in_file
from sim.scenario.model import Scenario
from sim.scenario.toml_text import decoded, parsed

DEFAULT_SCENARIO = "teaching_garden"
TEMPLATE = "template.toml.txt"
"""Beside the scenarios, but not one of them."""

_WANTED = tell("a scenario, as 'leafnest new' writes it")
_SUFFIX = ".toml"


def scenario_names() -> tuple[str, ...]:
    """Return the names of the gardens that come with the package, the default first."""
    names = sorted(item.name.removesuffix(_SUFFIX) for item in _package().iterdir() if item.name.endswith(_SUFFIX))
    return (DEFAULT_SCENARIO, *(name for name in names if name != DEFAULT_SCENARIO))


def load_scenario(name_or_path: str | Path) -> Scenario:
    """Return a scenario that comes with the package, by name, or one of the user's own, by path.

    Raises
    ------
    ScenarioError
        If there is none, or if it cannot be used as it stands; the sentence names file, line and key.
    """
    text = str(name_or_path)
    if isinstance(name_or_path, str) and text in scenario_names():
        return _read(_package() / f"{text}{_SUFFIX}", text)
    path = Path(name_or_path)
    if path.is_file():
        return _read(path, path.name, folder=path.resolve().parent)
    if path.is_dir():
        raise ScenarioError(tell("'{text}' is a folder; a scenario is a TOML file.", text=text))
    known = scenario_names()
    raise ScenarioError(
        tell(
            "There is no scenario or file '{text}'; scenarios here: {known}.{near}",
            text=text,
            known=", ".join(known),
            near=near_names(text, known),
        )
    )


def check_file(path: str | Path) -> Scenario:
    """Return the scenario of a file after checking all of it; a mistake is told as by ``load_scenario``."""
    return load_scenario(Path(path))


def new_scenario_text() -> str:
    """Return a scenario file with a comment on every line, to start one's own from."""
    return (_package() / TEMPLATE).read_text(encoding="utf-8")


def read_scenario_text(text: str, name: str, folder: Path | None = None) -> Scenario:
    """Return the scenario that a TOML text describes.

    Parameters
    ----------
    text
        The text of a scenario file.
    name
        What to call the file in messages; without its ending it becomes the scenario's name.
    folder
        Where a weather file is looked for.
    """
    raw = parsed(text, name, _WANTED)
    raw.setdefault("name", name.removesuffix(_SUFFIX))
    _find_weather_file(raw, name, folder)
    lines = key_lines(text)
    try:
        scenario = Scenario.model_validate(raw)
    except ValidationError as error:
        sentence = first_mistake(error, Scenario, raw, lambda location: line_of(location, lines))
        raise ScenarioError(in_file(name, sentence)) from None
    check_numbers(scenario)
    return scenario


def _package() -> Traversable:
    return files("scenarios")


def _read(source: Traversable | Path, name: str, folder: Path | None = None) -> Scenario:
    try:
        content = source.read_bytes()
    except OSError as error:
        raise ScenarioError(tell("'{name}' cannot be read: {why}.", name=name, why=why_of(error))) from None
    return read_scenario_text(decoded(content, name), name, folder)


def _find_weather_file(raw: dict[str, Any], name: str, folder: Path | None) -> None:
    """Replace a weather file's path, which is relative to the scenario, by the whole path."""
    place = raw.get("place")
    if not isinstance(place, dict) or not isinstance(place.get("weather_file"), str):
        return
    path = (folder or Path.cwd()) / place["weather_file"]
    if not path.is_file():
        raise ScenarioError(
            tell(
                "{name}: 'place.weather_file' is '{file}'; allowed: a file that is there.",
                name=name,
                file=place["weather_file"],
            )
        )
    place["weather_file"] = str(path)
