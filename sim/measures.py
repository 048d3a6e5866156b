"""Every reported number: its name, unit, words, which way is better, and how it is worked out of a season.

``MEASURES`` is the list that tables, pictures and comparisons share; ``summarise`` works all of them out.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING, Literal

import numpy as np

from sim.birds.menu import Place, PreyGroup
from sim.cast import GENERALISTS, PLANT_EATERS, Crop, Fate, Predator, Species, Stage, word
from sim.chronicle import LARVAL, PREY_GROUPS, columns_on_plants
from sim.energy import Flows, flows_of
from sim.practices.workday import Task
from sim.surroundings import MINUTES_PER_HOUR

if TYPE_CHECKING:
    from sim.garden import Garden

Better = Literal["more", "less", "neither"]
_PEST_CARE = (Task.COVER, Task.UNCOVER, Task.CHECK_NET, Task.SPRAY, Task.SCOUT, Task.HAND_PICK, Task.WASH_OFF)


@dataclass(frozen=True, slots=True)
class Measure:
    """One reported number."""

    name: str
    unit: str
    words: str
    better: Better
    group: str


def spoken(name: IntEnum) -> str:
    """Return a name as it is said: ``cabbage white``."""
    return word(name).replace("_", " ")


def _listed() -> list[Measure]:
    def harvest(name: str, unit: str, words: str, better: Better = "more") -> Measure:
        return Measure(name, unit, words, better, "harvest")

    def pests(name: str, unit: str, words: str, better: Better = "less") -> Measure:
        return Measure(name, unit, words, better, "pests")

    def birds(name: str, unit: str, words: str, better: Better = "more") -> Measure:
        return Measure(name, unit, words, better, "birds")

    def bees(name: str, unit: str, words: str, better: Better = "more") -> Measure:
        return Measure(name, unit, words, better, "bees")

    def work(name: str, unit: str, words: str, better: Better = "less") -> Measure:
        return Measure(name, unit, words, better, "work")

    crops = [crop for crop in Crop if crop not in (Crop.MUSTARD, Crop.WILD_HOSTS)]
    return [
        harvest("harvest_kg", "kg", "picked in all"),
        harvest("marketable_kg", "kg", "fit to sell"),
        harvest("marketable_share", "share", "share of the picked weight that is fit to sell"),
        harvest("potential_share", "share", "picked weight as a share of what the same garden gives without any pests"),
        harvest("marketable_potential_share", "share", "weight fit to sell as a share of what grows without any pests"),
        harvest("leaf_eaten_share", "share", "share of what the crops grew that plant-eaters took", "less"),
        harvest("fruit_set_share", "share", "share of the female flowers that set a fruit"),
        harvest("cucumbers_wilted_share", "share", "share of the cucumber plants that wilted", "less"),
        *(harvest(f"{word(crop)}_harvest_kg", "kg", f"{spoken(crop)} picked") for crop in crops),
        *(harvest(f"{word(crop)}_marketable_kg", "kg", f"{spoken(crop)} fit to sell") for crop in crops),
        *(
            harvest(f"{word(crop)}_potential_share", "share", f"{spoken(crop)} picked, of what grows without any pests")
            for crop in crops
        ),
        pests("pests_alive_peak_count", "insect", "most caterpillars, nymphs, beetles and bugs in the beds at once"),
        pests("pest_days_count", "insect-day", "caterpillars, nymphs, beetles and bugs, added up over days"),
        pests("egg_to_adult_share", "share", "share of the eggs laid in the beds that became adults"),
        *(
            pests(f"{word(species)}_eggs_count", "egg", f"{spoken(species)} eggs laid in the beds")
            for species in PLANT_EATERS
        ),
        *(
            pests(
                f"{word(species)}_egg_to_adult_share",
                "share",
                f"share of {spoken(species)} eggs in the beds that became adults",
            )
            for species in PLANT_EATERS
        ),
        *(
            pests(
                f"{word(species)}_peak_count",
                "insect",
                f"most young and, of beetles and bugs, adults of {spoken(species)} at once",
            )
            for species in PLANT_EATERS
        ),
        pests("aphids_peak_count", "aphid", "most cabbage aphids in the beds at once"),
        pests("turned_away_count", "try", "tries that a net ended", "neither"),
        pests(
            "parasitised_share",
            "share",
            "share of cabbage white larvae in the beds that died of the followed wasp",
            "more",
        ),
        birds("bird_food_reachable_g", "g", "prey that birds could reach, mean of the nestling weeks"),
        birds("bird_food_in_beds_g", "g", "the same in the beds alone, without the wild plants beside them"),
        birds("caterpillars_reachable_g", "g", "caterpillars that birds could reach, mean of the nestling weeks"),
        birds("caterpillars_reachable_season_g", "g", "caterpillars that birds could reach, mean of the season"),
        *(
            birds(f"{group}_reachable_season_g", "g", f"{group} that birds could reach, mean of the season")
            for group in PREY_GROUPS
            if group != "caterpillars"
        ),
        birds("caterpillars_grown_reachable_g", "g", "caterpillar mass that grew where birds can reach it"),
        birds("bird_food_delivered_g", "g", "prey from the garden fed to nestlings"),
        birds("caterpillars_to_nests_count", "caterpillar", "caterpillars from the garden fed to nestlings"),
        birds("caterpillars_fed_count", "caterpillar", "caterpillars fed to nestlings, wherever they were found"),
        birds("garden_food_share", "share", "share of all nestlings' food that came from the garden"),
        birds("brood_days_fed_count", "brood-day", "days of food for a whole brood that the garden gave"),
        birds("nestlings_fledged_count", "bird", "young birds that left their nests"),
        birds("nestlings_starved_count", "bird", "nestlings that starved", "less"),
        birds("birds_entangled_count", "bird", "birds caught in nets", "less"),
        bees("flower_visits_count", "visit", "bees' visits to female cucumber flowers"),
        bees("visits_per_flower", "visit", "bees' visits to each female cucumber flower"),
        bees("bees_harmed_share", "share", "share of the bees in the crops' flowers that residues harmed", "less"),
        *(
            bees(f"{word(Predator(enemy))}s_mean_count", "animal", f"{spoken(Predator(enemy))}s, mean of the season")
            for enemy in range(GENERALISTS)
        ),
        bees("parasitoid_wasps_mean_count", "wasp", "parasitoid wasps, mean of the season"),
        work("labour_minutes", "min", "minutes of work in all"),
        work("pest_care_minutes", "min", "minutes spent on nets, sprays, scouting and picking pests"),
        work("cost_usd", "US$", "money spent"),
        work("pest_care_usd", "US$", "money spent on nets, sprays and the rest of pest care"),
        work("sprays_count", "bed sprayed", "times that a bed was sprayed"),
        work("put_off_count", "job", "jobs that did not fit into a day"),
        work("spray_days_lost_count", "day", "days on which a spray had to wait for the weather", "neither"),
        work("marketable_kg_per_hour", "kg/h", "weight fit to sell for each hour of work", "more"),
        Measure("light_caught_mj", "MJ", "light caught by the crops", "more", "energy"),
        Measure("plants_grown_kj", "kJ", "energy in what the crops grew", "more", "energy"),
        Measure("eaten_by_insects_kj", "kJ", "energy in the leaf that plant-eaters ate", "neither", "energy"),
        Measure("insects_grown_kj", "kJ", "energy in what plant-eaters grew", "neither", "energy"),
        Measure("insects_to_enemies_kj", "kJ", "energy in plant-eaters taken by natural enemies", "neither", "energy"),
        Measure("insects_to_birds_kj", "kJ", "energy in plant-eaters taken by birds", "more", "energy"),
        Measure("garden_to_nestlings_kj", "kJ", "energy that nestlings got from the garden", "more", "energy"),
        Measure("hedgerow_to_nestlings_kj", "kJ", "energy that nestlings got from the hedgerow", "more", "energy"),
        Measure("territory_to_nestlings_kj", "kJ", "energy that nestlings got from farther away", "neither", "energy"),
    ]


MEASURES: dict[str, Measure] = {measure.name: measure for measure in _listed()}


def summarise(garden: Garden, potential_kg: dict[int, float]) -> dict[str, float]:
    """Return every measure of a season that has been lived to its end.

    ``potential_kg`` is the weight that each crop gives in the same season without any pests. A share of nothing is not
    a number, and left out.
    """
    numbers: dict[str, float] = {}
    for part in (_harvest_of, _pests_of, _birds_of, _bees_of, _work_of):
        numbers |= part(garden, potential_kg)
    numbers |= _energy_of(flows_of(garden))
    return {name: float(numbers[name]) for name in MEASURES if name in numbers and not np.isnan(numbers[name])}


def _share(part: float, whole: float) -> float:
    return part / whole if whole > 0 else float("nan")


def _harvest_of(garden: Garden, potential_kg: dict[int, float]) -> dict[str, float]:
    by_crop: dict[int, list[float]] = {}
    for bed, tally in garden.harvests.items():
        crop = int(garden.layout.crop[garden.layout.first_plant[bed]])
        sums = by_crop.setdefault(crop, [0.0, 0.0])
        sums[0] += tally[0]
        sums[1] += tally[1]
    kg = sum(sums[0] for sums in by_crop.values())
    marketable = sum(sums[1] for sums in by_crop.values())
    potential = sum(potential_kg.values())
    flows = garden.plants.flows[: garden.layout.margin]
    eaten_g, grown_g = float(flows["leaf_eaten_g"].sum() + flows["head_eaten_g"].sum()), float(flows["grown_g"].sum())
    numbers = {
        "harvest_kg": kg,
        "marketable_kg": marketable,
        "marketable_share": _share(marketable, kg),
        "potential_share": _share(kg, potential),
        "marketable_potential_share": _share(marketable, potential),
        "leaf_eaten_share": _share(eaten_g, grown_g),
        "fruit_set_share": _share(float(flows["fruits_set"].sum()), float(flows["flowers_opened"].sum())),
        "cucumbers_wilted_share": _wilted_share(garden),
    }
    for crop in sorted(set(garden.layout.crop[: garden.layout.first_plant[-2]].tolist())):
        name = word(Crop(crop))
        crop_kg, crop_marketable = by_crop.get(crop, [0.0, 0.0])
        numbers[f"{name}_harvest_kg"] = crop_kg
        numbers[f"{name}_marketable_kg"] = crop_marketable
        numbers[f"{name}_potential_share"] = _share(crop_kg, potential_kg.get(crop, 0.0))
    return numbers


def _wilted_share(garden: Garden) -> float:
    plants = garden.plants.plants
    put_in = (plants["crop"] == Crop.CUCUMBER) & (plants["planted_day"] >= 0)
    return _share(float(plants["is_wilting"][put_in].sum()), float(put_in.sum()))


def _pests_of(garden: Garden, _: dict[int, float]) -> dict[str, float]:
    book, insects = garden.chronicle, garden.insects
    active = {
        species: sum((book.column(name) for name in columns_on_plants(species)), np.zeros(len(book.rows)))
        for species in PLANT_EATERS
    }
    together = np.sum([active[species] for species in PLANT_EATERS], axis=0)
    eaters = [int(species) for species in PLANT_EATERS]
    born, grown_up = insects.reached[0, eaters, Stage.EGG].sum(), insects.reached[0, eaters, Stage.ADULT].sum()
    numbers: dict[str, float] = {
        "pests_alive_peak_count": float(together.max(initial=0.0)),
        "pest_days_count": float(together.sum()),
        "egg_to_adult_share": _share(float(grown_up), float(born)),
        "aphids_peak_count": float(book.column("aphids").max(initial=0.0)),
        "turned_away_count": float(insects.turned_away.sum()),
        "parasitised_share": _parasitised_share(garden),
    }
    for species in PLANT_EATERS:
        name = word(species)
        numbers[f"{name}_eggs_count"] = float(insects.reached[0, species, Stage.EGG])
        numbers[f"{name}_peak_count"] = float(active[species].max(initial=0.0))
        eggs, adults = insects.reached[0, species, Stage.EGG], insects.reached[0, species, Stage.ADULT]
        numbers[f"{name}_egg_to_adult_share"] = _share(float(adults), float(eggs))
    return numbers


def _parasitised_share(garden: Garden) -> float:
    of_white = garden.insects.exits[0, :, Species.CABBAGE_WHITE]
    larvae = float(garden.insects.reached[0, Species.CABBAGE_WHITE, Stage.INSTAR_1])
    return _share(float(of_white[:, LARVAL, Fate.PARASITISED].sum()), larvae)


def _birds_of(garden: Garden, _: dict[int, float]) -> dict[str, float]:
    book, nests = garden.chronicle, garden.nests
    nestling_days = book.column("nestlings") > 0
    reachable = {group: book.column(f"{group}_reachable_g") for group in PREY_GROUPS}
    together = np.sum(list(reachable.values()), axis=0)

    def mean_with_nestlings(values: np.ndarray) -> float:
        return float(values[nestling_days].mean()) if nestling_days.any() else float("nan")

    return {
        "bird_food_reachable_g": mean_with_nestlings(together),
        "bird_food_in_beds_g": mean_with_nestlings(together - book.column("margin_reachable_g")),
        "caterpillars_reachable_g": mean_with_nestlings(reachable["caterpillars"]),
        "caterpillars_reachable_season_g": float(reachable["caterpillars"].mean()),
        **{f"{group}_reachable_season_g": float(values.mean()) for group, values in reachable.items()},
        "caterpillars_grown_reachable_g": float(book.column("caterpillars_grown_reachable_g").sum()),
        "bird_food_delivered_g": nests.fed_g(Place.GARDEN),
        "caterpillars_to_nests_count": nests.fed_count(Place.GARDEN, PreyGroup.CATERPILLAR),
        "caterpillars_fed_count": sum(nests.fed_count(place, PreyGroup.CATERPILLAR) for place in Place),
        "garden_food_share": nests.garden_share if len(nests.nests) else float("nan"),
        "brood_days_fed_count": nests.brood_days_fed,
        "nestlings_fledged_count": nests.fledged,
        "nestlings_starved_count": nests.starved,
        "birds_entangled_count": nests.entangled,
    }


def _bees_of(garden: Garden, _: dict[int, float]) -> dict[str, float]:
    book = garden.chronicle
    visits = float(sum(book.column(f"{bee}_visits").sum() for bee in ("honey_bee", "bumble_bee", "small_bee")))
    flowers = float(garden.plants.flows[: garden.layout.margin]["flowers_opened"].sum())
    numbers = {
        "flower_visits_count": visits,
        "visits_per_flower": _share(visits, flowers),
        "bees_harmed_share": _share(float(garden.pollinators.harmed.sum()), float(garden.pollinators.at_work.sum())),
        "parasitoid_wasps_mean_count": float(book.column("parasitoid_wasps").mean()),
    }
    for enemy in range(GENERALISTS):
        name = f"{word(Predator(enemy))}s"
        numbers[f"{name}_mean_count"] = float(book.column(name).mean())
    return numbers


def _work_of(garden: Garden, _: dict[int, float]) -> dict[str, float]:
    gardener = garden.gardener
    minutes, cost = gardener.minutes.sum(axis=0), gardener.spent_usd().sum(axis=0)
    care = [int(task) for task in _PEST_CARE]
    hours = float(minutes.sum()) / MINUTES_PER_HOUR
    marketable = sum(tally[1] for tally in garden.harvests.values())
    return {
        "labour_minutes": float(minutes.sum()),
        "pest_care_minutes": float(minutes[care].sum()),
        "cost_usd": float(cost.sum()),
        "pest_care_usd": float(cost[care].sum()),
        "sprays_count": garden.beds_sprayed,
        "put_off_count": float(gardener.put_off.sum()),
        "spray_days_lost_count": len(gardener.days_lost_to_weather),
        "marketable_kg_per_hour": _share(marketable, hours),
    }


def _energy_of(flows: Flows) -> dict[str, float]:
    return {
        "light_caught_mj": flows.light_mj,
        "plants_grown_kj": flows.grown_kj,
        "eaten_by_insects_kj": flows.eaten_kj,
        "insects_grown_kj": flows.insects_kj,
        "insects_to_enemies_kj": flows.to_enemies_kj,
        "insects_to_birds_kj": flows.to_birds_kj,
        "garden_to_nestlings_kj": flows.nestlings_from_garden_kj,
        "hedgerow_to_nestlings_kj": flows.nestlings_from_hedgerow_kj,
        "territory_to_nestlings_kj": flows.nestlings_from_territory_kj,
    }
