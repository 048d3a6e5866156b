"""The evening: one row of the chronicle from what the day left behind."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from sim.birds.daybook import FED_COUNT, FED_KJ
from sim.birds.menu import Place, PreyGroup
from sim.cast import CATERPILLARS, PLANT_EATERS, SPECIES, STAGES, Predator, Species, Stage, Visitor, word
from sim.chronicle import GROUP_OF_PREY, PLACE
from sim.compiled import Floats, Ints, Records, loop
from sim.practices.workday import Workday

if TYPE_CHECKING:
    from sim.garden import Garden

_MG_PER_G = 1000.0
_CM2_PER_M2 = 10_000.0
_BIRD = int(Visitor.BIRD)
_EGG, _FIRST, _PUPA, _ADULT = int(Stage.EGG), int(Stage.INSTAR_1), int(Stage.PUPA), int(Stage.ADULT)
_WASP = int(Species.PARASITOID_WASP)
_SPIDER = int(Predator.SPIDER)
_KJ, _COUNT = FED_KJ, FED_COUNT
_GARDEN, _CATERPILLAR = int(Place.GARDEN), int(PreyGroup.CATERPILLAR)
_GROUP: Ints = np.zeros((SPECIES, STAGES), np.int64)
for (_species, _stage), _name in GROUP_OF_PREY.items():
    _GROUP[_species, _stage] = PLACE[f"{_name}_reachable_g"]
_IS_CATERPILLAR = np.array([float(species in CATERPILLARS) for species in Species])
_NO_COLUMN = -1
_STAGE_COLUMNS: Ints = np.full((SPECIES, STAGES), _NO_COLUMN)
for _eater in PLANT_EATERS:
    _kind = word(_eater)
    _STAGE_COLUMNS[_eater, _EGG] = PLACE[f"{_kind}_eggs"]
    _STAGE_COLUMNS[_eater, _FIRST:_PUPA] = PLACE[f"{_kind}_young"]
    _STAGE_COLUMNS[_eater, _PUPA] = PLACE.get(f"{_kind}_pupae", _NO_COLUMN)
    _STAGE_COLUMNS[_eater, _ADULT] = PLACE[f"{_kind}_adults"]
_STAGE_COLUMNS[_WASP, _ADULT] = PLACE["parasitoid_wasps"]
_ONES: Ints = np.array(
    [
        PLACE["caterpillars_in_margin"],
        PLACE["caterpillars_grown_reachable_g"],
        PLACE["spiders_reachable_g"],
        PLACE["leaf_area_m2"],
        PLACE["leaf_eaten_m2"],
        PLACE["open_flowers"],
        PLACE["aphids"],
        PLACE["margin_reachable_g"],
    ]
)
_NUMBERS: Ints = np.array(
    [
        PLACE["covered_beds"],
        PLACE["ground_beetles"],
        PLACE["honey_bee_visits"],
        PLACE["turned_away"],
        PLACE["fed_from_garden_kj"],
        PLACE["feeding_visits"],
        PLACE["nestlings"],
        PLACE["fledged"],
        PLACE["caterpillars_to_nests"],
    ]
)
_TOTALS: Ints = np.array([PLACE[name] for name in ("harvest_kg", "marketable_kg", "fruit_set", "beds_sprayed")])


@loop
def tally(
    row: Floats,
    awake: Floats,
    in_reach_mg: Floats,
    grown_mg: Floats,
    gets_in: Floats,
    density_per_m2: Floats,
    area_m2: Floats,
    spider_mg: float,
    plants: Records,
    crop_plants: int,
    group_columns: Ints,
    stage_columns: Ints,
    one_columns: Ints,
    is_caterpillar: Floats,
) -> None:
    """Add up the counted creatures and the plants of the beds into today's row; the margin is the last bed."""
    margin = awake.shape[0] - 1
    for b in range(margin + 1):
        reach = gets_in[b, _BIRD]
        spiders_g = reach * (density_per_m2[b, _SPIDER] * area_m2[b] * spider_mg) / _MG_PER_G
        row[one_columns[2]] += spiders_g
        row[one_columns[7]] += spiders_g if b == margin else 0.0
        for s in range(awake.shape[1]):
            row[one_columns[1]] += reach * grown_mg[b, s] * is_caterpillar[s] / _MG_PER_G
            for t in range(awake.shape[2]):
                count = awake[b, s, t]
                if count <= 0.0:
                    continue
                insects_g = reach * in_reach_mg[b, s, t] / _MG_PER_G
                row[group_columns[s, t]] += insects_g
                row[one_columns[7]] += insects_g if b == margin else 0.0
                if b < margin and stage_columns[s, t] >= 0:
                    row[stage_columns[s, t]] += count
                elif b == margin and is_caterpillar[s] > 0.0 and _FIRST <= t < _PUPA:
                    row[one_columns[0]] += count
    for p in range(crop_plants):
        row[one_columns[3]] += plants[p].leaf_area_cm2 / _CM2_PER_M2
        row[one_columns[4]] += plants[p].eaten_cm2 / _CM2_PER_M2
        row[one_columns[5]] += plants[p].open_flowers
        row[one_columns[6]] += plants[p].aphids


@loop
def tally_numbers(
    row: Floats,
    beds: Records,
    density_per_m2: Floats,
    visits: Ints,
    turned_away: Floats,
    nests: Records,
    fed: Floats,
    fed_so_far: Floats,
    items_per_trip: float,
    columns: Ints,
    totals: tuple[float, float, int, int],
    total_columns: Ints,
) -> None:
    """Write totals down; add up covered beds, enemies, bees' visits, turned-away tries, nestlings and their food."""
    row[total_columns[0]], row[total_columns[1]] = totals[0], totals[1]
    row[total_columns[2]], row[total_columns[3]] = totals[2], totals[3]
    for b in range(beds.size):
        row[columns[0]] += beds[b].is_covered
        for enemy in range(density_per_m2.shape[1]):
            row[columns[1] + enemy] += density_per_m2[b, enemy] * beds[b].area_m2
        for bee in range(visits.shape[1]):
            row[columns[2] + bee] += visits[b, bee]
        for s in range(turned_away.shape[0]):
            row[columns[3]] += turned_away[s, b]
    for n in range(nests.size):
        row[columns[6]] += nests[n].nestlings
        row[columns[7]] += nests[n].fledged
    for kind in range(fed.shape[1]):
        row[columns[8]] += fed_so_far[_COUNT, kind, _GARDEN, _CATERPILLAR]
        for place in range(fed.shape[2]):
            for group in range(fed.shape[3]):
                row[columns[4] + place] += fed[_KJ, kind, place, group]
                row[columns[5]] += fed[_COUNT, kind, place, group] / items_per_trip


def write_down(garden: Garden, workday: Workday) -> None:
    """Write today's row."""
    row = garden.chronicle.rows[garden.day]
    near, nests, density_per_m2 = garden.near, garden.nests, garden.generalists.density_per_m2
    tally(
        row, garden.insects.awake, garden.insects.in_reach_mg, garden.insects.grown_mg, near.gets_in, density_per_m2,
        garden.layout.area_m2, nests.spider_mg, garden.plants.plants, garden.crop_plants, _GROUP, _STAGE_COLUMNS, _ONES,
        _IS_CATERPILLAR,
    )  # fmt: skip
    tally_numbers(
        row, near.beds, density_per_m2, garden.visits, garden.insects.turned_away, nests.nests, nests.book.today,
        nests.book.season, nests.items_per_trip, _NUMBERS,
        (garden.picked_kg, garden.marketable_kg, garden.fruit_set, len(workday.sprayed)), _TOTALS,
    )  # fmt: skip


def close_book(garden: Garden) -> None:
    """Write what is known for all days at once, and turn totals so far into what each day added."""
    book, gardener = garden.chronicle, garden.gardener
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        book.column(name)[:] = garden.days[name]
    book.column("labour_minutes")[:] = gardener.minutes.sum(axis=1)
    book.column("cost_usd")[:] = gardener.spent_usd().sum(axis=1)
    book.close()
