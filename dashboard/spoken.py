"""The measures that screens show: what a gardener calls each, its unit, and how much of what."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Spoken:
    """One measure on a screen.

    Parameters
    ----------
    measure
        Its name in the model.
    title
        What it is called in a list and over a picture.
    axis
        Words and unit of its axis.
    unit
        The unit as a short word after a number.
    factor
        From the model's unit to the axis.
    """

    measure: str
    title: str
    axis: str
    unit: str
    factor: float = 1.0


SPOKEN = (
    Spoken("marketable_kg", "Harvest fit to sell", "kilograms in the season", "kg"),
    Spoken("harvest_kg", "Harvest picked", "kilograms in the season", "kg"),
    Spoken("marketable_share", "Share fit to sell", "of 100 kg picked, kg fit to sell", "kg of 100", 100),
    Spoken("fruit_set_share", "Flowers that set fruit", "of 100 female flowers", "of 100", 100),
    Spoken("pests_alive_peak_count", "Pests at their peak", "caterpillars, beetles and bugs alive", "pests"),
    Spoken("egg_to_adult_share", "Pest eggs that grow up", "of 100 eggs, this many adults", "of 100", 100),
    Spoken("aphids_peak_count", "Aphids at their peak", "aphids alive", "aphids"),
    Spoken("bird_food_reachable_g", "Bird food in reach", "grams on a mean day with nestlings", "g"),
    Spoken("bird_food_delivered_g", "Fed to nestlings from the garden", "grams in the season", "g"),
    Spoken("nestlings_fledged_count", "Young birds that left the nest", "birds", "birds"),
    Spoken("birds_entangled_count", "Birds caught in nets", "birds", "birds"),
    Spoken("flower_visits_count", "Bees at the cucumber flowers", "visits in the season", "visits"),
    Spoken("bees_harmed_count", "Bees harmed by sprays", "bees", "bees"),
    Spoken("spiders_mean_count", "Spiders", "animals on a mean day", "spiders"),
    Spoken("ground_beetles_mean_count", "Ground beetles", "animals on a mean day", "beetles"),
    Spoken("labour_minutes", "Minutes of work", "minutes in the season", "minutes"),
    Spoken("cost_usd", "Money spent", "US dollars in the season", "dollars"),
)
"""What can be picked, in this order."""

BY_MEASURE = {one.measure: one for one in SPOKEN}
BY_TITLE = {one.title: one for one in SPOKEN}
