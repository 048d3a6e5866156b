"""Each mechanism of nature is switched off in a garden built to exercise it, and the difference is seen.

The sign looked at is the mechanism's own mark: a fate that is met and then is not, a count that is there and then is
not. No test here says which way a whole season must turn out.
"""

import numpy as np
import pytest

from sim.cast import Entry, Fate, Predator, Species, Stage
from sim.energy import flows_of
from tests.properties.switches import (
    BIRDS_EAT,
    ended_by,
    for_all,
    is_same_season,
    numbers,
    on_and_off,
    total,
    with_numbers,
)
from tests.strategies import NO_PESTS, bed, garden, live

ZEROS = [0.0] * 8
MANY = {"arrivals": 5.0}
HIGH_SUMMER = {"first_day": "06-10", "last_day": "08-31", "calendar_year": 2025}
AUTUMN = {"first_day": "09-01", "last_day": "12-15", "calendar_year": 2025}
TEN_NESTS = {"nests": [{"kind": kind, "distance_m": 5.0, "count": 4} for kind in ("tit_like", "wren_like")]}


# -- what kills insects --------------------------------------------------------------------------------------------


def hot():
    return garden(
        bed(planted="06-10"), place={"climate": "warm_humid", "warmer_c": 5.0}, season=HIGH_SUMMER, pests=MANY
    )


def cold():
    return garden(bed(planted="09-01"), place={"climate": "cool_maritime", "warmer_c": -3.0}, season=AUTUMN, pests=MANY)


def wet():
    return garden(bed(), bed("cabbage"), place={"climate": "warm_humid", "wetter": 3.0}, pests=MANY)


CAUSES = {
    "rain": (wet, for_all("rain_loss", ZEROS, wasp=True), Fate.WASHED_OFF),
    "heat": (hot, for_all("heat_death_per_day", ZEROS, wasp=True), Fate.HEAT_OR_COLD),
    "frost": (cold, for_all("cold_death_per_day", ZEROS, wasp=True), Fate.HEAT_OR_COLD),
    "disease": (wet, for_all("disease_per_day", ZEROS, wasp=True), Fate.DISEASE),
    "hunting wasps": (wet, for_all("hunting_wasps_per_day", ZEROS, wasp=True), Fate.EATEN_BY_HUNTING_WASP),
    "other parasitoids": (wet, for_all("other_parasitoids_per_day", ZEROS, wasp=True), Fate.OTHER_PARASITOIDS),
    "failing to hatch or moult": (wet, for_all("failed_share", ZEROS, wasp=True), Fate.FAILED),
}


@pytest.mark.parametrize("cause", CAUSES)
def test_a_cause_of_death_kills_and_switched_off_kills_nobody(cause):
    scenario, changes, fate = CAUSES[cause]
    on, off = numbers(scenario(), changes)
    assert ended_by(on, fate) > 0
    assert ended_by(off, fate) == 0
    assert not is_same_season(on, off)


@pytest.mark.parametrize("enemy", ["ground_beetle", "spider", "lady_beetle", "lacewing"])
def test_each_generalist_eats_and_where_there_are_none_nobody_is_eaten_by_it(enemy):
    on, off = on_and_off(garden(bed(), bed("cabbage"), pests=MANY), {f"enemies.{enemy}s": 0.0})
    fate = Fate[f"EATEN_BY_{enemy.upper()}"]
    assert ended_by(on, fate) > 0
    assert ended_by(off, fate) == 0
    assert off.generalists.alive()[Predator[enemy.upper()]] == 0


@pytest.mark.parametrize("kind", ["tit_like", "wren_like", "woodpecker_like"])
def test_each_bird_eats_insects_of_the_garden_and_without_nests_none_do(kind):
    nests = {"nests": [{"kind": kind, "distance_m": 5.0, "count": 8}]}
    on, off = on_and_off(garden(bed(), bed("cabbage"), pests=MANY, birds=nests), {"birds.nests": []})
    assert ended_by(on, Fate[f"EATEN_BY_{kind.upper()}_BIRD"]) > 0
    assert ended_by(off, *BIRDS_EAT) == 0
    assert flows_of(on).to_birds_kj > 0
    assert flows_of(off).to_birds_kj == 0


def test_birds_that_never_use_the_garden_take_nothing_from_it():
    on, off = on_and_off(garden(bed(), pests=MANY, birds=TEN_NESTS), {"birds.use_of_garden": 0.0})
    assert ended_by(on, *BIRDS_EAT) > 0
    assert ended_by(off, *BIRDS_EAT) == 0
    assert off.nests.delivered_kj(0) == 0


def test_the_country_feeds_nestlings():
    on, off = on_and_off(garden(bed(), birds=TEN_NESTS), {"birds.territory_food": 0.0})
    assert on.nests.fledged > 0
    assert off.nests.fledged == 0
    assert off.nests.starved > 0


def test_a_bad_taste_protects():
    scenario = garden(bed(), pests=NO_PESTS | {"harlequin_bug": 20.0}, birds=TEN_NESTS)
    on, off = numbers(scenario, {"birds.palatability.harlequin_bug": [1.0, 1.0]})
    assert ended_by(on, *BIRDS_EAT) != ended_by(off, *BIRDS_EAT)


def test_the_parasitoid_wasp_kills_cabbage_whites_and_nobody_else():
    scenario = garden(bed(), bed("kale"), pests=MANY, enemies={"parasitoid_wasps": 20.0})
    on, off = on_and_off(scenario, {"enemies.parasitoid_wasps": 0.0})
    assert ended_by(on, Fate.PARASITISED) > 0
    assert on.insects.entries[Entry.BORN, Species.PARASITOID_WASP] > 0
    assert ended_by(off, Fate.PARASITISED) == 0
    assert off.insects.entries[:, Species.PARASITOID_WASP].sum() == 0


def test_one_that_finds_nothing_to_eat_starves():
    pulled = [{"do": "clean_up", "on": "06-15"}]
    scenario = garden(
        bed(plants=1, length_m=0.5),
        plans={"pulled": pulled},
        pests=MANY,
        margin={"wild_host_plants": 0},
        numbers={"labour.clean_up_share": 0.0},
    )
    assert ended_by(live(scenario, "pulled"), Fate.STARVED) > 0
    assert ended_by(live(garden(bed(), pests={"arrivals": 0.1})), Fate.STARVED) == 0


# -- where insects come from and what they choose ------------------------------------------------------------------


def test_soil_that_hosted_them_last_year_gives_beetles_and_clean_soil_none():
    scenario = garden(bed(hosted_last_year=True), pests={"flea_beetle": 5.0})
    on, off = on_and_off(scenario, {"beds.collard-bed.hosted_last_year": False})
    assert on.insects.entries[Entry.OVERWINTERED, Species.FLEA_BEETLE] > 0
    assert off.insects.entries[Entry.OVERWINTERED].sum() == 0


def test_old_stalks_give_winterers_and_a_cleared_bed_none():
    season = {"first_day": "03-01", "last_day": "06-01", "calendar_year": 2025}
    scenario = garden(bed(old_stalks=True), season=season, pests={"cabbage_white": 5.0})
    on, off = on_and_off(scenario, {"beds.collard-bed.old_stalks": False})
    assert on.insects.entries[Entry.OVERWINTERED, Species.CABBAGE_WHITE] > 0
    assert on.insects.exits[:, Entry.OVERWINTERED, Species.CABBAGE_WHITE, Stage.ADULT].sum() > 0  # they woke
    assert off.insects.entries[Entry.OVERWINTERED].sum() == 0


def test_transplants_bring_eggs_and_clean_ones_none():
    scenario = garden(bed(transplant_eggs_per_plant=2.0), pests=NO_PESTS | {"cabbage_white": 1.0})
    none_fly_in = {f"arrivals.females_per_day.{side}.cabbage_white": [0.0] * 9 for side in ("north", "south")}
    on, off = on_and_off(with_numbers(scenario, none_fly_in), {"beds.collard-bed.transplant_eggs_per_plant": 0.0})
    assert on.insects.entries[Entry.ARRIVED, Species.CABBAGE_WHITE] > 0
    assert off.insects.entries[:, Species.CABBAGE_WHITE].sum() == 0


def test_a_crop_that_is_no_host_is_left_alone():
    scenario = garden(bed("cabbage"), bed("collard"), pests=NO_PESTS | {"flea_beetle": 2.0})
    spared = [0.0, 0.7, 1.0, 0.7, 0.8, 0.0, 1.8, 1.8, 0.0, 2.5, 1.5]
    on, off = numbers(scenario, {"hosts.weights.flea_beetle": spared})
    assert on.plants.flows["leaf_eaten_cm2"][1] > 0
    assert off.plants.flows["leaf_eaten_cm2"][1] == 0
    assert off.plants.flows["leaf_eaten_cm2"][0] > 0


@pytest.mark.parametrize(
    "changes",
    [
        for_all("edge_factor", 1.0),
        for_all("leaf_exponent", 1.0),
        {"arrivals.place.year_spread": [0.0] * 7},
        {"arrivals.place.area_exponent": 0.0},
        {"insects.feeding.crawl_to_next_plant": 0.0},
        {"insects.feeding.change_leaf_per_day": 0.0},
        {"insects.shelter.head_predator_factor": 0.5},
        {"insects.crowding.disease_larvae_per_plant": 10.0},
        for_all("pace_spread", 0.0),
        for_all("under_leaf_share", 0.9),
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_a_manner_of_insects_leaves_its_mark(changes):
    scenario = garden(bed("cabbage", length_m=3.0, width_m=1.8), bed("radish"), bed(length_m=1.0), pests=MANY)
    on, off = numbers(scenario, changes)
    assert not is_same_season(on, off)


def test_home_bred_adults_stay_by_the_share_that_says_so():
    scenario = garden(bed(), season={"first_day": "04-20", "last_day": "08-20", "calendar_year": 2025}, pests=MANY)
    all_stay = live(scenario.with_changes({"pests.stay_share": 1.0}))
    none_stay = live(scenario.with_changes({"pests.stay_share": 0.0}))
    bred = (slice(None), Entry.BORN, Species.CABBAGE_LOOPER, Stage.ADULT)
    gone, became = none_stay.insects.exits[bred][:, Fate.LEFT_GARDEN].sum(), none_stay.insects.exits[bred].sum()
    assert gone == became > 0  # nobody stays, so each new adult leaves on the day it emerges
    assert not is_same_season(all_stay, none_stay)


def test_flight_waits_for_weather():
    scenario = garden(bed())
    dull = {"insects.flight.clear_for_full": 0.9, "insects.flight.rain_stops_mm": 1.0}
    on, off = numbers(scenario, dull)
    assert on.insects.entries[Entry.ARRIVED].sum() > off.insects.entries[Entry.ARRIVED].sum()


# -- crops ---------------------------------------------------------------------------------------------------------


def test_beetles_bring_wilt_and_without_them_no_cucumber_wilts():
    scenario = garden(
        bed("cucumber", planted="04-25"),
        season={"first_day": "04-20", "last_day": "09-10", "calendar_year": 2025},
        pests={"cucumber_beetle": 30.0},
        numbers={"insects.wilt.infective_late_share": 0.15},
    )
    on, off = on_and_off(scenario, {"pests.cucumber_beetle": 0.0})
    assert (on.plants.plants["infected_day"] >= 0).any()
    assert on.plants.plants["is_wilting"].any() or on.plants.plants["is_dead"].any()
    assert (off.plants.plants["infected_day"] < 0).all()


def test_lettuce_bolts_in_a_warm_spell_and_not_in_the_cool():
    scenario = garden(bed("lettuce", harvest="none"), pests=NO_PESTS, place={"climate": "warm_humid", "warmer_c": 5.0})
    on = live(scenario)
    off = live(scenario.with_changes({"place.climate": "cool_maritime", "place.warmer_c": -3.0}))
    assert on.plants.plants["is_bolting"][:8].any()
    assert not off.plants.plants["is_bolting"][:8].any()


def test_vigour_feeds_growth():
    on, off = on_and_off(garden(bed(vigour=1.3), pests=NO_PESTS), {"beds.collard-bed.vigour": 0.7})
    assert on.plants.flows["grown_g"][0] > off.plants.flows["grown_g"][0]  # nobody eats, so this is one rule's work


def test_aphids_come_and_slow_growth():
    scenario = garden(bed(harvest="none"), pests=NO_PESTS | {"cabbage_aphid": 30.0})
    on, off = on_and_off(scenario, {"pests.cabbage_aphid": 0.0})
    assert on.chronicle.column("aphids").max() > 0
    assert off.chronicle.column("aphids").max() == 0
    assert on.plants.flows["grown_g"][0] < off.plants.flows["grown_g"][0]  # the only eaters of the garden


def test_wild_hosts_in_the_margin_have_caterpillars_of_their_own():
    on, off = on_and_off(garden(bed(), pests=MANY), {"margin.wild_host_plants": 0})
    assert on.chronicle.column("caterpillars_in_margin").max() > 0
    assert off.chronicle.column("caterpillars_in_margin").max() == 0


def test_what_is_picked_takes_along_who_sits_on_it():
    on, off = on_and_off(garden(bed(), pests=MANY), {"beds.collard-bed.harvest": "none"})
    assert ended_by(on, Fate.HARVESTED) > 0
    assert ended_by(off, Fate.HARVESTED) == 0


# -- flowers and bees ----------------------------------------------------------------------------------------------

BLOOM = {"first_day": "04-20", "last_day": "08-20", "calendar_year": 2025}
NO_BEES = {"bees.honey_bees": 0.0, "bees.bumble_bees": 0.0, "bees.small_bees": 0.0}


def in_bloom(**other):
    return garden(bed("cucumber", planted="04-21"), season=BLOOM, pests=NO_PESTS, **other)


def test_without_bees_no_flower_is_visited_and_none_sets():
    on, off = on_and_off(in_bloom(), NO_BEES)
    assert on.plants.flows["fruits_set"][0] > 0
    assert off.plants.flows["flowers_opened"][0] > 0
    assert off.plants.flows["flowers_visited"][0] == off.plants.flows["fruits_set"][0] == 0


@pytest.mark.parametrize("bee", ["honey_bee", "bumble_bee", "small_bee"])
def test_each_kind_of_bee_visits_by_itself(bee):
    alone = {key: value for key, value in NO_BEES.items() if key != f"bees.{bee}s"}
    only, none = live(in_bloom().with_changes(alone)), live(in_bloom().with_changes(NO_BEES))
    assert only.chronicle.column(f"{bee}_visits").sum() > 0
    assert only.plants.flows["fruits_set"][0] > 0
    assert none.chronicle.column(f"{bee}_visits").sum() == 0


def test_flowers_that_beetles_ate_set_less_often():
    beetles = NO_PESTS | {"cucumber_beetle": 30.0}
    scenario = garden(bed("cucumber", planted="04-21", self_fruitful=True), season=BLOOM, pests=beetles)
    clean = scenario.with_changes({"pests.cucumber_beetle": 0.0})

    def set_share(one):
        flows = [live(one, seed=seed).plants.flows for seed in range(1, 7)]
        return sum(flow["fruits_set"][0] for flow in flows) / sum(flow["flowers_opened"][0] for flow in flows)

    assert set_share(scenario) < 0.7 * set_share(clean)  # no bees are needed: only the bites can matter


def test_a_self_fruitful_cultivar_needs_no_bees():
    scenario = in_bloom().with_changes(NO_BEES)
    off, on = on_and_off(scenario, {"beds.cucumber-bed.self_fruitful": True})
    assert off.plants.flows["fruits_set"][0] == 0
    assert on.plants.flows["fruits_set"][0] > 0


# -- hedgerow and flowers ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["margin.hedgerow_m", "margin.flower_strip_m2"])
def test_a_hedgerow_or_flowers_hold_more_enemies(key):
    off, on = on_and_off(garden(bed(), pests=NO_PESTS), {key: 30.0})
    assert (on.generalists.alive() > off.generalists.alive()).all()  # same weather, no prey: one rule's work


def test_a_hedgerow_feeds_nestlings():
    off, on = on_and_off(garden(bed(), birds=TEN_NESTS), {"margin.hedgerow_m": 30.0})
    assert flows_of(off).nestlings_from_hedgerow_kj == 0
    assert flows_of(on).nestlings_from_hedgerow_kj > 0


def test_a_flower_strip_draws_bees():
    scenario = in_bloom()
    off, on = on_and_off(scenario, {"margin.flower_strip_m2": 10.0})
    assert total(on, "honey_bee_visits") != total(off, "honey_bee_visits")


def test_a_second_year_begins_with_what_wintered():
    from sim import run_season

    scenario = garden(
        bed(), pests=MANY, season={"first_day": "04-01", "last_day": "11-10", "calendar_year": 2025, "years": 2}
    )
    two = run_season(scenario, "nothing", 1).garden.insects
    one = run_season(scenario.with_changes({"season.years": 1}), "nothing", 1).garden.insects
    assert two.entries[Entry.OVERWINTERED].sum() > 0
    assert one.entries[Entry.OVERWINTERED].sum() == 0
    assert not two.balance().any()


def test_those_who_feed_in_a_head_are_hidden_from_sprays_and_enemies():
    scenario = garden(
        bed("cabbage", harvest="none"),
        season={"first_day": "04-20", "last_day": "08-20", "calendar_year": 2025},
        pests=NO_PESTS | {"cabbage_white": 5.0},
    )
    on, off = numbers(scenario, {"moths.cabbage_white.head_share": ZEROS})
    assert on.plants.flows["head_eaten_cm2"][0] > 0
    assert off.plants.flows["head_eaten_cm2"][0] == 0
    assert np.isclose(off.plants.plants["head_eaten_cm2"][:8].sum(), 0.0)
