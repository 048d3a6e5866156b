"""What cabbage white and its wasp are like, read from the table of parameters into ordinary objects."""

from __future__ import annotations

import math
from types import SimpleNamespace

from sim.cast import Product, Species, Stage, word

GUILD = {Species.CABBAGE_WHITE: "moths.cabbage_white", Species.PARASITOID_WASP: "parasitoid.parasitoid_wasp"}
OF_A_STAGE = (
    "base_c", "heat_dd", "mass_at_end_mg", "failed_share", "disease_per_day", "hunting_wasps_per_day",
    "other_parasitoids_per_day", "rain_loss", "heat_death_per_day", "cold_death_per_day", "starve_days", "head_share",
    "leaf_share",
)  # fmt: skip
OF_A_SPECIES = (
    "upper_c", "heat_death_c", "cold_death_c", "pace_spread", "under_leaf_share", "leaves_plant_share", "female_share",
    "preoviposition_dd", "egg_peak_dd", "potential_eggs", "eggs_per_visit", "life_dd", "shut_in_egg_share",
    "shut_in_ageing", "plants_tried_per_day", "leave_per_try", "flight_low_c", "flight_full_c", "dull_share",
    "stay_share", "try_bare_share", "edge_factor", "leaf_exponent", "wakes_dd", "wake_spread_dd", "rest_day_length_h",
    "winter_survival_share", "leaf_total_cm2",
)  # fmt: skip
OF_ALL = {
    "insects": (
        "rain.harmless_mm", "rain.full_mm", "rain.lower_side_factor", "shelter.head_predator_factor",
        "shelter.head_spray_factor", "shut_in.wasps_leave_over_die", "crowding.disease_larvae_per_plant",
        "feeding.crawl_to_next_plant", "feeding.crawling_instar", "feeding.change_leaf_per_day",
        "feeding.hungry_growth_floor", "feeding.hungry_below_share",
        "flight.clear_for_full", "flight.overcast_share", "flight.rain_stops_mm",
        "flight.life_spread", "flight.shortest_life_share", "flight.oldest_comer_share",
    ),
    "parasitoid": (
        "search.host_youngest_instar", "search.host_oldest_instar", "search.find_per_visit", "search.handling_hosts",
        "search.brood_cocoons", "search.in_host_dd", "search.host_appetite", "search.damage_pull",
        "search.damage_full_share", "search.brood_spread",
    ),
}  # fmt: skip
LARVAE = range(Stage.INSTAR_1, Stage.PUPA)


def read_nature(parameters):
    """Return the two species, each with its stages, and the habits that all insects share."""
    habits = {key.split(".")[1]: parameters.number(f"{guild}.{key}") for guild, keys in OF_ALL.items() for key in keys}
    return SimpleNamespace(
        white=_species(parameters, Species.CABBAGE_WHITE),
        wasp=_species(parameters, Species.PARASITOID_WASP),
        habits=SimpleNamespace(**habits),
        goes_along_share=parameters.numbers("insects.picking.goes_along_share").tolist(),
        eaten_share=[parameters.number(f"sprays.{word(product)}.eaten_share") for product in Product],
        wasp_kill=[parameters.number(f"sprays.{word(product)}.wasp_kill") for product in Product],
    )


def _species(parameters, species):
    one = SimpleNamespace(species=species)
    for name in OF_A_SPECIES:
        setattr(one, name, parameters.number(f"{GUILD[species]}.{name}"))
    one.host_weights = parameters.numbers(f"hosts.weights.{word(species)}").tolist()
    one.stages = [_stage(parameters, species, stage) for stage in Stage]
    for kind in one.stages:
        kind.leaf_cm2 = one.leaf_total_cm2 * kind.leaf_share
        kind.feeds = kind.leaf_cm2 > 0.0
        earlier = one.stages[max(0, kind.stage - 1)]
        kind.start_mg = earlier.mass_at_end_mg if kind.stage in LARVAE else kind.mass_at_end_mg
        kind.growth = math.log(kind.mass_at_end_mg / kind.start_mg)
    return one


def _stage(parameters, species, stage):
    numbers = {name: float(parameters.numbers(f"{GUILD[species]}.{name}")[stage]) for name in OF_A_STAGE}
    kills = [0.0] * len(Product)
    if species == Species.CABBAGE_WHITE:
        kills = [float(parameters.numbers(f"sprays.{word(p)}.kill.{word(species)}")[stage]) for p in Product]
    elif stage == Stage.ADULT:
        kills = [parameters.number(f"sprays.{word(p)}.wasp_kill") for p in Product]
    return SimpleNamespace(stage=stage, kills=kills, **numbers)
