"""What the beds would give without any pests: what a harvest is measured against.

The same garden, weather and luck, planted, weeded and picked as usual, and pollinated as usual. Nobody is there whom a
plant would notice, so the day is shorter: those who would find nothing to do are not asked. A test holds it against the
whole day.
"""

from __future__ import annotations

from sim.garden import Garden
from sim.scenario import Plan, Scenario
from sim.work import carry_out

PLAN = "pest-free"


class PestFreeGarden(Garden):
    """A garden to which neither plant-eaters nor sprays come; only what plants notice is lived.

    Insects, their enemies, birds and the chronicle stand still: none of them may be read.
    """

    def step(self) -> None:
        """Live one day, in the order of :mod:`sim.garden`, without those who are not there."""
        today, of_today = self.days[self.day], self.days[self.day : self.day + 1]
        self.plants.open_flowers(self.day)
        workday = self.gardener.work(today, self.dates[self.day], self.sight)
        carry_out(self, workday)
        self.nets.write(today, self.near)
        self.pollinators.visit(
            of_today, self.near, self.plants.standing, self.plants.plants, self.plants.fruits,
            bee_kill=self.harm.bees, flower_strip_m2=self.flower_strip_m2, hedgerow_m=self.hedgerow_m,
        )  # fmt: skip
        self.plants.grow(today, self.near.beds)
        self.plants.set_fruit(self.day)
        self.day += 1

    def harvest_kg(self) -> dict[int, float]:
        """Return what was picked so far of each crop [kg]."""
        picked: dict[int, float] = {}
        for bed, tally in self.harvests.items():
            crop = int(self.layout.crop[self.layout.first_plant[bed]])
            picked[crop] = picked.get(crop, 0.0) + tally[0]
        return picked


def without_pests(scenario: Scenario) -> Scenario:
    """Return the garden with nothing done but planting, weeding and picking, and nobody there to eat it."""
    alone = scenario.model_copy(
        update={
            "pests": scenario.pests.model_copy(update={"arrivals": 0.0}),
            "beds": tuple(bed.model_copy(update={"transplant_eggs_per_plant": 0.0}) for bed in scenario.beds),
            "plans": (Plan(name=PLAN, title="Nothing done, no pests"),),
            "birds": scenario.birds.model_copy(update={"nests": ()}),
            "margin": scenario.margin.model_copy(update={"neighbour_spray_every_days": 0}),
        }
    )
    return Scenario.model_validate(alone.model_dump())  # a copy keeps what the first remembers of its plans and beds
