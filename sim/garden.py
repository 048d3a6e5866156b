"""The garden: who acts in what order, day after day.

A day runs like this, and nowhere else is its order decided:

1. flowers open;
2. the gardener works: plants, covers, picks, sprays, as far as the minutes reach;
3. nets and sprays write what the day is like in each bed;
4. bees visit the flowers;
5. plants grow;
6. insects fly in or wake from winter rest, and the living are counted;
7. enemies and birds decide how hard they hunt where;
8. insects meet the day's hazards, grow and eat; plants lose what was eaten; fruit sets; wilt is passed on;
9. birds feed their young; enemies come, go and die;
10. adults try plants and lay; wasps find hosts;
11. aphids multiply;
12. the dead are booked, and the day is written down.

Every rate of a day is worked out from the morning's state, so the order among creatures of a kind does not matter.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Protocol

import mesa
import numpy as np

from sim.actors import (
    aphids_of,
    gardener_of,
    generalists_of,
    insects_of,
    nests_of,
    pest_factors,
    plants_of,
    pollinators_of,
    sprays_of,
)
from sim.cast import Stage
from sim.chronicle import Chronicle
from sim.compiled import Floats, Ints, Record
from sim.evening import close_book, write_down
from sim.insects.arrivals import wintered_numbers
from sim.insects.weighing import add_warmth
from sim.insects.wilt_carriers import count_beetles_per_flower, pass_on_wilt
from sim.layout import lay_out
from sim.parameters import Parameters
from sim.practices.kills import aphid_kill, bee_kill, enemy_kill, wasp_kill
from sim.practices.nets import Nets
from sim.practices.workday import Workday
from sim.scenario import Scenario
from sim.sight import Sight
from sim.spring import spring_shift_days
from sim.surroundings import Surroundings, open_ground
from sim.weather.days import Weather
from sim.work import carry_out


@dataclass(frozen=True, slots=True)
class SprayHarm:
    """What sprays do to others than plant-eaters: by product, for enemies [PRODUCTS, 4], wasps, aphids and bees."""

    enemies: Floats
    wasps: Floats
    aphids: Floats
    bees: Floats


@dataclass(frozen=True, slots=True)
class CarriedOver:
    """What one season leaves to the next: insects that wintered (B, SPECIES), hedgerow, flower strip, nest boxes."""

    wintered: Ints
    hedgerow_m: float
    flower_strip_m2: float
    boxes: tuple[tuple[int, float], ...]


class Onlooker(Protocol):
    """Somebody who looks on three times a day and touches nothing."""

    def see_morning(self, garden: Garden) -> None:
        """Look when the living have been counted."""

    def see_meals(self, garden: Garden) -> None:
        """Look when food has been shared out and not yet eaten."""

    def see_evening(self, garden: Garden, workday: Workday) -> None:
        """Look before the dead are booked."""


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
    before
        What a season before this one left behind; otherwise the scenario says what there is in spring.
    onlooker
        Who looks on, such as a camera; nobody otherwise.
    """

    def __init__(
        self, scenario: Scenario, parameters: Parameters, *, plan: str, weather: Weather, seed: int,
        first_date: date, last_date: date, before: CarriedOver | None = None, onlooker: Onlooker | None = None,
    ) -> None:  # fmt: skip
        super().__init__(rng=0)  # Mesa's own stream is not used: chance belongs to keys
        self.its_scenario = scenario  # Mesa's models have a scenario of their own
        self.parameters = parameters
        self.onlooker = onlooker
        self.layout = lay_out(scenario)
        self.seed = seed
        self.days = weather.window(first_date, last_date).days
        names = self.days.dtype.names or ()
        self.plain_days: list[Record] = [dict(zip(names, day, strict=True)) for day in self.days.tolist()]
        self.first_date = first_date
        self.dates = [first_date + timedelta(days=day) for day in range(len(self.days))]
        self.latitude_deg = weather.latitude_deg
        self.day = 0
        self.chronicle = Chronicle(len(self.days))
        self.near: Surroundings = open_ground(self.layout.area_m2)
        self.hedgerow_m = before.hedgerow_m if before else scenario.margin.hedgerow_m
        self.flower_strip_m2 = before.flower_strip_m2 if before else scenario.margin.flower_strip_m2
        self.fruit_set = 0
        self.beds_sprayed = 0
        self.picked_kg = 0.0
        self.marketable_kg = 0.0
        self.searched_to: dict[int, float] = {}
        self.boxes: list[tuple[int, float]] = list(before.boxes) if before else []
        self.harvests: dict[int, list[float]] = {}
        self.crop_plants = int(self.layout.first_plant[-2])
        self._make_actors(plan, weather, before is None)
        _let_go_of(self)
        self._count_warmth_before(weather)
        self._bring_out_winterers(before.wintered if before else None)

    # -- the day ---------------------------------------------------------------------------------------------------

    def step(self) -> None:
        """Live one day, in the order told above."""
        today, of_today = self.plain_days[self.day], self.days[self.day : self.day + 1]
        self.plants.open_flowers(self.day)
        workday = self.gardener.work(today, self.dates[self.day], self.sight)
        carry_out(self, workday)
        self.nets.write(today, self.near)
        self.sprays.write(today, self.near)
        self.visits = self.pollinators.visit(
            of_today, self.near, self.plants.standing, self.plants.plants, self.plants.fruits,
            bee_kill=self.harm.bees, flower_strip_m2=self.flower_strip_m2, hedgerow_m=self.hedgerow_m,
            beetles_per_flower=self.beetles_per_flower(),
        )  # fmt: skip
        self.hand_pollinate(workday, of_today)
        self.plants.grow(today, self.near.beds)
        self.insects.arrive(today, self.wasps_drawn())
        self.insects.count_up(self.near)
        if self.onlooker:
            self.onlooker.see_morning(self)
        self.generalists.hunt(self.near, self.aphids.per_m2)
        enemy_risk = self.nests.forage(of_today, self.near, self.generalists.density_per_m2)
        self.insects.weigh(today, self.near)
        self.live_and_eat(today)
        self.nests.feed(
            of_today, self.insects.caught_count, self.insects.caught_mg, self.near, self.nets.entangle_per_contact
        )
        aphids_this_morning = self.aphids.per_m2
        self.generalists.live(
            self.near, aphids_per_m2=aphids_this_morning, hedgerow_m=self.hedgerow_m,
            flower_strip_m2=self.flower_strip_m2, enemy_kill=self.harm.enemies, bird_enemy_risk=enemy_risk,
        )  # fmt: skip
        self.insects.fly(today, self.near, self.plants.standing, self.plants.plants, self.plants.leaves)
        self.aphids.live(
            of_today, self.near, self.plants.standing, self.plants.plants, aphid_risk=self.generalists.aphid_risk,
            aphid_kill=self.harm.aphids, wasp_kill=self.harm.wasps,
        )  # fmt: skip
        if self.onlooker:
            self.onlooker.see_evening(self, workday)
        self.insects.bury()
        write_down(self, workday)
        self.day += 1
        if self.day == len(self.days):
            close_book(self)

    def live_and_eat(self, today: Record) -> None:
        """Let insects meet their hazards, ask for food and get their share of what there is."""
        plants = self.plants
        self.insects.live(
            today, self.is_shortening[self.day], self.near, plants.plants, plants.leaves, plants.demand_cm2
        )
        plants.share_out()
        if self.onlooker:
            self.onlooker.see_meals(self)
        self.insects.eat(today, plants.plants, plants.ration)
        plants.lose_eaten()
        self.fruit_set += plants.set_fruit(self.day)
        plants.inside[:] = self.insects.larvae_in_head
        pass_on_wilt(plants.plants, self.insects.infective_on_plant, self.insects.table.habits, self.day)

    def hand_pollinate(self, workday: Workday, of_today: Record) -> None:
        """Brush the open flowers of the beds that the gardener chose."""
        for bed, visits, share in workday.pollinated:
            self.pollinators.hand_pollinate(
                of_today, self.plants.plants, self.plants.fruits, bed=bed, visits=visits, share=share
            )

    def wasps_drawn(self) -> float:
        """Return how many times the usual number of wasps come, by the flowers near by."""
        has_nectar = self.flower_strip_m2 > 0.0 or self.hedgerow_m > 0.0
        return self._wasps_drawn if has_nectar else 1.0

    def leave_behind(self, year: int) -> CarriedOver:
        """Let winter pass and return what the next season begins with."""
        wintered = self.insects.meet_winter(year)
        return CarriedOver(wintered, self.hedgerow_m, self.flower_strip_m2, tuple(self.boxes))

    def beetles_per_flower(self) -> Floats:
        """Return cucumber beetles for each open flower by bed, as counted yesterday morning, shape (B,)."""
        count_beetles_per_flower(
            self.plants.standing, self.plants.plants, self.near.alive, self._flower_share, self._males_per_female,
            self._beetles_per_flower,
        )  # fmt: skip
        return self._beetles_per_flower

    # -- the cast --------------------------------------------------------------------------------------------------

    def _make_actors(self, plan: str, weather: Weather, is_first_year: bool) -> None:
        scenario, parameters, layout, seed = self.its_scenario, self.parameters, self.layout, self.seed
        beds = len(layout.names)
        self._beetles_per_flower = np.zeros(beds)
        self._flower_share = parameters.number("insects.feeding.flower_share")
        self._wasps_drawn = parameters.number("parasitoid.search.drawn_by_flowers")
        self._males_per_female = parameters.number("pollinators.male_flowers_per_female")
        lengths = self.days["day_length_h"]
        self.is_shortening = np.diff(lengths, prepend=lengths[:1]) < 0
        self.plants = plants_of(self, scenario, parameters, layout, seed)
        self.insects = insects_of(self, scenario, parameters, layout, seed)
        self.aphids = aphids_of(self, scenario, parameters, layout, seed)
        self.generalists = generalists_of(self, scenario, parameters, layout)
        self.pollinators = pollinators_of(self, scenario, parameters, layout)
        spring_days = spring_shift_days(weather, self.first_date.year, parameters)
        self.nests = nests_of(self, scenario, parameters, layout, seed, spring_days)
        for kind, distance_m in self.boxes:
            self.nests.settle(kind, distance_m)
        self.nets = Nets(self, parameters, bed_count=beds, seed=seed)
        self.sprays = sprays_of(self, scenario, parameters, layout, seed)
        self.gardener = gardener_of(self, scenario, parameters, plan, len(self.days), is_first_year)
        self.harm = SprayHarm(
            enemy_kill(parameters), wasp_kill(parameters), aphid_kill(parameters), bee_kill(parameters)
        )
        self.sight = Sight(self)
        self.plants.put_in(layout.margin, 0)

    def _count_warmth_before(self, weather: Weather) -> None:
        """Add the warmth of the year's days before the season, by which insects wake from winter rest."""
        new_year = date(self.first_date.year, 1, 1)
        since = max(0, (new_year - weather.first_date).days)
        for day in weather.days[since : (self.first_date - weather.first_date).days]:
            add_warmth(self.insects.table.life, day["tmin_c"], day["tmax_c"], self.insects.season_dd)

    def _bring_out_winterers(self, wintered: Ints | None) -> None:
        """Put insects at winter rest into the beds: those carried over, or those that the beds' settings speak of."""
        if wintered is not None:
            for place in range(len(self.layout.names)):
                self.insects.winter_in(place, wintered[place])
            return
        table = self.insects.table
        per_m2 = table.fliers["overwintered_per_m2"] * pest_factors(self.its_scenario)
        in_soil = table.life["in_soil"][:, Stage.PUPA]
        for place, bed in enumerate(self.its_scenario.single_beds):
            area_m2 = bed.length_m * bed.width_m
            numbers = wintered_numbers(per_m2, area_m2, in_soil, bed.hosted_last_year, bed.old_stalks, self.seed, place)
            self.insects.winter_in(place, numbers)


def _let_go_of(garden: Garden) -> None:
    """Undo Mesa's counting of actors by model, which would keep every garden in memory (Mesa issue 3179)."""
    getattr(mesa.Agent, "_ids", {}).pop(garden, None)
