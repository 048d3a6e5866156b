"""The day weighed up: warmth above and below ground, and hazards by cause and exposure."""

import math

import numpy as np
import pytest

from sim.cast import HAZARDS, PREDATORS, PRODUCTS, Fate, Product, Species, Stage, Visitor
from sim.insects.record import EXPOSURES, HIDDEN, LOWER, OPEN
from sim.insects.weighing import warmth_of_the_day, weigh_the_day
from sim.surroundings import open_ground
from tests.sim.insect_records import HABITS, TABLE, changed

WHITE, L3 = Species.CABBAGE_WHITE, Stage.INSTAR_3


def weighed(near, alive, kill=None, wasp_kill=None):
    """Return degree-days, hazards and chances of death in every bed."""
    beds, species, stages = alive.shape
    dd, hazard = np.zeros(alive.shape), np.zeros((beds, species, stages, EXPOSURES, HAZARDS))
    death = np.zeros((beds, species, stages, EXPOSURES))
    weigh_the_day(
        alive, np.full(beds, 10.0), TABLE.life, TABLE.habits, near.beds, near.gets_in, near.residue, near.contact,
        near.risk, np.zeros((PRODUCTS, *alive.shape[1:])) if kill is None else kill, np.full((PRODUCTS, species), 0.5),
        np.zeros(PRODUCTS) if wasp_kill is None else wasp_kill, dd.reshape(-1), hazard.reshape(-1, EXPOSURES, HAZARDS),
        death.reshape(-1, EXPOSURES),
    )  # fmt: skip
    return dd, hazard, death


def garden(mean_c=20.0, rain_mm=0.0):
    near = open_ground(np.full(2, 5.0))
    near.beds["tmin_c"], near.beds["tmax_c"], near.beds["rain_mm"] = mean_c - 6.0, mean_c + 6.0, rain_mm
    alive = np.zeros(near.alive.shape)
    alive[:, WHITE, L3] = 5.0
    return near, alive


def test_death_is_the_sum_of_the_hazards():
    near, alive = garden(rain_mm=20.0)
    near.risk[0, WHITE, L3] = np.arange(PREDATORS) / 100.0
    _, hazard, death = weighed(near, alive)
    assert death[0, WHITE, L3] == pytest.approx(1.0 - np.exp(-hazard[0, WHITE, L3].sum(axis=1)))
    assert hazard[0, WHITE, L3, OPEN, :PREDATORS] == pytest.approx(np.arange(PREDATORS) / 100.0)


def test_a_kind_that_is_not_there_is_not_weighed():
    near, alive = garden()
    dd, _, death = weighed(near, alive)
    assert not death[:, Species.FLEA_BEETLE].any()
    assert not dd[:, Species.FLEA_BEETLE].any()
    assert dd[0, WHITE, L3] > 0.0


def test_one_that_moults_finds_the_warmth_of_its_next_stage():
    near, alive = garden()
    dd, _, _ = weighed(near, alive)
    assert (dd[0, WHITE, L3:] > 0.0).all()


def test_a_head_shelters_from_enemies_spray_and_rain():
    near, alive = garden(rain_mm=25.0)
    near.risk[0, WHITE, L3, 1] = 0.2
    near.contact[0, Product.SOAP] = 0.85
    kill = np.zeros((PRODUCTS, *alive.shape[1:]))
    kill[Product.SOAP] = 0.9
    _, hazard, _ = weighed(near, alive, kill)
    row = hazard[0, WHITE, L3]
    assert row[HIDDEN, 1] == pytest.approx(0.2 * HABITS["head_predator_factor"])
    assert row[HIDDEN, Fate.SPRAYED] == pytest.approx(row[OPEN, Fate.SPRAYED] * HABITS["head_spray_factor"])
    assert row[HIDDEN, Fate.WASHED_OFF] == 0.0
    lower = row[OPEN, Fate.WASHED_OFF] * HABITS["rain_lower_factor"]
    assert row[LOWER, Fate.WASHED_OFF] == pytest.approx(lower)


def test_light_rain_is_harmless_and_a_downpour_takes_the_full_share():
    lost = {}
    for rain_mm in (0.0, float(HABITS["rain_harmless_mm"]), float(HABITS["rain_full_mm"]), 300.0):
        near, alive = garden(rain_mm=rain_mm)
        _, hazard, _ = weighed(near, alive)
        lost[rain_mm] = 1.0 - math.exp(-hazard[0, WHITE, L3, OPEN, Fate.WASHED_OFF])
    none, light, full, more = lost.values()
    assert none == light == 0.0
    assert full == pytest.approx(TABLE.life["rain_loss"][WHITE, L3])
    assert more == pytest.approx(full)


def test_soil_keeps_out_spray_rain_and_weather_but_not_enemies():
    near, alive = garden(mean_c=45.0, rain_mm=50.0)
    larvae = (0, Species.CUCUMBER_BEETLE, Stage.INSTAR_1)
    alive[larvae] = 3.0
    near.risk[larvae][0] = 0.1
    near.contact[0] = 1.0
    _, hazard, _ = weighed(near, alive, np.ones((PRODUCTS, *alive.shape[1:])))
    for fate in (Fate.SPRAYED, Fate.WASHED_OFF, Fate.HEAT_OR_COLD):
        assert not hazard[larvae][:, fate].any()
    assert (hazard[larvae][:, 0] == 0.1).all()


def test_heat_and_frost_kill_beyond_their_limits_only():
    deaths = {}
    for mean_c in (-15.0, 20.0, 40.0):
        near, alive = garden(mean_c)
        _, hazard, _ = weighed(near, alive)
        deaths[mean_c] = hazard[0, WHITE, L3, OPEN, Fate.HEAT_OR_COLD]
    assert deaths[-15.0] > 0.0
    assert deaths[20.0] == 0.0
    assert deaths[40.0] > 0.0


def test_crowding_raises_disease():
    few, alive = garden()
    _, of_few, _ = weighed(few, alive)
    _, of_many, _ = weighed(few, alive * 100.0)
    cell = (0, WHITE, L3, OPEN, Fate.DISEASE)
    assert of_many[cell] > 2.0 * of_few[cell] > 0.0


def test_wasps_work_less_where_they_hardly_get_in_or_die_of_residues():
    near, alive = garden()
    near.gets_in[0, Visitor.HUNTING_WASP] = 0.01
    _, hazard, _ = weighed(near, alive)
    cell = (WHITE, L3, OPEN, Fate.EATEN_BY_HUNTING_WASP)
    assert 0.0 < hazard[(0, *cell)] < 0.1 * hazard[(1, *cell)]
    near, alive = garden()
    near.residue[0, Product.PYRETHRINS] = 1.0
    _, hazard, _ = weighed(near, alive, wasp_kill=np.full(PRODUCTS, 0.8))
    assert hazard[(0, *cell)] == pytest.approx(0.2 * hazard[(1, *cell)])


def test_soil_swings_less_and_sun_warms_those_above():
    near, _ = garden(mean_c=10.0)
    above, below = (
        changed(TABLE.life, in_soil=in_soil, base_c=10.0, upper_c=30.0)[WHITE, L3] for in_soil in (0.0, 1.0)
    )
    bed = near.beds[0]
    assert warmth_of_the_day(below, bed, HABITS) < warmth_of_the_day(above, bed, HABITS)
    shaded = warmth_of_the_day(above, bed, HABITS)
    near.beds["sun_bonus_c"] = 1.5
    assert warmth_of_the_day(above, near.beds[0], HABITS) > shaded


def test_a_head_shelters_from_hunting_wasps_as_from_other_hunters():
    near, alive = garden()
    _, hazard, _ = weighed(near, alive)
    row = hazard[0, WHITE, L3, :, Fate.EATEN_BY_HUNTING_WASP]
    assert row[HIDDEN] == pytest.approx(row[OPEN] * HABITS["head_predator_factor"])
    assert row[OPEN] > 0.0


def test_a_net_that_small_wasps_hardly_pass_keeps_them_from_the_young_beneath():
    near, alive = garden()
    alive[:, WHITE, :] = 5.0
    near.gets_in[0, Visitor.SMALL_PARASITOID] = 0.01
    _, hazard, _ = weighed(near, alive)
    laid_in = hazard[:, WHITE, :, OPEN, Fate.OTHER_PARASITOIDS]
    assert laid_in[1].sum() > 0.0
    assert laid_in[0].sum() < 0.1 * laid_in[1].sum()


def test_wasps_that_walk_on_a_deposit_die_of_it_though_they_eat_no_leaf():
    near, alive = garden()
    alive[:, Species.PARASITOID_WASP, Stage.ADULT] = 5.0
    near.residue[0, Product.PYRETHRINS] = 1.0
    _, hazard, _ = weighed(near, alive, wasp_kill=np.full(PRODUCTS, 0.8))
    sprayed = hazard[:, Species.PARASITOID_WASP, Stage.ADULT, OPEN, Fate.SPRAYED]
    assert 1.0 - np.exp(-sprayed) == pytest.approx([0.8, 0.0])


def test_a_deposit_kills_those_who_eat_leaf_and_no_eggs_and_wetting_kills_by_its_own_part():
    near, alive = garden()
    alive[:, WHITE, Stage.EGG] = 5.0
    kill = np.full((PRODUCTS, *alive.shape[1:]), 0.6)
    near.residue[0, Product.SPINOSAD] = 1.0
    near.contact[1, Product.SPINOSAD] = 1.0
    _, hazard, _ = weighed(near, alive, kill)  # half of the kill is by eating, half by contact
    killed = 1.0 - np.exp(-hazard[:, WHITE, :, OPEN, Fate.SPRAYED])
    assert killed[0, Stage.EGG] == 0.0
    assert killed[0, L3] > 0.3
    assert killed[1, [Stage.EGG, L3]] == pytest.approx([0.3, 0.3])
