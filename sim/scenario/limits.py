"""How much a scenario may hold, so that a slip of the keyboard is told at once and does not fill the memory."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from pydantic import Field, Strict

from sim.errors import Sentence, tell
from sim.scenario.values import refuse

if TYPE_CHECKING:
    from sim.scenario.model import Plan, Scenario

MAX_PLANTS = 200_000
"""Most plants that a scenario may hold, wild hosts in the margin among them."""
MAX_BEDS = 2_000
"""Most single beds: the distances between each two are kept, and an insect writes its bed down in two bytes."""
MAX_PAIRS = 500
"""Most pairs of birds in reach, those that may move into nest boxes among them."""
MAX_EGGS = 1_000_000
"""Most eggs that come on transplants, each of which is followed one by one."""

WildHosts = Annotated[int, Strict(), Field(ge=0, le=MAX_PLANTS)]
Repeats = Annotated[int, Strict(), Field(ge=1, le=MAX_BEDS)]
Pairs = Annotated[int, Strict(), Field(ge=0, le=MAX_PAIRS)]
EggsPerPlant = Annotated[float, Strict(), Field(ge=0, le=1000)]


def plants_in(scenario: Scenario) -> int:
    """Return how many plants stand in beds and margin together."""
    return sum(bed.plant_count * bed.repeat for bed in scenario.beds) + scenario.margin.wild_host_plants


def pairs_in(scenario: Scenario) -> int:
    """Return how many pairs of birds there can be under the plan with most nest boxes."""
    return sum(nest.count for nest in scenario.birds.nests) + max(map(_boxes_in, scenario.plans), default=0)


def check_amounts(scenario: Scenario) -> None:
    """Refuse more beds, plants, eggs on transplants, or pairs of birds than can be held."""
    beds, plants, pairs = sum(bed.repeat for bed in scenario.beds), plants_in(scenario), pairs_in(scenario)
    allowed = tell("at most {most:,} beds, repeated ones counted one by one", most=MAX_BEDS)
    _hold(beds <= MAX_BEDS, "beds", allowed, tell("{count:,} beds", count=beds))
    allowed = tell("at most {most:,} plants in all beds and wild ones beside them", most=MAX_PLANTS)
    _hold(plants <= MAX_PLANTS, "beds", allowed, tell("{count:,} plants", count=plants))
    eggs = _eggs_on_transplants(scenario)
    allowed = tell("at most {most:,} on all transplants, times 'pests.cabbage_white'", most=MAX_EGGS)
    _hold(eggs <= MAX_EGGS, "beds", allowed, tell("{count:,.0f} eggs", count=eggs))
    allowed = tell("at most {most:,} pairs of birds, a nest box of a plan counted as one", most=MAX_PAIRS)
    _hold(pairs <= MAX_PAIRS, "birds.nests", allowed, tell("{count:,} pairs", count=pairs))


def _hold(fits: bool, key: str, allowed: Sentence, has: Sentence) -> None:
    if not fits:
        raise refuse(allowed, key=key, has=has)


def _eggs_on_transplants(scenario: Scenario) -> float:
    each = sum(bed.plant_count * bed.repeat * bed.transplant_eggs_per_plant for bed in scenario.beds)
    return each * scenario.pests.cabbage_white


def _boxes_in(plan: Plan) -> int:
    return sum(action.count for action in plan.actions if action.do == "put_up_nest_box")
