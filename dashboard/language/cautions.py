"""The words that must not be missing, on screens and papers: what the model is not, and what comes first outdoors."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from dashboard.language.tongue import mark

if TYPE_CHECKING:
    from sim.scenario import Scenario

MODEL_WORDS = mark(
    "**This is a model.** It shows which way a plan pushes things and roughly how far. It is not a forecast for one "
    "garden, and not advice for yours. The gardens that come with it are invented."
)

CAUTIONS = (
    mark(
        "**Sprays.** The label is the law: crop, pest, place, gloves, waiting time, bees. Organic products too. "
        "No product here has a rate or a brand; ask your extension office. Many places let only licensed people spray "
        "at schools, and students never do."
    ),
    mark(
        "**Nets and wildlife.** Use a mesh that a finger cannot enter, pulled tight, its edges closed to the ground, "
        "and look at it every day. If an animal is caught, call a wildlife rescue. Cap the ends of hoops and wires."
    ),
    mark("**Bees.** Nothing is sprayed on open flowers, and drift is kept off flowering edges."),
    mark(
        "**Stings and allergies.** Ask before a garden walk who is allergic; do not swat; leave unknown caterpillars "
        "alone."
    ),
    mark("**Birds.** Nests and eggs are protected by law in most places: watch from a distance, leave boxes closed."),
    mark("Local codes, your extension office and licensed practice come before anything on this page."),
)
OPEN_FLOWERS = mark("**Open flowers.** Cucumbers are sprayed in bloom, too, to show its cost; most labels forbid it.")
"""Stands with the cautions wherever such a plan is shown, for it does what they forbid."""


def sprays_flowers(garden: Scenario, plans: Iterable[str]) -> bool:
    """Return whether a plan sprays cucumbers to the end of the season, so that their flowers are open meanwhile."""
    endless = [
        action
        for plan in plans
        for action in garden.plan(plan).actions
        if action.do == "spray" and action.until is None and action.times is None
    ]
    sprayed = (garden.single_beds[place] for action in endless for place in garden.bed_positions(action.beds))
    return any(bed.crop == "cucumber" for bed in sprayed)
