"""The measures that screens show: what a gardener calls each, its unit, and how much of what.

Every word is said in the language and the units of the moment, so ask for it where it is shown and do not keep it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dashboard.language.saying import UNITS, in_units, unit_after, unit_named
from dashboard.language.tongue import _, mark

if TYPE_CHECKING:
    from sim.scenario import Scenario


@dataclass(frozen=True)
class Spoken:
    """One measure on a screen.

    Parameters
    ----------
    measure
        Its name in the model.
    title_said
        What it is called in a list and over a picture, marked.
    axis_said
        Words of its axis, marked; ``{unit}`` stands for the unit by its name, ``{short}`` for the unit after a number.
    unit_said
        A unit of ``saying.UNITS``, or a short word after a number, marked.
    times
        From the model's unit to the axis, apart from what US units change.
    """

    measure: str
    title_said: str
    axis_said: str
    unit_said: str
    times: float = 1.0

    @property
    def title(self) -> str:
        """What it is called in a list and over a picture."""
        return _(self.title_said)

    @property
    def axis(self) -> str:
        """Words and unit of its axis."""
        return _(self.axis_said).format(unit=unit_named(self.unit_said), short=unit_after(self.unit_said))

    @property
    def unit(self) -> str:
        """The unit as a short word after a number."""
        return unit_after(self.unit_said)

    @property
    def is_counted(self) -> bool:
        """Whether it counts creatures or visits: of those there are fewer, of all else less."""
        return self.measure.endswith("_count")

    @property
    def factor(self) -> float:
        """From the model's unit to the axis."""
        return in_units(self.times, self.unit_said) if self.unit_said in UNITS else self.times


_IN_THE_SEASON = mark("{unit} in the season")
_OF_100 = mark("of 100")
_BIRDS = mark("birds")
_ALIVE = mark("alive at once")

SPOKEN = (
    Spoken("marketable_kg", mark("Harvest fit to sell"), _IN_THE_SEASON, "kg"),
    Spoken("harvest_kg", mark("Harvest picked"), _IN_THE_SEASON, "kg"),
    Spoken("marketable_share", mark("Share fit to sell"), mark("of 100 picked by weight, fit to sell"), _OF_100, 100),
    Spoken("fruit_set_share", mark("Flowers that set fruit"), mark("of 100 female flowers"), _OF_100, 100),
    Spoken("cucumbers_wilted_share", mark("Cucumbers that wilted"), mark("of 100 plants"), _OF_100, 100),
    Spoken(
        "pests_alive_peak_count",
        mark("Pests at their peak"),
        mark("caterpillars, beetles and bugs alive"),
        mark("pests"),
    ),
    Spoken("cabbage_white_peak_count", mark("Cabbage white caterpillars at their peak"), _ALIVE, mark("caterpillars")),
    Spoken("diamondback_moth_peak_count", mark("Diamondback caterpillars at their peak"), _ALIVE, mark("caterpillars")),
    Spoken("harlequin_bug_peak_count", mark("Harlequin bugs at their peak"), _ALIVE, mark("bugs")),
    Spoken("flea_beetle_peak_count", mark("Flea beetles at their peak"), _ALIVE, mark("beetles")),
    Spoken("cucumber_beetle_peak_count", mark("Cucumber beetles at their peak"), _ALIVE, mark("beetles")),
    Spoken("leaf_eaten_share", mark("Growth that pests took"), mark("of 100 that the crops grew"), _OF_100, 100),
    Spoken("egg_to_adult_share", mark("Pest eggs that grow up"), mark("of 100 eggs, this many adults"), _OF_100, 100),
    Spoken("aphids_peak_count", mark("Aphids at their peak"), mark("aphids alive"), mark("aphids")),
    Spoken("bird_food_reachable_g", mark("Bird food in reach"), mark("{unit} on a mean day with nestlings"), "g"),
    Spoken("bird_food_in_beds_g", mark("Bird food in the beds"), mark("{unit} on a mean day with nestlings"), "g"),
    Spoken("bird_food_delivered_g", mark("Fed to nestlings from the garden"), _IN_THE_SEASON, "g"),
    Spoken("nestlings_fledged_count", mark("Young birds that left the nest"), _BIRDS, _BIRDS),
    Spoken("birds_entangled_count", mark("Birds caught in nets"), _BIRDS, _BIRDS),
    Spoken("flower_visits_count", mark("Bees at the cucumber flowers"), mark("visits in the season"), mark("visits")),
    Spoken(
        "bees_harmed_share",
        mark("Bees harmed by sprays"),
        mark("of 100 that work in the crops' flowers"),
        _OF_100,
        100,
    ),
    Spoken("spiders_mean_count", mark("Spiders"), mark("animals on a mean day"), mark("spiders")),
    Spoken("ground_beetles_mean_count", mark("Ground beetles"), mark("animals on a mean day"), mark("beetles")),
    Spoken("lady_beetles_mean_count", mark("Lady beetles"), mark("animals on a mean day"), mark("beetles")),
    Spoken(
        "parasitoid_wasps_mean_count",
        mark("Wasps that grow in caterpillars"),
        mark("animals on a mean day"),
        mark("wasps"),
    ),
    Spoken("labour_minutes", mark("Minutes of work"), mark("minutes in the season"), mark("minutes")),
    Spoken("cost_usd", mark("Money spent"), mark("US dollars in the season"), mark("dollars")),
)
"""What can be picked, in this order."""

BY_MEASURE = {one.measure: one for one in SPOKEN}

_OF_CUCUMBERS = {"fruit_set_share", "cucumbers_wilted_share", "flower_visits_count", "bees_harmed_share"}
"""Nothing else in the beds flowers or wilts."""
_OF_NESTS = {"bird_food_reachable_g", "bird_food_in_beds_g", "bird_food_delivered_g", "nestlings_fledged_count"}


def spoken_in(garden: Scenario) -> list[str]:
    """Return the measures that a garden can have, so that nobody is asked about its bees where nothing flowers."""
    has_cucumbers = any(bed.crop == "cucumber" for bed in garden.beds)
    absent = (set() if has_cucumbers else _OF_CUCUMBERS) | (set() if garden.birds.nests else _OF_NESTS)
    return [name for name in BY_MEASURE if name not in absent]
