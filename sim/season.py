"""One season: a scenario, a plan and a seed in; a ``Season`` out.

With two years in a row the second begins with what wintered; the season reported is the last.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from datetime import date
from functools import cache, cached_property
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

from sim.cast import SPECIES, Entry, Fate, Species, Stage, word
from sim.compiled import IS_COMPILED
from sim.errors import Sentence, tell
from sim.garden import Garden, Onlooker
from sim.measures import summarise
from sim.parameters import Parameters, load_parameters
from sim.pest_free import PLAN, PestFreeGarden, without_pests
from sim.rules_cache import note_warm
from sim.scenario import Scenario
from sim.scenario.values import date_in
from sim.weather.climate import load_climates
from sim.weather.days import Weather
from sim.weather.files import read_weather
from sim.weather.generator import generate_weather
from sim.weather.halves import check_half

if TYPE_CHECKING:
    import pandas as pd

Lived = TypeVar("Lived", bound=Garden)
_KEPT = 64
"""How many weathers and pest-free harvests are remembered between runs."""
_weathers: OrderedDict[tuple[Any, ...], Weather] = OrderedDict()
_potentials: OrderedDict[tuple[Any, ...], dict[int, float]] = OrderedDict()
_SEEDS_A_YEAR = 1_000_003
"""Apart by this, a second year has luck of its own."""


@dataclass(frozen=True)
class Season:
    """A season that has been lived.

    Attributes
    ----------
    garden
        The garden on its last evening.
    summary
        Measure → value; names and units in ``sim.measures.MEASURES``.
    provenance
        What is needed to run it again.
    """

    garden: Garden
    summary: dict[str, float]
    provenance: dict[str, Any]

    @cached_property
    def daily(self) -> pd.DataFrame:
        """One row a day, units in the column names."""
        return self.garden.chronicle.frame(self.garden.first_date.isoformat())

    @cached_property
    def fates(self) -> pd.DataFrame:
        """Place, how it came, species, stage, fate and count; sums to every insect that ever entered."""
        import pandas as pd

        insects = self.garden.insects
        table = insects.exits + insects.still_alive()
        rows = [
            (
                ("beds", "margin")[where], word(Entry(entry)), word(Species(species)), word(Stage(stage)),
                word(Fate(fate)), int(table[where, entry, species, stage, fate]),
            )
            for where, entry, species, stage, fate in np.argwhere(table)
        ]  # fmt: skip
        return pd.DataFrame(rows, columns=["place", "entry", "species", "stage", "fate", "count"])

    @cached_property
    def entries(self) -> pd.DataFrame:
        """Insects that came onto the record: species, entry, count."""
        import pandas as pd

        entries = self.garden.insects.entries
        rows = [
            (word(Species(species)), word(entry), int(entries[entry, species]))
            for species in range(SPECIES)
            for entry in Entry
        ]
        return pd.DataFrame(rows, columns=["species", "entry", "count"])


def run_season(scenario: Scenario, plan: str, seed: int = 1, onlooker: Onlooker | None = None) -> Season:
    """Live one season of a garden under a plan.

    Parameters
    ----------
    scenario
        The garden.
    plan
        Name of one of its plans.
    seed
        Whose luck; any integer. Equal seeds give equal weather, arrivals and luck under every plan.
    onlooker
        Who looks on, in the last year; it changes nothing.

    Returns
    -------
    Season
        Of the last year, where the scenario asks for two in a row.

    Raises
    ------
    ScenarioError
        If the plan is unknown.
    WeatherError
        If a weather file does not cover the season.
    """
    scenario.plan(plan)  # tells if there is none
    parameters = parameters_of(scenario)
    garden = _live(Garden, scenario, parameters, plan, seed, onlooker)
    potential = _pest_free_harvest(scenario, parameters, seed)
    summary = summarise(garden, potential)
    if IS_COMPILED:
        note_warm()
    return Season(garden, summary, _provenance(scenario, parameters, plan, seed))


def second_year_alone(scenario: Scenario, seed: int) -> tuple[Scenario, int]:
    """Return garden and seed by which the second of two years is lived by itself.

    Days, weather, arrivals and luck are those of the second year, but nothing is carried over: it begins as the
    scenario says. Set beside the second of two years it tells what the first one left behind.

    Parameters
    ----------
    scenario
        The garden, however many years it lives.
    seed
        The seed of its first year.
    """
    changes = {"season.years": 1, "season.calendar_year": scenario.season.calendar_year + 1}
    return scenario.with_changes(changes), seed + _SEEDS_A_YEAR


def weather_notes(scenario: Scenario) -> list[Sentence]:
    """Return what was done to a garden's weather file so that it could be used; nothing for a generated weather.

    Days that were filled, say, or units that were taken for granted: figures rest on them, so they go with figures.

    Raises
    ------
    WeatherError
        If the file cannot be used.
    """
    if scenario.place.weather_file is None:
        return []
    weather = _weather_of(scenario, scenario.first_date, scenario.last_date, seed=0)
    return [*weather.notes, *_late_beginning(weather, scenario)]


def _late_beginning(weather: Weather, scenario: Scenario) -> list[Sentence]:
    """Say so if winter resters will be woken by less warmth than the year had."""
    if weather.first_date <= date(scenario.season.calendar_year, 1, 1):
        return []
    told = tell(
        "The file begins on {first}: warmth before that day is not counted, so insects at winter rest may wake later "
        "than they would.",
        first=weather.first_date,
    )
    return [told]


def check_weather(scenario: Scenario) -> None:
    """Make sure that a garden's weather file, where it has one, can be used and holds the days of every year.

    Raises
    ------
    WeatherError
        If it does not.
    """
    if scenario.place.weather_file is None:
        return
    for year in range(scenario.season.years):
        first, last = _ends_of(scenario, year)
        _weather_of(scenario, first, last, seed=0).window(first, last)


def parameters_of(scenario: Scenario) -> Parameters:
    """Return the table of parameters with the scenario's own numbers."""
    changes: dict[str, Any] = dict(scenario.numbers)
    for name in ("stay_share", "try_bare_share"):
        value = getattr(scenario.pests, name)
        if value is not None:
            from sim.insects.table import GUILD

            changes |= {f"{key}.{name}": value for species, key in GUILD.items() if species != Species.PARASITOID_WASP}
    table = load_parameters()
    return table.with_changes(changes) if changes else table


@cache
def model_version() -> str:
    """Return the version of the package, or ``source`` where it is run without being installed."""
    try:
        return version("leafnest")
    except PackageNotFoundError:
        return "source"


def _live(
    kind: type[Lived], scenario: Scenario, parameters: Parameters, plan: str, seed: int,
    onlooker: Onlooker | None = None,
) -> Lived:  # fmt: skip
    before = None
    for year in range(scenario.season.years):
        first, last = _ends_of(scenario, year)
        own_seed = seed + year * _SEEDS_A_YEAR
        garden = kind(
            scenario, parameters, plan=plan, weather=_weather_of(scenario, first, last, own_seed), seed=own_seed,
            first_date=first, last_date=last, before=before,
            onlooker=onlooker if year + 1 == scenario.season.years else None,
        )  # fmt: skip
        for _ in range(len(garden.days)):
            garden.step()
        if year + 1 < scenario.season.years:
            before = garden.leave_behind(year)
    return garden


def _ends_of(scenario: Scenario, year: int) -> tuple[date, date]:
    """Return the first and the last day of a year of the season, counted from 0."""
    calendar_year = scenario.season.calendar_year + year
    return date_in(scenario.season.first_day, calendar_year), date_in(scenario.season.last_day, calendar_year)


def _weather_of(scenario: Scenario, first: date, last: date, seed: int) -> Weather:
    place = scenario.place
    key = (place, first, last, None if place.weather_file else seed, _stamp(place.weather_file))
    if key not in _weathers:
        _remember(_weathers, key, _make_weather(scenario, first, last, seed))
    return _weathers[key]


def _make_weather(scenario: Scenario, first: date, last: date, seed: int) -> Weather:
    place = scenario.place
    if place.weather_file is not None:
        assert place.latitude_deg is not None  # the scenario's own check
        weather = read_weather(
            Path(place.weather_file), latitude_deg=place.latitude_deg, elevation_m=place.elevation_m or 0.0,
            temperature_unit=place.temperature_unit, rain_unit=place.rain_unit,
        )  # fmt: skip
        check_half(weather)
        return weather
    climate = load_climates()[place.climate or ""]
    return generate_weather(climate, date(first.year, 1, 1), last, seed, warmer_c=place.warmer_c, wetter=place.wetter)


def _stamp(weather_file: str | None) -> float | None:
    return Path(weather_file).stat().st_mtime if weather_file and Path(weather_file).exists() else None


def _pest_free_harvest(scenario: Scenario, parameters: Parameters, seed: int) -> dict[int, float]:
    """Return what each crop would give in the same season without any pests, pollinated as usual [kg]."""
    alone = without_pests(scenario)
    key = (alone.fingerprint, parameters.fingerprint, seed)
    if key not in _potentials:
        garden = _live(PestFreeGarden, alone, parameters, PLAN, seed)
        _remember(_potentials, key, garden.harvest_kg())
    return _potentials[key]


def _remember(store: OrderedDict[Any, Any], key: Any, value: Any) -> None:
    store[key] = value
    while len(store) > _KEPT:
        store.popitem(last=False)


def _provenance(scenario: Scenario, parameters: Parameters, plan: str, seed: int) -> dict[str, Any]:
    return {
        "program": "leafnest",
        "version": model_version(),
        "scenario": scenario.name,
        "scenario_fingerprint": scenario.fingerprint,
        "parameters_fingerprint": parameters.fingerprint,
        "plan": plan,
        "seed": seed,
        "weather_notes": weather_notes(scenario),
        "simulated": True,
    }
