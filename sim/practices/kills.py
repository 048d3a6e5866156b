"""What a spray kills: tables by product, read once a season and handed to the guilds that bear them.

How a guild uses them: of a kill, ``eaten_share`` works on those that feed, by the ``residue`` on the leaf, day by day;
the rest works by ``contact``, the share wetted today. One that sucks from within the leaf eats little of what lies upon
it, so that its kill is nearly all by contact.
Kills of 0 must leave everything exactly as it was.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from sim.cast import GENERALISTS, PRODUCTS, SAP_FEEDERS, SPECIES, STAGES, Product, Species, word
from sim.compiled import Floats
from sim.parameters.table import Parameters


@lru_cache(maxsize=8)
def kill_table(parameters: Parameters) -> Floats:
    """Return the share that a day on a fresh, full deposit kills, shape (PRODUCTS, SPECIES, STAGES).

    The wasp, which eats no leaf, is left at 0 here: see ``wasp_kill``.
    """
    table: Floats = np.zeros((PRODUCTS, SPECIES, STAGES))
    for product in Product:
        for species in Species:
            if species != Species.PARASITOID_WASP:
                table[product, species] = parameters.numbers(f"sprays.{word(product)}.kill.{word(species)}")
    return table


@lru_cache(maxsize=8)
def eaten_share(parameters: Parameters) -> Floats:
    """Return the share of the kill that works by eating, shape (PRODUCTS, SPECIES); the rest works by contact."""
    table: Floats = np.repeat(_row(parameters, "eaten_share")[:, np.newaxis], SPECIES, axis=1)
    table[:, list(SAP_FEEDERS)] *= parameters.number("sprays.eaten_by_sap_feeders_share")
    return table


@lru_cache(maxsize=8)
def enemy_kill(parameters: Parameters) -> Floats:
    """Return the share killed of ground beetles, spiders, lady beetles and lacewings, shape (PRODUCTS, 4)."""
    table: Floats = np.zeros((PRODUCTS, GENERALISTS))
    for product in Product:
        table[product] = parameters.numbers(f"sprays.{word(product)}.enemy_kill")
    return table


@lru_cache(maxsize=8)
def wasp_kill(parameters: Parameters) -> Floats:
    """Return the share killed of adult parasitoids, shape (PRODUCTS,)."""
    return _row(parameters, "wasp_kill")


@lru_cache(maxsize=8)
def aphid_kill(parameters: Parameters) -> Floats:
    """Return the share killed of aphids that are reached, shape (PRODUCTS,)."""
    return _row(parameters, "aphid_kill")


@lru_cache(maxsize=8)
def bee_kill(parameters: Parameters) -> Floats:
    """Return the share killed of bees that visit freshly sprayed flowers, shape (PRODUCTS,)."""
    return _row(parameters, "bee_kill")


@lru_cache(maxsize=8)
def wait_days(parameters: Parameters) -> Floats:
    """Return the days between a spray and the harvest, shape (PRODUCTS, CROPS)."""
    return np.array([parameters.numbers(f"sprays.{word(product)}.wait_days") for product in Product])


def _row(parameters: Parameters, name: str) -> Floats:
    return np.array([parameters.number(f"sprays.{word(product)}.{name}") for product in Product])
