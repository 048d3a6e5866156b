"""Each thing that a gardener can do, and each property of it, is switched off where it matters; the difference is seen.

The sign looked at is the deed's own mark wherever it has one; elsewhere it is only said that the season differs.
"""

import pytest

from sim.cast import Fate, Species
from sim.practices.workday import Task
from tests.properties.switches import ended_by, is_same_season, numbers, on_and_off, total, with_numbers
from tests.strategies import NO_PESTS, bed, garden, live

MANY = {"arrivals": 5.0}
BLOOM = {"first_day": "04-20", "last_day": "08-20", "calendar_year": 2025}
TIGHT = {"nets.edge_leak_share": [0.0, 0.0, 0.0], "nets.badly_closed_share": 0.0, "nets.insect_mesh.hole_mm": 0.3}


def net(**other):
    return [{"do": "cover", "material": "insect_mesh", "edges": "buried", "days_after_planting": 0} | other]


def spray(product, **other):
    return [{"do": "spray", "product": product, "every_days": 7} | other]


# -- nets ----------------------------------------------------------------------------------------------------------


def grown_g(lived):
    return float(lived.plants.flows["grown_g"][0])


def test_a_net_takes_light():
    scenario = garden(bed(harvest="none"), plans={"net": net()}, pests=NO_PESTS, numbers=TIGHT)
    scenario = with_numbers(scenario, {"nets.insect_mesh.warming_c": 0.0, "nets.insect_mesh.night_warming_c": 0.0})
    on, off = numbers(scenario, {"nets.insect_mesh.light_share": 1.0}, "net")
    assert grown_g(on) < grown_g(off)  # nothing else differs
    assert grown_g(off) == grown_g(live(scenario, "nothing"))


@pytest.mark.parametrize("key", ["warming_c", "night_warming_c"])
def test_a_net_warms(key):
    scenario = garden(bed(harvest="none"), plans={"net": net()}, pests=NO_PESTS, numbers=TIGHT)
    on, off = numbers(scenario, {f"nets.insect_mesh.{key}": 0.0}, "net")
    assert on.plants.plants["warmth_dd"][0] > off.plants.plants["warmth_dd"][0]


def test_a_net_breaks_rain():
    scenario = garden(
        bed("cabbage", harvest="none", transplant_eggs_per_plant=5.0),
        plans={"net": net(edges="slack")},
        pests=MANY,
        place={"climate": "warm_humid", "wetter": 3.0},
    )
    on, off = numbers(scenario, {"nets.insect_mesh.rain_share": 0.0}, "net")
    assert ended_by(on, Fate.WASHED_OFF) != ended_by(off, Fate.WASHED_OFF)


def came_in(lived):
    """Return how much was eaten in the beds: nothing, if nobody came in."""
    return float(lived.plants.flows["leaf_eaten_cm2"][:-1].sum())


WAYS_IN = {
    "under a slack edge": (net(edges="slack"), {"nets.edge_leak_share": [0.0, 0.0, 0.2]}),
    "by a gap": (net(gap_share=0.2), {}),
    "by day, through an open net": (net(open_from_hour=9.0, open_to_hour=15.0), {}),
    "through wide holes": (net(), {"nets.insect_mesh.hole_mm": 15.0}),
    "when it is lifted to weed": ([*net(), {"do": "weed", "every_days": 3}], {}),
    "when it was badly closed": (
        [*net(), {"do": "weed", "every_days": 20}],
        {"nets.badly_closed_share": 0.2, "nets.badly_closed_leak_share": 1.0},
    ),
    "before it is put on": (net(days_after_planting=30), {}),
    "after it is taken off": ([*net(), {"do": "uncover", "days_after_planting": 30}], {}),
}


@pytest.mark.parametrize("way", WAYS_IN)
def test_there_is_a_way_in(way):
    actions, changes = WAYS_IN[way]
    scenario = garden(bed(harvest="none"), plans={"way": actions, "tight": net()}, pests=MANY, numbers=TIGHT)
    assert came_in(live(scenario, "tight")) == 0
    assert came_in(live(with_numbers(scenario, changes), "way")) > 0


def test_a_walk_along_the_edge_closes_what_was_badly_closed():
    scenario = garden(
        bed(harvest="none"),
        plans={"net": [*net(), {"do": "weed", "every_days": 60}]},
        pests=MANY,
        numbers=TIGHT | {"nets.badly_closed_share": 0.2, "nets.badly_closed_leak_share": 1.0},
    )
    walks, never = {"labour.net_check_every_days": 1.0}, {"labour.net_check_every_days": 60.0}
    seasons = [
        (live(with_numbers(scenario, walks), "net", seed), live(with_numbers(scenario, never), "net", seed))
        for seed in range(1, 13)
    ]
    assert any(not is_same_season(often, seldom) for often, seldom in seasons)


def test_turned_away_females_try_bare_beds_by_the_share_that_says_so():
    scenario = garden(
        bed(harvest="none"),
        bed("kale", harvest="none"),
        plans={"one": net(beds=["collard-bed"])},
        pests=NO_PESTS | {"cabbage_white": 5.0},
        numbers=TIGHT,
    )
    all_try = live(scenario.with_changes({"pests.try_bare_share": 1.0}), "one")
    none_try = live(scenario.with_changes({"pests.try_bare_share": 0.0}), "one")
    assert all_try.insects.turned_away[Species.CABBAGE_WHITE, 0] > 0
    assert none_try.insects.turned_away[Species.CABBAGE_WHITE, 0] > 0
    assert not is_same_season(all_try, none_try)


@pytest.mark.parametrize("name", ["shut_in_egg_share", "shut_in_ageing"])
def test_being_shut_in_costs(name):
    scenario = garden(bed(harvest="none"), plans={"net": net(edges="slack")}, pests=MANY)
    on, off = numbers(scenario, {f"moths.cabbage_white.{name}": 1.0}, "net")
    assert not is_same_season(on, off)


def test_birds_reach_nothing_under_a_net():
    nests = {"nests": [{"kind": "wren_like", "distance_m": 5.0, "count": 8}]}
    scenario = garden(
        bed("cabbage", harvest="none", transplant_eggs_per_plant=5.0),
        plans={"net": net()},
        pests=NO_PESTS | {"cabbage_white": 5.0},
        margin={"wild_host_plants": 0},
        birds=nests,
        numbers=TIGHT,
    )
    assert ended_by(live(scenario), Fate.EATEN_BY_WREN_LIKE_BIRD) > 0
    netted = live(scenario, "net")
    assert netted.insects.exits[0, :, :, :, Fate.EATEN_BY_WREN_LIKE_BIRD].sum() == 0
    assert netted.chronicle.column("cabbage_white_young").max() > 0  # they are there, sealed in


def test_a_wide_loose_net_catches_birds_and_a_fine_one_does_not():
    scenario = garden(
        bed(length_m=20.0, plant_spacing_m=1.0),
        plans={"wide": net(material="bird_net", edges="slack"), "fine": net(material="fine_mesh")},
        birds={"nests": [{"kind": "wren_like", "distance_m": 2.0, "count": 20}]},
        margin={"area_m2": 1.0},
        numbers={"nets.entangle_per_contact": [0.0, 0.05]},
    )
    assert live(scenario, "wide").nests.entangled > 0
    assert live(scenario, "fine").nests.entangled == 0
    assert live(scenario, "nothing").nests.entangled == 0


def test_aphids_pass_a_coarse_mesh_and_not_a_fine_one():
    scenario = garden(
        bed(harvest="none"), plans={"net": net()}, pests=NO_PESTS | {"cabbage_aphid": 30.0}, numbers=TIGHT
    )
    on, off = numbers(scenario, {"nets.insect_mesh.hole_mm": 1.3}, "net")
    assert on.aphids.per_m2[0] == 0
    assert off.aphids.per_m2[0] > 0


# -- sprays --------------------------------------------------------------------------------------------------------


def two_beds(**other):
    plans = {"spray": spray("pyrethrins", beds=["collard-bed"], hour="noon", every_days=3)}
    return garden(bed(harvest="none"), bed("kale", harvest="none"), plans=plans, pests=MANY, **other)


def test_a_spray_drifts_to_the_next_bed():
    on, off = numbers(two_beds(), {"sprays.drift_share": [0.0, 0.0, 0.0]}, "spray")
    assert on.sprays.on_leaf[1].sum() > 0
    assert on.sprays.on_leaf[2].sum() > 0  # the margin
    assert off.sprays.on_leaf[1:].sum() == 0
    assert not is_same_season(on, off)


def test_a_neighbours_spray_drifts_in():
    margin = {"neighbour_spray_every_days": 5, "neighbour_product": "pyrethrins", "neighbour_drift": 0.5}
    on, off = on_and_off(garden(bed(), pests=MANY, margin=margin), {"margin.neighbour_drift": 0.0})
    assert ended_by(on, Fate.SPRAYED) > 0
    assert ended_by(off, Fate.SPRAYED) == 0


SPRAY_NUMBERS = {
    "residue decay": ("bt", {"sprays.bt.half_life_sunny_days": 0.0, "sprays.bt.half_life_dull_days": 0.0}),
    "wash-off": ("bt", {"sprays.bt.rain_loss_per_mm": 0.0}),
    "eaten or by contact": ("bt", {"sprays.bt.eaten_share": 0.0}),
    "coverage": ("spinosad", {"sprays.coverage_share": 0.1}),
    "refuge in heads": ("spinosad", {"insects.shelter.head_spray_factor": 0.5}),
    "harm to enemies": ("pyrethrins", {"sprays.pyrethrins.enemy_kill": [0.0] * 4}),
    "harm to wasps": ("pyrethrins", {"sprays.pyrethrins.wasp_kill": 0.0}),
    "harm to aphids": ("soap", {"sprays.soap.aphid_kill": 0.0}),
    "weather in which to spray": ("bt", {"sprays.wind_limit_m_s": 1.0}),
}


@pytest.mark.parametrize("what", SPRAY_NUMBERS)
def test_a_property_of_a_spray_leaves_its_mark(what):
    product, changes = SPRAY_NUMBERS[what]
    scenario = garden(
        bed("cabbage", harvest="none"),
        bed(harvest="none"),
        plans={"spray": spray(product)},
        pests=MANY | {"cabbage_aphid": 5.0},
        season=BLOOM,
    )
    on, off = numbers(scenario, changes, "spray")
    assert ended_by(on, Fate.SPRAYED) > 0
    assert not is_same_season(on, off)


@pytest.mark.parametrize("product", ["bt", "spinosad", "pyrethrins", "azadirachtin", "soap"])
def test_each_product_kills_and_nobody_dies_of_a_spray_that_is_not_made(product):
    scenario = garden(bed(), plans={"spray": spray(product)}, pests=MANY)
    assert ended_by(live(scenario, "spray"), Fate.SPRAYED) > 0
    assert ended_by(live(scenario, "nothing"), Fate.SPRAYED) == 0


def test_a_spray_in_bloom_harms_bees_and_at_dusk_less_than_at_noon():
    scenario = garden(
        bed("cucumber", planted="04-21"),
        plans={"noon": spray("pyrethrins", hour="noon"), "dusk": spray("pyrethrins", hour="dusk")},
        season=BLOOM,
        pests=NO_PESTS,
    )
    on, off = numbers(scenario, {"sprays.pyrethrins.bee_kill": 0.0}, "noon")
    assert on.pollinators.harmed.sum() > live(scenario, "dusk").pollinators.harmed.sum() > 0
    assert off.pollinators.harmed.sum() == 0


def test_the_wait_before_harvest_delays_picking():
    scenario = garden(bed(), plans={"spray": spray("spinosad")}, pests=MANY)
    on, off = numbers(scenario, {"sprays.spinosad.wait_days": [60.0] * 11}, "spray")
    assert on.picked_kg > 0
    assert off.gardener.done[:, Task.PICK].sum() < on.gardener.done[:, Task.PICK].sum()


def thresholds(share):
    look = {"do": "scout", "plants": 5, "every_days": 4}
    act = {"do": "spray_at_threshold", "product": "bt", "rest_days": 5, "caterpillar_infested_share": share}
    return garden(bed(), plans={"look": [look, act], "act": [act]}, pests=MANY)


def test_a_threshold_decides_when_to_spray():
    low, high = live(thresholds(0.01), "look"), live(thresholds(1.0), "look")
    assert low.beds_sprayed > high.beds_sprayed
    assert live(thresholds(0.01), "act").beds_sprayed == 0  # nobody looked, so nobody knows


def test_scouting_misses_some():
    sharp = {"labour.spot.cabbage_white": [0.45, 0.25, 0.4, 0.7, 0.95, 1.0, 0.55, 0.0]}
    blunt = {"labour.spot.cabbage_white": [0.15, 0.0, 0.1, 0.4, 0.65, 0.75, 0.25, 0.0]}
    scenario = thresholds(0.3).with_changes({"pests": NO_PESTS | {"cabbage_white": 2.0}})
    days = [
        live(with_numbers(scenario, eyes), "look").chronicle.column("beds_sprayed").tolist() for eyes in (sharp, blunt)
    ]
    assert days[0] != days[1]


# -- by hand -------------------------------------------------------------------------------------------------------

DEEDS = {
    "hand-picking": ({"do": "hand_pick", "every_days": 3}, Fate.PICKED_BY_HAND),
    "clean-up": ({"do": "clean_up", "on": "07-01"}, Fate.CLEANED_UP),
    "tillage": ({"do": "till", "on": "06-15"}, Fate.TILLED_IN),
}


@pytest.mark.parametrize("deed", DEEDS)
def test_a_deed_takes_insects_and_left_undone_takes_none(deed):
    action, fate = DEEDS[deed]
    scenario = garden(bed("radish", harvest="none"), bed(), plans={"deed": [action]}, pests=MANY)
    assert ended_by(live(scenario, "deed"), fate) > 0
    assert ended_by(live(scenario, "nothing"), fate) == 0


def test_a_longer_search_takes_more_time_and_other_insects():
    scenario = garden(bed(), plans={"pick": [{"do": "hand_pick", "every_days": 3}]}, pests=MANY)
    on, off = on_and_off(scenario, {"plans.pick.actions.0.seconds_per_plant": 60.0}, "pick")
    assert off.gardener.minutes[:, Task.HAND_PICK].sum() == pytest.approx(
        3.0 * on.gardener.minutes[:, Task.HAND_PICK].sum()
    )
    assert ended_by(on, Fate.PICKED_BY_HAND) != ended_by(off, Fate.PICKED_BY_HAND)


def test_a_jet_of_water_takes_aphids():
    scenario = garden(
        bed(harvest="none"), plans={"wash": [{"do": "wash_off", "every_days": 5}]}, pests={"cabbage_aphid": 30.0}
    )
    assert live(scenario, "wash").aphids.ledger()["washed_off"] > 0
    assert live(scenario, "nothing").aphids.ledger()["washed_off"] == 0


def test_a_hand_with_a_brush_sets_fruit_where_no_bee_flies():
    scenario = garden(
        bed("cucumber", planted="04-21"), plans={"brush": [{"do": "hand_pollinate"}]}, season=BLOOM, pests=NO_PESTS,
        bees={"honey_bees": 0.0, "bumble_bees": 0.0, "small_bees": 0.0},
    )  # fmt: skip
    assert live(scenario, "brush").plants.flows["fruits_set"][0] > 0
    assert live(scenario, "nothing").plants.flows["fruits_set"][0] == 0


def test_a_day_has_only_so_many_minutes():
    scenario = garden(bed(), plans={"pick": [{"do": "hand_pick", "every_days": 1}]}, pests=MANY)
    on, off = on_and_off(scenario, {"gardener.minutes_per_day": 1.0}, "pick")
    assert off.chronicle.column("labour_minutes").max() <= 1.0 + 1e-9
    assert off.gardener.put_off.sum() > 0
    assert on.gardener.put_off.sum() == 0
    assert ended_by(off, Fate.PICKED_BY_HAND) < ended_by(on, Fate.PICKED_BY_HAND)


def test_nothing_is_done_on_days_off():
    scenario = garden(bed(planted="04-21"), plans={"pick": [{"do": "hand_pick", "every_days": 1}]})
    off = live(scenario.with_changes({"gardener.works_on": ["mon"]}), "pick")
    worked = off.chronicle.column("labour_minutes")
    assert worked[1::7].sum() > 0  # 21 April 2025 was a Monday
    assert not any(minutes for day, minutes in enumerate(worked) if day % 7 != 1)


# -- the place -----------------------------------------------------------------------------------------------------


def test_a_bed_left_out_stays_empty():
    scenario = garden(bed(), bed("kale"), plans={"skip": [{"do": "skip_bed", "beds": ["kale-bed"]}]})
    skipped = live(scenario, "skip")
    assert skipped.plants.flows["grown_g"][1] == 0
    assert live(scenario, "nothing").plants.flows["grown_g"][1] > 0


HABITATS = {
    "flower strip": ({"do": "plant_flower_strip", "area_m2": 20.0}, "spiders"),
    "hedgerow": ({"do": "plant_hedgerow", "length_m": 30.0, "age_years": 5.0}, "ground_beetles"),
}


@pytest.mark.parametrize("what", HABITATS)
def test_habitat_put_in_holds_more_enemies(what):
    action, enemy = HABITATS[what]
    scenario = garden(bed(), plans={"habitat": [action]}, pests=NO_PESTS)
    assert total(live(scenario, "habitat"), enemy) > total(live(scenario, "nothing"), enemy)


def test_a_nest_box_brings_a_nest():
    scenario = garden(bed(), plans={"box": [{"do": "put_up_nest_box", "kind": "wren_like", "count": 2}]})
    assert len(live(scenario, "box").nests.nests) == 2
    assert len(live(scenario, "nothing").nests.nests) == 0


def test_a_trap_strip_is_eaten_and_changes_the_rest():
    scenario = garden(bed(), bed("mustard"), plans={"bare": [{"do": "skip_bed", "beds": ["mustard-bed"]}]}, pests=MANY)
    trap, bare = live(scenario, "nothing"), live(scenario, "bare")
    assert trap.plants.flows["leaf_eaten_cm2"][1] > 0
    assert bare.plants.flows["leaf_eaten_cm2"][1] == 0
    assert trap.plants.flows["leaf_eaten_cm2"][0] != bare.plants.flows["leaf_eaten_cm2"][0]
