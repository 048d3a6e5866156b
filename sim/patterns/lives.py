"""Lives of insects in a garden: who survives, who takes them, how many generations a year."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import cache

import numpy as np

from sim.cast import Fate, Species, Stage, word
from sim.chronicle import LARVAL
from sim.garden import Garden
from sim.insects.population import Insects
from sim.parameters import load_parameters
from sim.patterns.gardens import NOTHING, PLANTED_COOL, bed, garden, only
from sim.scenario import Scenario
from sim.season import Season, run_season

WHITE = Species.CABBAGE_WHITE
BIRDS = slice(int(Fate.EATEN_BY_TIT_LIKE_BIRD), int(Fate.EATEN_BY_WOODPECKER_LIKE_BIRD) + 1)
ONE_NEST = ({"kind": "wren_like", "distance_m": 25.0},)
MOST_GENERATIONS = 12
DAYS_TO_EGG_PEAK = 5
"""From emergence to the middle of egg-laying in summer weather (60 degree-days)."""


def seasons(scenario: Scenario, plan: str, seeds: Sequence[int]) -> list[Season]:
    """Return one season for each seed."""
    return [run_season(scenario, plan, seed) for seed in seeds]


def reached(lived: Sequence[Season], species: Species, stage: Stage) -> float:
    """Return insects of the beds that came to a stage, over all seasons."""
    return float(sum(season.garden.insects.reached[0, species, stage] for season in lived))


def mean_of(place: Scenario, plan: str, seeds: Sequence[int], measure: str) -> float:
    """Return the mean of a measure over seasons; a missing one counts as 0."""
    return float(np.mean([season.summary.get(measure, 0.0) for season in seasons(place, plan, seeds)]))


def share(part: float, whole: float) -> float:
    """Return one number over another; infinite over nothing, and no number for nothing over nothing."""
    if whole:
        return part / whole
    return float("inf") if part > 0 else float("nan")


def open_kale_place() -> Scenario:
    """Return a bed of unpicked kale in a cool climate with one nest in reach, without any care."""
    beds = [bed("kale", "kale", harvest="none", planted=PLANTED_COOL)]
    return garden(beds, {"nothing": NOTHING}, climate="cool_maritime", nests=ONE_NEST)


@cache
def open_kale(seeds: tuple[int, ...]) -> list[Season]:
    """Return seasons of that kale."""
    return seasons(open_kale_place(), "nothing", seeds)


def egg_to_pupa(seeds: Sequence[int]) -> float:
    """Return the share of cabbage white eggs of an open bed that become pupae."""
    lived = open_kale(tuple(seeds))
    return share(reached(lived, WHITE, Stage.PUPA), reached(lived, WHITE, Stage.EGG))


def deaths_in_small_larvae(seeds: Sequence[int]) -> float:
    """Return the share of the deaths before the pupa that fall in the first two instars."""
    lived = open_kale(tuple(seeds))
    small = reached(lived, WHITE, Stage.INSTAR_1) - reached(lived, WHITE, Stage.INSTAR_3)
    return share(small, reached(lived, WHITE, Stage.EGG) - reached(lived, WHITE, Stage.PUPA))


def larvae_to_birds(seeds: Sequence[int]) -> float:
    """Return larvae that birds took for each that came to the fourth instar."""
    lived = open_kale(tuple(seeds))
    taken = sum(float(season.garden.insects.exits[0, :, WHITE, LARVAL, BIRDS].sum()) for season in lived)
    return share(taken, reached(lived, WHITE, Stage.INSTAR_4))


def extra_loss_to_arthropods(seeds: Sequence[int]) -> float:
    """Return how much less often an egg becomes a pupa where generalist enemies are let in, birds kept out."""
    beds = [bed("kale", "kale", harvest="none", planted=PLANTED_COOL)]
    none = dict.fromkeys(("ground_beetles", "spiders", "lady_beetles", "lacewings"), 0.0)
    survivals = []
    for enemies in ({}, none):
        place = garden(beds, {"nothing": NOTHING}, climate="cool_maritime", enemies=enemies)
        lived = seasons(place, "nothing", seeds)
        survivals.append(share(reached(lived, WHITE, Stage.PUPA), reached(lived, WHITE, Stage.EGG)))
    return 1.0 - share(survivals[0], survivals[1])


def more_egg_wasps(seeds: Sequence[int]) -> float:
    """Return leaf eaten where egg wasps take about half of the eggs, as a share of leaf eaten where they take few."""
    entry = load_parameters()["moths.cabbage_white.other_parasitoids_per_day"]
    row = [value for _, value, _ in entry.bounds()]
    row[Stage.EGG] = entry.bounds()[Stage.EGG][-1]
    eaten = []
    for numbers in ({}, {entry.key: tuple(row)}):
        place = garden(
            [bed("cabbage", "cabbage", harvest="none", planted=PLANTED_COOL)], {"nothing": NOTHING},
            climate="cool_maritime", nests=ONE_NEST, pests=only("cabbage_white"), numbers=numbers,
        )  # fmt: skip
        lived = seasons(place, "nothing", seeds)
        eaten.append(sum(float(season.garden.chronicle.column("leaf_eaten_m2").sum()) for season in lived))
    return share(eaten[1], eaten[0])


def generations_northwest(seeds: Sequence[int]) -> float:
    """Return generations of cabbage white a year in the maritime climate with dry summers."""
    return float(np.mean([_generations("dry_summer_maritime", seed) for seed in seeds]))


def generations_warm(seeds: Sequence[int]) -> float:
    """Return generations of cabbage white a year in the warm humid climate."""
    return float(np.mean([_generations("warm_humid", seed) for seed in seeds]))


def _generations(climate: str, seed: int) -> int:
    """Follow egg cohorts: each is laid in the middle of the egg-laying of those that the last one gave."""
    laid = _first_eggs(climate, seed)
    for generation in range(MOST_GENERATIONS):
        lived = cohort(climate, laid, seed)
        pupae = lived.chronicle.column(f"{word(WHITE)}_pupae")
        many = np.flatnonzero(pupae > pupae.max() / 2)
        if not len(many):  # pupae at rest are not in that column: those that wait for spring are the last generation
            return generation + int(waits_for_spring(lived.insects))
        laid = int(many[-1]) + DAYS_TO_EGG_PEAK
        if laid >= len(pupae) - 1:
            return generation + 1  # winter came first
    return MOST_GENERATIONS


def cohort(climate: str, laid: int, seed: int) -> Garden:
    """Return a garden in which eggs of cabbage whites, laid on one day of the season, lived without enemies."""
    quiet = dict.fromkeys(("ground_beetles", "spiders", "lady_beetles", "lacewings", "parasitoid_wasps"), 0.0)
    place = garden(
        [bed("kale", "kale", harvest="none", planted=_date(laid), transplant_eggs_per_plant=10.0)],
        {"nothing": NOTHING}, climate=climate, pests=only("cabbage_white") | {"stay_share": 0.0}, enemies=quiet,
        numbers=_nobody_arrives(),
    )  # fmt: skip
    return run_season(place, "nothing", seed).garden


def waits_for_spring(insects: Insects) -> bool:
    """Return whether pupae of cabbage whites are at winter rest on the last evening."""
    alive = insects.records[: insects.count]
    return bool(((alive["species"] == WHITE) & (alive["stage"] == Stage.PUPA) & (alive["is_resting"] == 1)).any())


def _first_eggs(climate: str, seed: int) -> int:
    place = garden(
        [bed("kale", "kale", harvest="none", planted="03-05", old_stalks=True, hosted_last_year=True)],
        {"nothing": NOTHING}, climate=climate, pests=only("cabbage_white") | {"cabbage_white": 5.0, "stay_share": 1.0},
        numbers=_nobody_arrives(),
    )  # fmt: skip
    eggs = run_season(place, "nothing", seed).garden.chronicle.column(f"{word(WHITE)}_eggs")
    return int(np.argmax(eggs > 0))


def _nobody_arrives() -> dict[str, tuple[float, ...]]:
    table = load_parameters()
    keys = [f"arrivals.females_per_day.{place}.{word(WHITE)}" for place in ("north", "south")]
    return {key: (0.0,) * len(table[key].bounds()) for key in keys}


def _date(day: int) -> str:
    return (date(2025, 3, 1) + timedelta(days=day)).strftime("%m-%d")
