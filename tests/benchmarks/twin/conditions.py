"""What today is like for a twin insect: its warmth, what could kill it, and the leaves that it could sit on."""

from __future__ import annotations

import math

from sim.cast import Fate, Predator, Product, Species, Stage, Visitor
from sim.insects.record import HIDDEN, LOWER, OPEN
from sim.weather.warmth import degree_days
from tests.benchmarks.twin.nature import LARVAE


def daily_hazard(share):
    """Return the hazard that kills a share in a day; certain death counts as a hazard of fifty."""
    return -math.log(max(1.0 - share, math.exp(-50.0)))


class Conditions:
    """One day in every bed, worked out when first asked for and then remembered until evening."""

    def __init__(self, nature, today, is_shortening, near, plants, leaves, plants_in_bed):
        self.nature = nature
        self.day = int(today["day"])
        self.day_length_h = float(today["day_length_h"])
        self.is_shortening = bool(is_shortening)
        self.near = near
        self.plants = plants
        self.leaves = leaves
        self.plants_in_bed = plants_in_bed
        self.gets_in = near.gets_in.tolist()
        self.fits_through, self.gap_pass = near.fits_through.tolist(), near.gap_pass.tolist()
        self.is_growing = (plants["is_growing"] != 0).tolist()
        self.head_cm2 = plants["head_area_cm2"].tolist()
        self.bed_of = plants["bed"].tolist()
        self._warmth, self._dangers, self._leaf_left = {}, {}, {}

    def rests(self, species):
        """Return whether days are short and shortening enough for pupae to be made for winter."""
        return self.is_shortening and self.day_length_h < species.rest_day_length_h

    def pass_share(self, one, bed):
        """Return the chance that one try of an adult passes a bed's net; certain if it fits through the holes."""
        kind = one.species.species
        return 1.0 if one.breadth < self.fits_through[bed][kind] else self.gap_pass[bed][kind]

    def warmth_dd(self, bed, species, kind):
        """Return the day's degree-days on a plant: air, and twice the mean bonus of the sun at the warmest."""
        known = self._warmth.get((bed, species.species, kind.stage))
        if known is None:
            air = self.near.beds[bed]
            warmest = float(air["tmax_c"]) + 2.0 * float(air["sun_bonus_c"])
            known = degree_days(float(air["tmin_c"]), warmest, kind.base_c, species.upper_c)
            self._warmth[bed, species.species, kind.stage] = known
        return known

    def dangers(self, bed, species, kind, exposure):
        """Return the chance of death and the list of (fate, hazard) behind it."""
        known = self._dangers.get((bed, species.species, kind.stage, exposure))
        if known is None:
            hazards = self._hazards(bed, species, kind, exposure)
            known = 1.0 - math.exp(-sum(hazard for _, hazard in hazards)), hazards
            self._dangers[bed, species.species, kind.stage, exposure] = known
        return known

    def _hazards(self, bed, species, kind, exposure):
        near, habits = self.near, self.nature.habits
        reached = habits.head_predator_factor if exposure == HIDDEN else 1.0
        wasps = self._wasps_at_work(bed)
        risk = near.risk[bed, species.species, kind.stage]
        found = [(Fate(predator), float(risk[predator]) * reached) for predator in Predator]
        hunting = kind.hunting_wasps_per_day * wasps * self._share_inside(bed, Visitor.HUNTING_WASP)
        others = kind.other_parasitoids_per_day * wasps * self._share_inside(bed, Visitor.SMALL_PARASITOID)
        found.append((Fate.EATEN_BY_HUNTING_WASP, hunting * reached))
        found.append((Fate.OTHER_PARASITOIDS, others))
        found.append((Fate.DISEASE, kind.disease_per_day * self._crowding(bed, species)))
        sprayed = self._spray(bed, species, kind) * (habits.head_spray_factor if exposure == HIDDEN else 1.0)
        found.append((Fate.SPRAYED, sprayed))
        found.append((Fate.WASHED_OFF, self._rain(bed, kind, exposure)))
        found.append((Fate.HEAT_OR_COLD, self._weather(bed, species, kind)))
        return found

    def _wasps_at_work(self, bed):
        left = 1.0
        for product in Product:
            dose = min(1.0, float(self.near.residue[bed, product] + self.near.contact[bed, product]))
            left *= 1.0 - self.nature.wasp_kill[product] * dose
        return left

    def _share_inside(self, bed, visitor):
        gets_in, leave = self.gets_in[bed][visitor], self.nature.habits.wasps_leave_over_die
        return gets_in * (leave + 1.0) / (leave * gets_in + 1.0)

    def _crowding(self, bed, species):
        larvae = sum(self.near.alive[bed, species.species, stage] for stage in LARVAE)
        a_plant = larvae / max(1.0, self.plants_in_bed[bed])
        return 1.0 + a_plant / self.nature.habits.disease_larvae_per_plant

    def _spray(self, bed, species, kind):
        if species.species == Species.PARASITOID_WASP:  # eats no leaf, walks on all: what stops wasps kills her
            return daily_hazard(1.0 - self._wasps_at_work(bed)) if kind.stage == Stage.ADULT else 0.0
        total = 0.0
        for product in Product:
            kill, eaten = kind.kills[product], self.nature.eaten_share[product]
            total += daily_hazard(kill * (1.0 - eaten) * float(self.near.contact[bed, product]))
            if kind.feeds:
                total += daily_hazard(kill) * eaten * float(self.near.residue[bed, product])
        return total

    def _rain(self, bed, kind, exposure):
        habits = self.nature.habits
        strength = (float(self.near.beds[bed]["rain_mm"]) - habits.harmless_mm) / (habits.full_mm - habits.harmless_mm)
        washed = daily_hazard(kind.rain_loss * min(1.0, max(0.0, strength)))
        return {OPEN: washed, LOWER: washed * habits.lower_side_factor, HIDDEN: 0.0}[exposure]

    def _weather(self, bed, species, kind):
        tmin_c, tmax_c = float(self.near.beds[bed]["tmin_c"]), float(self.near.beds[bed]["tmax_c"])
        heat = daily_hazard(kind.heat_death_per_day) if (tmin_c + tmax_c) / 2.0 > species.heat_death_c else 0.0
        cold = daily_hazard(kind.cold_death_per_day) if tmin_c < species.cold_death_c else 0.0
        return heat + cold

    def forget_leaves(self):
        """Look at the leaves anew, as after the day's meals."""
        self._leaf_left.clear()

    def leaf_left_cm2(self, plant):
        """Return what is left of each leaf of a plant."""
        known = self._leaf_left.get(plant)
        if known is None:
            row = self.leaves[plant]
            known = [max(0.0, left) for left in (row["area_cm2"] - row["eaten_cm2"]).tolist()]
            self._leaf_left[plant] = known
        return known
