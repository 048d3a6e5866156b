"""The words that must not be missing, on screens and papers: what the model is not, and what comes first outdoors."""

from __future__ import annotations

from dashboard.tongue import mark

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
