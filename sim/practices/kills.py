"""What a spray kills: tables by product, read once a season and handed to the guilds that bear them.

How a guild uses them: with ``contact`` the share wetted today and ``residue`` the deposit eaten or walked on, the daily
hazard of an insect that is out in the open is

    -log(1 - contact * by_contact) - log(1 - residue * by_eating)

and a larva inside a heart or head meets only ``head_refuge_share`` of both. Kills of 0 give a hazard of exactly 0.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sim.cast import GENERALISTS, PRODUCTS, SPECIES, STAGES, Product, Species, Stage, word
from sim.compiled import Floats
from sim.parameters.table import Parameters

_MOTHS = (Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH)


def kill_table(parameters: Parameters) -> Floats:
    """Return the share that one good spray kills of those fully exposed, shape (PRODUCTS, SPECIES, STAGES).

    The wasp, which eats no leaf, is left at 0 here: see ``wasp_kill``.
    """
    table: Floats = np.zeros((PRODUCTS, SPECIES, STAGES))
    for product in Product:
        for species in Species:
            if species != Species.PARASITOID_WASP:
                table[product, species] = parameters.numbers(f"sprays.{word(product)}.kill.{word(species)}")
    return table


def eaten_share(parameters: Parameters) -> Floats:
    """Return the share of each product's kill that works by eating, shape (PRODUCTS,); the rest works by contact."""
    return _row(parameters, "eaten_share")


def kill_by_contact(parameters: Parameters) -> Floats:
    """Return the share killed of those wetted, shape (PRODUCTS, SPECIES, STAGES)."""
    table = kill_table(parameters)
    share: Floats = np.broadcast_to(1.0 - eaten_share(parameters)[:, None, None], table.shape).copy()
    share[:, ~_eats_leaf()] = 1.0  # an egg, a pupa or a moth is killed by wetting or not at all
    return table * share


def kill_by_eating(parameters: Parameters) -> Floats:
    """Return the share killed by a day's feeding on a full fresh deposit, shape (PRODUCTS, SPECIES, STAGES)."""
    table = kill_table(parameters) * eaten_share(parameters)[:, None, None]
    table[:, ~_eats_leaf()] = 0.0
    return table


def enemy_kill(parameters: Parameters) -> Floats:
    """Return the share killed of ground beetles, spiders, lady beetles and lacewings, shape (PRODUCTS, 4)."""
    table: Floats = np.zeros((PRODUCTS, GENERALISTS))
    for product in Product:
        table[product] = parameters.numbers(f"sprays.{word(product)}.enemy_kill")
    return table


def wasp_kill(parameters: Parameters) -> Floats:
    """Return the share killed of adult parasitoids, shape (PRODUCTS,)."""
    return _row(parameters, "wasp_kill")


def aphid_kill(parameters: Parameters) -> Floats:
    """Return the share killed of aphids that are reached, shape (PRODUCTS,)."""
    return _row(parameters, "aphid_kill")


def bee_kill(parameters: Parameters) -> Floats:
    """Return the share killed of bees that visit freshly sprayed flowers, shape (PRODUCTS,)."""
    return _row(parameters, "bee_kill")


def wait_days(parameters: Parameters) -> Floats:
    """Return the days between a spray and the harvest, shape (PRODUCTS, CROPS)."""
    return np.array([parameters.numbers(f"sprays.{word(product)}.wait_days") for product in Product])


def _eats_leaf() -> NDArray[np.bool_]:
    eats = np.ones((SPECIES, STAGES), dtype=np.bool_)
    eats[:, (Stage.EGG, Stage.PUPA)] = False
    eats[_MOTHS, Stage.ADULT] = False
    return eats


def _row(parameters: Parameters, name: str) -> Floats:
    return np.array([parameters.number(f"sprays.{word(product)}.{name}") for product in Product])
