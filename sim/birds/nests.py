"""The actor: every pair in reach of the garden, its day in two calls.

Takes: the morning's surroundings and enemies; in the evening what birds really caught.
Keeps: the nests, their nestlings, and what was brought home, by day and over the season.
Changes: the birds' part of ``surroundings.risk``; ``enemy_risk``; itself.
"""

from __future__ import annotations

from typing import Any

import mesa
import numpy as np

from sim.birds.foraging import (
    feeding_minutes,
    hunt,
    offer_in_beds,
    offer_outside,
    plan_minutes,
    prey_activity,
    share_time,
    write_risk,
)
from sim.birds.larder import FED_COUNT, FED_KJ, carry_enemies, carry_from_outside, carry_insects, hand_out
from sim.birds.menu import GROUPS, MOUTHS, PLACES, Menu, Place, build_menu
from sim.birds.nest import BROOD, NEST, begin_year, brood_need_per_day_kj, feed_nestlings, turn_page, wake_nests
from sim.birds.snares import meet_nets
from sim.cast import BIRDS, GENERALISTS, SPECIES, STAGES
from sim.compiled import Floats, Ints, Records, records
from sim.parameters.table import Parameters
from sim.randomness import stream_key
from sim.surroundings import Surroundings


class Nests(mesa.Agent):
    """All insect-eating pairs in reach; N nests, B beds with the margin last.

    Parameters
    ----------
    garden
        The model this actor belongs to.
    parameters
        The table of parameters; keys under ``birds``.
    kind
        ``Bird`` of each pair, shape (N,); N may be 0.
    distance_m
        From nest to garden [m], at least 0, shape (N,).
    seed
        Of the season; each pair has its own stream of chance.
    garden_area_m2
        Beds, paths and margin [m²], above 0; a bird in the garden is near a bed by its share of this area.
    hedgerow_area_m2
        Hedgerow beside the garden [m²], 0 for none.
    use_of_garden
        Factor on each kind's use of the garden above its share of the area.
    territory_food
        Factor on prey in the wider territory.
    spring_shift_days
        How much later (or, below 0, earlier) than the table's dates leaves, caterpillars and nests are.
    """

    def __init__(
        self,
        garden: mesa.Model,
        parameters: Parameters,
        *,
        kind: Ints,
        distance_m: Floats,
        seed: int,
        garden_area_m2: float,
        hedgerow_area_m2: float = 0.0,
        use_of_garden: float = 1.0,
        territory_food: float = 1.0,
        spring_shift_days: float = 0.0,
    ) -> None:
        super().__init__(garden)
        self.menu: Menu = build_menu(parameters)
        self.seed = seed
        self.garden_area_m2 = garden_area_m2
        self.hedgerow_area_m2 = hedgerow_area_m2
        self.use_of_garden = use_of_garden
        self.territory_food = territory_food
        self.spring_shift_days = spring_shift_days
        self.nests: Records = records(np.zeros(0, NEST))
        self.nestling_g: Floats = np.zeros((0, BROOD))
        table = (5, BIRDS, PLACES, GROUPS)
        self.today_table, self.season_table = np.zeros(table), np.zeros(table)
        self.enemy_risk: Floats = np.zeros((0, GENERALISTS))
        self.entangled_expected = 0.0
        self.brood_days_fed = 0.0
        self._brood_need_kj: Floats = brood_need_per_day_kj(self.menu.kinds, self.menu.shared)
        self._prey_mg = np.zeros(GROUPS)
        self._met = np.zeros((BIRDS, 2, GROUPS))
        self._portions_kj = np.zeros(BROOD)
        self._day_minutes = 0.0
        self._make_room(0)
        for one_kind, one_distance_m in zip(kind, distance_m, strict=True):
            self.settle(int(one_kind), float(one_distance_m))

    def settle(self, kind: int, distance_m: float) -> None:
        """Add a pair, as when a nest box is taken; it begins with its first clutch if the year's date is not past."""
        number = len(self.nests)
        pair = np.zeros(1, NEST)
        pair["key"] = stream_key(self.seed, "nest", number)
        pair["kind"], pair["distance_m"], pair["parents"] = kind, distance_m, 2
        pair = records(pair)
        begin_year(pair, self.menu.kinds, self.spring_shift_days)
        self.nests = records(np.concatenate([np.asarray(self.nests, dtype=NEST), np.asarray(pair, dtype=NEST)]))
        self.nestling_g = np.concatenate([self.nestling_g, np.zeros((1, BROOD))])
        self._make_room(len(self.enemy_risk))

    def _make_room(self, bed_count: int) -> None:
        """Allocate the day's working arrays once for this many nests and beds."""
        nest_count = len(self.nests)
        self.enemy_risk = np.zeros((bed_count, GENERALISTS))
        self._wanted = np.zeros((bed_count, SPECIES, STAGES))
        self._offer = np.zeros((BIRDS, bed_count + 2, 4))
        self._shares = np.zeros((nest_count, bed_count + 2))
        self._effort = np.zeros((nest_count, bed_count + 2, MOUTHS))
        self._searched = np.zeros((BIRDS, bed_count + 2))
        self._count = np.zeros((nest_count, MOUTHS, PLACES, GROUPS))
        self._mg = np.zeros((nest_count, MOUTHS, PLACES, GROUPS))
        self._food_kj = np.zeros(nest_count)

    def forage(self, today: Records, surroundings: Surroundings, generalists_per_m2: Floats) -> Floats:
        """Decide where to hunt today, write the birds' part of the risk, and return that of generalist enemies.

        Parameters
        ----------
        today
            One ``TODAY`` record.
        surroundings
            Read: ``beds``, ``gets_in[:, Visitor.BIRD]``, ``alive``, ``mass_mg``. Written: ``risk[..., 4:7]`` [1/d].
        generalists_per_m2
            Ground beetles, spiders, lady beetles and lacewings [1/m²], shape (B, 4).

        Returns
        -------
        numpy.ndarray
            Hazard from all birds together on each generalist enemy [1/d], shape (B, 4); own array, reused each day.
        """
        if len(self.enemy_risk) != len(surroundings.beds):
            self._make_room(len(surroundings.beds))
        menu, here = self.menu, surroundings
        shift = self.spring_shift_days
        wake_nests(self.nests, self.nestling_g, menu.kinds, menu.shared, int(today["day_of_year"]), shift)
        activity = prey_activity(today, menu.shared[0])
        self._day_minutes = feeding_minutes(today, menu.shared[0])
        offer_in_beds(
            here.beds,
            here.gets_in,
            here.alive,
            here.mass_mg,
            generalists_per_m2,
            menu.kinds,
            menu.shared,
            menu.groups,
            menu.appeal,
            menu.group_of,
            menu.enemy_appeal,
            menu.enemy_mg,
            menu.enemy_group,
            self._wanted,
            self._offer,
        )
        offer_outside(
            float(today["day_of_year"]) - shift,
            self.territory_food,
            menu.kinds,
            menu.shared,
            menu.groups,
            menu.reach,
            self._met,
            self._prey_mg,
            self._offer,
        )
        self._divide_time(here, activity)
        write_risk(
            here.beds,
            here.gets_in,
            menu.kinds,
            menu.shared,
            self._wanted,
            menu.enemy_appeal,
            menu.enemy_mg,
            self._searched,
            here.risk,
            self.enemy_risk,
        )
        self._start_larder(here, generalists_per_m2)
        return self.enemy_risk

    def _divide_time(self, here: Surroundings, activity: float) -> None:
        kinds, shared = self.menu.kinds, self.menu.shared
        share_time(
            self.nests,
            here.beds,
            self.hedgerow_area_m2,
            self.use_of_garden,
            kinds,
            shared,
            self._offer,
            activity,
            self._shares,
        )
        plan_minutes(self.nests, kinds, shared, self._offer, self._shares, activity, self._day_minutes)
        hunt(
            self.nests,
            here.beds,
            kinds,
            shared,
            self._offer,
            self._shares,
            activity,
            self._effort,
            self._searched,
        )

    def _start_larder(self, here: Surroundings, generalists_per_m2: Floats) -> None:
        menu = self.menu
        carry_from_outside(
            self.nests,
            menu.kinds,
            menu.groups,
            self._effort,
            self._searched,
            self._met,
            self._prey_mg,
            self.hedgerow_area_m2,
            self._count,
            self._mg,
        )
        carry_enemies(
            self.nests,
            menu.kinds,
            here.beds,
            self._effort,
            self._searched,
            generalists_per_m2,
            self.enemy_risk,
            menu.enemy_mg,
            menu.enemy_group,
            self._count,
            self._mg,
        )

    def feed(
        self,
        today: Records,
        caught_count: Floats,
        caught_mg: Floats,
        surroundings: Surroundings | None = None,
        entangle_per_contact: Floats | None = None,
    ) -> None:
        """Bring home what was caught, feed the young, meet nets, and end the nests' day.

        Parameters
        ----------
        today
            One ``TODAY`` record.
        caught_count, caught_mg
            Insects that birds really took in the beds and their fresh mass [mg], shape (BIRDS, B, SPECIES, STAGES).
        surroundings, entangle_per_contact
            Beds, and the chance that a bird near a bed for a day is caught in its net, shape (B,); none where left out.
        """
        menu = self.menu
        day, day_of_year = int(today["day"]), int(today["day_of_year"])
        carry_insects(
            self.nests,
            self._effort,
            self._searched,
            menu.group_of,
            caught_count,
            caught_mg,
            self._count,
            self._mg,
        )
        hand_out(self.nests, menu.groups, self._count, self._mg, self._food_kj, self.today_table, self.season_table)
        self.brood_days_fed += float(np.sum(self.nests["garden_kj"] / self._brood_need_kj[self.nests["kind"]]))
        feed_nestlings(self.nests, self.nestling_g, menu.kinds, menu.shared, self._food_kj, self._portions_kj)
        if surroundings is not None and entangle_per_contact is not None:
            self.entangled_expected += meet_nets(
                self.nests,
                self.nestling_g,
                menu.kinds,
                menu.shared,
                surroundings.beds,
                self._shares,
                entangle_per_contact,
                self.garden_area_m2,
                day,
                day_of_year,
            )
        turn_page(self.nests, self.nestling_g, menu.kinds, menu.shared, day, day_of_year)

    # -- what a day and a season are told by

    def delivered_kj(self, place: Place, *, whole_season: bool = False) -> float:
        """Return energy fed to nestlings from a place [kJ], today or so far."""
        table = self.season_table if whole_season else self.today_table
        return float(table[FED_KJ, :, place].sum())

    def delivered_count(self, place: Place, *, whole_season: bool = False) -> float:
        """Return prey fed to nestlings from a place, today or so far."""
        table = self.season_table if whole_season else self.today_table
        return float(table[FED_COUNT, :, place].sum())

    def visits(self, *, whole_season: bool = False) -> float:
        """Return feeding visits to all nests, today or so far: prey over prey carried at a time."""
        table = self.season_table if whole_season else self.today_table
        return float(table[FED_COUNT].sum() / self.menu.shared[0].items_per_trip)

    @property
    def garden_share(self) -> float:
        """Share of all nestlings' food so far that came from the garden, 0 to 1."""
        total = float(self.season_table[FED_KJ].sum())
        return float(self.season_table[FED_KJ, :, Place.GARDEN].sum()) / total if total > 0.0 else 0.0

    @property
    def nestlings(self) -> int:
        """Nestlings alive now."""
        return int(self.nests["nestlings"].sum())

    @property
    def fledged(self) -> int:
        """Young that have left their nests so far."""
        return int(self.nests["fledged"].sum())

    @property
    def starved(self) -> int:
        """Nestlings that starved so far."""
        return int(self.nests["starved"].sum())

    @property
    def entangled(self) -> int:
        """Birds caught in nets so far."""
        return int(self.nests["entangled"].sum())

    def as_columns(self) -> dict[str, Any]:
        """Return one column a fact of each nest, for a table at the season's end."""
        return {name: np.asarray(self.nests[name]).copy() for name in NEST.names or ()}
