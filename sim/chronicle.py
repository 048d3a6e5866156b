"""What is written down each evening: one row a day, in arrays made beforehand, and a table at the season's end."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from sim.cast import BEETLES, BUGS, CATERPILLARS, GENERALISTS, PLANT_EATERS, Bee, Predator, Species, Stage, word
from sim.compiled import Floats

if TYPE_CHECKING:
    import pandas as pd

LARVAL = slice(int(Stage.INSTAR_1), int(Stage.PUPA))
PREY_GROUPS = ("caterpillars", "moths", "bugs", "beetles", "wasps", "spiders")
"""Birds' food in the beds and the margin, as it is reported; what of it is in the margin has a column of its own."""
GROUP_OF_PREY = {
    (species, stage): (
        "bugs"
        if species in BUGS
        else "beetles"
        if species in BEETLES
        else "wasps"
        if species not in CATERPILLARS
        else "moths"
        if stage == Stage.ADULT
        else "caterpillars"
    )
    for species in Species
    for stage in Stage
}
"""Which group of prey each insect is; eggs and pupae count with their caterpillars."""

COLUMNS: tuple[str, ...] = (
    "tmin_c",
    "tmax_c",
    "rain_mm",
    "covered_beds",
    "leaf_area_m2",
    "leaf_eaten_m2",
    "harvest_kg",
    "marketable_kg",
    *(f"{word(species)}_eggs" for species in PLANT_EATERS),
    *(f"{word(species)}_young" for species in PLANT_EATERS),
    *(f"{word(species)}_pupae" for species in PLANT_EATERS if species not in BUGS),
    *(f"{word(species)}_adults" for species in PLANT_EATERS),
    "caterpillars_in_margin",
    "parasitoid_wasps",
    "aphids",
    *(f"{group}_reachable_g" for group in PREY_GROUPS),
    "margin_reachable_g",
    "caterpillars_grown_reachable_g",
    *(f"{word(Predator(enemy))}s" for enemy in range(GENERALISTS)),
    "nestlings",
    "fledged",
    "fed_from_garden_kj",
    "fed_from_hedgerow_kj",
    "fed_from_territory_kj",
    "caterpillars_to_nests",
    "feeding_visits",
    "open_flowers",
    *(f"{word(bee)}_visits" for bee in Bee),
    "fruit_set",
    "labour_minutes",
    "cost_usd",
    "beds_sprayed",
    "turned_away",
)
PLACE = {name: place for place, name in enumerate(COLUMNS)}
"""Column of each measure of a day."""


def columns_on_plants(species: Species) -> tuple[str, ...]:
    """Return the columns of those that a gardener finds on plants: caterpillars, all bugs, grown beetles."""
    young, adults = f"{word(species)}_young", f"{word(species)}_adults"
    if species in CATERPILLARS:
        return (young,)
    return (young, adults) if species in BUGS else (adults,)


RUNNING = (
    "harvest_kg",
    "marketable_kg",
    "leaf_eaten_m2",
    "caterpillars_to_nests",
    "fledged",
    "fruit_set",
    "turned_away",
)
"""Measures that are written as totals so far and told day by day."""


class Chronicle:
    """The rows of a season, filled day by day."""

    def __init__(self, day_count: int) -> None:
        self.rows: Floats = np.zeros((day_count, len(COLUMNS)))

    def close(self) -> None:
        """Turn totals so far into what each day added; to be called once, at the season's end."""
        for name in RUNNING:
            column = self.rows[:, PLACE[name]]
            column[1:] = np.diff(column)

    def column(self, name: str) -> Floats:
        """Return one measure of every day, shape (days,)."""
        return self.rows[:, PLACE[name]]

    def frame(self, first_date: str) -> pd.DataFrame:
        """Return a table with a row a day and units in the column names."""
        import pandas as pd

        table = pd.DataFrame(self.rows, columns=list(COLUMNS))
        table.insert(0, "date", pd.date_range(first_date, periods=len(table), freq="D").strftime("%Y-%m-%d"))
        table.insert(0, "day", np.arange(len(table)))
        return table
