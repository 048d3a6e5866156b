"""A visitor's own garden, from a scenario file, a weather file or both: checked with the model's own sentences.

Takes    files as they were brought: name and bytes.
Keeps    a weather file in the folder it is given, since seasons read it there.
Changes  nothing else. A scenario can name no file of this machine, only one that was brought with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dashboard.codes.made import FILE_PREFIX
from dashboard.language.tongue import _
from sim.errors import LeafnestError, ScenarioError, tell, tell_many
from sim.scenario import Scenario
from sim.scenario.files import read_scenario_text
from sim.scenario.limits import pairs_in, plants_in
from sim.scenario.toml_text import decoded, parsed
from sim.writing import write_whole, writing

if TYPE_CHECKING:
    from sim.weather.days import Weather

LARGEST_FILE_MB = 2
MOST_PLANTS_HERE, MOST_PAIRS_HERE = 10_000, 60
"""A class waits for each season; a larger garden, or more pairs of birds, belong on the command line."""
_BYTES_PER_MB = 1 << 20
_OWN = "own"
"""Name of every garden while its fingerprint is taken, so that a file may be called anything."""


class BroughtFileError(LeafnestError):
    """A file that cannot be used here, though the command might."""


@dataclass(frozen=True)
class Brought:
    """A file as a visitor gave it."""

    name: str
    content: bytes

    def __post_init__(self) -> None:
        if len(self.content) > LARGEST_FILE_MB * _BYTES_PER_MB:
            raise BroughtFileError(
                tell(
                    "{file} has {size:.1f} MB; {most} MB are allowed. Keep the years that you need.",
                    file=self.name,
                    size=len(self.content) / _BYTES_PER_MB,
                    most=LARGEST_FILE_MB,
                )
            )
        if self.name in ("", "..") or Path(self.name).name != self.name or not self.name.isprintable():
            raise BroughtFileError(tell("A file has the name '{file}'; a plain name is allowed.", file=self.name))


@dataclass(frozen=True)
class Station:
    """Where the weather of a file was measured, and its units where the file is silent."""

    latitude_deg: float
    elevation_m: float = 0.0
    temperature_unit: str | None = None
    rain_unit: str | None = None


def garden_of_scenario(scenario: Brought, weather: Brought | None, folder: Path | None) -> tuple[str, Scenario]:
    """Return name and garden of a scenario file.

    Parameters
    ----------
    scenario
        The TOML file.
    weather
        The weather file that it names, if it names one.
    folder
        Where the weather file is kept; none where there is none.

    Raises
    ------
    LeafnestError
        If a file cannot be used as it stands: where, what was found, what is allowed.
    """
    text = decoded(scenario.content, scenario.name)
    raw = parsed(text, scenario.name, tell("a scenario, as 'leafnest new' writes it"))
    place = raw.get("place")
    named = place.get("weather_file") if isinstance(place, dict) else None
    if isinstance(named, str) and (weather is None or named != weather.name):
        raise ScenarioError(
            tell(
                "{file} names the weather file '{named}'; give that file with it, under the same name.",
                file=scenario.name,
                named=named[:80],
            )
        )
    if weather is not None and not isinstance(named, str):
        raise ScenarioError(
            tell(
                '{file} names no weather file; allowed: weather_file = "{weather}" in [place], or no weather file.',
                file=scenario.name,
                weather=weather.name,
            )
        )
    if weather is not None and folder is not None:
        _put(weather, folder)
    garden = read_scenario_text(text, scenario.name, folder)
    _check_weather(garden)
    return _named(garden, scenario.name)


def garden_with_weather(base: Scenario, weather: Brought, station: Station, folder: Path) -> tuple[str, Scenario]:
    """Return name and garden: one that is known already, under the weather of a file.

    The season is laid into the last year of the file that holds all its days.

    Raises
    ------
    LeafnestError
        If the file cannot be used as it stands, or holds no year with all days of the season.
    """
    path = _put(weather, folder)
    found = _read(path, station)
    refused: ScenarioError | None = None
    years = range(found.last_date.year, found.first_date.year - 1, -1)
    for year in years:
        try:
            garden = base.with_changes(_changes(path, station, year))
        except ScenarioError as error:
            refused = refused or error  # said below if no year will do: the mistake may have nothing to do with years
            continue
        last = garden.last_date.replace(year=year + garden.season.years - 1)
        if found.first_date <= garden.first_date and last <= found.last_date:
            _check_weather(garden)
            title = _("{garden}, weather of {file}, {year}").format(garden=base.title, file=weather.name, year=year)
            return _named(garden.model_copy(update={"title": title}), weather.name)
    if refused:
        raise refused
    raise ScenarioError(
        tell_many(
            "{file} runs from {first} to {last}; the season needs all days from {start} to {end} of one year.",
            "{file} runs from {first} to {last}; the season needs all days from {start} to {end} of {count} years in "
            "a row.",
            count=base.season.years,
            file=weather.name,
            first=found.first_date,
            last=found.last_date,
            start=base.season.first_day,
            end=base.season.last_day,
        )
    )


def scenario_text(garden: Scenario) -> str:
    """Return a garden as a scenario file; reading it again gives the same garden.

    A weather file is named as the file that must lie beside it.
    """
    import tomli_w

    raw = garden.model_dump(mode="json", exclude_none=True)
    if garden.place.weather_file is not None:
        raw["place"]["weather_file"] = Path(garden.place.weather_file).name
    del raw["name"]
    return tomli_w.dumps(raw)


def _put(weather: Brought, folder: Path) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / weather.name
    with writing(Path(weather.name)):
        write_whole(path, weather.content)  # at once: somebody's season may be reading the same file
    return path


def _changes(path: Path, station: Station, year: int) -> Mapping[str, Any]:
    return {
        "place.climate": None,
        "place.weather_file": str(path),
        "place.latitude_deg": station.latitude_deg,
        "place.elevation_m": station.elevation_m,
        "place.temperature_unit": station.temperature_unit,
        "place.rain_unit": station.rain_unit,
        "place.warmer_c": 0.0,
        "place.wetter": 1.0,
        "season.calendar_year": year,
    }


def _check_weather(garden: Scenario) -> None:
    """Read the weather now, so that its mistakes are told now and not when a season is run."""
    if garden.place.weather_file is not None:
        from sim.season import check_weather  # brings in the compiler, which other gardens are opened without

        check_weather(garden)


def _read(path: Path, station: Station) -> Weather:
    from sim.weather.files import read_weather

    return read_weather(
        path,
        latitude_deg=station.latitude_deg,
        elevation_m=station.elevation_m,
        temperature_unit=station.temperature_unit,
        rain_unit=station.rain_unit,
    )


def _named(garden: Scenario, file: str) -> tuple[str, Scenario]:
    plants, pairs = plants_in(garden), pairs_in(garden)
    if plants > MOST_PLANTS_HERE:
        raise BroughtFileError(
            tell(
                "{file} has {count} plants; {most} are allowed here. The command 'leafnest compare' takes more.",
                file=file,
                count=plants,
                most=MOST_PLANTS_HERE,
            )
        )
    if pairs > MOST_PAIRS_HERE:
        raise BroughtFileError(
            tell(
                "{file} has {count} pairs of birds; {most} are allowed here. "
                "The command 'leafnest compare' takes more.",
                file=file,
                count=pairs,
                most=MOST_PAIRS_HERE,
            )
        )
    name = f"{FILE_PREFIX}{garden.model_copy(update={'name': _OWN}).fingerprint}"
    return name, garden.model_copy(update={"name": name})
