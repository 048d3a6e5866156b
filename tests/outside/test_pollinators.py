"""Bees against published flying weather, flower rates and visits."""

import mesa
import numpy as np
import pytest

from sim.cast import BEES, PRODUCTS, Bee, Crop, Product, Visitor
from sim.compiled import Floats, Records, records
from sim.crops.plant import FRUIT, FRUITS, PLANT, FruitState
from sim.parameters.table import load_parameters
from sim.pollinators import Pollinators, visits_per_flower
from sim.surroundings import TODAY, Surroundings, open_ground
from tests.outside.register import check

DAY = 120


def weather(tmin_c: float = 16.0, tmax_c: float = 27.0, rain_mm: float = 0.0) -> Records:
    today = records(np.zeros(1, TODAY))
    today["day"], today["day_of_year"], today["day_length_h"] = DAY, 60 + DAY, 15.0
    today["tmin_c"], today["tmax_c"], today["rain_mm"] = tmin_c, tmax_c, rain_mm
    return today


def bed_of_cucumbers(plant_count: int = 20, open_share: float = 0.25) -> tuple[Records, Records]:
    """Return a 10 m² bed on which a quarter of the plants has a female flower open."""
    plants = records(np.zeros(plant_count, PLANT))
    plants["crop"], plants["is_growing"] = int(Crop.CUCUMBER), 1
    fruits = records(np.zeros((plant_count, FRUITS), FRUIT))
    fruits["key"] = np.arange(fruits.size, dtype=np.uint64).reshape(fruits.shape)
    fruits["state"][: int(plant_count * open_share), 0] = int(FruitState.OPEN)
    fruits["opened_day"] = DAY
    plants["open_flowers"], plants["fruit_slots"] = (fruits["state"][:, 0] == int(FruitState.OPEN)), 1
    return plants, fruits


def bees(factors: tuple[float, float, float] = (1.0, 1.0, 1.0)) -> Pollinators:
    return Pollinators(mesa.Model(), load_parameters(), factors=np.array(factors), bed_count=1)


def mean_visits(
    who: Pollinators,
    today: Records,
    surroundings: Surroundings | None = None,
    strip_m2: float = 0.0,
    kill: Floats | None = None,
    beetles: float = 0.0,
) -> Floats:
    plants, fruits = bed_of_cucumbers()
    who.visit(
        today,
        surroundings or open_ground(np.array([10.0])),
        np.arange(len(plants)),
        plants,
        fruits,
        bee_kill=np.zeros(PRODUCTS) if kill is None else kill,
        flower_strip_m2=strip_m2,
        hedgerow_m=0.0,
        beetles_per_flower=np.array([beetles]),
    )
    visits: Floats = who.mean_visits[0].copy()
    return visits


@check(
    "no honey bee flies below 55 °F, no bumble bee below 50 °F",
    source="naturallycurious2018",
    read="read",
    independent=False,
)
def test_lowest_flight_temperatures() -> None:
    assert bees().flying_share(Bee.HONEY_BEE, weather(9.0, 12.9)) == 0.0
    assert bees().flying_share(Bee.HONEY_BEE, weather(13.5, 15.0)) > 0.0
    assert bees().flying_share(Bee.BUMBLE_BEE, weather(6.0, 9.9)) == 0.0
    assert bees().flying_share(Bee.BUMBLE_BEE, weather(10.5, 12.0)) > 0.0


@check(
    "on a day at 11 to 13 °C bumble bees work and honey bees do not",
    source="naturallycurious2018",
    read="read",
    independent=False,
)
def test_bumble_bees_fly_on_days_too_cold_for_honey_bees() -> None:
    visits = mean_visits(bees(), weather(11.0, 13.0))
    assert visits[Bee.HONEY_BEE] == 0.0
    assert visits[Bee.BUMBLE_BEE] > 0.0


@check(
    "honey bees fly best from 22 to 25 °C and less above 38 °C", source="weatherstem170", read="read", independent=False
)
def test_best_and_hot_days_for_honey_bees() -> None:
    assert bees().flying_share(Bee.HONEY_BEE, weather(22.0, 25.0)) == pytest.approx(1.0)
    assert bees().flying_share(Bee.HONEY_BEE, weather(38.0, 40.0)) < 0.3


@check(
    "bumble bees start earlier in the morning than honey bees",
    source="stanghellini1999",
    read="read: abstract",
    independent=True,
)
def test_bumble_bees_use_more_of_a_cool_morning() -> None:
    cool_morning = weather(9.0, 22.0)
    assert bees().flying_share(Bee.BUMBLE_BEE, cool_morning) > bees().flying_share(Bee.HONEY_BEE, cool_morning)


@check(
    "rain keeps bees home: 1, 0.5 and 0.2 of flight below 1, at 1 to 5 and above 5 mm",
    source="none",
    read="common practice, no source",
    independent=False,
)
def test_rain_rule() -> None:
    dry = bees().flying_share(Bee.BUMBLE_BEE, weather())
    shares = [bees().flying_share(Bee.BUMBLE_BEE, weather(rain_mm=rain_mm)) / dry for rain_mm in (0.9, 3.0, 8.0)]
    assert shares == pytest.approx([1.0, 0.5, 0.2])


@check(
    "40 flowers, 10 visits each, 5.5 flowers a minute: 73 bee-minutes a day are enough",
    source="none",
    read="derived",
    independent=False,
)
def test_bee_minutes_for_forty_flowers() -> None:
    honey_bee_rate = load_parameters().numbers("pollinators.flowers_per_minute")[Bee.HONEY_BEE]
    assert visits_per_flower(1.0, honey_bee_rate, 73.0, 40.0) == pytest.approx(10.0, abs=0.1)


@check(
    "a cucumber flower on a fine day in a plain garden gets 10 to 25 visits",
    source="none",
    read="memory",
    independent=False,
)
def test_visits_on_a_fine_day() -> None:
    assert 10.0 <= mean_visits(bees(), weather()).sum() <= 25.0


@check(
    "8 to 12 visits make a well-shaped fruit: a fine day gives at least as many",
    source="ambrose1995",
    read="read",
    independent=False,
)
def test_a_fine_day_gives_enough_visits() -> None:
    assert mean_visits(bees(), weather()).sum() >= 8.0


@check(
    "as many bumble bees as honey bees visit at least twice as many flowers",
    source="stanghellini1999",
    read="read: abstract",
    independent=False,
)
def test_bumble_bees_visit_twice_as_fast() -> None:
    at_most = load_parameters().numbers("pollinators.bees_at_most")
    equal = tuple(float(at_most[0] / number) for number in at_most)
    visits = mean_visits(bees((equal[0], equal[1], equal[2])), weather(22.0, 26.0))
    assert visits[Bee.BUMBLE_BEE] / visits[Bee.HONEY_BEE] >= 2.0 - 1e-9


@check("a bagged flower gets no visit", source="stanghellini1998", read="read: abstract", independent=True)
def test_a_bagged_flower_gets_no_visit() -> None:
    bagged = open_ground(np.array([10.0]))
    bagged.gets_in[0, Visitor.HONEY_BEE : Visitor.SMALL_BEE + 1] = 0.0
    plants, fruits = bed_of_cucumbers()
    visits = bees((100.0, 100.0, 100.0)).visit(
        weather(),
        bagged,
        np.arange(len(plants)),
        plants,
        fruits,
        bee_kill=np.zeros(PRODUCTS),
        flower_strip_m2=0.0,
        hedgerow_m=0.0,
    )
    assert visits.sum() == 0
    assert sum(fruits[name].sum() for name in ("honey_visits", "bumble_visits", "small_visits")) == 0


@check(
    "more cucumber flowers bring more bees to the garden", source="motzke2015", read="read: abstract", independent=False
)
def test_more_flowers_bring_more_bees() -> None:
    few, many = bees(), bees()
    totals = []
    for who, plant_count in ((few, 20), (many, 200)):
        plants, fruits = bed_of_cucumbers(plant_count)
        visits = who.visit(
            weather(),
            open_ground(np.array([100.0])),
            np.arange(len(plants)),
            plants,
            fruits,
            bee_kill=np.zeros(PRODUCTS),
            flower_strip_m2=0.0,
            hedgerow_m=0.0,
        )
        totals.append(int(visits.sum()))
    assert totals[1] > 2 * totals[0]


@check(
    "routine insecticide costs visits, added bees give more",
    source="motzke2015",
    read="read: abstract",
    independent=True,
)
def test_sprays_cost_visits_and_more_bees_give_more() -> None:
    harm = open_ground(np.array([10.0]))
    harm.bee_harm[0, Product.PYRETHRINS] = 1.0
    kill = np.zeros(PRODUCTS)
    kill[Product.PYRETHRINS] = load_parameters().number("sprays.pyrethrins.bee_kill")
    plain = mean_visits(bees(), weather()).sum()
    assert mean_visits(bees(), weather(), surroundings=harm, kill=kill).sum() < plain
    assert mean_visits(bees((2.0, 2.0, 2.0)), weather()).sum() > plain


@check(
    "flower strips change visits to the crop little either way",
    source="phillips2015",
    read="read: abstract",
    independent=False,
)
def test_a_flower_strip_is_near_neutral() -> None:
    plain = mean_visits(bees(), weather()).sum()
    assert mean_visits(bees(), weather(), strip_m2=5.0).sum() == pytest.approx(plain, rel=0.25)


@check(
    "visits fall as cucumber beetles in flowers rise",
    source="beetles_in_flowers",
    read="read: abstract",
    independent=False,
)
def test_beetles_lower_visits() -> None:
    by_beetles = [mean_visits(bees(), weather(), beetles=number).sum() for number in (0.0, 2.0, 5.0, 10.0)]
    assert (np.diff(by_beetles) < 0.0).all()


@check(
    "bees killed in one bed are back to within a tenth after 45 days at 5 % a day",
    source="none",
    read="common practice, no source",
    independent=False,
)
def test_bees_come_back_in_weeks() -> None:
    who = bees()
    who.index = np.zeros(BEES)
    for _ in range(45):
        mean_visits(who, weather())
    assert who.index == pytest.approx(np.full(BEES, 1.0 - 0.95**45))
