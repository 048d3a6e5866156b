"""What happens to many insects at once: hands, clean-up, spade, winter, nets, wasps; and books that close."""

import numpy as np
import pytest

from sim.cast import SPECIES, STAGES, Fate, Species, Stage
from sim.crops.plant import HEAD
from sim.insects.attraction import find_between, find_by_guide, write_guide
from sim.insects.flight import flight_of_the_day
from sim.insects.record import HIDDEN, IN_SOIL, ON_STALKS
from tests.outside.insect_trials import Box, day_of, unharmed
from tests.sim.insect_records import HABITS, flier_of

WHITE, WASP, FLEA = Species.CABBAGE_WHITE, Species.PARASITOID_WASP, Species.FLEA_BEETLE
MANY = 2000


def box_of(species, stage, number=MANY, *, plants=10, leave_on=(), **values):
    box = Box(species, unharmed(leave_on), plants=plants)
    box.put(stage, number, **values)
    return box


def after(box):
    """Bury the dead; return how many are left."""
    box.insects.bury()
    assert not box.insects.balance().any()
    return box.insects.count


def find(share):
    return np.full((SPECIES, STAGES), share)


def test_a_hand_finds_its_share_of_what_sits_in_the_open():
    box = box_of(WHITE, Stage.INSTAR_4)
    taken = box.insects.pick_by_hand(0, 3, find(0.4), 0.0, 1.0)
    assert taken == pytest.approx(800, abs=90)
    assert after(box) == MANY - taken
    assert box.dead(Fate.PICKED_BY_HAND).sum() == taken


def test_a_hand_goes_over_a_part_of_the_row_only():
    box = box_of(WHITE, Stage.INSTAR_4)
    box.insects.pick_by_hand(0, 3, find(1.0), 0.0, 0.5)
    after(box)
    assert set(box.alive["plant"]) == {5, 6, 7, 8, 9}
    box.insects.pick_by_hand(0, 3, find(1.0), 0.5, 1.0)
    assert after(box) == 0


@pytest.mark.parametrize("place", [IN_SOIL, ON_STALKS])
def test_no_hand_finds_those_in_soil_and_debris(place):
    box = box_of(WHITE, Stage.PUPA, place=place)
    assert box.insects.pick_by_hand(0, 3, find(1.0), 0.0, 1.0) == 0


def test_clean_up_takes_stalks_and_plants_not_soil_and_fliers():
    box = box_of(WHITE, Stage.PUPA, place=ON_STALKS)
    assert box.insects.clean_up(0, 1, 0.9) == pytest.approx(1800, abs=60)
    for stage, values in ((Stage.PUPA, {"place": IN_SOIL}), (Stage.ADULT, {})):
        assert box_of(WHITE, stage, 50, **values).insects.clean_up(0, 1, 1.0) == 0
    assert box_of(FLEA, Stage.ADULT, 50, is_resting=1).insects.clean_up(0, 1, 1.0) == 50


def test_a_spade_kills_its_share_in_the_soil_and_nobody_above():
    assert box_of(FLEA, Stage.PUPA).insects.till(0, 1, 0.6) == pytest.approx(1200, abs=90)
    assert box_of(WHITE, Stage.PUPA, 50).insects.till(0, 1, 1.0) == 0


def test_winter_spares_its_share_of_the_resting_only():
    box = box_of(WHITE, Stage.PUPA, is_resting=1, place=ON_STALKS)
    box.put(Stage.INSTAR_5, 100)
    living = box.insects.meet_winter(0)
    share = box.insects.table.fliers["winter_survival_share"][WHITE]
    assert living[0, WHITE] == pytest.approx(MANY * share, abs=100)
    assert (box.alive["stage"] == Stage.PUPA).all()
    assert box.dead(Fate.WINTER)[Stage.INSTAR_5] == 100


def test_a_tight_net_lets_nobody_in_and_counts_the_tries():
    box = box_of(WHITE, Stage.ADULT, 50, plant=-1, warmth_dd=40.0, bed=1)
    box.shut()
    for _ in range(4):
        box.live(day_of(22.0, swing_c=5.0), flies=True)
    assert box.laid == 0
    assert box.insects.turned_away[WHITE, 0] > 25


def test_a_female_shut_in_lays_inside_and_stays():
    box = box_of(WHITE, Stage.ADULT, 50, warmth_dd=40.0, inside=0)
    box.shut()
    for _ in range(3):
        box.live(day_of(22.0, swing_c=5.0), flies=True)
    assert box.laid > 50
    assert not box.dead(Fate.LEFT_GARDEN).any()
    assert box.insects.turned_away.sum() == 0
    young = box.alive[box.alive["stage"] == Stage.EGG]
    assert (young["bed"] == 0).all()
    assert len(set(young["key"].tolist())) == len(young)


def test_moths_without_eggs_look_for_no_plants():
    males = box_of(WHITE, Stage.ADULT, 50, is_female=0)
    unripe = box_of(WHITE, Stage.ADULT, 50)
    males.live(day_of(22.0), flies=True)
    unripe.live(day_of(15.0), flies=True)
    for box in (males, unripe):
        assert box.insects.count == 50
        assert box.laid == 0


def test_a_wasp_stings_young_larvae_they_die_full_grown_and_cocoons_stand_beside_them():
    box = box_of(WHITE, Stage.INSTAR_1, 200, plants=4)
    box.species = WASP
    box.put(Stage.ADULT, 20)
    box.species = WHITE
    for _ in range(40):
        box.live(day_of(20.0, swing_c=5.0), flies=True)
    stung = box.insects.stung
    assert stung > 20
    dead = box.dead(Fate.PARASITISED)
    assert 0 < dead[Stage.INSTAR_5] == dead.sum() <= stung
    cocoons = int(box.insects.entries[2, WASP])
    assert 10.0 <= cocoons / dead.sum() <= 35.0


def test_hosts_too_old_are_not_stung():
    box = box_of(WHITE, Stage.INSTAR_4, 200, plants=4)
    box.species = WASP
    box.put(Stage.ADULT, 20)
    for _ in range(3):
        box.live(day_of(20.0, swing_c=5.0), flies=True)
    assert box.insects.stung == 0


def test_the_morning_counts_who_is_where():
    box = box_of(WHITE, Stage.INSTAR_5, 30, place=HEAD, exposure=HIDDEN)
    box.put(Stage.EGG, 20)
    box.insects.count_up(box.near)
    assert box.near.alive[0, WHITE, Stage.INSTAR_5] == 30
    assert box.near.alive[0, WHITE, Stage.EGG] == 20
    assert box.near.alive.sum() == 50
    assert box.insects.in_reach_mg.sum() == 0.0  # eggs, and larvae inside a head
    assert box.near.mass_mg[0, WHITE, Stage.INSTAR_5] == pytest.approx(box.alive["mass_mg"][:30].sum())


@pytest.mark.parametrize(
    ("hand", "place"),
    [
        (lambda insects: insects.pick_by_hand(0, 3, find(0.4), 0.0, 1.0), 0),
        (lambda insects: insects.clean_up(0, 3, 0.4), ON_STALKS),
        (lambda insects: insects.till(0, 3, 0.4), IN_SOIL),
    ],
)
def test_whom_a_hand_took_since_the_evening_the_morning_does_not_count(hand, place):
    box = box_of(WHITE, Stage.PUPA, place=place)
    box.insects.bury()
    taken = hand(box.insects)
    box.insects.count_up(box.near)
    assert taken > 0
    assert box.near.alive.sum() == MANY - taken


def test_equal_trials_end_in_equal_records():
    boxes = [box_of(WHITE, Stage.EGG, 100, leave_on=("failed_share", "disease_per_day")) for _ in range(2)]
    for box in boxes:
        for _ in range(30):
            box.live(day_of(20.0))
    assert boxes[0].alive.tobytes() == boxes[1].alive.tobytes()


def test_sums_of_attraction_give_each_plant_its_share():
    sums = np.array([0.0, 1.0, 1.0, 4.0, 10.0])
    marks = (np.arange(1000) + 0.5) / 1000.0
    guide = np.zeros(5, np.int64)
    for steps in (1, 3, 4):  # few fliers need few steps, and find the same
        write_guide(sums, 4, steps, guide)
        found = [find_by_guide(sums, 4, guide, mark) for mark in marks]
        assert np.bincount(found, minlength=4) == pytest.approx([100, 0, 300, 600], abs=1)
    for found in (
        [find_by_guide(sums, 4, guide, mark) for mark in marks],
        [find_between(sums, 0, 4, mark) for mark in marks],
    ):
        assert np.bincount(found, minlength=4) == pytest.approx([100, 0, 300, 600], abs=1)
    assert find_between(sums, 1, 2, 0.5) == -1
    assert {find_between(sums, 2, 4, mark) for mark in marks} == {2, 3}
    assert find_by_guide(np.zeros(5), 4, guide, 0.5) == -1


def test_flight_needs_warmth_and_light_and_little_rain():
    butterfly = flier_of(flight_low_c=14.0, flight_full_c=25.0, dull_share=0.15)
    fine = flight_of_the_day(butterfly, 26.0, 0.9, 0.0, HABITS)
    assert fine == 1.0
    assert flight_of_the_day(butterfly, 13.0, 0.9, 0.0, HABITS) == 0.0
    assert flight_of_the_day(butterfly, 26.0, 0.1, 0.0, HABITS) == pytest.approx(0.15)
    assert flight_of_the_day(butterfly, 26.0, 0.9, float(HABITS["rain_stops_mm"]), HABITS) == pytest.approx(0.5)
