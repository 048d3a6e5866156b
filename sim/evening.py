"""The evening: one row of the chronicle from what the day left behind."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from sim.birds.menu import Place, PreyGroup
from sim.cast import SPECIES, STAGES, Predator, Species, Stage, Visitor
from sim.chronicle import CATERPILLARS, GROUP_OF_PREY, LARVAL, PLANT_EATERS, PREY_GROUPS
from sim.compiled import Floats
from sim.practices.workday import Workday

if TYPE_CHECKING:
    from sim.garden import Garden

_MG_PER_G = 1000.0
_CM2_PER_M2 = 10_000.0
_PLANT_EATERS = np.array([int(species) for species in PLANT_EATERS])
_WITH_PUPA = np.array([int(species) for species in PLANT_EATERS if species != Species.HARLEQUIN_BUG])
_CATERPILLARS = np.array([int(species) for species in CATERPILLARS])
_GROUP = np.zeros((SPECIES, STAGES), np.int64)
for (_species, _stage), _name in GROUP_OF_PREY.items():
    _GROUP[_species, _stage] = PREY_GROUPS.index(_name)
_SPIDERS = PREY_GROUPS.index("spiders")


def reachable_g(garden: Garden) -> Floats:
    """Return the mass of each prey group that birds can reach in beds and margin today [g], shape (groups,)."""
    open_to_birds = garden.near.gets_in[:, Visitor.BIRD]
    mass = np.einsum("b,bst->st", open_to_birds, garden.near.mass_mg)
    groups = np.bincount(_GROUP.ravel(), weights=mass.ravel(), minlength=len(PREY_GROUPS))
    spiders = (
        garden.generalists.density_per_m2[:, Predator.SPIDER]
        * garden.layout.area_m2
        * garden.nests.menu.enemies["mg"][Predator.SPIDER]
    )
    groups[_SPIDERS] = float(open_to_birds @ spiders)
    return np.asarray(groups / _MG_PER_G, dtype=np.float64)


def write_down(garden: Garden, workday: Workday) -> None:
    """Write today's row."""
    day, book, today = garden.day, garden.chronicle, garden.days[garden.day]
    in_beds = garden.near.alive[:-1].sum(axis=0)
    margin = garden.near.alive[-1]
    harvests = np.array(list(garden.harvests.values())).reshape(-1, 4).sum(axis=0)
    plants = garden.plants.plants[: garden.layout.first_plant[-2]]
    book.write(
        day,
        tmin_c=today["tmin_c"],
        tmax_c=today["tmax_c"],
        rain_mm=today["rain_mm"],
        covered_beds=float(garden.near.beds["is_covered"].sum()),
        leaf_area_m2=float(plants["leaf_area_cm2"].sum()) / _CM2_PER_M2,
        leaf_eaten_m2=float(plants["eaten_cm2"].sum()) / _CM2_PER_M2,
        harvest_kg=harvests[0],
        marketable_kg=harvests[1],
        caterpillars_in_margin=float(margin[_CATERPILLARS, LARVAL].sum()),
        parasitoid_wasps=float(in_beds[Species.PARASITOID_WASP, Stage.ADULT]),
        aphids=garden.aphids.alive(),
        caterpillars_grown_reachable_g=grown_in_reach_g(garden),
        nestlings=garden.nests.nestlings,
        fledged=garden.nests.fledged,
        fed_from_garden_kj=garden.nests.delivered_kj(Place.GARDEN),
        fed_from_hedgerow_kj=garden.nests.delivered_kj(Place.HEDGEROW),
        fed_from_territory_kj=garden.nests.delivered_kj(Place.TERRITORY),
        caterpillars_to_nests=garden.nests.fed_count(Place.GARDEN, PreyGroup.CATERPILLAR),
        feeding_visits=garden.nests.visits(),
        open_flowers=float(plants["open_flowers"].sum()),
        fruit_set=garden.fruit_set,
        labour_minutes=float(garden.gardener.minutes[day].sum()),
        cost_usd=float(garden.gardener.cost_usd[day].sum()),
        beds_sprayed=len(workday.sprayed),
        turned_away=float(garden.insects.turned_away.sum()),
    )
    book.write_span(day, "cabbage_white_eggs", in_beds[_PLANT_EATERS, Stage.EGG])
    book.write_span(day, "cabbage_white_young", in_beds[_PLANT_EATERS, LARVAL].sum(axis=1))
    book.write_span(day, "cabbage_white_pupae", in_beds[_WITH_PUPA, Stage.PUPA])
    book.write_span(day, "cabbage_white_adults", in_beds[_PLANT_EATERS, Stage.ADULT])
    book.write_span(day, "caterpillars_reachable_g", reachable_g(garden))
    book.write_span(day, "ground_beetles", garden.generalists.alive())
    book.write_span(day, "honey_bee_visits", garden.visits.sum(axis=0).astype(np.float64))


def grown_in_reach_g(garden: Garden) -> float:
    """Return the caterpillar mass that grew today where birds can reach it [g]."""
    open_to_birds = garden.near.gets_in[:, Visitor.BIRD]
    return float(open_to_birds @ garden.insects.grown_mg[:, _CATERPILLARS].sum(axis=1)) / _MG_PER_G
