"""What a generalist enemy is to its prey: search, appetite and pace. Only ``generalists.py`` calls these rules."""

from __future__ import annotations

import numpy as np

from sim.compiled import Floats, Records, loop, rule

HUNTER = np.dtype(
    [
        ("settled_density_per_m2", "f8"),
        ("winter_share", "f8"),
        ("search_m2_per_day", "f8"),
        ("ration_mg_per_day", "f8"),
        ("other_prey_mg_per_m2", "f8"),
        ("aphid_weight", "f8"),
        ("idle_c", "f8"),
        ("active_c", "f8"),
        ("settling_per_day", "f8"),
        ("starving_per_day", "f8"),
        ("aphid_drawing", "f8"),
        ("hedgerow_gain", "f8"),
        ("flower_gain", "f8"),
    ],
    align=True,
)
"""What one kind of enemy is like; each field is a row of ``enemies.toml``."""

SHARED = np.dtype(
    [("aphid_mass_mg", "f8"), ("aphid_half_per_m2", "f8"), ("hedgerow_half_m", "f8"), ("flower_half_m2", "f8")],
    align=True,
)


@rule
def activity(mean_c: float, idle_c: float, active_c: float) -> float:
    """Return the pace of life, 0 at idle_c and below, 1 from active_c on, straight in between."""
    return min(1.0, max(0.0, (mean_c - idle_c) / (active_c - idle_c)))


@rule
def still_hungry(search_m2_per_day: float, ration_mg_per_day: float, prey_mg_per_m2: float) -> float:
    """Return the share of an enemy's time in which it still searches, 1 / (1 + a·h·N) with h·N as mass over ration."""
    return 1.0 / (1.0 + search_m2_per_day * prey_mg_per_m2 / ration_mg_per_day)


@rule
def prey_on_offer_mg(mass_mg: Floats, area_m2: float, weights: Floats) -> float:
    """Return the mass of insects [mg/m²] in a bed, each weighed by how easily this enemy takes it."""
    total = 0.0
    for species in range(weights.shape[0]):
        for stage in range(weights.shape[1]):
            total += weights[species, stage] * mass_mg[species, stage]
    return total / area_m2


@loop
def hunt_in_beds(
    beds: Records,
    density_per_m2: Floats,
    mass_mg: Floats,
    aphids_per_m2: Floats,
    hunters: Records,
    shared: Records,
    weights: Floats,
    risk: Floats,
    aphid_risk: Floats,
    hungry_share: Floats,
) -> None:
    """Work out what each enemy is to each insect and aphid of each bed today, as a hazard (1/d)."""
    aphid_mass_mg = shared[0].aphid_mass_mg
    for bed in range(beds.size):
        mean_c = (beds[bed].tmin_c + beds[bed].tmax_c) / 2.0
        for enemy in range(hunters.size):
            hunter = hunters[enemy]
            prey_mg = prey_on_offer_mg(mass_mg[bed], beds[bed].area_m2, weights[enemy])
            prey_mg += hunter.other_prey_mg_per_m2 + hunter.aphid_weight * aphids_per_m2[bed] * aphid_mass_mg
            hungry = still_hungry(hunter.search_m2_per_day, hunter.ration_mg_per_day, prey_mg)
            pace = activity(mean_c, hunter.idle_c, hunter.active_c)
            hazard = density_per_m2[bed, enemy] * hunter.search_m2_per_day * hungry * pace
            hungry_share[bed, enemy] = hungry
            aphid_risk[bed, enemy] = hazard * hunter.aphid_weight
            for species in range(weights.shape[1]):
                for stage in range(weights.shape[2]):
                    risk[bed, species, stage, enemy] = hazard * weights[enemy, species, stage]
