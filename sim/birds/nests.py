"""The actor: every pair in reach of the garden, its day in two calls.

Takes: the morning's surroundings and enemies; in the evening what birds really caught.
Keeps: the nests, their nestlings, and what was brought home, by day and over the season.
Changes: the birds' part of ``surroundings.risk``; ``enemy_risk``; itself.
"""

from __future__ import annotations

import mesa
import numpy as np

from sim.birds.day import come_home, spend_day
from sim.birds.daybook import FED_COUNT, FED_KJ, FED_MG, SITE, DayBook, Here, empty_tables, open_daybook
from sim.birds.menu import Menu, Place, build_menu
from sim.birds.nest import BROOD, NEST, begin_year
from sim.birds.nestlings import work_out_brood_need
from sim.cast import BIRDS, GENERALISTS, Predator
from sim.compiled import Floats, Ints, Records, records
from sim.parameters.table import Parameters
from sim.randomness import stream_key
from sim.surroundings import Surroundings, open_ground

_MG_PER_G = 1000.0


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
        spider = self.menu.enemies[Predator.SPIDER]
        self.spider_mg = float(spider["mg"] * spider["appeal"])
        self.items_per_trip = float(self.menu.shared["items_per_trip"][0])
        self.seed = seed
        self.site: Records = records(np.zeros(1, SITE))
        self.site["garden_area_m2"], self.site["hedgerow_area_m2"] = garden_area_m2, hedgerow_area_m2
        self.site["use_of_garden"], self.site["territory_food"] = use_of_garden, territory_food
        self.site["spring_shift_days"] = spring_shift_days
        self.nests: Records = records(np.zeros(0, NEST))
        self.nestling_g: Floats = np.zeros((0, BROOD))
        self.book: DayBook = open_daybook(0, 0, empty_tables())
        self._brood_need_kj: Floats = np.zeros(BIRDS)
        work_out_brood_need(self.menu.kinds, self.menu.shared, self._brood_need_kj)
        self._no_danger: Floats = np.zeros(0)
        self._here: Here = self._look(open_ground(np.zeros(0)), np.zeros((0, GENERALISTS)))
        for one_kind, one_distance_m in zip(kind, distance_m, strict=True):
            self.settle(int(one_kind), float(one_distance_m))

    def settle(self, kind: int, distance_m: float) -> None:
        """Add a pair, as when a nest box is taken; call it in the morning.

        A pair whose date for the first egg is past lays at once, if the season still allows it.
        """
        pair = np.zeros(1, NEST)
        pair["key"] = stream_key(self.seed, "nest", len(self.nests))
        pair["kind"], pair["distance_m"], pair["parents"] = kind, distance_m, 2
        begin_year(records(pair), self.menu.kinds, float(self.site["spring_shift_days"][0]))
        grown = np.zeros(len(self.nests) + 1, NEST)  # not concatenate: it leaves chance bytes between the fields
        grown[:-1], grown[-1:] = np.asarray(self.nests).view(NEST), pair
        self.nests = records(grown)
        self.nestling_g = np.concatenate([self.nestling_g, np.zeros((1, BROOD))])
        self._make_room(len(self._no_danger))

    def _make_room(self, bed_count: int) -> None:
        """Open a day book once for this many nests and beds."""
        self.book = open_daybook(len(self.nests), bed_count, self.book.season)
        self._no_danger = np.zeros(bed_count)

    def _look(self, surroundings: Surroundings, generalists_per_m2: Floats) -> Here:
        return Here(
            site=self.site,
            beds=surroundings.beds,
            gets_in=surroundings.gets_in,
            alive=surroundings.alive,
            mass_mg=surroundings.mass_mg,
            generalists_per_m2=generalists_per_m2,
            risk=surroundings.risk,
        )

    @property
    def hedgerow_area_m2(self) -> float:
        """Hedgerow beside the garden [m²]; may be set, as when one is planted or grows."""
        return float(self.site["hedgerow_area_m2"][0])

    @hedgerow_area_m2.setter
    def hedgerow_area_m2(self, area_m2: float) -> None:
        self.site["hedgerow_area_m2"] = area_m2

    def forage(self, today: Records, surroundings: Surroundings, generalists_per_m2: Floats) -> Floats:
        """Decide where to hunt today, write the birds' part of the risk, and return that of generalist enemies.

        Parameters
        ----------
        today
            One ``TODAY`` record, in an array of its own.
        surroundings
            Read: ``beds``, ``gets_in[:, Visitor.BIRD]``, ``alive``, ``mass_mg``. Written: ``risk[..., 4:7]`` [1/d].
        generalists_per_m2
            Ground beetles, spiders, lady beetles and lacewings [1/m²], shape (B, 4).

        Returns
        -------
        numpy.ndarray
            Hazard from all birds together on each generalist enemy [1/d], shape (B, 4); own array, reused each day.
        """
        if len(self._no_danger) != len(surroundings.beds):
            self._make_room(len(surroundings.beds))
        self._here = self._look(surroundings, generalists_per_m2)
        spend_day(today, self.nests, self.nestling_g, *self._here, *self.menu, *self.book)
        return self.book.enemy_risk

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
            One ``TODAY`` record, in an array of its own.
        caught_count, caught_mg
            Insects that birds really took in the beds and their fresh mass [mg], shape (BIRDS, B, SPECIES, STAGES).
        surroundings
            The beds in the evening; this morning's where left out.
        entangle_per_contact
            Chance that a bird which comes to a bed is caught in its net that day, shape (B,); none where left out.
        """
        if surroundings is not None:
            self._here = self._look(surroundings, self._here.generalists_per_m2)
        danger = self._no_danger if entangle_per_contact is None else entangle_per_contact
        come_home(
            today, self.nests, self.nestling_g, caught_count, caught_mg, danger, self._brood_need_kj, *self._here,
            *self.menu, *self.book,
        )  # fmt: skip

    # -- what a day and a season are told by

    def delivered_kj(self, place: Place) -> float:
        """Return energy fed to nestlings from a place in the season so far [kJ]."""
        return float(self.book.season[FED_KJ, :, place].sum())

    def visits(self) -> float:
        """Return today's feeding visits to all nests: prey over prey carried at a time."""
        return float(self.book.today[FED_COUNT].sum() / self.menu.shared["items_per_trip"][0])

    def fed_count(self, place: Place, group: int | None = None) -> float:
        """Return prey fed to nestlings so far this season from a place, of one ``PreyGroup`` or of all."""
        return _of_group(self.book.season[FED_COUNT, :, place], group)

    def fed_g(self, place: Place, group: int | None = None) -> float:
        """Return fresh mass fed to nestlings so far this season from a place [g], of one ``PreyGroup`` or of all."""
        return _of_group(self.book.season[FED_MG, :, place], group) / _MG_PER_G

    @property
    def garden_share(self) -> float:
        """Share of all nestlings' food so far that came from the garden, 0 to 1."""
        total = float(self.book.season[FED_KJ].sum())
        return float(self.book.season[FED_KJ, :, Place.GARDEN].sum()) / total if total > 0.0 else 0.0

    @property
    def brood_days_fed(self) -> float:
        """Garden food so far over the mean daily need of an ordinary brood of its kind."""
        return float(self.nests["brood_days_fed"].sum())

    @property
    def entangled_expected(self) -> float:
        """Birds expected to be caught in nets so far, whatever the luck."""
        return float(self.nests["entangled_expected"].sum())

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


def _of_group(table: Floats, group: int | None) -> float:
    return float(table.sum() if group is None else table[:, group].sum())
