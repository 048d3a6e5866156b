"""One insect as one Mesa object: what both species have in common."""

from __future__ import annotations

import math

import mesa

from sim.cast import Entry, Fate, Stage
from sim.crops.plant import HEAD, LEAVES
from sim.insects.record import HIDDEN, LOWER, NOWHERE, ON_STALKS, OPEN, Ask

ONCE = 1000
"""Asked once in a life or, with the stage added, once in a stage."""


class Insect(mesa.Agent):
    """A creature with a place, a stage, luck of its own and, in the end, one fate."""

    def __init__(self, garden, population, species, luck, stage):
        super().__init__(garden)
        self.population, self.species, self.luck = population, species, luck
        self.stage, self.kind = stage, species.stages[stage]
        self.entry, self.fate = Entry.BORN, None
        self.bed, self.plant, self.place, self.exposure = 0, NOWHERE, NOWHERE, OPEN
        self.shut_in = None  # the bed whose net holds it
        self.is_resting, self.is_female = False, False
        self.pace = min(2.0, max(0.5, 1.0 + species.pace_spread * luck.bell(Ask.PACE, 0)))
        self.mass_mg = self.kind.start_mg
        self.age_dd = 0.0  # within the stage
        self.adult_life_dd = 0.0
        self.wakes_dd = math.inf
        self.hungry_days, self.wanted_cm2, self.warmth_dd = 0.0, 0.0, 0.0
        self.eggs, self.eggs_laid = 0.0, 0
        self._breadth = None
        self.grubs, self.grubs_dd = 0, 0.0

    @property
    def is_alive(self):
        """Return whether nothing has ended its life here."""
        return self.fate is None

    @property
    def breadth(self):
        """Return how broad it is among its kind, 0 to 1: settled once in a life."""
        if self._breadth is None:
            self._breadth = self.luck.share(Ask.SIZE, ONCE)
        return self._breadth

    # -- the day ---------------------------------------------------------------------------------------------------

    def live(self, today):
        """Meet the day's dangers; then rest, grow up or grow old."""
        self.wanted_cm2 = 0.0
        death, hazards = today.dangers(self.bed, self.species, self.kind, self.exposure)
        if self.luck.share(Ask.DEATH, today.day) < death:
            self.die_of_one(hazards, today.day)
            return
        self.warmth_dd = today.warmth_dd(self.bed, self.species, self.kind)
        if self.is_resting:
            if self.population.season_dd[self.species.species] >= self.wakes_dd:
                self.emerge(today)
        elif self.stage == Stage.ADULT:
            self.grow_old()
        else:
            self.grow_up(today)

    def die_of_one(self, hazards, day):
        """Let one cause have it, each by its part in the sum."""
        mark = self.luck.share(Ask.CAUSE, day) * sum(hazard for _, hazard in hazards)
        for fate, hazard in hazards:
            if hazard > 0.0:
                self.fate = fate
                mark -= hazard
                if mark < 0.0:
                    break
        self.population.note_catch(self)

    def grow_up(self, today):
        """Gather the day's warmth; hatch, moult or emerge when there is enough of it."""
        self.age_dd += self.warmth_dd * self.pace
        if self.age_dd < self.kind.heat_dd:
            return
        if self.luck.share(Ask.MOULT, ONCE + self.stage) < self.kind.failed_share:
            self.fate = Fate.FAILED
            return
        self.age_dd -= self.kind.heat_dd
        self.hungry_days = 0.0
        if self.stage == Stage.PUPA:
            self.emerge(today)
        else:
            self.enter(Stage(self.stage + 1), today)

    def enter(self, stage, today):
        """Begin a stage before the adult, and find the place that it lives in."""
        before, self.stage, self.kind = self.kind, stage, self.species.stages[stage]
        self.population.note_stage(self)
        if stage == Stage.PUPA:
            self.mass_mg *= self.kind.mass_at_end_mg / before.mass_at_end_mg
            if self.luck.share(Ask.PUPATION, ONCE) < self.species.leaves_plant_share:
                self.place, self.exposure = ON_STALKS, HIDDEN
            elif self.place != HEAD:
                self.exposure = OPEN
            self.is_resting = today.rests(self.species)
            return
        has_head = self.plant >= 0 and today.head_cm2[self.plant] > 0.0
        if has_head and self.luck.share(Ask.HEAD, ONCE + stage) < self.kind.head_share:
            self.place, self.exposure = HEAD, HIDDEN
        elif self.place != HEAD:
            self.exposure = OPEN

    def emerge(self, today):
        """Become adult: of one sex, with a length of life; look for plants here or, unless a net holds it, leave."""
        self.mass_mg *= self.species.stages[Stage.ADULT].mass_at_end_mg / self.kind.mass_at_end_mg
        self.stage, self.kind = Stage.ADULT, self.species.stages[Stage.ADULT]
        self.population.note_stage(self)
        self.is_resting, self.age_dd, self.eggs = False, 0.0, 0.0
        self.place, self.exposure = NOWHERE, OPEN
        self.is_female = self.luck.share(Ask.SEX, ONCE) < self.species.female_share
        self.draw_adult_life()
        gets_out = today.pass_share(self, self.bed)
        self.shut_in = self.bed if gets_out < 1.0 else None
        stays = self.luck.share(Ask.STAY, ONCE) < self.species.stay_share
        if not stays and self.luck.share(Ask.STAY, ONCE + 1) < gets_out:
            self.fate = Fate.LEFT_GARDEN

    def draw_adult_life(self):
        """Draw how much warmth it can live through as adult."""
        habits = self.population.nature.habits
        share = 1.0 + habits.life_spread * self.luck.bell(Ask.LIFE, 0)
        self.adult_life_dd = self.species.life_dd * max(habits.shortest_life_share, share)

    def grow_old(self):
        """Age by warmth, faster under a net; ripen eggs by the day's warmth and her age."""
        self.age_dd += self.warmth_dd * (self.species.shut_in_ageing if self.shut_in is not None else 1.0)
        if self.age_dd > self.adult_life_dd:
            self.fate = Fate.OLD_AGE
        elif self.is_female and self.age_dd >= self.species.preoviposition_dd:
            self.ripen_eggs()

    def ripen_eggs(self):
        """Ripen eggs along a curve that peaks at an age and sums to all she can lay, or evenly where it has no peak."""
        total = self.species.potential_eggs
        if self.shut_in is not None:
            total *= self.species.shut_in_egg_share
        peak = self.species.egg_peak_dd
        if peak == 0.0:
            self.eggs += total / self.species.life_dd * self.warmth_dd
        else:
            self.eggs += total * self.warmth_dd * self.age_dd * math.exp(-self.age_dd / peak) / peak**2

    # -- on the wing -----------------------------------------------------------------------------------------------

    def fly(self, today, flight, map_of_plants):
        """Try plants one after the other; a try may end in leaving, in a net that turns it away, or on the plant."""
        if not self.looks_for_plants:
            return
        mesh = self.species.species
        only_bare = False
        tries = int(self.species.plants_tried_per_day * flight + self.luck.share(Ask.FOUND, today.day))
        for ask in range(Ask.TRY, Ask.TRY + 4 * tries, 4):
            way_out = 1.0 if self.shut_in is None else today.pass_share(self, self.shut_in)
            comes_out = self.luck.share(ask, today.day)
            if comes_out < self.species.leave_per_try * way_out:
                self.fate = Fate.LEFT_GARDEN
                return
            if comes_out < way_out:
                self.shut_in = None
            plant = map_of_plants.choose(self.shut_in, only_bare, self.luck.share(ask + 1, today.day))
            if plant is None:
                continue
            bed = today.bed_of[plant]
            gets_in = today.pass_share(self, bed)
            if self.shut_in is None and gets_in < 1.0:
                if self.luck.share(ask + 2, today.day) >= gets_in:
                    self.population.turned_away[mesh, bed] += 1.0
                    only_bare = self.luck.share(ask + 3, today.day) < self.species.try_bare_share
                    if not only_bare:
                        self.fate = Fate.LEFT_GARDEN
                        return
                    continue
                self.shut_in = bed
            self.plant, self.bed, self.place = plant, bed, NOWHERE
            if self.is_female:
                self.visit(plant, today)

    @property
    def looks_for_plants(self):
        """Return whether it tries plants today: males do not."""
        return self.is_female

    def visit(self, plant, today):
        """Do what it came for; each species its own."""
        raise NotImplementedError


def pick_leaf(left_cm2, share):
    """Return a leaf, each with a chance by what is left of it; NOWHERE if nothing is."""
    mark = share * sum(left_cm2)
    last = NOWHERE
    for leaf in range(LEAVES):
        if left_cm2[leaf] > 0.0:
            last = leaf
            mark -= left_cm2[leaf]
            if mark < 0.0:
                break
    return last


class CabbageWhite(Insect):
    """A butterfly that lays single eggs, and the caterpillar that comes of them."""

    # -- food ------------------------------------------------------------------------------------------------------

    def ask_for_food(self, today, demand_cm2):
        """Sit on a leaf and want as much as the day's warmth lets it eat."""
        if self.plant < 0 or not self.kind.feeds:
            return
        if not today.is_growing[self.plant]:
            self.wanted_cm2 = -1.0  # hungry, and nothing stands here
            return
        self.sit_down(today)
        habits = self.population.nature.habits
        appetite = habits.host_appetite if self.grubs else 1.0
        self.wanted_cm2 = self.kind.leaf_cm2 * appetite * self.warmth_dd * self.pace / self.kind.heat_dd
        if self.place >= 0:
            demand_cm2[self.plant, self.place] += self.wanted_cm2
            today.plants["is_asked"][self.plant] = 1

    def sit_down(self, today):
        """Stay on its leaf while there is any of it, but now and then change."""
        if self.place == HEAD and today.head_cm2[self.plant] > 0.0:
            return
        left_cm2 = today.leaf_left_cm2(self.plant)
        changes = self.luck.share(Ask.CHANGE_LEAF, today.day) < self.population.nature.habits.change_leaf_per_day
        if changes or not 0 <= self.place < LEAVES or left_cm2[self.place] <= 0.0:
            self.place = pick_leaf(left_cm2, self.luck.share(Ask.LEAF, today.day))

    def eat(self, today, ration):
        """Grow by what it got; go hungry, move on or starve by what it did not get."""
        if self.wanted_cm2 == 0.0:
            return
        fed = float(ration[self.plant, self.place]) if self.wanted_cm2 > 0.0 and self.place >= 0 else 0.0
        habits = self.population.nature.habits
        if fed > 0.0:
            self.population.eaten_cm2[self.species.species] += fed * self.wanted_cm2
        gained_dd = self.warmth_dd * self.pace
        if self.age_dd <= self.kind.heat_dd:  # not one that only waits for its guests to leave
            self.mass_mg *= math.exp(self.kind.growth * min(1.0, gained_dd / self.kind.heat_dd) * fed)
        self.age_dd -= gained_dd * (1.0 - fed) * (1.0 - habits.hungry_growth_floor)
        if fed >= habits.hungry_below_share:
            self.hungry_days = max(0.0, self.hungry_days - 1.0)
        else:
            self.hungry_days += 1.0 - fed
            if self.hungry_days > self.kind.starve_days:
                self.fate = Fate.STARVED
                return
        if fed < 1.0 and self.stage >= habits.crawling_instar:
            self.crawl_on(today)

    def crawl_on(self, today):
        """Perhaps reach another plant of the bed."""
        neighbours = self.population.plants_of(self.bed)
        if len(neighbours) < 2:
            return
        if self.luck.share(Ask.CRAWL, today.day) < self.population.nature.habits.crawl_to_next_plant:
            there = neighbours[int(self.luck.share(Ask.NEXT_PLANT, today.day) * len(neighbours))]
            if today.is_growing[there]:
                self.plant, self.place, self.exposure = there, NOWHERE, OPEN

    # -- guests ----------------------------------------------------------------------------------------------------

    @property
    def is_host(self):
        """Return whether a wasp that finds it can use it."""
        habits = self.population.nature.habits
        return not self.grubs and habits.host_youngest_instar <= self.stage <= habits.host_oldest_instar

    def grow_up(self, today):
        """Grow with the grubs inside; full grown, it waits for them, and dies when they leave."""
        if self.grubs:
            wasp = self.population.nature.wasp
            self.grubs_dd += today.warmth_dd(self.bed, wasp, wasp.stages[Stage.PUPA])
            if self.stage == Stage.INSTAR_5:
                self.age_dd += self.warmth_dd * self.pace
                if self.grubs_dd >= self.population.nature.habits.in_host_dd:
                    self.fate = Fate.PARASITISED
                return
        super().grow_up(today)

    def meet_wasps(self, today, visits, hosts_here):
        """Be found by one of the day's visits of wasps, or by none."""
        habits = self.population.nature.habits
        found_by_one = habits.find_per_visit / (1.0 + habits.handling_hosts * hosts_here)
        if self.luck.share(Ask.STUNG, today.day) < 1.0 - (1.0 - found_by_one) ** visits:
            spread = habits.brood_spread * (2.0 * self.luck.share(Ask.BROOD, today.day) - 1.0)
            self.grubs = max(1, int(habits.brood_cocoons * (1.0 + spread)))
            self.grubs_dd = 0.0
            self.population.stung += 1

    @property
    def looks_for_plants(self):
        """Return whether she has eggs to lay; nothing else brings a butterfly to a plant."""
        return self.eggs >= self.species.eggs_per_visit

    def visit(self, plant, today):
        """Lay one visit's eggs on a leaf, if she has as many ripe."""
        if self.eggs < self.species.eggs_per_visit:
            return
        self.eggs -= self.species.eggs_per_visit
        for _ in range(int(self.species.eggs_per_visit)):
            luck = self.luck.of_child(self.eggs_laid)
            self.eggs_laid += 1
            egg = self.population.give_birth(CabbageWhite, self.species, luck, Stage.EGG, self.bed)
            egg.plant, egg.shut_in = plant, self.shut_in
            egg.place = pick_leaf(today.leaf_left_cm2(plant), luck.share(Ask.SLOT, today.day))
            is_below = luck.share(Ask.SIDE, today.day) < self.species.under_leaf_share
            egg.exposure = LOWER if is_below else OPEN


class ParasitoidWasp(Insect):
    """A wasp whose grubs live in young caterpillars; cocoon and adult are lives of their own."""

    def visit(self, plant, today):
        """Search the plant."""
        self.population.visits_of_wasps[plant] = self.population.visits_of_wasps.get(plant, 0) + 1
