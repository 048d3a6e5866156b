"""The actors of a garden, made from a scenario: each guild is given plain values, none of them knows the scenario."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from sim.birds.nests import Nests
from sim.cast import SPECIES, Bird, Crop, Product, Species
from sim.compiled import Floats
from sim.crops.plants import Plants
from sim.enemies.generalists import Generalists
from sim.insects.aphids import Aphids
from sim.insects.arrivals import females_per_day, pressures
from sim.insects.population import Insects, SprayEffects
from sim.insects.table import insect_table
from sim.layout import Layout
from sim.parameters import Parameters
from sim.pollinators import Pollinators
from sim.practices.gardener import Gardener
from sim.practices.kills import eaten_share, kill_table, wasp_kill
from sim.practices.sprays import Sprays
from sim.practices.workday import BedFacts
from sim.randomness import stream_key
from sim.scenario import Scenario

if TYPE_CHECKING:
    from sim.garden import Garden

_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def pest_factors(scenario: Scenario) -> Floats:
    """Return the scenario's factor on each species, shape (SPECIES,)."""
    pests = scenario.pests
    factors = [getattr(pests, species.name.lower()) for species in Species if species != Species.PARASITOID_WASP]
    return np.array([factor * pests.arrivals for factor in factors] + [scenario.enemies.parasitoid_wasps])


def plants_of(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int) -> Plants:
    """Return every plant of the garden, the margin's wild hosts last."""
    beds = scenario.single_beds
    keys = np.array([stream_key(seed, "plant", number) for number in range(len(layout.crop))], np.uint64)

    def spread(values: list[float], margin: float) -> Floats:
        return np.array([*values, margin])[layout.bed]

    return Plants(
        garden, parameters, crop=layout.crop, bed=layout.bed, x_m=layout.x_m, y_m=layout.y_m,
        edge_share=layout.edge_share, keys=keys, vigour=spread([bed.vigour for bed in beds], 1.0),
        self_fruitful=spread([bed.self_fruitful for bed in beds], 0.0).astype(np.uint8),
        from_seed=spread([bed.start == "seed" for bed in beds], 0.0).astype(np.uint8),
        once_over=spread([bed.harvest == "once" for bed in beds], 0.0).astype(np.uint8),
        ground_area_m2=layout.ground_area_m2,
    )  # fmt: skip


def insects_of(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int) -> Insects:
    """Return the record of insects, empty, with the season's expected comers."""
    table = insect_table(parameters)
    host_area = np.zeros(SPECIES)
    for place, bed in enumerate(scenario.single_beds):
        is_host = table.host_weights[:, Crop[bed.crop.upper()]] > 0
        host_area += np.where(is_host, layout.area_m2[place], 0.0)
    pressure = pressures(parameters, seed, host_area, pest_factors(scenario))
    expected = females_per_day(parameters, garden.latitude_deg, garden.days["day_of_year"]) * pressure
    effects = SprayEffects(kill_table(parameters), eaten_share(parameters), wasp_kill(parameters))
    return Insects(garden, table, effects, seed=seed, first_plant=layout.first_plant, expected_arrivals=expected)


def nests_of(
    garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int, spring_shift_days: float
) -> Nests:
    """Return the pairs of birds in reach."""
    pairs = [(Bird[nest.kind.upper()], nest.distance_m) for nest in scenario.birds.nests for _ in range(nest.count)]
    return Nests(
        garden, parameters, kind=np.array([kind for kind, _ in pairs], np.int64),
        distance_m=np.array([distance for _, distance in pairs], np.float64), seed=seed,
        garden_area_m2=layout.garden_area_m2,
        hedgerow_area_m2=garden.hedgerow_m * parameters.number("habitat.hedgerow_width_m"),
        use_of_garden=scenario.birds.use_of_garden, territory_food=scenario.birds.territory_food,
        spring_shift_days=spring_shift_days,
    )  # fmt: skip


def gardener_of(
    garden: Garden, scenario: Scenario, parameters: Parameters, plan: str, day_count: int, is_first_year: bool
) -> Gardener:
    """Return the gardener with the plan's calendar."""
    skipped = scenario.skipped_beds(plan)
    beds = [
        BedFacts(
            crop=Crop[bed.crop.upper()], area_m2=bed.length_m * bed.width_m, plants=bed.plant_count,
            planted=None if place in skipped else bed.planted, harvest=bed.harvest, is_sown=bed.start == "seed",
        )
        for place, bed in enumerate(scenario.single_beds)
    ]  # fmt: skip
    return Gardener(
        garden, parameters, beds=beds, actions=scenario.actions_of(plan), bed_positions=scenario.bed_positions,
        first_date=garden.first_date, day_count=day_count, minutes_per_day=scenario.gardener.minutes_per_day,
        is_first_season=is_first_year, works_on=[_WEEKDAYS.index(name) for name in scenario.gardener.works_on],
        labour_usd_per_hour=scenario.gardener.labour_usd_per_hour,
    )  # fmt: skip


def generalists_of(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout) -> Generalists:
    """Return ground beetles, spiders, lady beetles and lacewings of every bed."""
    guilds = scenario.enemies
    factors = np.array([guilds.ground_beetles, guilds.spiders, guilds.lady_beetles, guilds.lacewings])
    return Generalists(garden, parameters, bed_area_m2=layout.area_m2, factors=factors)


def aphids_of(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int) -> Aphids:
    """Return the cabbage aphids of every plant."""
    return Aphids(
        garden, parameters, plant_count=len(layout.crop), bed_count=len(layout.names),
        factor=scenario.pests.cabbage_aphid * scenario.pests.arrivals, seed=seed,
    )  # fmt: skip


def pollinators_of(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout) -> Pollinators:
    """Return the bees that work the garden's flowers."""
    bees = scenario.bees
    factors = np.array([bees.honey_bees, bees.bumble_bees, bees.small_bees])
    return Pollinators(garden, parameters, factors=factors, bed_count=len(layout.names))


def sprays_of(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int) -> Sprays:
    """Return what is sprayed in the garden and what drifts in from next door."""
    margin = scenario.margin
    return Sprays(
        garden, parameters, distance_m=layout.distance_m, seed=seed, neighbour_share=margin.neighbour_drift,
        neighbour_every_days=margin.neighbour_spray_every_days,
        neighbour_product=Product[margin.neighbour_product.upper()],
    )  # fmt: skip
