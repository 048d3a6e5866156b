"""The numbers of each species as record arrays that compiled rules take as arguments.

Takes ``Parameters``; gives ``LIFE`` records by species and stage, ``FLIER`` records by species, host weights, and one
``HABITS`` record for what holds in general.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sim.cast import CROPS, SPECIES, STAGES, Species, Stage
from sim.compiled import Floats, Records, records
from sim.parameters import Parameters

GUILD = {
    Species.CABBAGE_WHITE: "moths.cabbage_white",
    Species.CABBAGE_LOOPER: "moths.cabbage_looper",
    Species.DIAMONDBACK_MOTH: "moths.diamondback_moth",
    Species.HARLEQUIN_BUG: "bugs_and_beetles.harlequin_bug",
    Species.FLEA_BEETLE: "bugs_and_beetles.flea_beetle",
    Species.CUCUMBER_BEETLE: "bugs_and_beetles.cucumber_beetle",
    Species.PARASITOID_WASP: "parasitoid.parasitoid_wasp",
}
"""Where each species' parameters stand."""

_BY_STAGE = (
    "base_c",
    "heat_dd",
    "mass_at_end_mg",
    "failed_share",
    "disease_per_day",
    "hunting_wasps_per_day",
    "other_parasitoids_per_day",
    "rain_loss",
    "heat_death_per_day",
    "cold_death_per_day",
    "starve_days",
    "head_share",
    "in_soil",
)
_BY_SPECIES = ("upper_c", "heat_death_c", "cold_death_c")
LIFE = np.dtype(
    [
        (name, "f8")
        for name in (
            *_BY_STAGE,
            *_BY_SPECIES,
            "leaf_cm2",
            "root_cm2_per_dd",
            "start_mg",
            "growth_ln",
            "next_stage",
            "feeds",
        )
    ],
    align=True,
)
"""One record a species and stage, shape (SPECIES, STAGES). ``next_stage`` is -1 for the adult."""

_OF_FLIERS = (
    "pace_spread",
    "under_leaf_share",
    "leaves_plant_share",
    "adult_leaf_cm2_per_day",
    "female_share",
    "preoviposition_dd",
    "egg_peak_dd",
    "potential_eggs",
    "eggs_per_visit",
    "life_dd",
    "shut_in_egg_share",
    "shut_in_ageing",
    "plants_tried_per_day",
    "leave_per_try",
    "flight_low_c",
    "flight_full_c",
    "dull_share",
    "stay_share",
    "try_bare_share",
    "edge_factor",
    "leaf_exponent",
    "wakes_dd",
    "wake_spread_dd",
    "rest_day_length_h",
    "winters_here_share",
    "winter_survival_share",
    "overwintered_per_m2",
)
FLIER = np.dtype([(name, "f8") for name in _OF_FLIERS], align=True)
"""One record a species: its adults, and what is the same for all its stages."""

_HABITS = {
    "rain_harmless_mm": "insects.rain.harmless_mm",
    "rain_full_mm": "insects.rain.full_mm",
    "rain_lower_factor": "insects.rain.lower_side_factor",
    "head_predator_factor": "insects.shelter.head_predator_factor",
    "head_spray_factor": "insects.shelter.head_spray_factor",
    "wasps_leave_over_die": "insects.shut_in.wasps_leave_over_die",
    "disease_larvae_per_plant": "insects.crowding.disease_larvae_per_plant",
    "adult_reference_c": "insects.feeding.adult_reference_c",
    "adult_stop_c": "insects.feeding.adult_stop_c",
    "crawl_to_next_plant": "insects.feeding.crawl_to_next_plant",
    "crawling_instar": "insects.feeding.crawling_instar",
    "change_leaf_per_day": "insects.feeding.change_leaf_per_day",
    "flower_share": "insects.feeding.flower_share",
    "hungry_below_share": "insects.feeding.hungry_below_share",
    "adult_most_share": "insects.feeding.adult_most_share",
    "hungry_growth_floor": "insects.feeding.hungry_growth_floor",
    "clear_for_full": "insects.flight.clear_for_full",
    "overcast_share": "insects.flight.overcast_share",
    "rain_stops_mm": "insects.flight.rain_stops_mm",
    "life_spread": "insects.flight.life_spread",
    "shortest_life_share": "insects.flight.shortest_life_share",
    "oldest_comer_share": "insects.flight.oldest_comer_share",
    "soil_swing_share": "insects.soil.swing_share",
    "infective_spring_share": "insects.wilt.infective_spring_share",
    "infective_late_share": "insects.wilt.infective_late_share",
    "late_from_day_of_year": "insects.wilt.late_from_day_of_year",
    "infection_per_beetle_day": "insects.wilt.infection_per_beetle_day",
    "pick_up_per_beetle_day": "insects.wilt.pick_up_per_beetle_day",
    "vining_factor": "insects.wilt.vining_factor",
    "vining_leaf_cm2": "insects.wilt.vining_leaf_cm2",
    "host_youngest_instar": "parasitoid.search.host_youngest_instar",
    "host_oldest_instar": "parasitoid.search.host_oldest_instar",
    "find_per_visit": "parasitoid.search.find_per_visit",
    "handling_hosts": "parasitoid.search.handling_hosts",
    "brood_cocoons": "parasitoid.search.brood_cocoons",
    "in_host_dd": "parasitoid.search.in_host_dd",
    "host_appetite": "parasitoid.search.host_appetite",
    "damage_pull": "parasitoid.search.damage_pull",
    "damage_full_share": "parasitoid.search.damage_full_share",
    "brood_spread": "parasitoid.search.brood_spread",
}
HABITS = np.dtype([(name, "f8") for name in _HABITS], align=True)
"""One record for all species."""


@dataclass(frozen=True, slots=True)
class InsectTable:
    """Everything compiled rules need to know of the species."""

    life: Records
    fliers: Records
    host_weights: Floats
    goes_along: Floats
    habits: Records


@lru_cache(maxsize=8)
def insect_table(parameters: Parameters) -> InsectTable:
    """Return the numbers of all species.

    ``life`` has shape (SPECIES, STAGES), ``fliers`` (SPECIES,), ``host_weights`` (SPECIES, CROPS), ``goes_along``
    (SPECIES, STAGES), ``habits`` (1,).
    """
    life = np.zeros((SPECIES, STAGES), LIFE)
    fliers = np.zeros(SPECIES, FLIER)
    weights = np.zeros((SPECIES, CROPS))
    goes_along = np.tile(parameters.numbers("insects.picking.goes_along_share"), (SPECIES, 1))
    goes_along[Species.HARLEQUIN_BUG] = parameters.numbers("insects.picking.bugs_go_along_share")
    for species in Species:
        _fill_species(life[species], fliers[species : species + 1], parameters, GUILD[species])
        weights[species] = parameters.numbers(f"hosts.weights.{species.name.lower()}")
    habits = np.zeros(1, HABITS)
    for name, key in _HABITS.items():
        habits[name] = parameters.number(key)
    return InsectTable(records(life), records(fliers), weights, goes_along, records(habits))


def _fill_species(life: Records, flier: Records, parameters: Parameters, key: str) -> None:
    for name in _BY_STAGE:
        life[name] = parameters.numbers(f"{key}.{name}")
    for name in _BY_SPECIES:
        life[name] = parameters.number(f"{key}.{name}")
    life["leaf_cm2"] = parameters.number(f"{key}.leaf_total_cm2") * parameters.numbers(f"{key}.leaf_share")
    larva = life[Stage.INSTAR_1 : Stage.INSTAR_2]  # in soil all instars count as one stage
    larva["root_cm2_per_dd"] = parameters.number(f"{key}.root_cm2") / np.maximum(larva["heat_dd"], 1.0)
    for name in _OF_FLIERS:
        flier[name] = parameters.number(f"{key}.{name}")
    life["feeds"] = life["leaf_cm2"] > 0
    life["feeds"][Stage.ADULT] = float(flier["adult_leaf_cm2_per_day"][0] > 0)
    living = [stage for stage in range(STAGES - 1) if life["heat_dd"][stage] > 0] + [int(Stage.ADULT)]
    life["next_stage"] = -1
    before = living[0]
    for stage in living:
        if stage != before:
            life["next_stage"][before] = stage
        start = life["mass_at_end_mg"][before if stage <= Stage.INSTAR_5 else stage]
        life["start_mg"][stage] = start
        life["growth_ln"][stage] = np.log(life["mass_at_end_mg"][stage] / start)
        before = stage
