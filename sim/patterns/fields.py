"""Fields and beds under nets, sprays, hands or nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np

from sim.cast import CATERPILLARS, Species, Stage, word
from sim.patterns.gardens import (
    FINE_MESH,
    MESH,
    NOTHING,
    PLANTED,
    PLANTED_COOL,
    SPUN_COVER,
    Action,
    bed,
    garden,
    only,
    spray,
)
from sim.patterns.lives import mean_of, reached, seasons, share
from sim.scenario import Scenario
from sim.season import Season

HAND_PICKING: Action = {"do": "hand_pick", "every_days": 3, "seconds_per_plant": 20.0}
LATE_MESH: Action = {**MESH[0], "days_after_planting": 14}
BEFORE_JULY = slice(0, 122)
"""Days of a season that begins on 1 March."""
SPRAYING = slice(62, 104)
"""Six weeks of sprays, from six weeks after planting."""
HOT_C = 4.0
NO_WILD_HOSTS = {"area_m2": 100.0, "wild_host_plants": 0}
"""So that aphids counted are those of the bed."""


def days_of(lived: Sequence[Season], *columns: str) -> float:
    """Return the sum of daily columns over seasons, such as insect-days."""
    return float(sum(season.garden.chronicle.column(name).sum() for season in lived for name in columns))


def _brassicas(plans: Mapping[str, Sequence[Action]], planted: str = PLANTED, **more: Any) -> Scenario:
    beds = [bed(crop, crop, planted=planted) for crop in ("collard", "cabbage", "broccoli", "kale")]
    return garden(beds, plans, **more)


# -- who comes out ahead -------------------------------------------------------------------------------------------


def order_in_a_cool_season(seeds: Sequence[int]) -> float:
    """Return how many of the three neighbouring pairs stand in the order net, Bt, hand-picking, nothing."""
    return _pairs_in_order(_marketable_cool(tuple(seeds)))


@cache
def _marketable_cool(seeds: tuple[int, ...]) -> list[float]:
    plans = {"net": MESH, "bt": (spray("bt"),), "by_hand": (HAND_PICKING,), "nothing": NOTHING}
    place = _brassicas(plans, PLANTED_COOL, climate="cool_maritime")
    return [mean_of(place, plan, seeds, "marketable_kg") for plan in plans]


def _pairs_in_order(values: Sequence[float]) -> float:
    return float(sum(ahead > behind for ahead, behind in pairwise(values)))


def bt_and_net_over_weak_sprays(seeds: Sequence[int]) -> float:
    """Return the lower of Bt and net over the higher of pyrethrins and soap, marketable cabbage."""
    plans = {"net": MESH, "bt": (spray("bt"),), "pyrethrins": (spray("pyrethrins"),), "soap": (spray("soap"),)}
    place = garden([bed("cabbage", "cabbage")], plans)
    kg = {plan: mean_of(place, plan, seeds, "marketable_kg") for plan in plans}
    return share(min(kg["net"], kg["bt"]), max(kg["pyrethrins"], kg["soap"]))


# -- greens and flea beetles -----------------------------------------------------------------------------------------


@cache
def _greens(seeds: tuple[int, ...]) -> dict[str, tuple[float, float]]:
    """Return (flea beetle days, marketable kg) of kale by plan."""
    plans = {
        "fine_mesh": FINE_MESH,
        "spun_cover": SPUN_COVER,
        "spinosad": (spray("spinosad", times=6),),
        "pyrethrins": (spray("pyrethrins"),),
        "nothing": NOTHING,
    }
    place = garden([bed("kale", "kale")], plans)
    found = {}
    for plan in plans:
        lived = seasons(place, plan, seeds)
        kg = float(np.mean([season.summary["marketable_kg"] for season in lived]))
        found[plan] = (days_of(lived, "flea_beetle_adults"), kg)
    return found


def flea_beetles_under_covers(seeds: Sequence[int]) -> float:
    """Return flea beetle days under the worse of two covers over those under the best of sprays and nothing."""
    found = {plan: days for plan, (days, _) in _greens(tuple(seeds)).items()}
    return share(
        max(found["fine_mesh"], found["spun_cover"]), min(found[p] for p in ("spinosad", "pyrethrins", "nothing"))
    )


def greens_under_covers(seeds: Sequence[int]) -> float:
    """Return marketable greens under the worse of two covers over the best of sprays and nothing."""
    found = {plan: kg for plan, (_, kg) in _greens(tuple(seeds)).items()}
    return share(
        min(found["fine_mesh"], found["spun_cover"]), max(found[p] for p in ("spinosad", "pyrethrins", "nothing"))
    )


def sprayed_greens(seeds: Sequence[int]) -> float:
    """Return marketable greens under the better of two sprays over those under nothing."""
    found = {plan: kg for plan, (_, kg) in _greens(tuple(seeds)).items()}
    return share(max(found["spinosad"], found["pyrethrins"]), found["nothing"])


# -- cabbage under nets -----------------------------------------------------------------------------------------------


@cache
def _cabbage(seeds: tuple[int, ...], plan: str) -> list[Season]:
    plans = {"open": NOTHING, "net": MESH, "net_and_bt": (*MESH, spray("bt")), "spun": SPUN_COVER}
    place = garden([bed("cabbage", "cabbage")], plans, margin=NO_WILD_HOSTS)
    return seasons(place, plan, seeds)


def _ratio(seeds: Sequence[int], plan: str, other: str, measure: str) -> float:
    values = [
        float(np.mean([season.summary.get(measure, 0.0) for season in _cabbage(tuple(seeds), name)]))
        for name in (plan, other)
    ]
    return share(*values)


def diamondbacks_under_a_net(seeds: Sequence[int]) -> float:
    """Return diamondback larva-days in cabbage under a net over those in the open."""
    netted, bare = (days_of(_cabbage(tuple(seeds), plan), "diamondback_moth_young") for plan in ("net", "open"))
    return share(netted, bare)


def cabbage_under_a_net(seeds: Sequence[int]) -> float:
    """Return marketable cabbage under a net over that in the open, with the kinds of pests that the trials name."""
    pests = only("diamondback_moth", "cabbage_looper", "cabbage_aphid")
    place = garden([bed("cabbage", "cabbage")], {"open": NOTHING, "net": MESH}, margin=NO_WILD_HOSTS, pests=pests)
    return share(*(mean_of(place, plan, seeds, "marketable_kg") for plan in ("net", "open")))


def heads_under_a_net(seeds: Sequence[int]) -> float:
    """Return all cabbage picked, fit to sell or not, under a net over that in the open."""
    return _ratio(seeds, "net", "open", "harvest_kg")


def heads_under_a_net_in_a_cool_place(seeds: Sequence[int]) -> float:
    """Return all cabbage picked under a net over that in the open, cool maritime climate."""
    place = garden(
        [bed("cabbage", "cabbage", planted=PLANTED_COOL)], {"net": MESH, "open": NOTHING}, climate="cool_maritime"
    )
    return share(*(mean_of(place, plan, seeds, "harvest_kg") for plan in ("net", "open")))


def spray_inside_a_net(seeds: Sequence[int]) -> float:
    """Return marketable cabbage under a net with weekly Bt over that under the net alone."""
    return _ratio(seeds, "net_and_bt", "net", "marketable_kg")


def pests_under_spun_cover(seeds: Sequence[int]) -> float:
    """Return the highest of three: caterpillar days, flea beetle days, aphid days, under spun cover over open."""
    spun, bare = (_cabbage(tuple(seeds), plan) for plan in ("spun", "open"))
    groups = ([f"{word(moth)}_young" for moth in CATERPILLARS], ["flea_beetle_adults"], ["aphids"])
    return max(share(days_of(spun, *names), days_of(bare, *names)) for names in groups)


def cabbage_under_spun_cover(seeds: Sequence[int]) -> float:
    """Return marketable cabbage under spun cover over that in the open."""
    return _ratio(seeds, "spun", "open", "marketable_kg")


def aphids_under_a_net(seeds: Sequence[int]) -> float:
    """Return aphid days on cabbage under a net over those in the open."""
    netted, bare = (days_of(_cabbage(tuple(seeds), plan), "aphids") for plan in ("net", "open"))
    return share(netted, bare)


def aphids_on_leaf_crops_under_a_net(seeds: Sequence[int]) -> float:
    """Return aphid days on collards and kale under a net over those in the open."""
    beds = [bed(crop, crop) for crop in ("collard", "kale")]
    place = garden(beds, {"open": NOTHING, "net": MESH}, margin=NO_WILD_HOSTS)
    netted, bare = (days_of(seasons(place, plan, seeds), "aphids") for plan in ("net", "open"))
    return share(netted, bare)


def closed_net_in_heat(seeds: Sequence[int]) -> float:
    """Return collards picked in a hot season under a net kept closed over those under one opened for the day."""
    opened = ({**MESH[0], "open_from_hour": 8.0, "open_to_hour": 18.0},)
    plans = {"closed": MESH, "opened": opened}
    place = garden([bed("collards", "collard", planted="05-15")], plans, place={"warmer_c": HOT_C})
    return share(*(mean_of(place, plan, seeds, "marketable_kg") for plan in plans))


def veil_over_mesh(seeds: Sequence[int]) -> float:
    """Return marketable brassicas under veil fabric over those under insect mesh."""
    place = _brassicas({"veil": ({**MESH[0], "material": "veil"},), "mesh": MESH})
    return share(*(mean_of(place, plan, seeds, "marketable_kg") for plan in ("veil", "mesh")))


# -- what a net holds in -----------------------------------------------------------------------------------------------


def late_net_shelters(seeds: Sequence[int]) -> float:
    """Return survival from egg to pupa of cabbage whites that a net shut in, over survival in the open."""
    survivals = []
    for plan, actions in {"late": (LATE_MESH,), "open": NOTHING}.items():
        beds = [bed("kale", "kale", harvest="none", planted="05-20", transplant_eggs_per_plant=5.0)]
        place = garden(beds, {plan: actions}, nests=[{"kind": "wren_like", "distance_m": 15.0}])
        lived = seasons(place, plan, seeds)
        white = Species.CABBAGE_WHITE
        survivals.append(share(reached(lived, white, Stage.PUPA), reached(lived, white, Stage.EGG)))
    return share(*survivals)


def net_over_last_years_hosts(seeds: Sequence[int]) -> float:
    """Return flea beetle days in spring under a fine mesh over a bed of last year's hosts, over a rotated one."""
    days = []
    for hosted in (True, False):
        beds = [bed("kale", "kale", harvest="none", planted=PLANTED_COOL, hosted_last_year=hosted)]
        place = garden(beds, {"net": FINE_MESH}, climate="cool_maritime")
        lived = seasons(place, "net", seeds)
        days.append(sum(float(s.garden.chronicle.column("flea_beetle_adults")[BEFORE_JULY].sum()) for s in lived))
    return share(*days)


def wasps_under_spinosad(seeds: Sequence[int]) -> float:
    """Return parasitoid wasps in the weeks of spraying about beds under weekly spinosad over those under Bt."""
    plans = {product: (spray(product, times=6, days_after_planting=42),) for product in ("spinosad", "bt")}
    place = _brassicas(plans)
    wasps = [
        sum(float(s.garden.chronicle.column("parasitoid_wasps")[SPRAYING].sum()) for s in seasons(place, plan, seeds))
        for plan in plans
    ]
    return share(*wasps)
