"""The garden: who acts in what order, day after day.

A day runs like this, and nowhere else is its order decided:

1. flowers open;
2. the gardener works: plants, covers, sprays, picks, as far as the minutes reach;
3. nets and sprays write what the day is like in each bed;
4. bees visit, and fruit sets;
5. plants grow;
6. insects fly in or wake from winter rest, and the living are counted;
7. enemies and birds decide how hard they hunt where;
8. insects meet the day's hazards, grow and eat; plants lose what was eaten; wilt is passed on;
9. birds feed their young; enemies come, go and die;
10. adults try plants and lay; wasps find hosts;
11. aphids multiply;
12. the dead are booked, and the day is written down.

Every rate of a day is worked out from the morning's state, so the order among creatures of a kind does not matter.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import mesa
import numpy as np

from sim.birds.nests import Nests
from sim.cast import SPECIES, Bird, Crop, Product, Species, Stage
from sim.chronicle import Chronicle
from sim.compiled import Floats, Ints, Record
from sim.crops.plants import Plants
from sim.enemies.generalists import Generalists
from sim.evening import write_down
from sim.insects.aphids import Aphids
from sim.insects.arrivals import females_per_day, pressures, wintered_numbers
from sim.insects.population import Insects, SprayEffects
from sim.insects.table import insect_table
from sim.insects.weighing import add_warmth
from sim.insects.wilt import pass_on_wilt
from sim.layout import Layout, lay_out
from sim.parameters import Parameters
from sim.pollinators import Pollinators
from sim.practices.gardener import Gardener
from sim.practices.kills import aphid_kill, bee_kill, eaten_share, enemy_kill, kill_table, wasp_kill
from sim.practices.nets import Nets
from sim.practices.sprays import Sprays
from sim.practices.workday import BedFacts, Workday
from sim.randomness import stream_key
from sim.scenario import Scenario
from sim.sight import Sight
from sim.surroundings import Surroundings, open_ground
from sim.weather.days import Weather
from sim.work import carry_out

_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True)
class SprayHarm:
    """What sprays do to others than plant-eaters: by product, for enemies [PRODUCTS, 4], wasps, aphids and bees."""

    enemies: Floats
    wasps: Floats
    aphids: Floats
    bees: Floats


class Garden(mesa.Model):  # type: ignore[misc]
    """One season of one garden under one plan.

    Parameters
    ----------
    scenario
        The garden.
    parameters
        The numbers of nature, with the scenario's own changes already made.
    plan
        Name of the plan.
    weather
        Days from the beginning of the year, or of the file, to the season's last day.
    seed
        Whose luck this season has.
    wintered
        Insects that wintered in each bed after a season before this one, shape (B, SPECIES); otherwise the beds'
        own settings say what wintered.
    """

    def __init__(
        self, scenario: Scenario, parameters: Parameters, *, plan: str, weather: Weather, seed: int,
        first_date: date, last_date: date, wintered: Ints | None = None,
    ) -> None:  # fmt: skip
        super().__init__(seed=0)  # Mesa's own stream is not used: chance belongs to keys
        self.scenario = scenario
        self.parameters = parameters
        self.layout = lay_out(scenario)
        self.seed = seed
        self.days = weather.window(first_date, last_date).days
        self.first_date = first_date
        self.latitude_deg = weather.latitude_deg
        self.day = 0
        self.chronicle = Chronicle(len(self.days))
        self.near: Surroundings = open_ground(self.layout.area_m2)
        self.hedgerow_m = scenario.margin.hedgerow_m
        self.flower_strip_m2 = scenario.margin.flower_strip_m2
        self.fruit_set = 0
        self.beds_sprayed = 0
        self.picked_kg = 0.0
        self.marketable_kg = 0.0
        self.searched_to: dict[int, float] = {}
        self.harvests: dict[int, list[float]] = {}
        self.crop_plants = int(self.layout.first_plant[-2])
        self._make_actors(plan, weather, wintered)

    # -- the day ---------------------------------------------------------------------------------------------------

    def step(self) -> None:
        """Live one day, in the order told above."""
        today, of_today = self.days[self.day], self.days[self.day : self.day + 1]
        self.plants.open_flowers(self.day)
        workday = self.gardener.work(today, self.first_date + timedelta(days=self.day), self.sight)
        carry_out(self, workday)
        self.nets.write(today, self.near)
        self.sprays.write(today, self.near)
        self.visits = self.pollinators.visit(
            of_today, self.near, self.plants.plants, self.plants.fruits, bee_kill=self.harm.bees,
            flower_strip_m2=self.flower_strip_m2, hedgerow_m=self.hedgerow_m,
            beetles_per_flower=self.beetles_in_flowers(),
        )  # fmt: skip
        self.hand_pollinate(workday, of_today)
        self.fruit_set += self.plants.set_fruit(self.day)
        self.plants.grow(today, self.near.beds)
        self.insects.arrive(today)
        self.insects.count_up(self.near)
        self.generalists.hunt(self.near, self.aphids.per_m2)
        enemy_risk = self.nests.forage(today, self.near, self.generalists.density_per_m2)
        self.insects.weigh(today, self.near)
        self.live_and_eat(today)
        self.nests.feed(
            today, self.insects.caught_count, self.insects.caught_mg, self.near, self.nets.entangle_per_contact
        )
        aphids_this_morning = self.aphids.per_m2
        self.generalists.live(
            self.near, aphids_per_m2=aphids_this_morning, hedgerow_m=self.hedgerow_m,
            flower_strip_m2=self.flower_strip_m2, enemy_kill=self.harm.enemies, bird_enemy_risk=enemy_risk,
        )  # fmt: skip
        self.insects.fly(today, self.near, self.plants.plants, self.plants.leaves)
        self.aphids.live(
            of_today, self.near, self.plants.plants, aphid_risk=self.generalists.aphid_risk,
            aphid_kill=self.harm.aphids, wasp_kill=self.harm.wasps,
        )  # fmt: skip
        self.insects.bury()
        write_down(self, workday)
        self.day += 1

    def live_and_eat(self, today: Record) -> None:
        """Let insects meet their hazards, ask for food and get their share of what there is."""
        plants = self.plants
        self.insects.live(
            today, self.is_shortening[self.day], self.near, plants.plants, plants.leaves, plants.demand_cm2
        )
        plants.share_out()
        self.insects.eat(today, plants.plants, plants.ration)
        plants.lose_eaten()
        plants.inside[:] = self.insects.larvae_in_head
        pass_on_wilt(plants.plants, self.insects.infective_on_plant, self.insects.table.habits, self.day)

    def hand_pollinate(self, workday: Workday, of_today: Record) -> None:
        """Brush the open flowers of the beds that the gardener chose."""
        for bed, visits, share in workday.pollinated:
            self.pollinators.hand_pollinate(
                of_today, self.plants.plants, self.plants.fruits, bed=bed, visits=visits, share=share
            )

    def beetles_in_flowers(self) -> Floats:
        """Return cucumber beetles for each open female flower by bed, from last evening's count, shape (B,)."""
        beetles = self.near.alive[:, Species.CUCUMBER_BEETLE, Stage.ADULT]
        if not beetles.any():
            return self._no_beetles
        flowers = np.bincount(
            self.plants.plants["bed"], weights=self.plants.plants["open_flowers"], minlength=len(beetles)
        )
        share = self.parameters.number("insects.feeding.flower_share")
        return np.asarray(share * beetles / np.maximum(flowers, 1.0), dtype=np.float64)

    # -- the cast --------------------------------------------------------------------------------------------------

    def _make_actors(self, plan: str, weather: Weather, wintered: Ints | None) -> None:
        scenario, parameters, layout, seed = self.scenario, self.parameters, self.layout, self.seed
        beds = len(layout.names)
        margin = scenario.margin
        self._no_beetles = np.zeros(beds)
        self.is_shortening = np.diff(self.days["day_length_h"], prepend=self.days["day_length_h"][:1] - 1e-9) < 0
        self.plants = _plants(self, scenario, parameters, layout, seed)
        self.insects = _insects(self, scenario, parameters, layout, seed)
        self.aphids = Aphids(
            self, parameters, plant_count=len(layout.crop), bed_count=beds,
            factor=scenario.pests.cabbage_aphid * scenario.pests.arrivals, seed=seed,
        )  # fmt: skip
        guilds = scenario.enemies
        self.generalists = Generalists(
            self, parameters, bed_area_m2=layout.area_m2, seed=seed,
            factors=np.array([guilds.ground_beetles, guilds.spiders, guilds.lady_beetles, guilds.lacewings]),
        )  # fmt: skip
        bees = scenario.bees
        self.pollinators = Pollinators(
            self, parameters, factors=np.array([bees.honey_bees, bees.bumble_bees, bees.small_bees]), bed_count=beds
        )
        self.nests = _nests(self, scenario, parameters, layout, seed)
        self.nets = Nets(self, parameters, bed_count=beds, seed=seed)
        self.sprays = Sprays(
            self, parameters, distance_m=layout.distance_m, seed=seed, neighbour_share=margin.neighbour_drift,
            neighbour_every_days=margin.neighbour_spray_every_days,
            neighbour_product=Product[margin.neighbour_product.upper()],
        )  # fmt: skip
        self.gardener = _gardener(self, scenario, parameters, plan, len(self.days))
        self.harm = SprayHarm(
            enemy_kill(parameters), wasp_kill(parameters), aphid_kill(parameters), bee_kill(parameters)
        )
        self.sight = Sight(self)
        self.plants.put_in(layout.margin, 0)
        self._count_warmth_before(weather)
        self._bring_out_winterers(wintered)

    def _count_warmth_before(self, weather: Weather) -> None:
        """Add the warmth of the year's days before the season, by which insects wake from winter rest."""
        before = (self.first_date - weather.first_date).days
        for day in weather.days[:before]:
            add_warmth(self.insects.table.life, day["tmin_c"], day["tmax_c"], self.insects.season_dd)

    def _bring_out_winterers(self, wintered: Ints | None) -> None:
        table = self.insects.table
        per_m2 = table.fliers["overwintered_per_m2"] * _factors(self.scenario)
        in_soil = table.life["in_soil"][:, Stage.PUPA]
        for place, bed in enumerate(self.scenario.single_beds):
            if wintered is not None:
                numbers = wintered[place]
            else:
                area = bed.length_m * bed.width_m
                numbers = wintered_numbers(
                    per_m2, area, in_soil, bed.hosted_last_year, bed.old_stalks, self.seed, place
                )
            self.insects.winter_in(place, numbers, 0)


def _factors(scenario: Scenario) -> Floats:
    """Return the scenario's factor on each species, shape (SPECIES,)."""
    pests = scenario.pests
    factors = [getattr(pests, species.name.lower()) for species in Species if species != Species.PARASITOID_WASP]
    return np.array([factor * pests.arrivals for factor in factors] + [scenario.enemies.parasitoid_wasps])


def _plants(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int) -> Plants:
    beds = scenario.single_beds
    keys = np.array([stream_key(seed, "plant", number) for number in range(len(layout.crop))], np.uint64)

    def spread(values: list[float], margin: float) -> Floats:
        return np.array([*values, margin])[layout.bed]

    return Plants(
        garden, parameters, crop=layout.crop, bed=layout.bed, x_m=layout.x_m, y_m=layout.y_m,
        edge_share=layout.edge_share, keys=keys, vigour=spread([bed.vigour for bed in beds], 1.0),
        self_fruitful=spread([bed.self_fruitful for bed in beds], 0.0).astype(np.uint8),
        from_seed=spread([bed.start == "seed" for bed in beds], 0.0).astype(np.uint8),
        once_over=spread([bed.harvest == "once" for bed in beds], 0.0).astype(np.uint8),
        ground_area_m2=layout.ground_area_m2,
    )  # fmt: skip


def _insects(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int) -> Insects:
    table = insect_table(parameters)
    host_area = np.zeros(SPECIES)
    for place, bed in enumerate(scenario.single_beds):
        is_host = table.host_weights[:, Crop[bed.crop.upper()]] > 0
        host_area += np.where(is_host, layout.area_m2[place], 0.0)
    pressure = pressures(parameters, seed, host_area, _factors(scenario))
    if scenario.margin.flower_strip_m2 > 0 or scenario.margin.hedgerow_m > 0:
        pressure[Species.PARASITOID_WASP] *= parameters.number("parasitoid.search.flower_life_factor")
    expected = females_per_day(parameters, garden.latitude_deg, garden.days["day_of_year"]) * pressure
    effects = SprayEffects(kill_table(parameters), eaten_share(parameters), wasp_kill(parameters))
    return Insects(garden, table, effects, seed=seed, first_plant=layout.first_plant, expected_arrivals=expected)


def _nests(garden: Garden, scenario: Scenario, parameters: Parameters, layout: Layout, seed: int) -> Nests:
    pairs = [(Bird[nest.kind.upper()], nest.distance_m) for nest in scenario.birds.nests for _ in range(nest.count)]
    return Nests(
        garden, parameters, kind=np.array([kind for kind, _ in pairs], np.int64),
        distance_m=np.array([distance for _, distance in pairs], np.float64), seed=seed,
        garden_area_m2=layout.garden_area_m2,
        hedgerow_area_m2=scenario.margin.hedgerow_m * parameters.number("habitat.hedgerow_width_m"),
        use_of_garden=scenario.birds.use_of_garden, territory_food=scenario.birds.territory_food,
    )  # fmt: skip


def _gardener(garden: Garden, scenario: Scenario, parameters: Parameters, plan: str, day_count: int) -> Gardener:
    skipped = scenario.skipped_beds(plan)
    beds = [
        BedFacts(
            crop=Crop[bed.crop.upper()], area_m2=bed.length_m * bed.width_m, plants=bed.plant_count,
            planted=None if place in skipped else bed.planted, harvest=bed.harvest, is_sown=bed.start == "seed",
        )
        for place, bed in enumerate(scenario.single_beds)
    ]  # fmt: skip
    return Gardener(
        garden, parameters, beds=beds, actions=scenario.actions_of(plan), bed_positions=scenario.bed_positions,
        first_date=garden.first_date, day_count=day_count, minutes_per_day=scenario.gardener.minutes_per_day,
        works_on=[_WEEKDAYS.index(name) for name in scenario.gardener.works_on],
    )  # fmt: skip
