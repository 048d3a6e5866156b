"""What a gardener can do: one model an action, each a deed with its day and its beds, never a result.

``beds`` names beds or groups of beds; an empty list means every bed. A day is said in one of three ways: a date
(``on``), days after each bed is planted (``days_after_planting``), or a moment in the life of each bed's crop (``at``).
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, Strict, model_validator

from sim.errors import quoted, tell
from sim.scenario.limits import Pairs
from sim.scenario.values import (
    Amount,
    CountFromOne,
    Days,
    DaysFromOne,
    Hour,
    MonthDay,
    Names,
    Part,
    Share,
    Size,
    refuse,
)

CropEvent = Literal["planting", "first_bloom", "bloom_half", "heading", "first_picking", "last_picking"]
"""``bloom_half``: half of the bed's plants carry an open female flower."""
Material = Literal["insect_mesh", "fine_mesh", "veil", "row_cover", "bird_net"]
Edges = Literal["buried", "weighted", "slack"]
SprayKind = Literal["bt", "spinosad", "pyrethrins", "azadirachtin", "soap"]
SprayHour = Literal["dawn", "noon", "dusk"]
BoxKind = Literal["tit_like", "wren_like"]
"""Birds that move into a box; the woodpecker-like bird digs its own hole."""


class InBeds(Part):
    """Something done in some beds, or in all of them."""

    beds: Names = ()


class Timed(InBeds):
    """Something done once, on a day that is said in exactly one way."""

    on: MonthDay | None = None
    days_after_planting: Days | None = None
    at: CropEvent | None = None
    delay_days: Annotated[int, Strict(), Field(ge=0, le=365)] = 0

    @model_validator(mode="after")
    def _say_the_day_once(self) -> Self:
        said = [name for name in ("on", "days_after_planting", "at") if getattr(self, name) is not None]
        if len(said) != 1:
            raise refuse(
                tell("exactly one of 'on', 'days_after_planting' and 'at'"),
                has=quoted(said, is_choice=False) if said else tell("nothing"),
            )
        return self


class Repeated(InBeds):
    """Something done again and again while the bed's crop stands.

    It begins on ``since``, or, where that is not given, ``days_after_planting`` days after each bed is planted; it ends
    on ``until``, or when the bed is finished.
    """

    every_days: DaysFromOne
    since: MonthDay | None = None
    until: MonthDay | None = None
    days_after_planting: Days | None = None

    @model_validator(mode="after")
    def _begin_once_and_before_the_end(self) -> Self:
        if self.since is not None and self.days_after_planting is not None:
            raise refuse(tell("one of 'since' and 'days_after_planting', not both"), has=tell("both"))
        if self.since is not None and self.until is not None and self.until < self.since:
            raise refuse(
                tell("a day from {since} on, the day that it begins", since=self.since), key="until", found=self.until
            )
        return self


class Cover(Timed):
    """Put a net over beds; open hours are those in which it is opened every day."""

    do: Literal["cover"]
    material: Material = "insect_mesh"
    edges: Edges = "buried"
    gap_share: Share = 0.0
    open_from_hour: Hour | None = None
    open_to_hour: Hour | None = None

    @model_validator(mode="after")
    def _open_before_closing(self) -> Self:
        start, end = self.open_from_hour, self.open_to_hour
        if (start is None) != (end is None):
            raise refuse(tell("'open_from_hour' and 'open_to_hour' together, or neither"), has=tell("one of them"))
        if start is not None and end is not None and end <= start:
            raise refuse(tell("an hour after {start:g}, when it is opened", start=start), key="open_to_hour", found=end)
        return self


class Uncover(Timed):
    """Take the net off beds."""

    do: Literal["uncover"]


class Spray(Repeated):
    """Spray by the calendar, at most ``times`` times a bed."""

    do: Literal["spray"]
    product: SprayKind
    hour: SprayHour = "dusk"
    times: CountFromOne | None = None


class Scout(Repeated):
    """Look for insects on a sample of plants in each bed and write down what was seen."""

    do: Literal["scout"]
    plants: CountFromOne = 10


class SprayAtThreshold(InBeds):
    """Spray a bed when the last scouting found as much as one of the thresholds; never more often than ``rest_days``.

    Infested shares are shares of the plants looked at; beetles are counted per plant looked at.
    """

    do: Literal["spray_at_threshold"]
    product: SprayKind
    hour: SprayHour = "dusk"
    rest_days: DaysFromOne = 7
    caterpillar_infested_share: Share | None = None
    harlequin_infested_share: Share | None = None
    flea_beetles_per_plant: Amount | None = None
    cucumber_beetles_per_plant: Amount | None = None
    aphid_infested_share: Share | None = None

    @model_validator(mode="after")
    def _have_a_threshold(self) -> Self:
        if not self.thresholds():
            raise refuse(tell("at least one of {known}", known=", ".join(THRESHOLDS)), has=tell("nothing"))
        return self

    def thresholds(self) -> dict[str, float]:
        """Return the thresholds that are set, by name."""
        values = {name: getattr(self, name) for name in THRESHOLDS}
        return {name: value for name, value in values.items() if value is not None}


THRESHOLDS = (
    "caterpillar_infested_share",
    "harlequin_infested_share",
    "flea_beetles_per_plant",
    "cucumber_beetles_per_plant",
    "aphid_infested_share",
)


class HandPick(Repeated):
    """Search the plants and take off eggs, caterpillars, bugs and beetles."""

    do: Literal["hand_pick"]
    seconds_per_plant: Size = 20.0


class WashOff(Repeated):
    """Wash aphids off with a jet of water."""

    do: Literal["wash_off"]


class HandPollinate(Repeated):
    """Carry pollen to the open female flowers; ``visits`` says how many touches each of them gets."""

    do: Literal["hand_pollinate"]
    every_days: DaysFromOne = 1
    visits: CountFromOne = 1


class Weed(Repeated):
    """Weed beds, lifting a net for as long as that takes."""

    do: Literal["weed"]


class Pick(Repeated):
    """Go over beds of a crop that is picked again and again."""

    do: Literal["pick"]


class PlantFlowerStrip(Part):
    """Have a strip of flowers beside the beds, from a day on or from the start."""

    do: Literal["plant_flower_strip"]
    area_m2: Size
    on: MonthDay | None = None


class PlantHedgerow(Part):
    """Have a hedgerow beside the beds, of an age in years, from a day on or from the start."""

    do: Literal["plant_hedgerow"]
    length_m: Size
    age_years: Amount = 0.0
    on: MonthDay | None = None


class SkipBed(Part):
    """Leave beds unplanted in this plan."""

    do: Literal["skip_bed"]
    beds: Annotated[Names, Field(min_length=1)]


class CleanUp(Timed):
    """Pull the plants and carry off stalks and debris."""

    do: Literal["clean_up"]


class Till(Timed):
    """Turn the soil of beds."""

    do: Literal["till"]


class PutUpNestBox(Part):
    """Hang nest boxes, from a day on or from the start."""

    do: Literal["put_up_nest_box"]
    kind: BoxKind
    count: Annotated[Pairs, Field(ge=1)] = 1
    distance_m: Amount = 15.0
    on: MonthDay | None = None


Action = Annotated[
    Cover
    | Uncover
    | Spray
    | Scout
    | SprayAtThreshold
    | HandPick
    | WashOff
    | HandPollinate
    | Weed
    | Pick
    | PlantFlowerStrip
    | PlantHedgerow
    | SkipBed
    | CleanUp
    | Till
    | PutUpNestBox,
    Field(discriminator="do"),
]
"""Any of the actions; its word stands in ``do``."""
