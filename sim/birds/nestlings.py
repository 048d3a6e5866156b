"""One nestling: what it weighs, what it needs, how it grows, and how a brood shares what comes.

Takes: masses, food, and the numbers of its kind.
Keeps and changes: nothing but the portions it is asked to fill.
"""

from __future__ import annotations

import math
from typing import Any

from sim.compiled import Floats, Records, loop, rule


@rule
def curve_g(age_days: float, kind: Any) -> float:
    """Return the mass [g] of a well-fed nestling: logistic ``A / (1 + exp(-K (t - ti)))`` (best of six: tsw)."""
    fall = math.exp(-kind.growth_rate_per_day * (age_days - kind.growth_middle_day))
    return float(kind.growth_top_g / (1.0 + fall))


@rule
def full_gain_g(mass_g: float, kind: Any) -> float:
    """Return what a nestling of this mass gains in a day of plenty [g]: one day along its own logistic curve."""
    if mass_g <= 0.0:
        return 0.0
    missing = (kind.growth_top_g / mass_g - 1.0) * math.exp(-kind.growth_rate_per_day)
    return float(kind.growth_top_g / (1.0 + missing) - mass_g)


@rule
def upkeep_kj(mass_g: float, shared: Any) -> float:
    """Return a nestling's daily expenditure [kJ/d]: ``4.58 M ** 0.76`` (mh98, eleven species)."""
    return float(shared.nestling_energy_factor * mass_g**shared.nestling_energy_exponent)


@rule
def adult_kj(mass_g: float, shared: Any) -> float:
    """Return a free-living small bird's daily expenditure [kJ/d] (passerine allometry, from memory)."""
    return float(shared.adult_energy_factor * mass_g**shared.adult_energy_exponent)


@rule
def nestling_need_kj(mass_g: float, kind: Any, shared: Any) -> float:
    """Return the day's need of one nestling [kJ]: upkeep at its midday mass and the cost of a full gain."""
    gain_g = full_gain_g(mass_g, kind)
    return float(upkeep_kj(mass_g + gain_g / 2.0, shared) + shared.growth_cost_kj_per_g * gain_g)


@rule
def grow_nestling(mass_g: float, food_kj: float, kind: Any, shared: Any) -> float:
    """Return tomorrow's mass [g]: food first pays upkeep, the rest becomes tissue; a shortage is paid in tissue."""
    gain_g = full_gain_g(mass_g, kind)
    spare_kj = food_kj - upkeep_kj(mass_g + gain_g / 2.0, shared)
    return float(max(0.0, mass_g + min(gain_g, spare_kj / shared.growth_cost_kj_per_g)))


@loop
def work_out_brood_need(kinds: Records, shared: Records, needs_kj: Floats) -> None:
    """Set the mean daily need [kJ/d] of an ordinary, well-fed brood of each kind while it is in the nest."""
    for k in range(kinds.size):
        needs_kj[k] = 0.0
        mass_g, days = curve_g(0.0, kinds[k]), int(kinds[k].nestling_days)
        for _ in range(days):
            needs_kj[k] += nestling_need_kj(mass_g, kinds[k], shared[0])
            mass_g += full_gain_g(mass_g, kinds[k])
        needs_kj[k] *= kinds[k].clutch_eggs * shared[0].hatching_share / days


@loop
def share_food(masses_g: Floats, food_kj: float, kind: Any, shared: Any, portions_kj: Floats) -> float:
    """Fill ``portions_kj``: bigger nestlings win more, nobody gets more than the need; return what is left over."""
    for i in range(portions_kj.size):
        portions_kj[i] = 0.0
    left_kj = food_kj
    for _ in range(masses_g.size):
        claims = 0.0
        for i in range(masses_g.size):
            if masses_g[i] > 0.0 and portions_kj[i] < nestling_need_kj(masses_g[i], kind, shared):
                claims += masses_g[i] ** shared.rank_exponent
        if claims <= 0.0 or left_kj <= 0.0:
            break
        handed_out = left_kj
        for i in range(masses_g.size):
            need_kj = nestling_need_kj(masses_g[i], kind, shared) if masses_g[i] > 0.0 else 0.0
            if portions_kj[i] < need_kj:
                bite_kj = min(handed_out * masses_g[i] ** shared.rank_exponent / claims, need_kj - portions_kj[i])
                portions_kj[i] += bite_kj
                left_kj -= bite_kj
    return left_kj
