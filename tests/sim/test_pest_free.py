"""The harvest without pests is lived in shorter days; they must give what whole days give."""

import pytest

from sim.cast import Species
from sim.garden import Garden
from sim.pest_free import PLAN, PestFreeGarden, without_pests
from sim.scenario import load_scenario
from sim.season import _live, _pest_free_harvest, parameters_of

GARDENS = {
    "as it comes": ("teaching_garden", {}),
    "bees and beetles": ("cucumber_bed", {}),
    "two years": ("leaf_bed", {"season.years": 2}),
    "little time, few working days": (
        "teaching_garden",
        {"gardener.minutes_per_day": 20, "gardener.works_on": ["mon", "thu"], "place.warmer_c": 3},
    ),
    "sprays next door": ("hedgerow_garden", {"margin.neighbour_spray_every_days": 7, "margin.neighbour_drift": 0.5}),
}


@pytest.mark.parametrize("name", GARDENS)
def test_short_days_give_the_plants_of_whole_days(name):
    garden, changes = GARDENS[name]
    alone = without_pests(load_scenario(garden).with_changes(changes))
    parameters = parameters_of(alone)
    whole = _live(Garden, alone, parameters, PLAN, 3)
    short = _live(PestFreeGarden, alone, parameters, PLAN, 3)
    assert whole.insects.entries[:, [species for species in Species if species != Species.PARASITOID_WASP]].sum() == 0
    assert short.plants.plants.tobytes() == whole.plants.plants.tobytes()
    assert short.harvests == whole.harvests
    assert sum(short.harvest_kg().values()) > 0.0


def test_what_a_plan_does_moves_the_pest_free_harvest_by_nothing():
    scenario = load_scenario("leaf_bed")
    other = scenario.with_changes({"plans.net.actions.0.days_after_planting": 9, "pests.arrivals": 3})
    assert without_pests(other).fingerprint == without_pests(scenario).fingerprint
    sunnier = scenario.with_changes({"place.warmer_c": 1})
    numbers = parameters_of(scenario)
    assert _pest_free_harvest(scenario, numbers, 1) != _pest_free_harvest(sunnier, numbers, 1)
