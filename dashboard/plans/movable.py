"""What can be moved, and how far: tables from fields of a scenario to words, ranges and steps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dashboard.language.tongue import mark
from dashboard.plans.deeds import EDGES, HOURS, MATERIALS, PRODUCTS
from sim.cast import BEETLES, BUGS, CATERPILLARS, word

CLIMATES = {
    "warm_humid": mark("warm and humid"),
    "cool_maritime": mark("cool, near the sea"),
    "dry_summer_maritime": mark("dry summers, near the sea"),
}
NESTS = {
    "tit_like": mark("Nests of tit-like birds, {far} away"),
    "wren_like": mark("Nests of wren-like birds, {far} away"),
    "woodpecker_like": mark("Nests of woodpecker-like birds, {far} away"),
}
CROPS = {
    "picking": {"collard": mark("collard"), "kale": mark("kale")},
    "once": {
        "cabbage": mark("cabbage"),
        "broccoli": mark("broccoli"),
        "kohlrabi": mark("kohlrabi"),
        "lettuce": mark("lettuce"),
        "radish": mark("radish"),
        "turnip": mark("turnip"),
    },
}
"""How a bed is harvested → crops that can stand in for one another there."""
OPENINGS = ((None, None), (6.0, 8.0), (6.0, 11.0), (8.0, 18.0))
"""Hours in which a net is open each day, from and to; never at first."""


@dataclass(frozen=True)
class MovedNumber:
    """A field that takes numbers: its words, marked, and from where to where it moves."""

    field: str
    words: str
    low: float
    high: float
    step: float = 1.0
    unit: str = ""


OF_ACTIONS: dict[str, tuple[MovedNumber, ...]] = {
    "cover": (
        MovedNumber("days_after_planting", mark("Net{where}: days after planting that it goes on"), 0, 60),
        MovedNumber("gap_share", mark("Net{where}: share of its edge left open"), 0.0, 0.5, 0.05),
    ),
    "uncover": (MovedNumber("delay_days", mark("Net{where}: days later than planned that it comes off"), 0, 60),),
    "spray": (
        MovedNumber("every_days", mark("Spray{where}: days from one to the next"), 3, 42),
        MovedNumber("days_after_planting", mark("Spray{where}: days after planting that it begins"), 0, 120),
        MovedNumber("times", mark("Spray{where}: times at most"), 1, 20),
    ),
    "scout": (
        MovedNumber("every_days", mark("Looking over plants{where}: days from one to the next"), 1, 28),
        MovedNumber("plants", mark("Looking over plants{where}: plants in each bed"), 2, 20),
    ),
    "spray_at_threshold": (
        MovedNumber(
            "caterpillar_infested_share",
            mark("Spray{where} when this share of plants has caterpillars"),
            0.0,
            1.0,
            0.05,
        ),
        MovedNumber(
            "harlequin_infested_share",
            mark("Spray{where} when this share of plants has harlequin bugs"),
            0.0,
            1.0,
            0.05,
        ),
        MovedNumber("flea_beetles_per_plant", mark("Spray{where} at so many flea beetles a plant"), 0.0, 20.0, 0.5),
        MovedNumber(
            "cucumber_beetles_per_plant", mark("Spray{where} at so many cucumber beetles a plant"), 0.0, 10.0, 0.5
        ),
        MovedNumber("aphid_infested_share", mark("Spray{where} when this share of plants has aphids"), 0.0, 1.0, 0.05),
        MovedNumber("rest_days", mark("Days at least from one spray{where} to the next"), 3, 28),
    ),
    "hand_pick": (
        MovedNumber("every_days", mark("Picking by hand{where}: days from one to the next"), 1, 28),
        MovedNumber("seconds_per_plant", mark("Picking by hand{where}: seconds a plant"), 5.0, 60.0, 5.0),
    ),
    "weed": (MovedNumber("every_days", mark("Weeding{where}: days from one to the next"), 7, 60),),
    "plant_hedgerow": (
        MovedNumber("length_m", mark("Hedgerow{where}: {unit}"), 1.0, 60.0, 1.0, "m"),
        MovedNumber("age_years", mark("Hedgerow{where}: its age in years"), 0.0, 20.0, 1.0),
    ),
    "hand_pollinate": (MovedNumber("every_days", mark("Pollen by hand{where}: days from one to the next"), 1, 7),),
}
LISTS_OF_ACTIONS: dict[str, dict[str, tuple[str, Mapping[str, str]]]] = {
    "cover": {"material": (mark("Net: what it is made of"), MATERIALS), "edges": (mark("Net: its edges"), EDGES)},
    "spray": {"product": (mark("Spray: kind"), PRODUCTS), "hour": (mark("Spray: time of day"), HOURS)},
    "spray_at_threshold": {"product": (mark("Spray: kind"), PRODUCTS), "hour": (mark("Spray: time of day"), HOURS)},
}
OF_WORLD: tuple[tuple[tuple[str, ...], MovedNumber], ...] = (
    (("pests.arrivals",), MovedNumber("arrivals", mark("Pests that come, times a usual year"), 0.0, 5.0, 0.25)),
    (
        tuple(f"pests.{word(species)}" for species in CATERPILLARS),
        MovedNumber("moths", mark("Butterflies and moths that come{where}, times a usual year"), 0.0, 5.0, 0.25),
    ),
    (
        tuple(f"pests.{word(species)}" for species in (*BUGS, *BEETLES)),
        MovedNumber("beetles", mark("Bugs and beetles that come{where}, times a usual year"), 0.0, 5.0, 0.25),
    ),
    (("pests.cabbage_aphid",), MovedNumber("aphids", mark("Aphids that come, times a usual year"), 0.0, 5.0, 0.25)),
    (("place.warmer_c",), MovedNumber("warmer_c", mark("Warmer than usual, {unit}"), -3.0, 5.0, 0.5, "c_difference")),
    (("place.wetter",), MovedNumber("wetter", mark("Rain, times the usual"), 0.2, 3.0, 0.1)),
    (
        ("birds.use_of_garden",),
        MovedNumber("use", mark("How often birds come to the beds, times the usual"), 0.0, 10.0, 0.5),
    ),
    (
        ("birds.territory_food",),
        MovedNumber("food", mark("Birds' food outside the garden, times the usual"), 0.0, 2.0, 0.1),
    ),
    (
        ("bees.honey_bees", "bees.bumble_bees", "bees.small_bees"),
        MovedNumber("bees", mark("Bees{where}, times the usual"), 0.0, 3.0, 0.25),
    ),
    (
        ("enemies.ground_beetles", "enemies.spiders", "enemies.lady_beetles", "enemies.lacewings"),
        MovedNumber("enemies", mark("Crawling hunters{where}, times the usual"), 0.0, 3.0, 0.25),
    ),
    (
        ("margin.wild_host_plants",),
        MovedNumber("hosts", mark("Wild plants of the cabbage family beside the beds"), 0, 60),
    ),
    (
        ("margin.hedgerow_m",),
        MovedNumber("hedgerow", mark("Hedgerow that is there already, {unit}"), 0.0, 60.0, 5.0, "m"),
    ),
    (
        ("margin.flower_strip_m2",),
        MovedNumber("strip", mark("Flower strip that is there already, {unit}"), 0.0, 40.0, 2.0, "m2"),
    ),
)
