"""Ground beetles, spiders, lady beetles and lacewings: how many a bed holds, and what they are to the insects in it.

========  ====================================================================================================
takes     today's temperatures, nets, residues and contact; the insects and aphids within reach in each bed; the
          length of hedgerow and area of flowers; what a spray kills of them; what birds take of them
keeps     a density for each bed and kind; a ledger of those who came, left, starved, were sprayed or eaten
changes   ``surroundings.risk[:, :, :, 0:4]``, ``aphid_risk``
========  ====================================================================================================

Each is limited twice: by the ground it can search in a day, and by its appetite, which other prey shares in. That is
the type II response of Holling (1959), with appetite in place of handling time. Nobody here knows what a net is: one
that gets in less also gets out less, and those who stay without prey starve.
"""

from __future__ import annotations

import math
from functools import lru_cache

import mesa
import numpy as np

from sim.cast import GENERALISTS, SPECIES, STAGES, Predator, Visitor, word
from sim.compiled import Floats, Records, loop, records, rule
from sim.enemies.hunting import HUNTER, SHARED, activity, hunt_in_beds
from sim.parameters.table import Parameters
from sim.surroundings import Surroundings

FLOWS = ("began", "arrived", "left", "starved", "sprayed", "eaten_by_birds")
BEGAN, ARRIVED, LEFT, STARVED, SPRAYED, EATEN = range(len(FLOWS))
FIRST_VISITOR = int(Visitor.GROUND_BEETLE)
LEAST_SURVIVAL = 1e-12  # keeps the hazard of a certain death finite


@rule
def saturating(amount: float, half: float) -> float:
    """Return 0 for nothing, 1/2 at half, towards 1 for very much."""
    return amount / (amount + half)


@rule
def poisoned_share(contact: Floats, residue: Floats, residue_share: Floats, kill: Floats, enemy: int) -> float:
    """Return the share of an enemy killed today by wetting or, where that is less, by walking on the deposit."""
    spared = 1.0
    for product in range(contact.size):
        dose = max(contact[product], residue[product] * residue_share[product])
        spared *= 1.0 - min(1.0, dose * kill[product, enemy])
    return 1.0 - spared


@rule
def leave_by_cause(density_per_m2: float, left: float, starved: float, sprayed: float, eaten: float) -> float:
    """Return how many (1/m²) go today when these hazards (1/d) act together."""
    return density_per_m2 * (1.0 - math.exp(-(left + starved + sprayed + eaten)))


@loop
def live_in_beds(
    beds: Records,
    gets_in: Floats,
    contact: Floats,
    residue: Floats,
    aphids_per_m2: Floats,
    hunters: Records,
    shared: Records,
    factors: Floats,
    residue_share: Floats,
    hedgerow_m: float,
    flower_strip_m2: float,
    enemy_kill: Floats,
    bird_risk: Floats,
    hungry_share: Floats,
    density_per_m2: Floats,
    flows: Floats,
) -> None:
    """Let enemies come, go, starve and die in each bed; write who went how into the flows."""
    hedge = saturating(hedgerow_m, shared[0].hedgerow_half_m)
    flowers = saturating(flower_strip_m2, shared[0].flower_half_m2)
    for bed in range(beds.size):
        mean_c = (beds[bed].tmin_c + beds[bed].tmax_c) / 2.0
        drawn = saturating(aphids_per_m2[bed], shared[0].aphid_half_per_m2)
        area_m2 = beds[bed].area_m2
        for enemy in range(hunters.size):
            hunter = hunters[enemy]
            pace = activity(mean_c, hunter.idle_c, hunter.active_c)
            passing = hunter.settling_per_day * pace * gets_in[bed, FIRST_VISITOR + enemy]
            settled = hunter.settled_density_per_m2 * factors[enemy]
            settled *= 1.0 + hunter.hedgerow_gain * hedge + hunter.flower_gain * flowers
            settled *= 1.0 + hunter.aphid_drawing * drawn
            starved = hunter.starving_per_day * pace * hungry_share[bed, enemy]
            dose = poisoned_share(contact[bed], residue[bed], residue_share, enemy_kill, enemy)
            sprayed = -math.log(max(1.0 - dose, LEAST_SURVIVAL))
            eaten = bird_risk[bed, enemy]
            here = density_per_m2[bed, enemy]
            gone = leave_by_cause(here, passing, starved, sprayed, eaten)
            arrived = settled * (1.0 - math.exp(-passing))
            density_per_m2[bed, enemy] = here - gone + arrived
            flows[ARRIVED, enemy] += arrived * area_m2
            every = passing + starved + sprayed + eaten
            if every > 0.0:
                flows[LEFT, enemy] += gone * passing / every * area_m2
                flows[STARVED, enemy] += gone * starved / every * area_m2
                flows[SPRAYED, enemy] += gone * sprayed / every * area_m2
                flows[EATEN, enemy] += gone * eaten / every * area_m2


class Generalists(mesa.Agent):  # type: ignore[misc]
    """Four kinds of generalist enemies in each bed.

    Parameters
    ----------
    garden
        The model they live in.
    parameters
        The table; every key under ``enemies``.
    bed_area_m2
        Area of each bed [m²], the margin last, shape (B,), above 0.
    factors
        How many times the usual density the place has, by kind, shape (4,).

    Attributes
    ----------
    density_per_m2
        Enemies this morning [1/m²], shape (B, 4), in the order of ``Predator``.
    aphid_risk
        Hazard (1/d) from each to one aphid of the bed, as of the last ``hunt``, shape (B, 4).
    hungry_share
        Share of their time still spent searching, as of the last ``hunt``, shape (B, 4).
    """

    def __init__(self, garden: mesa.Model, parameters: Parameters, *, bed_area_m2: Floats, factors: Floats) -> None:
        super().__init__(garden)
        self._hunters = records(np.zeros(GENERALISTS, HUNTER))
        for name in HUNTER.names or ():
            self._hunters[name] = parameters.numbers(f"enemies.{name}")
        self._shared = records(np.zeros(1, SHARED))
        for name in SHARED.names or ():
            self._shared[name] = parameters.number(f"enemies.{name}")
        self._weights = _weights(parameters)
        self._residue_share = parameters.numbers("enemies.residue_share")
        self._factors = np.array(factors, dtype=np.float64)
        self._area_m2 = np.array(bed_area_m2, dtype=np.float64)
        start = self._hunters["settled_density_per_m2"] * self._hunters["winter_share"] * self._factors
        self.density_per_m2: Floats = np.tile(start, (self._area_m2.size, 1))
        self.aphid_risk: Floats = np.zeros((self._area_m2.size, GENERALISTS))
        self.hungry_share: Floats = np.ones((self._area_m2.size, GENERALISTS))
        self._flows: Floats = np.zeros((len(FLOWS), GENERALISTS))
        self._flows[BEGAN] = self.alive()

    def hunt(self, surroundings: Surroundings, aphids_per_m2: Floats) -> None:
        """Write today's risk from each enemy to the insects and aphids within its reach.

        Parameters
        ----------
        surroundings
            Its ``risk[:, :, :, 0:4]`` is rewritten.
        aphids_per_m2
            Cabbage aphids of each bed this morning [1/m²], shape (B,).
        """
        hunt_in_beds(
            surroundings.beds,
            self.density_per_m2,
            surroundings.mass_mg,
            aphids_per_m2,
            self._hunters,
            self._shared,
            self._weights,
            surroundings.risk,
            self.aphid_risk,
            self.hungry_share,
        )

    def live(
        self,
        surroundings: Surroundings,
        *,
        aphids_per_m2: Floats,
        hedgerow_m: float,
        flower_strip_m2: float,
        enemy_kill: Floats,
        bird_enemy_risk: Floats,
    ) -> None:
        """Let them come, go, starve, be sprayed and be eaten today.

        Parameters
        ----------
        surroundings
            Nets, contact and residues of today; nothing is changed.
        aphids_per_m2
            This morning's aphids [1/m²], shape (B,).
        hedgerow_m, flower_strip_m2
            Habitat around the beds today [m, m²].
        enemy_kill
            Share of wetted enemies that one good spray kills, shape (PRODUCTS, 4).
        bird_enemy_risk
            Hazard (1/d) from birds, shape (B, 4).
        """
        live_in_beds(
            surroundings.beds,
            surroundings.gets_in,
            surroundings.contact,
            surroundings.residue,
            aphids_per_m2,
            self._hunters,
            self._shared,
            self._factors,
            self._residue_share,
            hedgerow_m,
            flower_strip_m2,
            enemy_kill,
            bird_enemy_risk,
            self.hungry_share,
            self.density_per_m2,
            self._flows,
        )

    def alive(self) -> Floats:
        """Return how many of each kind there are in all beds, margin included, shape (4,)."""
        total: Floats = self._area_m2 @ self.density_per_m2
        return total

    def ledger(self) -> dict[str, dict[str, float]]:
        """Return for each kind who began, arrived, left, starved, was sprayed, was eaten, and is alive."""
        alive = self.alive()
        return {
            word(Predator(enemy)): {name: float(self._flows[flow, enemy]) for flow, name in enumerate(FLOWS)}
            | {"alive": float(alive[enemy])}
            for enemy in range(GENERALISTS)
        }

    def imbalance(self) -> float:
        """Return the largest share by which entries and exits plus alive differ; 0 but for rounding."""
        entries = self._flows[BEGAN] + self._flows[ARRIVED]
        exits = self._flows[LEFT] + self._flows[STARVED] + self._flows[SPRAYED] + self._flows[EATEN]
        return float(np.max(np.abs(entries - exits - self.alive()) / np.maximum(entries, 1.0)))


@lru_cache(maxsize=8)
def _weights(parameters: Parameters) -> Floats:
    weights = np.zeros((GENERALISTS, SPECIES, STAGES))
    for enemy in range(GENERALISTS):
        name = word(Predator(enemy))
        stages = parameters.numbers(f"enemies.stage_weight.{name}")
        species = parameters.numbers(f"enemies.species_weight.{name}")
        weights[enemy] = species[:, None] * stages[None, :]
    return weights
