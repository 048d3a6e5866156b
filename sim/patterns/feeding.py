"""Birds at the nest and in the beds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from sim.cast import Species, Stage
from sim.chronicle import LARVAL
from sim.parameters import load_parameters
from sim.patterns.gardens import NOTHING, bed, garden, only, spray
from sim.patterns.lives import BIRDS, seasons, share
from sim.scenario import Scenario

DRY, WET = 0.2, 2.0
"""Rain as a multiple of the usual."""


def _greens(plans: Any = None, **more: Any) -> Scenario:
    beds = [bed("kale", "kale"), bed("collards", "collard"), bed("cabbage", "cabbage")]
    return garden(beds, plans or {"nothing": NOTHING}, **more)


def visits_of_tits(seeds: Sequence[int]) -> float:
    """Return visits to a tit-like nest on its best day, mean over seasons whose brood all fledged."""
    return _best_day("tit_like", seeds)


def visits_of_wrens(seeds: Sequence[int]) -> float:
    """Return visits to a wren-like nest on its best day, mean over seasons whose brood all fledged."""
    return _best_day("wren_like", seeds)


def _best_day(kind: str, seeds: Sequence[int]) -> float:
    place = _greens(nests=[{"kind": kind, "distance_m": 20.0}])
    lived = seasons(place, "nothing", [seed + more for seed in seeds for more in (0, 100, 200)])
    fed = [season for season in lived if _all_fledged(season)]
    return float(np.mean([season.garden.chronicle.column("feeding_visits").max() for season in fed or lived]))


def _all_fledged(season: Any) -> bool:
    nest = season.garden.nests.nests[0]
    return bool(nest["fledged"] == nest["hatched"] > 0)


def fledged_beside_a_sprayed_garden(seeds: Sequence[int]) -> float:
    """Return young fledged beside a garden sprayed every week, as a share of those beside an unsprayed one."""
    nests = [{"kind": kind, "distance_m": 15.0} for kind in ("tit_like", "wren_like")]
    place = _greens({"nothing": NOTHING, "bt": (spray("bt"),)}, nests=nests)
    fledged = {plan: sum(s.garden.nests.fledged for s in seasons(place, plan, seeds)) for plan in place.plan_names}
    return share(fledged["bt"], fledged["nothing"])


def clutches_in_a_poor_country(seeds: Sequence[int]) -> float:
    """Return clutches where the whole country holds half the food, as a share of those in an ordinary one."""
    clutches = []
    for food in (1.0, 1 / 2):
        place = garden([bed("kale", "kale")], {"nothing": NOTHING}, birds=_one_pair(food))
        lived = seasons(place, "nothing", seeds)
        clutches.append(sum(int(season.garden.nests.nests["clutches"].sum()) for season in lived))
    return share(clutches[1], clutches[0])


def _one_pair(food: float) -> dict[str, Any]:
    return {"territory_food": food, "nests": [{"kind": "wren_like", "distance_m": 15.0}]}


def larvae_taken_near_a_nest(seeds: Sequence[int]) -> float:
    """Return how many times the share of larvae that birds take from a bed beside a nest is that far from it."""
    near, far = (_taken_at(distance_m, seeds) for distance_m in (10.0, 60.0))
    return share(near, far)


def _taken_at(distance_m: float, seeds: Sequence[int]) -> float:
    white = Species.CABBAGE_WHITE
    place = _greens(nests=[{"kind": "tit_like", "distance_m": distance_m}])
    insects = [season.garden.insects for season in seasons(place, "nothing", seeds)]
    taken = sum(float(one.exits[0, :, white, LARVAL, BIRDS].sum()) for one in insects)
    return share(taken, sum(float(one.reached[0, white, LARVAL.start]) for one in insects))


def damage_without_birds_when_dry(seeds: Sequence[int]) -> float:
    """Return leaf eaten in kale without birds over leaf eaten with birds, in dry seasons."""
    return _damage_without_birds(DRY, seeds)


def damage_without_birds_when_wet(seeds: Sequence[int]) -> float:
    """Return leaf eaten in kale without birds over leaf eaten with birds, in wet seasons."""
    return _damage_without_birds(WET, seeds)


def _damage_without_birds(wetter: float, seeds: Sequence[int]) -> float:
    eaten = []
    for use in (0.0, 1.0):
        nests = [{"kind": kind, "distance_m": 15.0} for kind in ("tit_like", "wren_like")]
        place = garden(
            [bed("kale", "kale")], {"nothing": NOTHING}, place={"wetter": wetter},
            birds={"use_of_garden": use, "nests": nests},
        )  # fmt: skip
        lived = seasons(place, "nothing", seeds)
        eaten.append(sum(float(season.garden.chronicle.column("leaf_eaten_m2").sum()) for season in lived))
    return share(eaten[0], eaten[1])


def bugs_left_by_birds(seeds: Sequence[int]) -> float:
    """Return how many times the risk from birds of a last-instar cabbage white is that of a harlequin bug nymph."""
    nests = [{"kind": kind, "distance_m": 15.0} for kind in ("tit_like", "wren_like")]
    place = _greens(nests=nests, pests=only("cabbage_white", "harlequin_bug") | {"harlequin_bug": 3.0})
    insects = [season.garden.insects for season in seasons(place, "nothing", seeds)]
    return share(*(_risk_in_last_instar(kind, insects) for kind in (Species.CABBAGE_WHITE, Species.HARLEQUIN_BUG)))


def _risk_in_last_instar(species: Species, insects: Sequence[Any]) -> float:
    """Return deaths to birds in the fifth instar for each that came to it and each degree-day it lasts."""
    guild = "moths.cabbage_white" if species == Species.CABBAGE_WHITE else "bugs_and_beetles.harlequin_bug"
    lasts_dd = load_parameters().numbers(f"{guild}.heat_dd")[Stage.INSTAR_5]
    taken = sum(float(one.exits[0, :, species, Stage.INSTAR_5, BIRDS].sum()) for one in insects)
    came = sum(float(one.reached[0, species, Stage.INSTAR_5]) for one in insects)
    return share(taken, came * float(lasts_dd))
