"""How many come, when, and to which plants."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.signal import find_peaks

from sim.cast import Entry, Species, Stage, word
from sim.chronicle import LARVAL
from sim.patterns.gardens import NOTHING, PLANTED_COOL, bed, begin, garden, only
from sim.patterns.lives import mean_of, reached, seasons, share
from sim.scenario import Scenario
from sim.season import Season

JULY = slice(122, 153)
"""Days of a season that begins on 1 March."""
WHILE_BOTH_STAND = 90
"""Days until cabbage is ready: to the end of May."""


def small_over_large_patch(seeds: Sequence[int]) -> float:
    """Return cabbage white eggs a plant and visiting female in 18 plants over those in 180 plants."""
    a_plant = []
    for plants in (18, 180):
        place = garden(
            [bed("kale", "kale", plants, harvest="none")], {"nothing": NOTHING},
            pests=only("cabbage_white") | {"stay_share": 0.0},
        )  # fmt: skip
        lived = seasons(place, "nothing", seeds)
        a_plant.append(reached(lived, Species.CABBAGE_WHITE, Stage.EGG) / plants / _arrived(lived))
    return share(*a_plant)


def _arrived(lived: Sequence[Season]) -> float:
    return float(sum(season.garden.insects.entries[Entry.ARRIVED, Species.CABBAGE_WHITE] for season in lived))


def collard_ring_for_diamondback(seeds: Sequence[int]) -> float:
    """Return diamondback larvae on cabbage with collards beside it over those on cabbage without."""
    return _larvae_on_guarded_over_bare_cabbage("diamondback_moth", seeds)


def collard_ring_for_white(seeds: Sequence[int]) -> float:
    """Return cabbage white larvae on cabbage with collards beside it over those on cabbage without."""
    return _larvae_on_guarded_over_bare_cabbage("cabbage_white", seeds)


def _larvae_on_guarded_over_bare_cabbage(pest: str, seeds: Sequence[int]) -> float:
    """Compare the crop that is to be guarded, not the guard with the guarded."""
    both = [bed("cabbage", "cabbage", harvest="none"), bed("collards", "collard", harvest="none")]
    plans = {"guarded": NOTHING, "bare": ({"do": "skip_bed", "beds": ["collards"]},)}
    place = garden(both, plans, pests=only(pest))
    species = Species[pest.upper()]
    larvae = {plan: sum(_larva_days_in_first_bed(place, plan, species, seed) for seed in seeds) for plan in plans}
    return share(larvae["guarded"], larvae["bare"])


def _larva_days_in_first_bed(place: Scenario, plan: str, species: Species, seed: int) -> float:
    """Live a season day by day and add up the larvae of the first bed."""
    now = begin(place, plan, seed)
    days = 0.0
    for _ in range(WHILE_BOTH_STAND):
        now.step()
        days += float(now.near.alive[0, species, LARVAL].sum())
    return days


def mustard_guards_collards(seeds: Sequence[int]) -> float:
    """Return the share of growth eaten with a mustard strip beside collards over that without, few harlequin bugs."""
    eaten = []
    for plan, actions in {"with": NOTHING, "without": ({"do": "skip_bed", "beds": ["mustard"]},)}.items():
        beds = [bed("collards", "collard"), bed("mustard", "mustard", 10, harvest="none")]
        place = garden(beds, {plan: actions}, pests=only("harlequin_bug"))
        eaten.append(mean_of(place, plan, seeds, "leaf_eaten_share"))  # none where a frost left nothing to eat
    return share(*eaten)


def _open_kale(seeds: Sequence[int]) -> list[Season]:
    """Return seasons of unpicked kale in a cool climate without nests or care."""
    beds = [bed("kale", "kale", harvest="none", planted=PLANTED_COOL)]
    return seasons(garden(beds, {"nothing": NOTHING}, climate="cool_maritime"), "nothing", seeds)


def larvae_a_plant_in_july(seeds: Sequence[int]) -> float:
    """Return cabbage white larvae a plant of an open 20-plant bed in July, temperate north."""
    lived = _open_kale(seeds)
    return float(np.mean([s.garden.chronicle.column("cabbage_white_young")[JULY].mean() for s in lived]) / 20)


def sprays_by_the_half_rule(seeds: Sequence[int]) -> float:
    """Return sprays of a cabbage bed in twelve weeks when every second plant infested is the rule."""
    rule = {"do": "spray_at_threshold", "product": "bt", "caterpillar_infested_share": 0.5}
    actions = ({"do": "scout", "every_days": 7, "plants": 20}, rule)
    season = {"first_day": "06-01", "last_day": "08-24"}
    place = garden([bed("cabbage", "cabbage", planted="06-01", harvest="none")], {"rule": actions}, season=season)
    return float(np.mean([season.summary["sprays_count"] for season in seasons(place, "rule", seeds)]))


def flea_beetle_peaks(seeds: Sequence[int]) -> float:
    """Return how many peaks flea beetles on kale have in a cool season, over a running mean of three weeks."""
    column = f"{word(Species.FLEA_BEETLE)}_adults"
    mean = np.mean([season.garden.chronicle.column(column) for season in _open_kale(seeds)], axis=0)
    smooth = np.convolve(mean, np.ones(21) / 21, mode="same")
    peaks, _ = find_peaks(smooth, prominence=smooth.max() / 5, distance=21)
    return float(len(peaks))


def loopers_before_july(seeds: Sequence[int]) -> float:
    """Return the share of looper eggs laid before 1 July in a cool climate."""
    lived = _open_kale(seeds)
    eggs = np.sum([season.garden.chronicle.column("cabbage_looper_eggs") for season in lived], axis=0)
    return share(float(eggs[: JULY.start].sum()), float(eggs.sum()))
