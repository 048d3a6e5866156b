"""More of this gives less of that: said of single rules, never of a whole season, where it may truly fail."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sim.cast import HAZARDS, PRODUCTS, STAGES, Fate, Product, Species, Stage
from sim.compiled import records
from sim.crops.flowers import chance_to_set
from sim.crops.plant import FRUIT
from sim.crops.table import crop_table
from sim.enemies.hunting import activity, still_hungry
from sim.insects.flight import flight_of_the_day
from sim.insects.record import INSECT
from sim.insects.rules import appetite_cm2, die_of_one_hazard, survives
from sim.insects.table import insect_table
from sim.insects.weighing import hazard_of_share, share_inside, spray_hazard, warmth_of_the_day, wasp_activity
from sim.insects.wilt_carriers import infection_share
from sim.parameters import load_parameters
from sim.practices.fabrics import pass_share
from sim.practices.kills import eaten_share, kill_table
from sim.practices.nets import leak_of
from sim.practices.sprays import drift_share, left_after, together
from sim.surroundings import BED_DAY

TABLE = insect_table(load_parameters())
WHITE, INSTAR = Species.CABBAGE_WHITE, Stage.INSTAR_3
shares = st.floats(0.0, 1.0)
amounts = st.floats(0.0, 1e4)
temperatures = st.floats(-10.0, 45.0)


def pair(numbers):
    """Draw two numbers, the smaller first."""
    return st.tuples(numbers, numbers).map(sorted)


@given(two=pair(shares))
def test_a_greater_share_is_a_greater_hazard(two):
    less, more = two
    assert 0.0 <= hazard_of_share(less) <= hazard_of_share(more) < np.inf


@given(share=st.floats(0.0, 0.999))
def test_a_hazard_kills_the_share_it_was_made_from(share):
    assert np.isclose(1.0 - np.exp(-hazard_of_share(share)), share, atol=1e-12)


@given(key=st.integers(0, 2**63), day=st.integers(0, 300), two=pair(shares))
def test_who_survives_a_greater_danger_survives_a_smaller(key, day, two):
    insect = records(np.zeros(1, INSECT))
    insect["key"] = key
    less, more = two
    if survives(insect[0], more, day):
        assert survives(insect[0], less, day)


@given(hazards=st.lists(st.sampled_from((0.0, 0.01, 0.5, 3.0)), min_size=HAZARDS, max_size=HAZARDS), key=st.integers(0))
def test_nobody_dies_of_a_cause_that_is_not_there(hazards, key):
    if not any(hazards):
        return
    insect = records(np.zeros(1, INSECT))
    insect["key"], insect["fate"] = key % 2**63, Fate.ALIVE
    die_of_one_hazard(insect[0], np.array(hazards), 10)
    assert hazards[int(insect["fate"][0])] > 0.0


def test_causes_share_the_dead_in_proportion():
    hazards = np.zeros(HAZARDS)
    hazards[Fate.DISEASE], hazards[Fate.SPRAYED] = 0.3, 0.1
    insects = records(np.zeros(4000, INSECT))
    insects["key"] = np.random.default_rng(5).integers(0, 2**63, 4000)
    for insect in insects:
        die_of_one_hazard(insect, hazards, 3)
    of_disease = np.mean(insects["fate"] == Fate.DISEASE)
    assert abs(of_disease - 0.75) < 4 * np.sqrt(0.75 * 0.25 / 4000)


@given(tmin=st.floats(-5, 25), swing=st.floats(0, 20), warmer=st.floats(0, 10), bonus=st.floats(0, 3))
def test_a_warmer_day_develops_no_less(tmin, swing, warmer, bonus):
    bed = records(np.zeros(2, BED_DAY))
    bed["tmin_c"], bed["tmax_c"] = [tmin, tmin + warmer], [tmin + swing, tmin + swing + warmer]
    bed["sun_bonus_c"] = bonus
    for stage in range(STAGES):
        kind = TABLE.life[WHITE, stage]
        cool, warm = (warmth_of_the_day(kind, bed[i], TABLE.habits[0]) for i in (0, 1))
        assert 0.0 <= cool <= warm + 1e-9


KILL, BY_EATING = kill_table(load_parameters()), eaten_share(load_parameters())


@given(two=pair(shares), contact=shares, product=st.sampled_from(Product))
def test_more_residue_or_contact_is_no_less_dangerous(two, contact, product):
    kind = TABLE.life[WHITE, INSTAR]

    def danger(residue, wetted):
        on_leaf, on_skin = np.zeros(PRODUCTS), np.zeros(PRODUCTS)
        on_leaf[product], on_skin[product] = residue, wetted
        return spray_hazard(kind, KILL[:, WHITE], BY_EATING[:, WHITE], on_leaf, on_skin, int(INSTAR))

    assert danger(two[0], contact) <= danger(two[1], contact)
    assert danger(contact, two[0]) <= danger(contact, two[1])
    assert danger(0.0, 0.0) == 0.0


@given(two=pair(shares), kill=shares)
def test_more_residue_leaves_no_more_wasps_at_work(two, kill):
    def at_work(residue):
        return wasp_activity(np.full(PRODUCTS, kill), np.full(PRODUCTS, residue), np.zeros(PRODUCTS))

    assert 0.0 <= at_work(two[1]) <= at_work(two[0]) <= at_work(0.0) == 1.0


@given(two=pair(shares), ratio=st.floats(0.5, 20))
def test_more_openings_hold_no_fewer_wasps(two, ratio):
    assert share_inside(two[0], ratio) <= share_inside(two[1], ratio) + 1e-12
    assert share_inside(0.0, ratio) == 0.0
    assert share_inside(1.0, ratio) == 1.0


@given(two=pair(st.floats(0.01, 100)), stop=st.floats(0.1, 30), ratio=st.floats(1.1, 2.5))
def test_a_wider_hole_lets_no_fewer_through(two, stop, ratio):
    assert 0.0 <= pass_share(two[0], stop, ratio) <= pass_share(two[1], stop, ratio) <= 1.0
    assert pass_share(stop, stop, ratio) == 0.0


@given(edge=pair(shares), gap=pair(shares), whole=shares)
def test_a_slacker_edge_or_a_wider_gap_leaks_no_less(edge, gap, whole):
    assert 0.0 <= leak_of(edge[0], gap[0], whole) <= leak_of(edge[1], gap[1], whole) + 1e-12 <= 1.0 + 1e-9
    assert leak_of(0.0, 0.0, whole) == 0.0


@given(two=pair(st.floats(0, 100)), at_reference=shares)
def test_drift_falls_with_distance(two, at_reference):
    near, far = two
    assert drift_share(at_reference, far, 1.5, 1.0) <= drift_share(at_reference, near, 1.5, 1.0) <= at_reference


@given(days=pair(st.floats(0, 30)), rain=pair(st.floats(0, 100)), half_life=st.floats(0.0, 10), loss=st.floats(0, 2))
def test_what_is_on_the_leaf_fades_with_time_and_rain(days, rain, half_life, loss):
    assert left_after(days[1], half_life, rain[0], loss) <= left_after(days[0], half_life, rain[0], loss) <= 1.0
    assert left_after(days[0], half_life, rain[1], loss) <= left_after(days[0], half_life, rain[0], loss)


@given(one=shares, other=shares)
def test_two_deposits_are_more_than_one_and_never_more_than_full(one, other):
    assert max(one, other) - 1e-12 <= together(one, other) <= 1.0 + 1e-12


@given(two=pair(st.floats(0, 40)), clear=pair(shares), rain=pair(st.floats(0, 50)))
def test_warmth_and_sun_make_flight_and_rain_stops_it(two, clear, rain):
    for species in Species:
        flier = TABLE.fliers[species]
        fair = flight_of_the_day(flier, two[1], clear[1], rain[0], TABLE.habits[0])
        poor = flight_of_the_day(flier, two[0], clear[0], rain[1], TABLE.habits[0])
        assert 0.0 <= poor <= fair <= 1.0


@given(two=pair(temperatures))
def test_a_warmer_day_makes_beetles_no_less_hungry(two):
    insect = records(np.zeros(1, INSECT))
    insect["species"], insect["stage"], insect["pace"] = Species.FLEA_BEETLE, Stage.ADULT, 1.0
    kind, flier = TABLE.life[Species.FLEA_BEETLE, Stage.ADULT], TABLE.fliers[Species.FLEA_BEETLE]
    cool, warm = (appetite_cm2(insect[0], kind, flier, TABLE.habits[0], 10.0, mean_c) for mean_c in two)
    assert 0.0 <= cool <= warm


@given(two=pair(amounts))
def test_more_prey_leaves_an_enemy_no_hungrier(two):
    assert still_hungry(0.03, 60.0, two[1]) <= still_hungry(0.03, 60.0, two[0]) <= 1.0


@given(two=pair(temperatures))
def test_warmth_moves_enemies(two):
    assert 0.0 <= activity(two[0], 4.0, 16.0) <= activity(two[1], 4.0, 16.0) <= 1.0


@given(two=pair(st.integers(0, 40)), kind=st.sampled_from(("honey_visits", "bumble_visits", "small_visits")))
def test_another_visit_sets_no_less(two, kind):
    crop = crop_table(load_parameters())[8]
    fruits = records(np.zeros(2, FRUIT))
    fruits[kind] = two
    few, many = (chance_to_set(fruits[i], crop, False) for i in (0, 1))
    assert few <= many <= 1.0


@given(two=pair(st.integers(0, 30)), leaf=st.floats(0, 5000))
def test_more_carriers_bring_no_less_wilt(two, leaf):
    few, many = (infection_share(float(carriers), leaf, TABLE.habits[0]) for carriers in two)
    assert 0.0 <= few <= many <= 1.0
