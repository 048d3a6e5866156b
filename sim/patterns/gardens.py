"""Small gardens built for one question each; invented, like all gardens here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from sim.cast import PLANT_EATERS, word
from sim.garden import Garden
from sim.scenario import Scenario
from sim.season import parameters_of
from sim.weather.climate import load_climates
from sim.weather.generator import generate_weather

Action = Mapping[str, Any]
NOTHING: tuple[Action, ...] = ()
MESH: tuple[Action, ...] = ({"do": "cover", "material": "insect_mesh", "edges": "buried", "days_after_planting": 0},)
FINE_MESH: tuple[Action, ...] = ({**MESH[0], "material": "fine_mesh"},)
SPUN_COVER: tuple[Action, ...] = ({**MESH[0], "material": "row_cover"},)
PLANTED = "03-20"
PLANTED_COOL = "04-20"
"""When greens are set out in a warm and in a cool climate."""


def bed(name: str, crop: str, plants: int = 20, **more: Any) -> dict[str, Any]:
    """Return one bed of a crop at its usual spacing, 1.2 m wide and as long as its plants need."""
    rows, row_spacing_m, plant_spacing_m = (1, 1.2, 0.3) if crop == "cucumber" else (2, 0.6, 0.5)
    by_picking = crop in ("collard", "kale", "cucumber", "turnip")
    return {
        "name": name,
        "crop": crop,
        "length_m": max(1, plants // rows) * plant_spacing_m,
        "width_m": 1.2,
        "row_spacing_m": row_spacing_m,
        "plant_spacing_m": plant_spacing_m,
        "plants": plants,
        "planted": PLANTED,
        "start": "seed" if crop in ("cucumber", "turnip") else "transplant",
        "harvest": "picking" if by_picking and crop != "turnip" else "once",
        **more,
    }


def garden(
    beds: Sequence[Mapping[str, Any]],
    plans: Mapping[str, Sequence[Action]],
    *,
    climate: str = "warm_humid",
    nests: Sequence[Mapping[str, Any]] = (),
    place: Mapping[str, Any] | None = None,
    **more: Any,
) -> Scenario:
    """Return a garden whose gardener has all the time that the plans need.

    Parameters
    ----------
    beds
        As :func:`bed` makes them.
    plans
        Name → what is done.
    climate, place
        Where it lies; ``place`` adds to the climate.
    nests
        Nests in reach.
    more
        Other parts of a scenario.
    """
    raw: dict[str, Any] = {
        "name": "trial",
        "title": "A garden for one question",
        "place": {"climate": climate, **(place or {})},
        "birds": {"nests": list(nests)},
        "gardener": {"minutes_per_day": 1440.0},
        "margin": {"area_m2": 100.0, "wild_host_plants": 4},
        "beds": list(beds),
        "plans": [{"name": name, "title": name, "actions": list(actions)} for name, actions in plans.items()],
        **more,
    }
    return Scenario.model_validate(raw)


def only(*pests: str) -> dict[str, float]:
    """Return the factors of a garden to which only these pests come."""
    every = (*map(word, PLANT_EATERS), "cabbage_aphid")
    return {name: float(name in pests) for name in every}


def spray(product: str, every_days: int = 7, **more: Any) -> Action:
    """Return a calendar of evening sprays."""
    return {"do": "spray", "product": product, "hour": "dusk", "every_days": every_days, **more}


def begin(place: Scenario, plan: str, seed: int) -> Garden:
    """Return a garden on the morning of its first day, to be lived day by day."""
    first, last = place.first_date, place.last_date
    weather = generate_weather(load_climates()[place.place.climate or ""], date(first.year, 1, 1), last, seed)
    return Garden(place, parameters_of(place), plan=plan, weather=weather, seed=seed, first_date=first, last_date=last)
