"""All insects of a garden as one actor: the array of records, what the day is weighed to, and the books.

Takes parameters, beds and the scenario's pressures once; each day what ``garden.py`` hands over. Keeps one record an
insect. Entries = exits + alive, every day, every species.
"""

from __future__ import annotations

from dataclasses import dataclass

import mesa
import numpy as np

from sim.cast import BIRDS, FATES, HAZARDS, SPECIES, STAGES, Entry, Fate, Species
from sim.compiled import Bytes, Floats, Ints, Record, Records, records
from sim.insects import arrivals, attraction, books, day, flight
from sim.insects.clutches import CLUTCH
from sim.insects.record import EXPOSURES, INSECT, LISTS
from sim.insects.table import InsectTable
from sim.insects.weighing import add_warmth, weigh_the_day
from sim.randomness import stream_key
from sim.surroundings import Surroundings

_FIRST_CAPACITY = 65_536
"""Records to begin with, more than most gardens need: to move them all in mid-season costs more than room does."""
_FIRST_CLUTCHES = 4096
_SPARE = 256


@dataclass(frozen=True, slots=True)
class SprayEffects:
    """What sprays do: kill [PRODUCTS, S, T], share of it by eating [PRODUCTS, S], kill of wasps [PRODUCTS]."""

    kill: Floats
    eaten_share: Floats
    wasp_kill: Floats


class Insects(mesa.Agent):  # type: ignore[misc]
    """Every plant-eater and every parasitoid wasp of the garden, one record each.

    Attributes
    ----------
    records, count
        ``INSECT`` records and how many of them are in use.
    entries
        Insects that came onto the record, shape (ENTRY, S).
    exits, exits_mg
        Insects that left it, shape (2, ENTRY, S, T, FATE): beds first, then margin; and their mass [mg], (S, FATE).
    reached
        Insects born here that entered a stage, shape (2, S, T): in the beds, in the margin.
    turned_away
        Tries that a net ended, shape (S, B).
    eaten_cm2
        Leaf eaten by each species so far, shape (S,).
    grown_mg
        Mass that each species put on today, shape (B, S).
    awake
        Insects this morning that are not at winter rest, shape (B, S, T).
    in_reach_mg
        Mass [mg] this morning of those that a hunter can find: no eggs, nobody in soil, heads or debris, (B, S, T).
    """

    def __init__(
        self,
        garden: mesa.Model,
        table: InsectTable,
        sprays: SprayEffects,
        *,
        seed: int,
        first_plant: Ints,
        expected_arrivals: Floats,
    ) -> None:
        super().__init__(garden)
        self.table = table
        self.sprays = sprays
        self.first_plant = first_plant
        self.expected_arrivals = expected_arrivals
        self._most_expected = float(expected_arrivals.sum(axis=1).max(initial=0.0))
        beds = len(first_plant) - 1
        plant_count = int(first_plant[-1])
        self.margin = beds - 1
        self.records: Records = records(np.empty(_FIRST_CAPACITY, INSECT))  # whoever enters is written whole
        self.count = 0
        self.entries = np.zeros((len(Entry), SPECIES), np.int64)
        self.exits = np.zeros((2, len(Entry), SPECIES, STAGES, FATES), np.int64)
        self.exits_mg = np.zeros((SPECIES, FATES))
        self.reached = np.zeros((2, SPECIES, STAGES), np.int64)
        self.turned_away = np.zeros((SPECIES, beds))
        self.eaten_cm2 = np.zeros(SPECIES)
        self.grown_mg = np.zeros((beds, SPECIES))
        self.in_reach_mg = np.zeros((beds, SPECIES, STAGES))
        self.awake = np.zeros((beds, SPECIES, STAGES))
        kinds = beds * SPECIES * STAGES  # kinds in beds, as ``kind_in_bed`` places them
        self._counts = np.zeros((kinds, books.COUNTS))
        self._counted = 0
        self.caught_count = np.zeros((BIRDS, beds, SPECIES, STAGES))
        self.caught_mg = np.zeros((BIRDS, beds, SPECIES, STAGES))
        self.hosts_on_plant = np.zeros(plant_count)
        self.larvae_in_head = np.zeros(plant_count)
        self.infective_on_plant = np.zeros(plant_count)
        self.searched = np.zeros(plant_count)
        self.season_dd = np.zeros(SPECIES)
        self.stung = 0
        self.flight = np.zeros(SPECIES)
        self._dd = np.zeros(kinds)
        self._hazard = np.zeros((kinds, EXPOSURES, HAZARDS))
        self._death = np.zeros((kinds, EXPOSURES))
        self._plants_in_bed = np.diff(first_plant).astype(np.float64)
        self._bed_of: Ints = np.repeat(np.arange(beds), np.diff(first_plant))
        self._liking: Floats | None = None  # plants are first seen on the first day
        self._leaf_cm2, self._leaf_root_cm, self._weights = (np.zeros(plant_count) for _ in range(3))
        self._found = np.zeros(plant_count)
        self._in_leaf: Ints = np.zeros(plant_count, np.int64)
        self._in_leaf_begins: Ints = np.zeros(beds + 1, np.int64)
        self._has_hosts: Bytes = np.zeros((SPECIES, beds), np.uint8)
        self._is_meant: Bytes = np.zeros(beds, np.uint8)
        self._hosts: Ints = np.zeros((attraction.LISTS, SPECIES, plant_count), np.int64)
        self._host_sums = np.zeros((attraction.LISTS, SPECIES, plant_count + 1))
        self._host_guide: Ints = np.zeros((attraction.LISTS, SPECIES, plant_count + 1), np.int64)
        self._first_host: Ints = np.zeros((attraction.LISTS, SPECIES, beds + 1), np.int64)
        self._netted: Bytes = np.zeros(SPECIES, np.uint8)
        self._clutches: Records = records(np.empty(_FIRST_CLUTCHES, CLUTCH))
        self._clutch_order: Ints = np.empty(_FIRST_CLUTCHES, np.int64)
        self._clutch_begins: Ints = np.zeros(SPECIES * beds + 1, np.int64)
        self._streams = np.array([stream_key(seed, "arrivals", int(s)) for s in Species], np.uint64)
        self._seed = seed
        self._room = 0.0
        self._lists: Ints = np.empty((LISTS, _FIRST_CAPACITY), np.int64)
        self._listed: Ints = np.zeros(LISTS, np.int64)
        self._cocoons_rest = False
        self._cocoons_rest_h = float(table.fliers["rest_day_length_h"][Species.PARASITOID_WASP])
        self._flying: Ints = np.zeros(SPECIES, np.int64)

    # -- coming in -------------------------------------------------------------------------------------------------

    def winter_in(self, bed: int, numbers: Ints) -> None:
        """Put insects at winter rest into a bed; ``numbers`` has shape (SPECIES,)."""
        self._make_room(int(numbers.sum()))
        for species in np.flatnonzero(numbers):
            key = stream_key(self._seed, "winter rest", bed, int(species))
            self.count = arrivals.come_up(
                self.records, self.count, bed, int(self.first_plant[bed]), int(species), int(numbers[species]), key,
                self.table.life, self.table.fliers, self.entries[Entry.OVERWINTERED],
            )  # fmt: skip

    def come_with_transplants(self, bed: int, eggs_per_plant: float, day_number: int) -> None:
        """Put cabbage white eggs that were on the transplants onto the plants of a bed."""
        first, last = int(self.first_plant[bed]), int(self.first_plant[bed + 1])
        self._make_room(int((last - first) * (eggs_per_plant * 4 + 10)))
        self.count = arrivals.lay_on_transplants(
            self.records, self.count, first, last, bed, int(Species.CABBAGE_WHITE), eggs_per_plant,
            stream_key(self._seed, "transplants", bed), day_number, self.table.life, self.table.fliers,
            self.entries[Entry.ARRIVED],
        )  # fmt: skip

    def arrive(self, today: Record, wasps_drawn: float = 1.0) -> None:
        """Let the day's comers fly in, as far as the weather lets them; flowers near by draw more wasps."""
        self._make_room(int(self._most_expected * max(1.0, wasps_drawn) * 4) + 64)
        self.count = arrivals.arrive(
            self.records, self.count, int(today["day"]), int(today["day_of_year"]), today["tmax_c"],
            today["clear_share"], today["rain_mm"], self.expected_arrivals, self.flight, wasps_drawn, self._streams,
            self.table.life, self.table.fliers, self.table.habits, self.margin, self.entries[Entry.ARRIVED],
        )  # fmt: skip
        assert self.count < len(self.records)  # a full record would have turned comers away unseen

    # -- the day ---------------------------------------------------------------------------------------------------

    def count_up(self, surroundings: Surroundings) -> None:
        """Write who is alive where into the surroundings; note who is awake and what can be found.

        The ranks were counted when they were closed, so only newcomers are left to count, unless the gardener's hand
        has been among them since.
        """
        books.survey(self.records, self._counted, self.count, self._counts)
        self._counted = self.count
        books.write_counts(
            self._counts, surroundings.alive.reshape(-1), self.awake.reshape(-1), surroundings.mass_mg.reshape(-1),
            self.in_reach_mg.reshape(-1),
        )  # fmt: skip

    def weigh(self, today: Record, surroundings: Surroundings) -> None:
        """Weigh the day: warmth and hazards for each kind of insect in each bed."""
        near = surroundings
        add_warmth(self.table.life, today["tmin_c"], today["tmax_c"], self.season_dd)
        weigh_the_day(
            near.alive, self._plants_in_bed, self.table.life, self.table.habits, near.beds, near.gets_in, near.residue,
            near.contact, near.risk, self.sprays.kill, self.sprays.eaten_share, self.sprays.wasp_kill, self._dd,
            self._hazard, self._death,
        )  # fmt: skip

    def live(
        self, today: Record, is_shortening: bool, surroundings: Surroundings, plants: Records, leaves: Records,
        demand_cm2: Floats,
    ) -> None:  # fmt: skip
        """Let all meet their hazards, grow, and ask for food."""
        self._cocoons_rest = bool(is_shortening and today["day_length_h"] < self._cocoons_rest_h)
        self._room = day.live(
            self.records, self.count, int(today["day"]), is_shortening, float(today["day_length_h"]), self.season_dd,
            self.table.life, self.table.fliers, self.table.habits, surroundings.beds, surroundings.fits_through,
            surroundings.gap_pass, self._dd, self._hazard, self._death, plants, leaves, demand_cm2, self.caught_count,
            self.caught_mg, self.reached, self._lists, self._listed, self.flight, self._flying,
        )  # fmt: skip

    def eat(self, today: Record, plants: Records, ration: Floats) -> None:
        """Feed all by the ration of where they sit; the hungry move on or starve."""
        day.eat(
            self.records, int(today["day"]), self.table.life, self.table.habits, self._dd, plants,
            self.first_plant, ration, self.eaten_cm2, self.grown_mg, self.hosts_on_plant, self.larvae_in_head,
            self.infective_on_plant, self._lists, self._listed,
        )  # fmt: skip

    def fly(self, today: Record, surroundings: Surroundings, standing: Ints, plants: Records, leaves: Records) -> None:
        """Let adults try plants that stand and lay, wasps find hosts, and cocoons be spun."""
        if self._liking is None:
            self._liking = np.zeros((SPECIES, len(plants)))
            attraction.like_plants(plants, self.table.fliers, self.table.host_weights, self._liking, self._has_hosts)
        self._make_room(int(self._room) + _SPARE)
        if self._room > len(self._clutches):  # each has an egg at least
            more = 2 * int(self._room)
            self._clutches, self._clutch_order = records(np.empty(more, CLUTCH)), np.empty(more, np.int64)
        near, table = surroundings, self.table
        self.count, stung = flight.be_on_the_wing(
            self.records, self.count, int(today["day"]), self._cocoons_rest, self.flight, table.life, table.fliers,
            table.habits, near.gets_in, near.fits_through, near.gap_pass, standing, plants, leaves, self._bed_of,
            self._liking, self._has_hosts, self._flying, self._hosts, self._host_sums, self._host_guide,
            self._first_host, self._netted, self._in_leaf, self._in_leaf_begins, self._leaf_cm2, self._leaf_root_cm,
            self._weights, self._is_meant, self._clutches, self._clutch_begins, self._clutch_order, self.turned_away,
            self.searched, self.hosts_on_plant, self._found, self._lists, self._listed, self.entries[Entry.BORN],
            self.reached,
        )  # fmt: skip
        self.stung += stung

    def bury(self) -> None:
        """Book everyone who died or left today, and close the ranks."""
        self.count = books.bury(self.records, self.count, self.margin, self.exits, self.exits_mg, self._counts)
        self._counted = self.count

    # -- the gardener's hand ---------------------------------------------------------------------------------------

    def lose_with_harvest(self, picked: Bytes, plants: Records, day_number: int) -> None:
        """Carry away those who sit on what was picked and hold on; ``picked`` has shape (P, PLACES)."""
        self._counted = 0
        books.lose_with_harvest(self.records, self.count, picked, plants, self.table.goes_along, day_number)

    def pick_by_hand(self, bed: int, day_number: int, find: Floats, from_share: float, to_share: float) -> int:
        """Take off what is found from one share of a bed's row of plants to another; return how many."""
        self._counted = 0
        return int(
            books.pick_by_hand(self.records, self.count, bed, day_number, find, from_share, to_share, self.first_plant)
        )

    def clean_up(self, bed: int, day_number: int, share: float) -> int:
        """Take away a share of those on stalks and debris of a bed; return how many."""
        self._counted = 0
        return int(books.clean_up(self.records, self.count, bed, day_number, share))

    def till(self, bed: int, day_number: int, share: float) -> int:
        """Kill a share of those in the soil of a bed; return how many."""
        self._counted = 0
        return int(books.till(self.records, self.count, bed, day_number, share))

    def scout(self, plants: Ints, day_number: int, sees: Floats) -> Floats:
        """Return what is noticed on some plants, shape (n, S, T)."""
        seen = np.zeros((len(plants), SPECIES, STAGES))
        books.scout(self.records, self.count, plants, day_number, sees, seen, len(plants))
        return seen

    def meet_winter(self, year: int) -> Ints:
        """Let winter pass; return who lives, shape (B, SPECIES), and book the rest."""
        books.meet_winter(self.records, self.count, self.table.fliers, self.table.life, year)
        self.bury()
        living = np.zeros((self.margin + 1, SPECIES), np.int64)
        alive = self.records[: self.count]
        np.add.at(living, (alive["bed"], alive["species"]), 1)
        return living

    # -- the books -------------------------------------------------------------------------------------------------

    def balance(self) -> Ints:
        """Return entries - exits - alive for each species; zeros, or something is wrong."""
        alive = np.bincount(self.records["species"][: self.count], minlength=SPECIES)
        return np.asarray(self.entries.sum(axis=0) - self.exits.sum(axis=(0, 1, 3, 4)) - alive, dtype=np.int64)

    def still_alive(self) -> Ints:
        """Return those alive now in the form of ``exits``, under the fate ALIVE."""
        table = np.zeros_like(self.exits)
        alive = self.records[: self.count]
        where = (alive["bed"] == self.margin).astype(np.int64)
        for entry, species, stage, place in zip(alive["entry"], alive["species"], alive["stage"], where, strict=True):
            table[place, entry, species, stage, Fate.ALIVE] += 1
        return table

    def _make_room(self, more: int) -> None:
        if self.count + more > len(self.records):
            grown = records(np.empty(max(2 * len(self.records), self.count + more), INSECT))
            grown[: self.count] = self.records[: self.count]
            self.records = grown
            lists: Ints = np.empty((LISTS, len(grown)), np.int64)
            lists[:, : self._lists.shape[1]] = self._lists
            self._lists = lists
