"""The rules of one insect's life, each on records made by hand."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cast import HAZARDS, Crop, Fate, Species, Stage
from sim.compiled import records
from sim.crops.plant import FLOWER, HEAD, PLANT
from sim.crops.table import crop_table
from sim.insects.record import HIDDEN, IN_SOIL, LOWER, NOWHERE, ON_STALKS, OPEN
from sim.insects.rules import (
    age_as_adult,
    appetite_cm2,
    become_adult,
    carry_wasps,
    choose_leaf,
    crawl_on,
    die_of_one_hazard,
    gets_through,
    grow,
    has_head_to_hide_in,
    lower_or_upper_side,
    mature_eggs,
    moult,
    own_life_dd,
    own_pace,
    rest_for_winter,
    sit_somewhere,
    survives,
    take_meal,
)
from sim.parameters import load_parameters
from tests.sim.insect_records import HABITS, MANY, TABLE, changed, flier_of, insects, life_of, plants_and_leaves

WHITE = Species.CABBAGE_WHITE


def near(share, number=MANY):
    """Return an expected share with four standard errors around it."""
    return pytest.approx(share, abs=4.0 * math.sqrt(max(share * (1.0 - share), 1e-4) / number))


# -- death -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("death", [0.0, 0.03, 0.5, 1.0])
def test_as_many_survive_as_the_chance_of_death_leaves(death):
    many = insects(MANY)
    assert np.mean([survives(one, death, 7) for one in many]) == near(1.0 - death)


def test_one_draw_a_day_decides_so_a_smaller_danger_never_kills_whom_a_larger_one_spares():
    many = insects(200)
    spared = [survives(one, 0.4, 3) for one in many]
    assert all(survives(one, 0.2, 3) for one, lives in zip(many, spared, strict=True) if lives)


def test_causes_share_the_dead_in_proportion():
    many = insects(MANY)
    hazard = np.zeros(HAZARDS)
    hazard[Fate.EATEN_BY_SPIDER], hazard[Fate.DISEASE], hazard[Fate.SPRAYED] = 0.1, 0.3, 0.6
    for one in many:
        die_of_one_hazard(one, hazard, 2)
    for fate, share in ((Fate.EATEN_BY_SPIDER, 0.1), (Fate.DISEASE, 0.3), (Fate.SPRAYED, 0.6)):
        assert (many["fate"] == fate).mean() == near(share)


@given(st.lists(st.floats(0.0, 5.0), min_size=HAZARDS, max_size=HAZARDS).filter(lambda row: sum(row) > 0.0))
def test_nobody_dies_of_a_cause_that_is_not_there(hazard):
    one = insects()
    die_of_one_hazard(one[0], np.array(hazard), 0)
    assert hazard[one["fate"][0]] > 0.0


# -- development -------------------------------------------------------------------------------------------------------


def test_paces_spread_around_one_and_stay_within_half_and_twice():
    keys = insects(MANY)["key"]
    paces = np.array([own_pace(key, 0.1) for key in keys])
    assert paces.mean() == pytest.approx(1.0, abs=0.01)
    assert paces.std() == pytest.approx(0.1, abs=0.01)
    wild = np.array([own_pace(key, 2.0) for key in keys])
    assert wild.min() == 0.5
    assert wild.max() == 2.0


def test_lives_spread_around_their_mean_and_are_never_too_short():
    lives = np.array([own_life_dd(key, 100.0, HABITS) for key in insects(MANY)["key"]])
    assert lives.mean() == pytest.approx(100.0, rel=0.03)
    assert lives.min() >= 100.0 * HABITS["shortest_life_share"] - 1e-9


def test_a_day_of_warmth_counts_by_own_pace():
    one = insects(pace=1.2)
    grow(one[0], 10.0)
    assert one["warmth_dd"][0] == pytest.approx(12.0)


def test_nobody_moults_before_the_warmth_is_there():
    heat_dd = TABLE.life["heat_dd"][WHITE, Stage.INSTAR_3]
    one = insects(warmth_dd=heat_dd - 0.1)
    moult(one[0], TABLE.life, flier_of(), False)
    assert one["stage"][0] == Stage.INSTAR_3
    assert one["warmth_dd"][0] == heat_dd - 0.1


def test_a_moult_keeps_the_warmth_that_is_left_over():
    one = insects(warmth_dd=TABLE.life["heat_dd"][WHITE, Stage.INSTAR_3] + 4.0, hungry_days=1.0)
    moult(one[0], life_of(failed_share=0.0), flier_of(), False)
    assert one["stage"][0] == Stage.INSTAR_4
    assert one["warmth_dd"][0] == pytest.approx(4.0)
    assert one["hungry_days"][0] == 0.0


def test_a_share_fails_to_hatch():
    eggs = insects(MANY, stage=Stage.EGG, warmth_dd=1000.0)
    life = life_of(failed_share=0.25)
    for one in eggs:
        moult(one, life, flier_of(), False)
    assert (eggs["fate"] == Fate.FAILED).mean() == near(0.25)
    assert set(eggs["stage"][eggs["fate"] == Fate.ALIVE]) == {int(Stage.INSTAR_1)}


def test_a_delay_does_not_change_who_fails():
    early, late = insects(300, stage=Stage.EGG, warmth_dd=60.0), insects(300, stage=Stage.EGG, warmth_dd=200.0)
    life = life_of(failed_share=0.3)
    for one in [*early, *late]:
        moult(one, life, flier_of(), False)
    assert (early["fate"] == late["fate"]).all()


@pytest.mark.parametrize(
    ("species", "stages"),
    [
        (Species.CABBAGE_WHITE, list(Stage)),
        (Species.HARLEQUIN_BUG, [stage for stage in Stage if stage != Stage.PUPA]),
        (Species.FLEA_BEETLE, [Stage.EGG, Stage.INSTAR_1, Stage.PUPA, Stage.ADULT]),
        (Species.CUCUMBER_BEETLE, [Stage.EGG, Stage.INSTAR_1, Stage.PUPA, Stage.ADULT]),
    ],
)
def test_each_species_passes_through_its_own_stages(species, stages):
    one, life = insects(species=species, stage=Stage.EGG), life_of(species, failed_share=0.0)
    passed = [Stage.EGG]
    while one["stage"][0] != Stage.ADULT:
        one["warmth_dd"] = 1000.0
        moult(one[0], life, flier_of(species), False)
        passed.append(Stage(one["stage"][0]))
    assert passed == stages


@pytest.mark.parametrize("species", [Species.FLEA_BEETLE, Species.CUCUMBER_BEETLE])
def test_larvae_in_the_soil_grow_unseen(species):
    one, life = insects(species=species, stage=Stage.INSTAR_1, warmth_dd=1000.0), life_of(species, failed_share=0.0)
    moult(one[0], life, flier_of(species), False)
    assert one["mass_mg"][0] == pytest.approx(TABLE.life["mass_at_end_mg"][species, Stage.PUPA])
    assert one["place"][0] == IN_SOIL
    assert one["exposure"][0] == HIDDEN


def test_a_host_waits_full_grown_until_its_wasps_leave_and_dies_of_it():
    one = insects(stage=Stage.INSTAR_5, warmth_dd=1000.0, wasp_brood=20)
    moult(one[0], TABLE.life, flier_of(), False)
    assert one["stage"][0] == Stage.INSTAR_5
    carry_wasps(one[0], 100.0, 200.0)
    assert one["fate"][0] == Fate.ALIVE
    carry_wasps(one[0], 100.0, 200.0)
    assert one["fate"][0] == Fate.PARASITISED


def test_wasps_do_not_leave_a_host_that_is_not_full_grown():
    one = insects(stage=Stage.INSTAR_4, wasp_brood=20)
    carry_wasps(one[0], 900.0, 200.0)
    assert one["fate"][0] == Fate.ALIVE


def test_a_share_of_pupae_leaves_the_plant():
    larvae = insects(MANY, stage=Stage.INSTAR_5, warmth_dd=1000.0, place=3)
    life = life_of(failed_share=0.0)
    for one in larvae:
        moult(one, life, flier_of(leaves_plant_share=0.3), False)
    on_stalks = larvae["place"] == ON_STALKS
    assert on_stalks.mean() == near(0.3)
    assert (larvae["exposure"][on_stalks] == HIDDEN).all()
    assert (larvae["exposure"][~on_stalks] == OPEN).all()


def test_older_larvae_move_into_a_head_if_there_is_one():
    life = life_of(failed_share=0.0, head_share=0.6)
    for has_head, share in ((True, 0.6), (False, 0.0)):
        larvae = insects(MANY, stage=Stage.INSTAR_4, warmth_dd=1000.0, place=2)
        for one in larvae:
            moult(one, life, flier_of(), has_head)
        assert (larvae["place"] == HEAD).mean() == near(share)


def test_a_swollen_stem_is_no_head_to_hide_in():
    crops = crop_table(load_parameters())
    plants = records(np.zeros(2, PLANT))
    plants["has_heart"] = crops["has_heart"][[Crop.CABBAGE, Crop.KOHLRABI]]
    plants["head_area_cm2"] = 200.0
    assert [has_head_to_hide_in(plant) for plant in plants] == [True, False]


# -- adults ------------------------------------------------------------------------------------------------------------


def test_new_adults_by_sex_and_by_who_stays():
    many = insects(MANY, stage=Stage.PUPA, bed=2)
    flier = flier_of(female_share=0.5, stay_share=0.3)
    for one in many:
        become_adult(one, flier, HABITS, 1.0, 1.0)
    assert (many["stage"] == Stage.ADULT).all()
    assert many["is_female"].mean() == near(0.5)
    assert (many["fate"] == Fate.LEFT_GARDEN).mean() == near(0.7)
    assert (many["inside"] == -1).all()


def test_a_tight_net_keeps_all_new_adults():
    many = insects(300, stage=Stage.PUPA, bed=2)
    for one in many:
        become_adult(one, flier_of(stay_share=0.0), HABITS, 0.0, 0.0)
    assert (many["fate"] == Fate.ALIVE).all()
    assert (many["inside"] == 2).all()


def test_size_decides_once_who_fits_a_mesh():
    many = insects(MANY, stage=Stage.ADULT)
    chances = np.array([gets_through(one, 0.4, 0.05) for one in many])
    assert set(chances) == {0.05, 1.0}
    assert (chances == 1.0).mean() == near(0.4)
    assert (chances == [gets_through(one, 0.4, 0.05) for one in many]).all()
    assert all(gets_through(one, fits, gap) == 1.0 for one in many[:20] for fits, gap in ((1.0, 0.0), (0.0, 1.0)))


def test_eggs_of_a_whole_life_come_to_what_she_can_lay():
    mother = insects(stage=Stage.ADULT, is_female=1)
    flier = flier_of(potential_eggs=200.0, preoviposition_dd=0.0, egg_peak_dd=30.0)
    for _ in range(4000):
        mother["warmth_dd"] += 0.25
        mature_eggs(mother[0], flier, 0.25)
    assert mother["eggs_ready"][0] == pytest.approx(200.0, rel=0.01)


def test_no_egg_ripens_before_its_time_and_fewer_under_a_net():
    flier = flier_of(preoviposition_dd=20.0, shut_in_egg_share=0.15)
    young, free, shut_in = insects(3, stage=Stage.ADULT), insects(), insects(inside=1)
    young["warmth_dd"], free["warmth_dd"], shut_in["warmth_dd"] = 19.0, 60.0, 60.0
    for one in (young, free, shut_in):
        mature_eggs(one[0], flier, 10.0)
    assert young["eggs_ready"][0] == 0.0
    assert shut_in["eggs_ready"][0] == pytest.approx(0.15 * free["eggs_ready"][0])


def test_where_laying_has_no_peak_eggs_run_even():
    flier = flier_of(egg_peak_dd=0.0, potential_eggs=100.0, life_dd=400.0, preoviposition_dd=0.0)
    mother = insects(stage=Stage.ADULT)
    ripened = []
    for age in (10.0, 200.0, 390.0):
        mother["warmth_dd"], mother["eggs_ready"] = age, 0.0
        mature_eggs(mother[0], flier, 8.0)
        ripened.append(float(mother["eggs_ready"][0]))
    assert ripened == pytest.approx([2.0, 2.0, 2.0])


def test_adults_die_of_age_sooner_under_a_net_and_males_ripen_no_eggs():
    flier = flier_of(shut_in_ageing=1.5)
    free, shut_in = insects(stage=Stage.ADULT, life_dd=100.0), insects(stage=Stage.ADULT, life_dd=100.0, inside=0)
    for one in (free, shut_in):
        one["warmth_dd"] = 88.0
        age_as_adult(one[0], flier, 10.0)
    assert free["fate"][0] == Fate.ALIVE
    assert free["eggs_ready"][0] == 0.0
    assert shut_in["fate"][0] == Fate.OLD_AGE


def test_a_share_winters_here_and_the_rest_leaves():
    many = insects(MANY, stage=Stage.ADULT)
    for one in many:
        rest_for_winter(one, flier_of(winters_here_share=0.2))
    rests = many["is_resting"] == 1
    assert rests.mean() == near(0.2)
    assert (many["fate"][~rests] == Fate.LEFT_GARDEN).all()
    assert (many["place"][rests] == ON_STALKS).all()
    assert np.isinf(many["life_dd"][rests]).all()


# -- food --------------------------------------------------------------------------------------------------------------


def test_leaves_are_chosen_by_what_is_left_of_them():
    plants, leaves = plants_and_leaves(leaf_cm2=0.0)
    leaves["area_cm2"][0, [2, 5, 9]] = [10.0, 30.0, 8.0]
    leaves["eaten_cm2"][0, 9] = 8.0
    marks = (np.arange(MANY) + 0.5) / MANY
    chosen = np.array([choose_leaf(leaves, 0, 40.0, mark) for mark in marks])
    assert (chosen == 2).mean() == pytest.approx(0.25, abs=0.001)
    assert (chosen == 5).mean() == pytest.approx(0.75, abs=0.001)
    assert plants["is_growing"][0]


def test_a_bare_plant_offers_no_leaf():
    _, leaves = plants_and_leaves(leaf_cm2=0.0)
    assert choose_leaf(leaves, 0, 0.0, 0.3) == NOWHERE


def test_a_larva_stays_on_its_leaf_until_it_is_eaten():
    plants, leaves = plants_and_leaves()
    habits = changed(TABLE.habits, change_leaf_per_day=0.0)[0]
    one = insects(place=4)
    sit_somewhere(one[0], plants[0], leaves, habits, 1)
    assert one["place"][0] == 4
    leaves["eaten_cm2"][0, 4] = 10.0
    sit_somewhere(one[0], plants[0], leaves, habits, 1)
    assert one["place"][0] not in (4, NOWHERE)


def test_cucumber_beetles_visit_flowers_and_others_do_not():
    plants, leaves = plants_and_leaves(open_flowers=2)
    beetles = insects(MANY, species=Species.CUCUMBER_BEETLE, stage=Stage.ADULT)
    others = insects(100, species=Species.FLEA_BEETLE, stage=Stage.ADULT)
    for one in [*beetles, *others]:
        sit_somewhere(one, plants[0], leaves, HABITS, 1)
    assert (beetles["place"] == FLOWER).mean() == near(float(HABITS["flower_share"]))
    assert not (others["place"] == FLOWER).any()


def test_a_stage_asks_for_its_meal_in_step_with_its_development():
    kind = life_of(leaf_cm2=8.0, heat_dd=40.0)[WHITE, Stage.INSTAR_3]
    hungry = insects(2, pace=1.25)
    hungry["wasp_brood"][1] = 10
    free, host = (appetite_cm2(one, kind, flier_of(), HABITS, 10.0, 20.0) for one in hungry)
    assert free == pytest.approx(8.0 * 10.0 * 1.25 / 40.0)
    assert host == pytest.approx(free * HABITS["host_appetite"])


def test_adults_feed_by_temperature():
    flier = flier_of(Species.FLEA_BEETLE, adult_leaf_cm2_per_day=0.08)
    kind = TABLE.life[Species.FLEA_BEETLE, Stage.ADULT]
    one = insects(species=Species.FLEA_BEETLE, stage=Stage.ADULT)[0]
    at = {mean_c: appetite_cm2(one, kind, flier, HABITS, 10.0, mean_c) for mean_c in (5.0, 18.0, 25.0)}
    assert at[5.0] == 0.0
    assert at[25.0] == pytest.approx(0.08)
    assert 0.0 < at[18.0] < at[25.0]


@given(fed=st.floats(0.0, 1.0))
def test_a_meal_makes_mass_and_a_poor_one_delays(fed):
    kind = changed(TABLE.life)[WHITE, Stage.INSTAR_4]
    one = insects(stage=Stage.INSTAR_4, warmth_dd=15.0)
    before_mg = float(one["mass_mg"][0])
    take_meal(one[0], kind, HABITS, 15.0, fed)
    step = 15.0 / float(kind["heat_dd"])
    assert one["mass_mg"][0] == pytest.approx(before_mg * math.exp(float(kind["growth_ln"]) * step * fed))
    lost_dd = 15.0 * (1.0 - fed) * (1.0 - float(HABITS["hungry_growth_floor"]))
    assert one["warmth_dd"][0] == pytest.approx(15.0 - lost_dd)


def test_full_meals_through_a_stage_make_its_whole_growth():
    kind = TABLE.life[WHITE, Stage.INSTAR_5]
    one = insects(stage=Stage.INSTAR_5)
    for _ in range(20):
        take_meal(one[0], kind, HABITS, float(kind["heat_dd"]) / 20.0, 1.0)
    assert one["mass_mg"][0] == pytest.approx(float(kind["mass_at_end_mg"]))


def test_the_unfed_starve_after_their_days():
    kind = life_of(starve_days=2.0)[WHITE, Stage.INSTAR_3]
    one = insects()
    fates = []
    for _ in range(4):
        take_meal(one[0], kind, HABITS, 5.0, 0.0)
        fates.append(int(one["fate"][0]))
    assert fates == [Fate.ALIVE, Fate.ALIVE, Fate.STARVED, Fate.STARVED]


def test_hunger_is_forgotten_with_food():
    one = insects(hungry_days=1.5)
    take_meal(one[0], TABLE.life[WHITE, Stage.INSTAR_3], HABITS, 5.0, 1.0)
    assert one["hungry_days"][0] == 0.5


def test_only_larger_larvae_reach_another_plant_of_the_bed():
    plants, _ = plants_and_leaves(6)
    large, small = insects(MANY, stage=Stage.INSTAR_4, plant=3), insects(200, stage=Stage.INSTAR_1, plant=3)
    for one in [*large, *small]:
        crawl_on(one, HABITS, 2, 6, plants, 1)
    assert (small["plant"] == 3).all()
    assert set(large["plant"]) == {2, 3, 4, 5}
    assert (large["plant"] != 3).mean() == near(float(HABITS["crawl_to_next_plant"]) * 0.75)


def test_eggs_lie_on_the_lower_side_in_their_share():
    assert lower_or_upper_side(0.19, 0.2) == LOWER
    assert lower_or_upper_side(0.21, 0.2) == OPEN
