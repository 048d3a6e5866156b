"""Whatever the garden and whatever is done in it, the books balance every evening."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.cast import SPECIES, Fate, Species, Stage
from sim.energy import flows_of
from sim.insects.record import HIDDEN
from sim.measures import MEASURES, summarise
from tests.strategies import gardens, live, open_garden

few = settings(max_examples=25, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
seeds = st.integers(0, 10_000)


@few
@given(scenario=gardens(), seed=seeds, plan=st.sampled_from(("nothing", "tried")))
def test_entries_are_exits_and_living_every_day(scenario, seed, plan):
    garden = open_garden(scenario, plan, seed)
    for _ in range(len(garden.days)):
        garden.step()
        insects = garden.insects
        assert not insects.balance().any()
        assert garden.aphids.imbalance() < 1e-9
        assert garden.generalists.imbalance() < 1e-9
        alive = insects.records[: insects.count]
        assert (alive["fate"] == Fate.ALIVE).all()
        assert not insects.exits[..., Fate.ALIVE].any()
    by_fate = (insects.exits + insects.still_alive()).sum(axis=(0, 3, 4))
    np.testing.assert_array_equal(by_fate, insects.entries)


class Recount:
    """Looks on, and counts the living anew each morning."""

    def see_morning(self, garden):
        insects = garden.insects
        alive = insects.records[: insects.count]
        alive = alive[alive["fate"] == Fate.ALIVE]
        awake = alive[alive["is_resting"] == 0]
        in_reach = alive[(alive["exposure"] != HIDDEN) & (alive["stage"] != Stage.EGG)]
        np.testing.assert_array_equal(counted(alive, garden), garden.near.alive)
        np.testing.assert_array_equal(counted(awake, garden), insects.awake)
        np.testing.assert_allclose(counted(alive, garden, "mass_mg"), garden.near.mass_mg)
        np.testing.assert_allclose(counted(in_reach, garden, "mass_mg"), insects.in_reach_mg)

    def see_meals(self, garden):
        pass

    def see_evening(self, garden, workday):
        pass


def counted(insects, garden, field=None):
    table = np.zeros_like(garden.near.alive)
    np.add.at(table, (insects["bed"], insects["species"], insects["stage"]), insects[field] if field else 1.0)
    return table


@few
@given(scenario=gardens(), seed=seeds)
def test_the_morning_counts_everybody_whatever_the_gardener_did_before(scenario, seed):
    garden = open_garden(scenario, "tried", seed)
    garden.onlooker = Recount()
    for _ in range(len(garden.days)):
        garden.step()


@few
@given(scenario=gardens(), seed=seeds)
def test_every_insect_stands_where_one_can_stand(scenario, seed):
    garden = live(scenario, "tried", seed)
    alive = garden.insects.records[: garden.insects.count]
    assert ((alive["bed"] >= 0) & (alive["bed"] <= garden.layout.margin)).all()
    assert (alive["plant"] < len(garden.layout.crop)).all()
    seated = alive[alive["plant"] >= 0]
    np.testing.assert_array_equal(garden.layout.bed[seated["plant"]], seated["bed"])
    assert (alive["species"] < SPECIES).all()
    assert (alive["mass_mg"] > 0).all()
    assert (alive["stage"] <= Stage.ADULT).all()
    assert len(np.unique(alive["key"])) == len(alive)  # nobody shares another's luck


@few
@given(scenario=gardens(), seed=seeds)
def test_fates_belong_to_those_who_can_meet_them(scenario, seed):
    exits = live(scenario, "tried", seed).insects.exits.sum(axis=(0, 1))
    for species in Species:
        if species != Species.CABBAGE_WHITE:
            assert exits[species, :, Fate.PARASITISED].sum() == 0
    assert exits[:, : Stage.ADULT, Fate.OLD_AGE].sum() == 0
    assert exits[:, Stage.EGG, Fate.STARVED].sum() == 0
    assert exits[Species.PARASITOID_WASP, :, Fate.STARVED].sum() == 0
    assert exits[:, :, Fate.WINTER].sum() == 0  # a single season ends in autumn


@few
@given(scenario=gardens(), seed=seeds, food=st.sampled_from((0.0, 0.2, 1.0)))
def test_every_nestling_ends_once(scenario, seed, food):
    nests = live(scenario.with_changes({"birds.territory_food": food}), "tried", seed).nests.nests
    ended = nests["fledged"] + nests["starved"] + nests["lost"]
    np.testing.assert_array_equal(nests["hatched"], ended + nests["nestlings"])
    assert (nests["hatched"] <= nests["eggs_laid"]).all()


@few
@given(scenario=gardens(), seed=seeds)
def test_harvests_add_up(scenario, seed):
    garden = live(scenario, "tried", seed)
    summary = summarise(garden, {})
    kg = sum(tally[0] for tally in garden.harvests.values())
    marketable = sum(tally[1] for tally in garden.harvests.values())
    assert garden.picked_kg == pytest.approx(kg)
    assert garden.marketable_kg == pytest.approx(marketable)
    assert 0 <= marketable <= kg + 1e-9
    by_crop = [value for name, value in summary.items() if name.endswith("_harvest_kg")]
    assert sum(by_crop) == pytest.approx(kg)
    for name in ("harvest_kg", "marketable_kg", "labour_minutes", "cost_usd"):
        column = garden.chronicle.column(name)
        assert (column >= -1e-9).all()
    assert garden.chronicle.column("harvest_kg").sum() == pytest.approx(kg)
    assert garden.chronicle.column("labour_minutes").sum() == pytest.approx(summary["labour_minutes"])


@few
@given(scenario=gardens(), seed=seeds)
def test_every_measure_is_a_number_and_every_share_lies_between_0_and_1(scenario, seed):
    summary = summarise(live(scenario, "tried", seed), {})
    assert set(summary) <= set(MEASURES)
    for name, value in summary.items():
        assert np.isfinite(value), name
        assert value >= 0, name
        if name in ("marketable_share", "fruit_set_share", "garden_food_share", "egg_to_adult_share"):
            assert value <= 1 + 1e-9, name


@few
@given(scenario=gardens(), seed=seeds)
def test_energy_comes_from_below(scenario, seed):
    garden = live(scenario, "tried", seed)
    flows = flows_of(garden)
    assert flows.light_mj >= 0
    if flows.light_mj == 0:
        assert flows.grown_kj == 0
    assert flows.grown_kj <= flows.light_mj * 1000  # no more than the light that fell on leaves
    assert flows.to_enemies_kj + flows.to_birds_kj <= flows.insects_kj + 1e-9
    if not len(garden.nests.nests):
        assert flows.to_birds_kj == 0
        assert flows.nestlings_from_garden_kj + flows.nestlings_from_territory_kj == 0
    eaten_cm2 = garden.insects.eaten_cm2.sum()
    lost = garden.plants.flows
    bitten_cm2 = lost["leaf_eaten_cm2"].sum() + lost["head_eaten_cm2"].sum() + lost["flower_eaten_cm2"].sum()
    assert eaten_cm2 == pytest.approx(bitten_cm2, rel=1e-6, abs=1e-6)  # what insects eat is what plants lose
