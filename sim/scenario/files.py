"""Read scenarios: the gardens that come with the package by name, and a user's own by path."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from sim.errors import ScenarioError, in_words, on_disk, tell, unknown
from sim.scenario.changes import check_numbers
from sim.scenario.model import Scenario
from sim.scenario.reading import SUFFIX, checked, names_in, text_of
from sim.scenario.toml_text import about_paths, parsed

DEFAULT_SCENARIO = "teaching_garden"
TEMPLATE = "template.toml.txt"
"""Beside the scenarios, but not one of them."""

_WANTED = tell("a scenario, as 'leafnest new' writes it")


def scenario_names() -> tuple[str, ...]:
    """Return the names of the gardens that come with the package, the default first."""
    return names_in(_package(), DEFAULT_SCENARIO)


def load_scenario(name_or_path: str | Path) -> Scenario:
    """Return a scenario that comes with the package, by name, or one of the user's own, by path.

    Raises
    ------
    ScenarioError
        If there is none, or if it cannot be used as it stands; the sentence names file, line and key.
    """
    text = str(name_or_path)
    if isinstance(name_or_path, str) and text in scenario_names():
        return read_scenario_text((_package() / f"{text}{SUFFIX}").read_text(encoding="utf-8"), text)
    path = Path(name_or_path)
    absent = unknown(tell("There is no scenario or file '{name}'", name=text), text, scenario_names())
    return read_scenario_text(text_of(path, absent), in_words(path.name), path.resolve().parent)


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
    raw.setdefault("name", name.removesuffix(SUFFIX))
    _find_weather_file(raw, name, folder)
    scenario = checked(Scenario, raw, text, name)
    check_numbers(scenario)
    return scenario


def _package() -> Traversable:
    return files("scenarios")


def _find_weather_file(raw: dict[str, Any], name: str, folder: Path | None) -> None:
    """Replace a weather file's path, which is relative to the scenario, by the whole path."""
    place = raw.get("place")
    if not isinstance(place, dict) or not isinstance(place.get("weather_file"), str):
        return
    path = (folder or Path.cwd()) / on_disk(place["weather_file"])
    if not path.is_file():
        said = place["weather_file"]
        absent = tell("{name}: 'place.weather_file' is '{file}'; allowed: a file that is there.", name=name, file=said)
        is_windows_path = "\\" in said or not said.isprintable()  # TOML has made a tab of the ``\\t`` in it
        raise ScenarioError(about_paths(absent) if is_windows_path else absent)
    place["weather_file"] = str(path)
