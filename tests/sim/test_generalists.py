"""Generalist enemies: who comes, who goes, whom they are a danger to."""

import mesa
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.cast import GENERALISTS, PREDATORS, PRODUCTS, Predator, Product, Species, Stage, Visitor, word
from sim.compiled import Floats
from sim.enemies.generalists import Generalists, poisoned_share, saturating
from sim.enemies.hunting import activity, still_hungry
from sim.parameters.table import load_parameters
from sim.surroundings import Surroundings, open_ground

AREA_M2 = np.array([10.0, 4.0, 100.0])
NOBODY = np.zeros((PRODUCTS, GENERALISTS))
NO_BIRDS = np.zeros((AREA_M2.size, GENERALISTS))
NO_APHIDS = np.zeros(AREA_M2.size)
PACE = ("enemies.idle_c", "enemies.active_c")


def garden_at(mean_c: float, swing_c: float = 5.0) -> Surroundings:
    surroundings = open_ground(AREA_M2)
    surroundings.beds["tmin_c"] = mean_c - swing_c
    surroundings.beds["tmax_c"] = mean_c + swing_c
    return surroundings


def enemies(factors: float = 1.0) -> Generalists:
    return Generalists(mesa.Model(), load_parameters(), bed_area_m2=AREA_M2, factors=np.full(GENERALISTS, factors))


def spend(who: Generalists, surroundings: Surroundings, days: int, **changes: object) -> None:
    today = {
        "aphids_per_m2": NO_APHIDS,
        "hedgerow_m": 0.0,
        "flower_strip_m2": 0.0,
        "enemy_kill": NOBODY,
        "bird_enemy_risk": NO_BIRDS,
    } | changes
    for _ in range(days):
        who.hunt(surroundings, today["aphids_per_m2"])  # type: ignore[arg-type]
        who.live(surroundings, **today)  # type: ignore[arg-type]


def numbers(name: str) -> Floats:
    return load_parameters().numbers(f"enemies.{name}")


def drawn(amount: float, half: str) -> float:
    return amount / (amount + load_parameters().number(f"enemies.{half}"))


def hazards(who: Generalists, mean_c: float, bed: int = 0) -> tuple[Floats, Floats]:
    """Return today's hazards [1/d] of passing on, where nothing is in the way, and of starving, by kind."""
    pace = np.array([activity(mean_c, *ends) for ends in zip(numbers("idle_c"), numbers("active_c"), strict=True)])
    return numbers("settling_per_day") * pace, numbers("starving_per_day") * pace * who.hungry_share[bed]


def test_risk_fills_only_the_generalists_places() -> None:
    surroundings = garden_at(20.0)
    surroundings.risk[:] = -1.0
    enemies().hunt(surroundings, NO_APHIDS)
    assert (surroundings.risk[..., :GENERALISTS] >= 0.0).all()
    assert (surroundings.risk[..., GENERALISTS:PREDATORS] == -1.0).all()


def test_nobody_hunts_in_the_cold_or_where_there_are_none() -> None:
    cold = garden_at(2.0, 1.0)
    enemies().hunt(cold, NO_APHIDS)
    none = garden_at(20.0)
    enemies(0.0).hunt(none, NO_APHIDS)
    assert not cold.risk.any()
    assert not none.risk.any()


def test_harlequin_bugs_are_hardly_eaten() -> None:
    surroundings = garden_at(20.0)
    enemies().hunt(surroundings, NO_APHIDS)
    young = np.s_[0, :, Stage.INSTAR_1, :GENERALISTS]
    by_species = surroundings.risk[young].sum(axis=1)
    assert by_species[Species.HARLEQUIN_BUG] < 0.35 * by_species[Species.CABBAGE_WHITE]


def test_prey_in_plenty_dilutes_the_risk_to_each() -> None:
    few, many = garden_at(20.0), garden_at(20.0)
    many.mass_mg[0, Species.CABBAGE_WHITE, Stage.INSTAR_2] = 20000.0
    who = enemies()
    who.hunt(few, NO_APHIDS)
    who.hunt(many, NO_APHIDS)
    place = np.s_[0, Species.CABBAGE_WHITE, Stage.INSTAR_1, :GENERALISTS]
    assert (many.risk[place] < few.risk[place]).all()
    assert many.risk[1].tobytes() == few.risk[1].tobytes()


def test_aphids_keep_lady_beetles_busy_but_hardly_ground_beetles() -> None:
    who, surroundings = enemies(), garden_at(20.0)
    who.hunt(surroundings, NO_APHIDS)
    alone = who.hungry_share[0].copy()
    who.hunt(surroundings, np.array([2000.0, 0.0, 0.0]))
    assert who.hungry_share[0, Predator.LADY_BEETLE] < 0.6 * alone[Predator.LADY_BEETLE]
    assert who.hungry_share[0, Predator.GROUND_BEETLE] > 0.95 * alone[Predator.GROUND_BEETLE]


def test_density_settles_where_as_many_come_as_go_and_starve() -> None:
    who = enemies()
    spend(who, garden_at(20.0), 1000)
    passing, starving = hazards(who, 20.0)
    settled = numbers("settled_density_per_m2")
    balance = settled * -np.expm1(-passing) / -np.expm1(-(passing + starving))
    assert who.density_per_m2[0] == pytest.approx(balance, rel=1e-9)
    assert (who.density_per_m2[0] < settled).all()


def test_it_begins_with_what_has_wintered_of_the_places_own_density() -> None:
    factors = np.array([0.5, 1.0, 2.0, 3.0])
    who = Generalists(mesa.Model(), load_parameters(), bed_area_m2=AREA_M2, factors=factors)
    wintered = numbers("settled_density_per_m2") * numbers("winter_share") * factors
    assert who.density_per_m2 == pytest.approx(np.tile(wintered, (AREA_M2.size, 1)))
    began = [line["began"] for line in who.ledger().values()]
    assert began == pytest.approx(wintered * AREA_M2.sum())


def test_a_day_of_a_bed_by_hand() -> None:
    factors = np.array([0.5, 1.0, 2.0, 3.0])
    who, near = Generalists(mesa.Model(), load_parameters(), bed_area_m2=AREA_M2, factors=factors), garden_at(20.0)
    near.gets_in[1, Visitor.GROUND_BEETLE : Visitor.LACEWING + 1] = 0.5
    before = who.density_per_m2[1].copy()
    aphids, eaten = np.array([0.0, 300.0, 0.0]), np.full(NO_BIRDS.shape, 0.02)
    spend(who, near, 1, aphids_per_m2=aphids, hedgerow_m=20.0, flower_strip_m2=3.0, bird_enemy_risk=eaten)
    passing, starving = hazards(who, 20.0, bed=1)
    passing *= 0.5
    habitat = 1.0 + numbers("hedgerow_gain") * drawn(20.0, "hedgerow_half_m")
    habitat += numbers("flower_gain") * drawn(3.0, "flower_half_m2")
    settled = numbers("settled_density_per_m2") * factors * habitat
    settled *= 1.0 + numbers("aphid_drawing") * drawn(300.0, "aphid_half_per_m2")
    stay = np.exp(-(passing + starving + 0.02))
    assert who.density_per_m2[1] == pytest.approx(before * stay + settled * (1.0 - np.exp(-passing)))


def test_each_way_to_go_has_its_part_of_those_who_go() -> None:
    who, near = enemies(), garden_at(20.0)
    near.contact[:, Product.PYRETHRINS] = 1.0
    kill = NOBODY.copy()
    kill[Product.PYRETHRINS] = 0.3
    spend(who, near, 1, enemy_kill=kill, bird_enemy_risk=np.full(NO_BIRDS.shape, 0.02))
    passing, starving = hazards(who, 20.0)
    for enemy, line in enumerate(who.ledger().values()):
        parts = {"left": passing[enemy], "starved": starving[enemy], "sprayed": -np.log(0.7), "eaten_by_birds": 0.02}
        gone = line["began"] * (1.0 - np.exp(-sum(parts.values())))
        for name, hazard in parts.items():
            assert line[name] == pytest.approx(gone * hazard / sum(parts.values())), name


def test_a_closed_bed_takes_in_nobody_and_its_own_starve_slowly() -> None:
    who, surroundings = enemies(), garden_at(20.0)
    spend(who, surroundings, 60)
    surroundings.gets_in[0, Visitor.GROUND_BEETLE : Visitor.LACEWING + 1] = 0.0
    before = who.density_per_m2[0].copy()
    spend(who, surroundings, 1)
    assert (who.density_per_m2[0] < before).all()
    assert (who.density_per_m2[0] > 0.9 * before).all()
    spend(who, surroundings, 60)
    assert (who.density_per_m2[0] < before).all()
    assert (who.density_per_m2[0] > 0.0).all()


def test_late_covering_keeps_in_those_who_are_inside() -> None:
    open_bed, closed = enemies(), enemies()
    spend(open_bed, garden_at(20.0), 60)
    spend(closed, garden_at(20.0), 60)
    lure = np.array([5000.0, 0.0, 0.0])
    spend(open_bed, garden_at(20.0), 60, aphids_per_m2=lure)
    shut = garden_at(20.0)
    shut.gets_in[:] = 0.0
    spend(closed, shut, 60, aphids_per_m2=lure)
    assert closed.density_per_m2[0, Predator.LADY_BEETLE] < 0.2 * open_bed.density_per_m2[0, Predator.LADY_BEETLE]


def test_spray_cuts_numbers_and_they_come_back_each_at_its_own_pace() -> None:
    who, surroundings = enemies(), garden_at(20.0)
    spend(who, surroundings, 100)
    before = who.density_per_m2[0].copy()
    kill = NOBODY.copy()
    kill[Product.PYRETHRINS] = 0.6
    surroundings.contact[0, Product.PYRETHRINS] = 1.0
    spend(who, surroundings, 1, enemy_kill=kill)
    surroundings.contact[:] = 0.0
    passing, starving = hazards(who, 20.0)
    stay = np.exp(-(passing + starving))
    settled = numbers("settled_density_per_m2")
    assert who.density_per_m2[0] == pytest.approx(0.4 * before * stay + settled * (1.0 - np.exp(-passing)))
    spend(who, surroundings, 7, enemy_kill=kill)
    back = who.density_per_m2[0] / before
    assert back[Predator.LADY_BEETLE] > back[Predator.GROUND_BEETLE]
    assert (back < 1.0).all()


def test_a_spray_that_kills_nobody_changes_not_a_byte() -> None:
    sprayed, plain = enemies(), enemies()
    wet = garden_at(20.0)
    wet.contact[:], wet.residue[:] = 1.0, 1.0
    spend(sprayed, wet, 30)
    spend(plain, garden_at(20.0), 30)
    assert sprayed.density_per_m2.tobytes() == plain.density_per_m2.tobytes()


def test_habitat_and_aphids_draw_more_enemies() -> None:
    plain, hedge, flowers, aphids = enemies(), enemies(), enemies(), enemies()
    spend(plain, garden_at(20.0), 60)
    spend(hedge, garden_at(20.0), 60, hedgerow_m=20.0)
    spend(flowers, garden_at(20.0), 60, flower_strip_m2=10.0)
    spend(aphids, garden_at(20.0), 60, aphids_per_m2=np.full(AREA_M2.size, 1000.0))
    assert (hedge.density_per_m2 > plain.density_per_m2).all()
    assert (flowers.density_per_m2 > plain.density_per_m2).all()
    assert (aphids.density_per_m2[:, Predator.LADY_BEETLE] > 2.0 * plain.density_per_m2[:, Predator.LADY_BEETLE]).all()


def test_birds_that_eat_enemies_show_in_the_ledger() -> None:
    who = enemies()
    spend(who, garden_at(20.0), 30, bird_enemy_risk=np.full((AREA_M2.size, GENERALISTS), 0.05))
    assert all(line["eaten_by_birds"] > 0.0 for line in who.ledger().values())
    assert who.imbalance() < 1e-9


@settings(max_examples=40, deadline=None)
@given(
    mean_c=st.floats(-10.0, 40.0),
    gets_in=st.floats(0.0, 1.0),
    contact=st.floats(0.0, 1.0),
    residue=st.floats(0.0, 1.0),
    kill=st.floats(0.0, 1.0),
    birds=st.floats(0.0, 3.0),
    aphids=st.floats(0.0, 1e6),
    days=st.integers(1, 40),
)
def test_entries_equal_exits_and_alive(
    mean_c: float,
    gets_in: float,
    contact: float,
    residue: float,
    kill: float,
    birds: float,
    aphids: float,
    days: int,
) -> None:
    who, surroundings = enemies(), garden_at(mean_c)
    surroundings.gets_in[:] = gets_in
    surroundings.contact[:], surroundings.residue[:] = contact, residue
    spend(
        who,
        surroundings,
        days,
        aphids_per_m2=np.full(AREA_M2.size, aphids),
        enemy_kill=np.full((PRODUCTS, GENERALISTS), kill),
        bird_enemy_risk=np.full((AREA_M2.size, GENERALISTS), birds),
    )
    assert who.imbalance() < 1e-9
    assert (who.density_per_m2 >= 0.0).all()


@given(st.floats(-30.0, 50.0))
def test_activity_lies_between_none_and_full(mean_c: float) -> None:
    assert 0.0 <= activity(mean_c, 5.0, 18.0) <= 1.0


@given(prey=st.floats(0.0, 1e6), more=st.floats(0.0, 1e6))
def test_more_prey_leaves_less_hunger(prey: float, more: float) -> None:
    assert still_hungry(0.5, 10.0, prey + more) <= still_hungry(0.5, 10.0, prey)


def test_small_rules() -> None:
    assert saturating(0.0, 5.0) == 0.0
    assert saturating(5.0, 5.0) == 0.5
    contact, residue = np.array([0.85, 0.0]), np.array([1.0, 0.5])
    kill = np.array([[0.5], [0.4]])
    share = poisoned_share(contact, residue, np.array([0.2, 0.5]), kill, 0)
    assert share == pytest.approx(1.0 - (1.0 - 0.85 * 0.5) * (1.0 - 0.25 * 0.4))


def test_each_kind_comes_as_its_own_size_passes_the_net() -> None:
    who, near = enemies(), garden_at(20.0)
    who.density_per_m2[:] = 0.0
    near.gets_in[0, Visitor.GROUND_BEETLE : Visitor.LACEWING + 1] = 0.0
    near.gets_in[0, Visitor.SPIDER] = 1.0
    spend(who, near, 5)
    came = who.density_per_m2[0] > 0.0
    assert came.tolist() == [enemy == Predator.SPIDER for enemy in range(GENERALISTS)]


def test_enemies_that_eat_no_aphids_are_no_danger_to_them() -> None:
    who, near = enemies(), garden_at(20.0)
    weights = load_parameters().numbers("enemies.aphid_weight")
    who.hunt(near, np.full(AREA_M2.size, 50.0))
    searched = who.density_per_m2[0] * load_parameters().numbers("enemies.search_m2_per_day") * who.hungry_share[0]
    pace = [activity(20.0, *cold) for cold in zip(*map(load_parameters().numbers, PACE), strict=True)]
    assert who.aphid_risk[0] == pytest.approx(searched * pace * weights)


def test_in_the_cold_nobody_starves_faster_than_it_lives() -> None:
    who, cold = enemies(), garden_at(-5.0, 1.0)
    before = who.density_per_m2.copy()
    spend(who, cold, 20)
    assert (who.density_per_m2 == before).all()


def test_the_same_prey_on_more_ground_leaves_more_hunger() -> None:
    who, near = enemies(), garden_at(20.0)
    prey_mg = 500.0
    near.mass_mg[:, Species.CABBAGE_WHITE, Stage.INSTAR_2] = prey_mg
    who.hunt(near, NO_APHIDS)
    for enemy in map(Predator, range(GENERALISTS)):
        name = word(enemy)
        taken_up = numbers(f"species_weight.{name}")[Species.CABBAGE_WHITE]
        taken_up *= numbers(f"stage_weight.{name}")[Stage.INSTAR_2]
        mg_per_m2 = taken_up * prey_mg / AREA_M2 + numbers("other_prey_mg_per_m2")[enemy]
        found_in_rations = numbers("search_m2_per_day")[enemy] * mg_per_m2 / numbers("ration_mg_per_day")[enemy]
        assert who.hungry_share[:, enemy] == pytest.approx(1.0 / (1.0 + found_in_rations))
