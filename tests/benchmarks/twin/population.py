"""All twin insects of a garden: what the garden asks of its insects, done object by object."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from itertools import accumulate

import mesa
import numpy as np

from sim.cast import BIRDS, FATES, SPECIES, STAGES, Entry, Fate, Predator, Species, Stage
from sim.crops.plant import HEAD, LEAVES
from sim.insects.record import HIDDEN, NOWHERE, ON_STALKS, OPEN, Ask
from sim.weather.warmth import degree_days
from tests.benchmarks.twin.conditions import Conditions
from tests.benchmarks.twin.insect import CabbageWhite, ParasitoidWasp
from tests.benchmarks.twin.luck import poisson
from tests.benchmarks.twin.nature import LARVAE, read_nature

WHITE, WASP = Species.CABBAGE_WHITE, Species.PARASITOID_WASP


class MapOfPlants:
    """How strongly each plant draws one species today, as running sums over all plants and over those within reach."""

    def __init__(self, weights, within_reach, first_plant):
        self.first_plant = first_plant
        self.every = [0.0, *accumulate(weights)]
        self.open = [0.0, *accumulate(w if free else 0.0 for w, free in zip(weights, within_reach, strict=True))]

    def choose(self, shut_in, only_open, share):
        """Return the plant that a share of the summed attraction falls on; None where nothing attracts."""
        first, last = 0, len(self.every) - 1
        if shut_in is not None:
            first, last = self.first_plant[shut_in], self.first_plant[shut_in + 1]
        sums = self.open if only_open and shut_in is None else self.every
        span = sums[last] - sums[first]
        if span <= 0.0:
            return None
        mark = sums[first] + share * span
        return min(bisect_right(sums, mark, first + 1, last + 1), last) - 1


class TwinInsects(mesa.Agent):
    """Cabbage whites and their wasps, with the same door to the garden as the engine's insects."""

    def __init__(self, garden, parameters, table, fortune, *, first_plant, expected_arrivals):
        super().__init__(garden)
        self.table = table  # only because actors around read it
        self.nature = read_nature(parameters)
        self.kinds = ((CabbageWhite, self.nature.white), (ParasitoidWasp, self.nature.wasp))
        self.fortune, self.expected_arrivals = fortune, expected_arrivals
        self.first_plant = first_plant.tolist()
        beds, plants = len(first_plant) - 1, int(first_plant[-1])
        self.margin = beds - 1
        self.entries = np.zeros((len(Entry), SPECIES), np.int64)
        self.exits = np.zeros((2, len(Entry), SPECIES, STAGES, FATES), np.int64)
        self.exits_mg = np.zeros((SPECIES, FATES))
        self.reached = np.zeros((2, SPECIES, STAGES), np.int64)
        self.turned_away = np.zeros((SPECIES, beds))
        self.eaten_cm2 = np.zeros(SPECIES)
        self.grown_mg = np.zeros((beds, SPECIES))
        self.awake = np.zeros((beds, SPECIES, STAGES))
        self.in_reach_mg = np.zeros((beds, SPECIES, STAGES))
        self.caught_count = np.zeros((BIRDS, beds, SPECIES, STAGES))
        self.caught_mg = np.zeros((BIRDS, beds, SPECIES, STAGES))
        self.larvae_in_head, self.infective_on_plant = np.zeros(plants), np.zeros(plants)
        self.season_dd = np.zeros(SPECIES)
        self.visits_of_wasps, self.hosts_on_plant = {}, Counter()
        self.stung, self.flight, self.today = 0, {}, None

    def everybody(self):
        """Return all living insects, whites first."""
        by_type = self.model.agents_by_type
        return [one for kind, _ in self.kinds for one in by_type.get(kind, ()) if one.is_alive]

    @property
    def count(self):
        """Return how many are alive."""
        return len(self.everybody())

    def plants_of(self, bed):
        """Return the places of a bed's plants."""
        return range(self.first_plant[bed], self.first_plant[bed + 1])

    # -- coming in -------------------------------------------------------------------------------------------------

    def add_warmth(self, day):
        """Add a day's warmth in the open to the year's sum of each species."""
        for _, species in self.kinds:
            base_c = species.stages[Stage.ADULT].base_c
            self.season_dd[species.species] += degree_days(
                float(day["tmin_c"]), float(day["tmax_c"]), base_c, species.upper_c
            )

    def winter_in(self, bed, numbers):
        """Put pupae and cocoons at winter rest on the stalks of a bed."""
        for kind, species in self.kinds:
            stream = self.fortune.stream("winter rest", bed, int(species.species))
            for number in range(int(numbers[species.species])):
                one = kind(self.model, self, species, stream.of_child(number), Stage.PUPA)
                one.entry, one.is_resting = Entry.OVERWINTERED, True
                one.bed, one.plant, one.place, one.exposure = bed, self.first_plant[bed], ON_STALKS, HIDDEN
                one.wakes_dd = max(0.0, species.wakes_dd + species.wake_spread_dd * one.luck.bell(Ask.WAKE, 0))
                self.entries[Entry.OVERWINTERED, species.species] += 1

    def come_with_transplants(self, bed, eggs_per_plant, day):
        """Put eggs on the transplants of a bed."""
        stream = self.fortune.stream("transplants", bed)
        for plant in self.plants_of(bed):
            of_plant = stream.of_child(plant)
            for number in range(poisson(eggs_per_plant, of_plant.share(0, 0))):
                egg = CabbageWhite(self.model, self, self.nature.white, of_plant.of_child(number), Stage.EGG)
                egg.entry, egg.bed, egg.plant = Entry.ARRIVED, bed, plant
                self.entries[Entry.ARRIVED, WHITE] += 1

    def arrive(self, today, wasps_drawn=1.0):
        """Let females of some age fly in, as many as weather and luck bring."""
        day = int(today["day"])
        for kind, species in self.kinds:
            self.flight[species.species] = self._flight(species, today)
            mean = self.expected_arrivals[day, species.species] * self.flight[species.species]
            mean *= wasps_drawn if species.species == WASP else 1.0
            stream = self.fortune.stream("arrivals", int(species.species))
            of_day = stream.of_child(day)
            for number in range(poisson(mean, stream.share(0, day))):
                one = kind(self.model, self, species, of_day.of_child(number), Stage.ADULT)
                one.entry, one.is_female, one.bed = Entry.ARRIVED, True, self.margin
                one.draw_adult_life()
                oldest = self.nature.habits.oldest_comer_share * one.adult_life_dd
                youngest = min(species.preoviposition_dd, oldest)  # as a rule ready to lay
                one.age_dd = youngest + one.luck.share(Ask.LIFE, 1) * (oldest - youngest)
                self.entries[Entry.ARRIVED, species.species] += 1

    def _flight(self, species, today):
        habits = self.nature.habits
        warmth = (float(today["tmax_c"]) - species.flight_low_c) / (species.flight_full_c - species.flight_low_c)
        clear = (float(today["clear_share"]) - habits.overcast_share) / (habits.clear_for_full - habits.overcast_share)
        light = species.dull_share + (1.0 - species.dull_share) * min(1.0, max(0.0, clear))
        wet = 1.0 + float(today["rain_mm"]) / habits.rain_stops_mm
        return min(1.0, max(0.0, warmth)) * light / wet

    # -- the day ---------------------------------------------------------------------------------------------------

    def count_up(self, near):
        """Free those whom no net holds any more; write who is where."""
        for table in (near.alive, near.mass_mg, self.awake, self.in_reach_mg):
            table[:] = 0.0
        for one in self.everybody():
            if one.shut_in is not None:
                net = one.shut_in, one.species.species
                if one.breadth < near.fits_through[net] or near.gap_pass[net] >= 1.0:
                    one.shut_in = None
            near.alive[one.bed, one.species.species, one.stage] += 1.0
            near.mass_mg[one.bed, one.species.species, one.stage] += one.mass_mg
            if not one.is_resting:
                self.awake[one.bed, one.species.species, one.stage] += 1.0
            if one.exposure != HIDDEN and one.stage != Stage.EGG:
                self.in_reach_mg[one.bed, one.species.species, one.stage] += one.mass_mg

    def weigh(self, today, near):
        """Note the year's warmth; dangers are worked out when an insect asks for them."""
        self.add_warmth(today)

    def live(self, today, is_shortening, near, plants, leaves, demand_cm2):
        """Let all meet the day's dangers, grow, and ask for food."""
        plants_in_bed = np.diff(self.first_plant)
        self.today = Conditions(self.nature, today, is_shortening, near, plants, leaves, plants_in_bed)
        self.caught_count[:], self.caught_mg[:] = 0.0, 0.0
        for one in self.everybody():
            one.live(self.today)
            if one.is_alive and isinstance(one, CabbageWhite) and not one.is_resting:
                one.ask_for_food(self.today, demand_cm2)

    def note_catch(self, one):
        """Write down for the birds what they took."""
        if one.fate in (Fate.EATEN_BY_TIT_LIKE_BIRD, Fate.EATEN_BY_WREN_LIKE_BIRD, Fate.EATEN_BY_WOODPECKER_LIKE_BIRD):
            bird = one.fate - Predator.TIT_LIKE_BIRD
            self.caught_count[bird, one.bed, one.species.species, one.stage] += 1.0
            self.caught_mg[bird, one.bed, one.species.species, one.stage] += one.mass_mg

    def eat(self, today, plants, ration):
        """Feed all; then see who sits where."""
        self.grown_mg[:], self.larvae_in_head[:] = 0.0, 0.0
        self.hosts_on_plant.clear()
        for one in self.everybody():
            if not isinstance(one, CabbageWhite) or one.plant < 0:
                continue
            before_mg = one.mass_mg
            one.eat(self.today, ration)
            self.grown_mg[one.bed, WHITE] += one.mass_mg - before_mg
            if one.is_alive and one.is_host:
                self.hosts_on_plant[one.plant] += 1
            if one.is_alive and one.place == HEAD and one.stage in LARVAE:
                self.larvae_in_head[one.plant] += 1.0

    def fly(self, today, near, standing, plants, leaves):
        """Let adults try plants and lay; then let wasps' visits find hosts, and grubs that left a host spin cocoons."""
        self.today.forget_leaves()
        self.visits_of_wasps.clear()
        present = self.everybody()
        for kind, species in self.kinds:
            flying = [one for one in present if type(one) is kind and one.stage == Stage.ADULT]
            if flying:
                where = self._map_for(species, plants)
                for one in flying:
                    one.fly(self.today, self.flight[species.species], where)
        for one in present:
            if one.is_alive and one.plant in self.visits_of_wasps and isinstance(one, CabbageWhite) and one.is_host:
                one.meet_wasps(self.today, self.visits_of_wasps[one.plant], self.hosts_on_plant[one.plant])
        for host in list(self.model.agents_by_type.get(CabbageWhite, ())):
            if host.fate == Fate.PARASITISED:
                self._spin_cocoons(host)

    def _map_for(self, species, plants):
        area, crop, rim = plants["leaf_area_cm2"].tolist(), plants["crop"].tolist(), plants["edge_share"].tolist()
        eaten = plants["eaten_cm2"].tolist()
        weights = [0.0] * len(area)
        for plant, cm2 in enumerate(area):
            if self.today.is_growing[plant] and cm2 > 0.0:
                weight = species.host_weights[crop[plant]] * cm2**species.leaf_exponent
                weight *= 1.0 + (species.edge_factor - 1.0) * rim[plant]
                if species.species == WASP:
                    chewed = eaten[plant] / (eaten[plant] + cm2)
                    weight *= 1.0 + self.nature.habits.damage_pull * min(
                        1.0, chewed / self.nature.habits.damage_full_share
                    )
                weights[plant] = weight
        within_reach = [self.today.gets_in[bed][species.species] >= 1.0 for bed in self.today.bed_of]
        return MapOfPlants(weights, within_reach, self.first_plant)

    def _spin_cocoons(self, host):
        for number in range(host.grubs):
            luck = host.luck.of_child(100000 + number)
            one = self.give_birth(ParasitoidWasp, self.nature.wasp, luck, Stage.PUPA, host.bed)
            one.plant, one.place = host.plant, host.place
            one.exposure, one.shut_in = host.exposure, host.shut_in
            one.is_resting = self.today.rests(self.nature.wasp)

    def give_birth(self, kind, species, luck, stage, bed):
        """Return one that enters life today; plant-eaters are born as eggs, wasps as cocoons."""
        one = kind(self.model, self, species, luck, stage)
        one.bed = bed
        self.entries[Entry.BORN, species.species] += 1
        self.note_stage(one)
        return one

    def note_stage(self, one):
        """Count one that was born here on entering a stage."""
        if one.entry == Entry.BORN:
            self.reached[int(one.bed == self.margin), one.species.species, one.stage] += 1

    def bury(self):
        """Book everyone who died or left today, once, and take them off the record."""
        for kind, species in self.kinds:
            for one in list(self.model.agents_by_type.get(kind, ())):
                if not one.is_alive:
                    where = int(one.bed == self.margin)
                    self.exits[where, one.entry, species.species, one.stage, one.fate] += 1
                    self.exits_mg[species.species, one.fate] += one.mass_mg
                    one.remove()

    # -- the gardener's hand ---------------------------------------------------------------------------------------

    def lose_with_harvest(self, picked, plants, day):
        """Carry off who sits on what was picked and neither drops nor is shaken off; adults fly up."""
        for one in self.everybody():
            if one.plant < 0 or one.stage == Stage.ADULT or one.place == ON_STALKS:
                continue
            if not picked[one.plant, LEAVES if one.place == NOWHERE else one.place]:
                continue
            holds_on = one.luck.share(Ask.SHAKEN_OFF, day) < self.nature.goes_along_share[one.stage]
            if holds_on or not plants[one.plant]["is_growing"]:
                one.fate = Fate.HARVESTED
            else:
                one.place, one.exposure = NOWHERE, OPEN

    def pick_by_hand(self, bed, day, find, from_share, to_share):
        """Take off what is found between two shares of a bed's row of plants."""
        plants = self.plants_of(bed)
        searched = plants[int(len(plants) * from_share + 0.5) : int(len(plants) * to_share + 0.5)]
        return self._take(
            lambda one: one.bed == bed and one.plant in searched and one.place != ON_STALKS,
            Ask.PICKED, day, lambda one: find[one.species.species, one.stage], Fate.PICKED_BY_HAND,
        )  # fmt: skip

    def clean_up(self, bed, day, share):
        """Take a bed's stalks and plants away with a share of those on them; adults fly up."""
        sits_here = lambda one: one.bed == bed and (one.stage != Stage.ADULT or one.is_resting)  # noqa: E731
        return self._take(sits_here, Ask.CLEANED, day, lambda one: share, Fate.CLEANED_UP)

    def till(self, bed, day, share):
        """Do nothing: neither species lives in the soil."""
        return 0

    def _take(self, is_in_reach, ask, day, share_of, fate):
        taken = [one for one in self.everybody() if is_in_reach(one) and one.luck.share(ask, day) < share_of(one)]
        for one in taken:
            one.fate = fate
        return len(taken)

    def scout(self, plants, day, sees):
        """Return what is noticed on some plants."""
        seen = np.zeros((len(plants), SPECIES, STAGES))
        row_of = {int(plant): row for row, plant in enumerate(plants)}
        for one in self.everybody():
            row = row_of.get(one.plant)
            noticed = row is not None and one.place != ON_STALKS
            if noticed and one.luck.share(Ask.NOTICED, day) < sees[one.species.species, one.stage]:
                seen[row, one.species.species, one.stage] += 1.0
        return seen

    # -- the books -------------------------------------------------------------------------------------------------

    def balance(self):
        """Return entries - exits - alive for each species."""
        alive = np.zeros(SPECIES, np.int64)
        for one in self.everybody():
            alive[one.species.species] += 1
        return self.entries.sum(axis=0) - self.exits.sum(axis=(0, 1, 3, 4)) - alive

    def still_alive(self):
        """Return those alive now in the form of ``exits``."""
        table = np.zeros_like(self.exits)
        for one in self.everybody():
            table[int(one.bed == self.margin), one.entry, one.species.species, one.stage, Fate.ALIVE] += 1
        return table
