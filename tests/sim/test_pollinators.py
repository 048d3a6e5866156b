"""Bees: when they fly, which flowers they reach, what harms them."""

import mesa
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.cast import BEES, PRODUCTS, Bee, Crop, Product, Visitor
from sim.compiled import Floats, Records, records
from sim.crops.plant import FRUIT, FRUITS, PLANT, FruitState
from sim.flying_hours import flies_at
from sim.parameters.table import load_parameters
from sim.pollinators import Pollinators, unharmed_share, visits_per_flower
from sim.surroundings import TODAY, Surroundings, open_ground

BEDS = 3
HARMLESS = np.zeros(PRODUCTS)


def fine_day(day: int = 120, tmin_c: float = 15.0, tmax_c: float = 27.0, rain_mm: float = 0.0) -> Records:
    today = records(np.zeros(1, TODAY))
    today["day"], today["day_of_year"] = day, 60 + day
    today["tmin_c"], today["tmax_c"], today["rain_mm"] = tmin_c, tmax_c, rain_mm
    today["day_length_h"] = 14.5
    return today


def cucumbers(in_bed: int = 20, day: int = 120, open_each: int = 1) -> tuple[Records, Records]:
    """Return cucumbers in each bed, each with some flowers that opened on the day and one of the day before."""
    plants = records(np.zeros(in_bed * BEDS, PLANT))
    plants["bed"] = np.arange(plants.size) % BEDS
    plants["crop"], plants["is_growing"] = int(Crop.CUCUMBER), 1
    fruits = records(np.zeros((plants.size, FRUITS), FRUIT))
    fruits["key"] = np.arange(fruits.size, dtype=np.uint64).reshape(fruits.shape)
    fruits["state"][:, : open_each + 1] = int(FruitState.OPEN)
    fruits["opened_day"][:, :open_each] = day
    fruits["opened_day"][:, open_each] = day - 1
    plants["open_flowers"], plants["fruit_slots"] = open_each, open_each + 1
    return plants, fruits


def bees(factors: float = 1.0) -> Pollinators:
    return Pollinators(mesa.Model(), load_parameters(), factors=np.full(BEES, factors), bed_count=BEDS)


def send(
    who: Pollinators,
    today: Records,
    surroundings: Surroundings,
    plants: Records,
    fruits: Records,
    kill: Floats = HARMLESS,
    strip_m2: float = 0.0,
    hedgerow_m: float = 0.0,
    beetles: Floats | None = None,
) -> Floats:
    visits: Floats = who.visit(
        today,
        surroundings,
        np.arange(len(plants)),
        plants,
        fruits,
        bee_kill=kill,
        flower_strip_m2=strip_m2,
        hedgerow_m=hedgerow_m,
        beetles_per_flower=beetles,
    ).astype(float)
    return visits


def number(name: str) -> float:
    return load_parameters().number(f"pollinators.{name}")


def numbers(name: str) -> Floats:
    return load_parameters().numbers(f"pollinators.{name}")


def blossoms_in_reach(open_each: float, strip_m2: float = 0.0) -> float:
    """Return what is in bloom for a bee: these flowers in each bed, their male ones, other forage, a strip."""
    in_beds = BEDS * open_each * (1.0 + number("male_flowers_per_female"))
    return number("other_blossoms") + number("strip_blossoms_per_m2") * strip_m2 + in_beds


def bees_present(open_each: float, strip_m2: float = 0.0) -> Floats:
    """Return the bees of each kind that come on a day in open beds, without a hedgerow."""
    blossoms = blossoms_in_reach(open_each, strip_m2)
    strip = strip_m2 / (strip_m2 + number("strip_half_m2"))
    drawn = blossoms / (blossoms + number("blossoms_for_half_the_bees"))
    present: Floats = numbers("bees_at_most") * (1.0 + numbers("strip_gain") * strip) * drawn
    return present


def flying_shares() -> Floats:
    return np.array([bees().flying_share(kind, fine_day()) for kind in Bee])


def expected_visits(open_each: float, strip_m2: float = 0.0) -> Floats:
    """Return the mean visits to a flower of each bed by each kind: bees, flowers a minute, minutes, over flowers."""
    minutes = flying_shares() * number("window_hours") * 60.0
    each = bees_present(open_each, strip_m2) * numbers("flowers_per_minute") * minutes
    return np.tile(each / blossoms_in_reach(open_each, strip_m2), (BEDS, 1))


def test_only_flowers_opened_today_on_growing_cucumbers_are_visited() -> None:
    plants, fruits = cucumbers()
    plants["is_growing"][0] = 0
    plants["crop"][1] = int(Crop.KALE)
    visits = send(bees(3.0), fine_day(), open_ground(np.full(BEDS, 10.0)), plants, fruits)
    assert visits.sum() == sum(fruits[name].sum() for name in ("honey_visits", "bumble_visits", "small_visits"))
    assert not fruits["honey_visits"][:2].any()
    assert not fruits["bumble_visits"][:, 1:].any()
    assert fruits["bumble_visits"][2:, 0].all()


def test_a_tight_net_lets_no_visit_through() -> None:
    plants, fruits = cucumbers()
    surroundings = open_ground(np.full(BEDS, 10.0))
    surroundings.gets_in[1, Visitor.HONEY_BEE : Visitor.SMALL_BEE + 1] = 0.0
    visits = send(bees(), fine_day(), surroundings, plants, fruits)
    assert not visits[1].any()
    assert visits[0].all()


def test_a_net_that_lets_in_only_small_bees() -> None:
    plants, fruits = cucumbers()
    surroundings = open_ground(np.full(BEDS, 10.0))
    surroundings.gets_in[0, Visitor.HONEY_BEE] = surroundings.gets_in[0, Visitor.BUMBLE_BEE] = 0.0
    visits = send(bees(), fine_day(), surroundings, plants, fruits)
    assert not visits[0, : Bee.SMALL_BEE].any()
    assert visits[0, Bee.SMALL_BEE] > 0.0


def test_same_flowers_same_day_same_visits_however_often_asked() -> None:
    first, second = cucumbers(), cucumbers()
    send(bees(), fine_day(), open_ground(np.full(BEDS, 10.0)), *first)
    send(bees(), fine_day(), open_ground(np.full(BEDS, 10.0)), *second)
    assert first[1].tobytes() == second[1].tobytes()


def test_more_rival_flowers_mean_fewer_visits_each_but_no_fewer_in_all() -> None:
    who_few, who_many = bees(), bees()
    surroundings = open_ground(np.full(BEDS, 10.0))
    few = send(who_few, fine_day(), surroundings, *cucumbers(in_bed=5))
    many = send(who_many, fine_day(), surroundings, *cucumbers(in_bed=50))
    assert (who_many.mean_visits < who_few.mean_visits).all()
    assert many.sum() > few.sum()


def test_a_flower_strip_in_bloom_brings_bees_and_rivals() -> None:
    plain, strip, early, late = bees(), bees(), bees(), bees()
    surroundings = open_ground(np.full(BEDS, 10.0))
    send(plain, fine_day(), surroundings, *cucumbers())
    send(strip, fine_day(), surroundings, *cucumbers(), strip_m2=10.0)
    send(early, fine_day(day=40), surroundings, *cucumbers(day=40), strip_m2=10.0)
    send(late, fine_day(day=300), surroundings, *cucumbers(day=300), strip_m2=10.0)
    assert strip.mean_visits == pytest.approx(expected_visits(open_each=20.0, strip_m2=10.0), rel=1e-12)
    assert strip.mean_visits != pytest.approx(plain.mean_visits, rel=0.01)
    assert early.mean_visits == pytest.approx(plain.mean_visits)
    assert late.mean_visits == pytest.approx(plain.mean_visits)


def test_a_hedgerow_adds_wild_bees_only() -> None:
    plain, hedge = bees(), bees()
    surroundings = open_ground(np.full(BEDS, 10.0))
    send(plain, fine_day(), surroundings, *cucumbers())
    send(hedge, fine_day(), surroundings, *cucumbers(), hedgerow_m=30.0)
    more = hedge.mean_visits[0] / plain.mean_visits[0]
    drawn = 30.0 / (30.0 + number("hedgerow_half_m"))
    assert more == pytest.approx(1.0 + numbers("hedgerow_gain") * drawn)
    assert more[Bee.HONEY_BEE] == 1.0
    assert more[Bee.SMALL_BEE] > more[Bee.BUMBLE_BEE] > 1.0


def test_beetles_in_flowers_keep_bees_off() -> None:
    clean, beetles = bees(), bees()
    surroundings = open_ground(np.full(BEDS, 10.0))
    send(clean, fine_day(), surroundings, *cucumbers())
    send(beetles, fine_day(), surroundings, *cucumbers(), beetles=np.array([5.0, 0.0, 0.0]))
    calm = 1.0 / (1.0 + 5.0 * number("beetle_annoyance"))
    assert beetles.mean_visits[0] == pytest.approx(calm * clean.mean_visits[0])
    assert 0.0 < calm < 1.0
    assert beetles.mean_visits[1].tobytes() == clean.mean_visits[1].tobytes()


def test_harmful_residue_costs_visits_and_bees_which_come_back_slowly() -> None:
    who = bees()
    surroundings = open_ground(np.full(BEDS, 10.0))
    kill = HARMLESS.copy()
    kill[Product.PYRETHRINS] = 0.5
    surroundings.bee_harm[0, Product.PYRETHRINS] = 1.0
    send(who, fine_day(), surroundings, *cucumbers(), kill=kill)
    assert (who.index < 1.0).all()
    assert (who.harmed > 0.0).all()
    assert who.mean_visits[0] == pytest.approx(0.5 * who.mean_visits[1])
    surroundings.bee_harm[:] = 0.0
    hurt = who.index.copy()
    send(who, fine_day(121), surroundings, *cucumbers(day=121), kill=kill)
    recovery = load_parameters().number("pollinators.recovery_per_day")
    assert who.index == pytest.approx(hurt + (1.0 - hurt) * recovery)


def test_a_harmless_product_changes_not_a_byte() -> None:
    with_residue, without = cucumbers(), cucumbers()
    surroundings = open_ground(np.full(BEDS, 10.0))
    send(bees(), fine_day(), surroundings, *without)
    surroundings.bee_harm[:] = 1.0
    send(bees(), fine_day(), surroundings, *with_residue)
    assert with_residue[1].tobytes() == without[1].tobytes()


def test_harm_meets_bees_only_where_they_work() -> None:
    who = bees()
    plants, fruits = cucumbers()
    fruits["state"][plants["bed"] == 0] = int(FruitState.NONE)
    plants["open_flowers"][plants["bed"] == 0] = 0
    surroundings = open_ground(np.full(BEDS, 10.0))
    surroundings.bee_harm[0] = 1.0
    send(who, fine_day(), surroundings, plants, fruits, kill=np.ones(PRODUCTS))
    assert (who.index == 1.0).all()
    assert not who.harmed.any()


@given(share=st.sampled_from([0.0, 0.5, 1.0]), visits=st.integers(1, 20))
@settings(max_examples=20, deadline=None)
def test_a_brush_reaches_its_share_of_todays_flowers(share: float, visits: int) -> None:
    plants, fruits = cucumbers()
    brushed = bees().hand_pollinate(fine_day(), plants, fruits, bed=1, visits=visits, share=share)
    assert brushed == np.count_nonzero(fruits["hand_visits"])
    assert fruits["hand_visits"].sum() == brushed * visits
    assert not fruits["hand_visits"][plants["bed"] != 1].any()
    assert not fruits["hand_visits"][:, 1:].any()
    if share in (0.0, 1.0):
        assert brushed == 20 * share


@given(st.floats(-20.0, 60.0))
def test_flight_lies_between_none_and_all(air_c: float) -> None:
    assert 0.0 <= flies_at(air_c, 13.0, 20.0, 32.0, 40.0) <= 1.0


def test_small_rules() -> None:
    assert visits_per_flower(2.0, 5.0, 60.0, 0.0) == 0.0
    assert visits_per_flower(2.0, 5.0, 60.0, 100.0) == pytest.approx(6.0)
    assert unharmed_share(np.array([0.5, 1.0]), np.array([0.5, 0.2])) == pytest.approx(0.75 * 0.8)


def test_flowers_under_a_closed_net_leave_more_visits_for_those_in_the_open() -> None:
    everywhere, elsewhere_shut = bees(), bees()
    surroundings, shut = open_ground(np.full(BEDS, 10.0)), open_ground(np.full(BEDS, 10.0))
    shut.gets_in[1:] = 0.0
    for who, near in ((everywhere, surroundings), (elsewhere_shut, shut)):
        send(who, fine_day(), near, *cucumbers(in_bed=300))
    assert (elsewhere_shut.mean_visits[0] > everywhere.mean_visits[0]).all()
    assert not elsewhere_shut.mean_visits[1:].any()


def test_a_bee_that_a_residue_stops_does_not_visit_the_flower() -> None:
    who, near = bees(), open_ground(np.full(BEDS, 10.0))
    near.bee_harm[0, Product.PYRETHRINS] = 1.0
    kill = HARMLESS.copy()
    kill[Product.PYRETHRINS] = 0.75
    send(who, fine_day(), near, *cucumbers(), kill)
    assert who.mean_visits[0] == pytest.approx(0.25 * who.mean_visits[1])


def test_bees_of_different_kinds_come_to_a_flower_by_chances_of_their_own() -> None:
    who, near = bees(20.0), open_ground(np.full(BEDS, 10.0))
    plants, fruits = cucumbers(in_bed=400)
    send(who, fine_day(), near, plants, fruits)
    today = fruits["opened_day"] == 120
    kinds = [fruits[name][today].astype(float) for name in ("honey_visits", "bumble_visits", "small_visits")]
    assert all(visits.std() > 0 for visits in kinds)
    linked = np.corrcoef(kinds)[np.triu_indices(3, 1)]
    assert (np.abs(linked) < 4.0 / np.sqrt(today.sum())).all()  # four standard errors


def test_visits_are_bees_times_flowers_a_minute_over_all_that_blooms() -> None:
    who = bees()
    send(who, fine_day(), open_ground(np.full(BEDS, 10.0)), *cucumbers(in_bed=25))
    assert who.mean_visits == pytest.approx(expected_visits(open_each=25.0), rel=1e-12)


def test_bees_lost_yesterday_are_missing_today() -> None:
    whole, halved = bees(), bees()
    halved.index[:] = 0.5
    for who in (whole, halved):
        send(who, fine_day(), open_ground(np.full(BEDS, 10.0)), *cucumbers())
    assert halved.mean_visits == pytest.approx(0.5 * whole.mean_visits)


def test_bees_at_work_and_those_that_residue_harms_are_counted_by_the_time_they_spend_there() -> None:
    who, near = bees(), open_ground(np.full(BEDS, 10.0))
    near.bee_harm[0, Product.PYRETHRINS] = 1.0
    kill = HARMLESS.copy()
    kill[Product.PYRETHRINS] = 0.75
    today = fine_day(tmin_c=9.0, tmax_c=17.0)  # too cool for a part of the morning
    shares = np.array([who.flying_share(kind, today) for kind in Bee])
    assert (shares > 0.0).all()
    assert (shares < 1.0).any()
    send(who, today, near, *cucumbers(), kill)
    in_a_bed = 20.0 * (1.0 + number("male_flowers_per_female")) / blossoms_in_reach(20.0)
    lost = in_a_bed * shares * 0.75
    assert who.at_work == pytest.approx(bees_present(20.0) * BEDS * in_a_bed * shares)
    assert who.harmed == pytest.approx(bees_present(20.0) * lost)
    assert who.index == pytest.approx(1.0 - lost + lost * number("recovery_per_day"))
