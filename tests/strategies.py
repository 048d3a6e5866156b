"""Gardens made up for tests: small ones written out by hand, and random ones that are valid by construction."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from sim.cast import PLANT_EATERS, word
from sim.garden import Garden
from sim.scenario import Scenario
from sim.season import parameters_of
from sim.weather.climate import load_climates
from sim.weather.generator import generate_weather

CALENDAR_YEAR = 2025
CLIMATES = ("warm_humid", "cool_maritime", "dry_summer_maritime")
CABBAGE_FAMILY = ("collard", "kale", "kohlrabi", "cabbage", "broccoli", "radish", "turnip", "mustard")
CROPS = (*CABBAGE_FAMILY, "lettuce", "cucumber")
PICKED = {"collard", "kale", "cucumber"}
MATERIALS = ("insect_mesh", "fine_mesh", "veil", "row_cover", "bird_net")
PRODUCTS = ("bt", "spinosad", "pyrethrins", "azadirachtin", "soap")
PESTS = tuple(map(word, PLANT_EATERS))
NO_PESTS = dict.fromkeys((*PESTS, "cabbage_aphid"), 0.0)
ALL_DAY_MINUTES = 1e6
"""More minutes than any work here takes, so that no work is put off."""


def bed(crop: str = "collard", **other: Any) -> dict[str, Any]:
    """Return a bed of eight plants as it stands in a scenario file."""
    chosen = {
        "name": other.get("name", f"{crop}-bed"),
        "crop": crop,
        "length_m": 2.0,
        "width_m": 1.2,
        "row_spacing_m": 0.6,
        "plant_spacing_m": 0.5,
        "planted": "04-20",
        "start": "transplant",
        "harvest": "picking" if crop in PICKED else "none" if crop == "mustard" else "once",
    }
    return chosen | other


def garden(*beds: dict[str, Any], plans: dict[str, list[dict[str, Any]]] | None = None, **other: Any) -> Scenario:
    """Return a small garden in a warm, humid place from 20 April to 20 July, with as many minutes as it takes.

    ``plans`` gives the actions of each plan; a plan ``nothing`` without actions stands first.
    """
    raw: dict[str, Any] = {
        "name": "made-up",
        "title": "Made up for a test",
        "place": {"climate": "warm_humid"},
        "season": {"first_day": "04-20", "last_day": "07-20", "calendar_year": CALENDAR_YEAR},
        "beds": list(beds) or [bed()],
        "gardener": {"minutes_per_day": ALL_DAY_MINUTES},
        "plans": [{"name": "nothing", "title": "Nothing", "actions": []}]
        + [{"name": name, "title": name, "actions": actions} for name, actions in (plans or {}).items()],
    }
    return Scenario.model_validate(raw | other)


def open_garden(scenario: Scenario, plan: str = "nothing", seed: int = 1) -> Garden:
    """Return the garden of a scenario on the morning of its first day, with weather of its climate."""
    first, last = scenario.first_date, scenario.last_date
    climate = load_climates()[scenario.place.climate or ""]
    weather = generate_weather(
        climate,
        date(first.year, 1, 1),
        last,
        seed,
        warmer_c=scenario.place.warmer_c,
        wetter=scenario.place.wetter,
    )
    return Garden(
        scenario,
        parameters_of(scenario),
        plan=plan,
        weather=weather,
        seed=seed,
        first_date=first,
        last_date=last,
    )


def live(scenario: Scenario, plan: str = "nothing", seed: int = 1) -> Garden:
    """Return the garden on its last evening."""
    lived = open_garden(scenario, plan, seed)
    for _ in range(len(lived.days)):
        lived.step()
    return lived


def _said(day: date) -> str:
    return day.strftime("%m-%d")


# -- random gardens ------------------------------------------------------------------------------------------------

factors = st.sampled_from((0.0, 0.3, 1.0, 3.0))


@st.composite
def seasons(draw: st.DrawFn) -> tuple[date, date]:
    """Draw the first and the last day of a season of 40 to 120 days."""
    first = draw(st.dates(date(CALENDAR_YEAR, 3, 1), date(CALENDAR_YEAR, 7, 15)))
    return first, first + timedelta(days=draw(st.integers(40, 120)))


def month_days(season: tuple[date, date]) -> st.SearchStrategy[str]:
    """Draw a day of the season."""
    return st.dates(*season).map(_said)


@st.composite
def beds(draw: st.DrawFn, number: int, season: tuple[date, date]) -> dict[str, Any]:
    """Draw a bed of a few plants."""
    crop = draw(st.sampled_from(CROPS))
    return bed(
        crop,
        name=f"bed-{number}",
        length_m=draw(st.sampled_from((0.5, 1.0, 2.5))),
        planted=draw(month_days(season)),
        start=draw(st.sampled_from(("transplant", "seed"))),
        harvest=draw(st.sampled_from(("picking", "once", "none"))) if crop != "mustard" else "none",
        self_fruitful=draw(st.booleans()),
        vigour=draw(st.sampled_from((0.6, 1.0, 1.3))),
        hosted_last_year=draw(st.booleans()),
        old_stalks=draw(st.booleans()),
        transplant_eggs_per_plant=draw(st.sampled_from((0.0, 0.5, 2.0))),
    )


def _timed(day: str) -> st.SearchStrategy[dict[str, Any]]:
    return st.one_of(
        st.just({"on": day}),
        st.integers(0, 30).map(lambda days: {"days_after_planting": days}),
        st.sampled_from(("planting", "first_bloom", "heading", "first_picking")).map(lambda at: {"at": at}),
    )


@st.composite
def nettings(draw: st.DrawFn, where: dict[str, Any]) -> list[dict[str, Any]]:
    """Draw a net that is put on and, it may be, taken off again."""
    on_after_days = draw(st.integers(0, 30))
    hours = draw(st.sampled_from(({}, {"open_from_hour": 9.0, "open_to_hour": 12.0})))
    cover = {
        "do": "cover",
        "material": draw(st.sampled_from(MATERIALS)),
        "edges": draw(st.sampled_from(("buried", "weighted", "slack"))),
        "gap_share": draw(st.sampled_from((0.0, 0.2))),
        "days_after_planting": on_after_days,
    }
    off = {"do": "uncover", "days_after_planting": on_after_days + draw(st.integers(1, 40))}
    return [cover | hours | where, *draw(st.sampled_from(([], [off | where])))]


@st.composite
def actions(draw: st.DrawFn, bed_names: tuple[str, ...], season: tuple[date, date]) -> list[dict[str, Any]]:
    """Draw something to do, in one bed or in all; a net counts with its taking off."""
    day = draw(month_days(season))
    where = {"beds": draw(st.sampled_from(([], *([name] for name in bed_names))))}
    again = where | {"every_days": draw(st.integers(1, 20))}
    once = where | draw(_timed(day))
    product = {"product": draw(st.sampled_from(PRODUCTS)), "hour": draw(st.sampled_from(("dawn", "noon", "dusk")))}
    others = (
        [{"do": "spray", **product, **again}],
        [{"do": "scout", "plants": 3, **again}],
        [{"do": "scout", **again}, {"do": "spray_at_threshold", **product, **where, "caterpillar_infested_share": 0.1}],
        [{"do": "hand_pick", **again}],
        [{"do": "wash_off", **again}],
        [{"do": "hand_pollinate", **again}],
        [{"do": "weed", **again}],
        [{"do": "pick", **again}],
        [{"do": "clean_up", **once}],
        [{"do": "till", **once}],
        [{"do": "plant_flower_strip", "area_m2": 3.0, "on": day}],
        [{"do": "plant_hedgerow", "length_m": 8.0, "age_years": 3.0}],
        [{"do": "put_up_nest_box", "kind": "wren_like", "on": day}],
    )
    return draw(st.one_of(nettings(where), st.sampled_from(others)))


@st.composite
def gardens(draw: st.DrawFn) -> Scenario:
    """Draw a small garden with one random plan, ``tried``, after ``nothing``."""
    count = draw(st.integers(1, 4))
    season = draw(seasons())
    chosen = [draw(beds(number, season)) for number in range(count)]
    names = tuple(one["name"] for one in chosen)
    tried = [action for several in draw(st.lists(actions(names, season), max_size=6)) for action in several]
    kinds = draw(st.lists(st.sampled_from(("tit_like", "wren_like", "woodpecker_like")), max_size=3))
    return garden(
        *chosen,
        plans={"tried": tried},
        place={"climate": draw(st.sampled_from(CLIMATES)), "wetter": draw(st.sampled_from((0.3, 1.0, 2.0)))},
        season={"first_day": _said(season[0]), "last_day": _said(season[1]), "calendar_year": CALENDAR_YEAR},
        pests={name: draw(factors) for name in (*PESTS, "cabbage_aphid")} | {"arrivals": draw(factors)},
        margin={
            "area_m2": 30.0,
            "wild_host_plants": draw(st.sampled_from((0, 1, 6))),
            "hedgerow_m": draw(st.sampled_from((0.0, 10.0))),
            "flower_strip_m2": draw(st.sampled_from((0.0, 4.0))),
            "neighbour_spray_every_days": draw(st.sampled_from((0, 9))),
            "neighbour_product": draw(st.sampled_from(PRODUCTS)),
            "neighbour_drift": draw(st.sampled_from((0.0, 0.3))),
        },
        enemies={"ground_beetles": draw(factors), "spiders": draw(factors), "parasitoid_wasps": draw(factors)},
        birds={"nests": [{"kind": kind, "distance_m": 10.0} for kind in kinds]},
        gardener={
            "minutes_per_day": draw(st.sampled_from((0.0, 30.0, ALL_DAY_MINUTES))),
            "works_on": draw(st.sampled_from((["mon", "thu"], ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]))),
        },
    )
