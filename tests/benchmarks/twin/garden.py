"""A small garden in which the twin and the engine live the same seasons. Invented: no such garden exists."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from sim.garden import Garden
from sim.parameters import load_parameters
from sim.scenario import Scenario
from sim.weather.climate import load_climates
from sim.weather.generator import generate_weather
from tests.benchmarks.twin.luck import KeyedFortune
from tests.benchmarks.twin.population import TwinInsects

FIRST, LAST = date(2025, 3, 1), date(2025, 11, 15)
WEED = {"do": "weed", "every_days": 21}
PLANS = {
    "nothing": [WEED],
    "net": [
        WEED,
        {"do": "cover", "beds": ["east"], "material": "insect_mesh", "edges": "slack", "days_after_planting": 30},
        {"do": "uncover", "beds": ["east"], "on": "08-01"},
    ],
    "spray": [
        WEED,
        {"do": "spray", "beds": ["east", "west"], "product": "bt", "hour": "dusk", "every_days": 21},
        {"do": "spray", "beds": ["east"], "product": "pyrethrins", "hour": "noon", "every_days": 28},
    ],
    "by_hand": [
        WEED,
        {"do": "scout", "every_days": 7, "plants": 4},
        {"do": "spray_at_threshold", "beds": ["west"], "product": "spinosad", "caterpillar_infested_share": 0.2},
        {"do": "hand_pick", "beds": ["east"], "every_days": 3, "seconds_per_plant": 20},
        {"do": "clean_up", "on": "10-10"},
    ],
}


@lru_cache
def two_beds(rows_of_plants=5, arrivals=1.0, wild_host_plants=2):
    """Return a garden of two collard beds with only cabbage white, its wasp, enemies and three nests."""
    bed = {
        "crop": "collard", "length_m": 0.5 * rows_of_plants, "width_m": 1.0, "row_spacing_m": 0.5,
        "plant_spacing_m": 0.5, "start": "transplant", "harvest": "picking", "transplant_eggs_per_plant": 0.5,
        "planted": "03-25", "old_stalks": True, "hosted_last_year": True,
    }  # fmt: skip
    others = ("cabbage_looper", "diamondback_moth", "harlequin_bug", "flea_beetle", "cucumber_beetle", "cabbage_aphid")
    return Scenario.model_validate(
        {
            "title": "Two collard beds",
            "about": "Invented.",
            "place": {"climate": "warm_humid"},
            "pests": {**dict.fromkeys(others, 0.0), "arrivals": arrivals},
            "enemies": {"parasitoid_wasps": arrivals},
            "margin": {"area_m2": 20.0, "wild_host_plants": wild_host_plants},
            "birds": {
                "nests": [{"kind": f"{kind}_like", "distance_m": 15.0} for kind in ("wren", "tit", "woodpecker")]
            },
            "beds": [{"name": "east", **bed}, {"name": "west", **bed, "planted": "05-10"}],
            "plans": [{"name": name, "title": name, "actions": actions} for name, actions in PLANS.items()],
        }
    )


class TwinGarden(Garden):
    """The same garden, with one Mesa object an insect in place of the engine's records."""

    fortune_of = KeyedFortune

    def _count_warmth_before(self, weather):
        engine = self.insects
        self.insects = TwinInsects(
            self, self.insect_parameters(), engine.table, self.fortune_of(self.seed),
            first_plant=engine.first_plant, expected_arrivals=engine.expected_arrivals,
        )  # fmt: skip
        engine.remove()
        for day in weather.days[: (self.first_date - weather.first_date).days]:
            self.insects.add_warmth(day)

    def insect_parameters(self):
        """Return the table that its insects live by."""
        return self.parameters


def plant_garden(kind, scenario, plan, seed):
    """Return a garden of a kind on the season's first morning."""
    weather = generate_weather(load_climates()[scenario.place.climate], date(2025, 1, 1), LAST, seed)
    return kind(scenario, load_parameters(), plan=plan, weather=weather, seed=seed, first_date=FIRST, last_date=LAST)


def live_season(kind, scenario, plan, seed):
    """Return a garden of a kind on the season's last evening."""
    garden = plant_garden(kind, scenario, plan, seed)
    for _ in range(len(garden.days)):
        garden.step()
    return garden
