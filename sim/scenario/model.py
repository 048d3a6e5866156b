"""What a scenario is: a place, a season, who is about, beds of plants, and plans of what a gardener does.

Every field is a public dotted key (``beds.kale.length_m``). Factors multiply a parameter of nature: 1 leaves it alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cached_property
from typing import Annotated, Any, Literal, Self

from pydantic import Field, Strict, field_validator, model_validator

from sim.errors import ScenarioError, tell, unknown
from sim.scenario.actions import Action, Pick, SkipBed, SprayKind
from sim.scenario.checks import check_beds, check_plans, check_season
from sim.scenario.limits import EggsPerPlant, Pairs, Repeats, WildHosts, check_amounts
from sim.scenario.values import (
    Amount,
    CountFromOne,
    Days,
    DaysFromOne,
    Factor,
    Latitude,
    MonthDay,
    Number,
    Part,
    Share,
    Size,
    Slug,
    Text,
    Truth,
    date_in,
    flat_items,
    refuse,
)

ClimateName = Literal["warm_humid", "cool_maritime", "dry_summer_maritime"]
CropName = Literal[
    "collard", "kale", "kohlrabi", "cabbage", "broccoli", "lettuce", "radish", "turnip", "cucumber", "mustard"
]
NestKind = Literal["tit_like", "wren_like", "woodpecker_like"]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class Place(Part):
    """Where the weather comes from: a climate, or a file of daily weather beside the scenario."""

    climate: ClimateName | None = None
    weather_file: Text | None = None
    latitude_deg: Latitude | None = None
    elevation_m: Annotated[float, Strict(), Field(ge=-430, le=6000)] | None = None
    warmer_c: Annotated[float, Strict(), Field(ge=-3, le=5)] = 0.0
    wetter: Annotated[float, Strict(), Field(ge=0.2, le=3)] = 1.0
    temperature_unit: Literal["c", "f", "tenths_c"] | None = None
    rain_unit: Literal["mm", "inch", "tenths_mm"] | None = None

    @model_validator(mode="after")
    def _have_one_origin(self) -> Self:
        if (self.climate is None) == (self.weather_file is None):
            has = tell("neither") if self.climate is None else tell("both")
            raise refuse(tell("either 'climate' or 'weather_file'"), has=has)
        if self.weather_file is not None and self.latitude_deg is None:
            raise refuse(
                tell("the latitude of the weather file's station, in degrees"), key="latitude_deg", has=tell("no value")
            )
        for key, usual in (("warmer_c", 0.0), ("wetter", 1.0)):
            if self.weather_file is not None and getattr(self, key) != usual:
                allowed = tell("{usual:g} beside a weather file, whose days are taken as they are", usual=usual)
                raise refuse(allowed, key=key, found=getattr(self, key))
        return self


class SeasonDates(Part):
    """The part of the year that is followed, and how many years in a row; each date comes round every year."""

    first_day: MonthDay = "03-01"
    last_day: MonthDay = "11-15"
    years: Annotated[int, Strict(), Field(ge=1, le=2)] = 1
    calendar_year: Annotated[int, Strict(), Field(ge=1900, le=2100)] = 2025


class Pests(Part):
    """How many of each plant-eater are about, as factors; two shares of behaviour that are hardly known."""

    cabbage_white: Factor = 1.0
    cabbage_looper: Factor = 1.0
    diamondback_moth: Factor = 1.0
    harlequin_bug: Factor = 1.0
    flea_beetle: Factor = 1.0
    cucumber_beetle: Factor = 1.0
    cabbage_aphid: Factor = 1.0
    arrivals: Factor = 1.0
    stay_share: Share | None = None
    try_bare_share: Share | None = None


class Margin(Part):
    """What lies around the beds, and what drifts in from next door."""

    area_m2: Size = 100.0
    wild_host_plants: WildHosts = 10
    hedgerow_m: Amount = 0.0
    flower_strip_m2: Amount = 0.0
    neighbour_spray_every_days: Days = 0
    neighbour_product: SprayKind = "pyrethrins"
    neighbour_drift: Share = 0.0


class Enemies(Part):
    """How many natural enemies are about, as factors."""

    ground_beetles: Factor = 1.0
    spiders: Factor = 1.0
    lady_beetles: Factor = 1.0
    lacewings: Factor = 1.0
    parasitoid_wasps: Factor = 1.0


class Bees(Part):
    """How many bees are about, as factors."""

    honey_bees: Factor = 1.0
    bumble_bees: Factor = 1.0
    small_bees: Factor = 1.0


class Nests(Part):
    """Nests of one kind at one distance from the beds."""

    kind: NestKind
    distance_m: Amount
    count: Pairs = 1


class Birds(Part):
    """Nests in reach, how readily birds use the garden, and what else they find, as factors."""

    use_of_garden: Factor = 1.0
    territory_food: Factor = 1.0
    nests: tuple[Nests, ...] = ()


class Bed(Part):
    """One bed of one crop, or ``repeat`` beds that are alike."""

    name: Slug
    crop: CropName
    length_m: Annotated[float, Strict(), Field(gt=0, le=1000)]
    width_m: Annotated[float, Strict(), Field(gt=0, le=1000)]
    row_spacing_m: Annotated[float, Strict(), Field(ge=0.01, le=10)]
    plant_spacing_m: Annotated[float, Strict(), Field(ge=0.01, le=10)]
    plants: CountFromOne | None = None
    planted: MonthDay
    start: Literal["transplant", "seed"]
    harvest: Literal["picking", "once", "none"]
    self_fruitful: Truth = False
    vigour: Annotated[float, Strict(), Field(ge=0.5, le=1.3)] = 1.0
    hosted_last_year: Truth = False
    old_stalks: Truth = False
    transplant_eggs_per_plant: EggsPerPlant = 0.0
    repeat: Repeats = 1

    @property
    def plant_count(self) -> int:
        """Return how many plants stand in one such bed: as given, or as rows and spacing allow."""
        if self.plants is not None:
            return self.plants
        rows = max(1, int(round(self.width_m / self.row_spacing_m, 2)))
        return rows * max(1, int(round(self.length_m / self.plant_spacing_m, 2)))

    def each(self) -> tuple[Bed, ...]:
        """Return the single beds: this one, or ``repeat`` of them whose names end in -1, -2 and so on."""
        if self.repeat == 1:
            return (self,)
        return tuple(self.model_copy(update={"name": f"{self.name}-{n + 1}", "repeat": 1}) for n in range(self.repeat))


class GardenerDay(Part):
    """How much time the gardener has, what it is worth, and how often ripe crops are gone over if a plan is silent."""

    minutes_per_day: Annotated[float, Strict(), Field(ge=0)] = 120.0
    works_on: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    labour_usd_per_hour: Amount = 0.0
    pick_fruit_every_days: DaysFromOne = 3
    pick_leaves_every_days: DaysFromOne = 7


class Plan(Part):
    """A calendar of what a gardener does."""

    name: Slug
    title: Text
    about: Text = ""
    actions: tuple[Action, ...] = ()


class Scenario(Part):
    """A garden, its season, and the plans that can be tried in it."""

    name: Text = ""
    title: Text
    about: Text = ""
    place: Place
    season: SeasonDates = SeasonDates()
    pests: Pests = Pests()
    margin: Margin = Margin()
    enemies: Enemies = Enemies()
    bees: Bees = Bees()
    birds: Birds = Birds()
    beds: Annotated[tuple[Bed, ...], Field(min_length=1)]
    gardener: GardenerDay = GardenerDay()
    numbers: dict[str, Number | tuple[Number, ...]] = Field(default_factory=dict)
    plans: Annotated[tuple[Plan, ...], Field(min_length=1)]

    @field_validator("numbers", mode="before")
    @classmethod
    def _flatten(cls, raw: Any) -> Any:
        return dict(flat_items(raw)) if isinstance(raw, dict) else raw

    @model_validator(mode="after")
    def _hold_together(self) -> Self:
        check_season(self)
        check_amounts(self)  # first: the others spell every bed out
        check_beds(self)
        check_plans(self)
        return self

    @cached_property
    def single_beds(self) -> tuple[Bed, ...]:
        """Return every bed of the garden one by one, in the order of the file, repeated beds spelled out."""
        return tuple(single for bed in self.beds for single in bed.each())

    @cached_property
    def _positions(self) -> dict[str, tuple[int, ...]]:
        positions: dict[str, tuple[int, ...]] = {}
        place = 0
        for bed in self.beds:
            positions[bed.name] = tuple(range(place, place + bed.repeat))
            if bed.repeat > 1:
                positions |= {f"{bed.name}-{n + 1}": (place + n,) for n in range(bed.repeat)}
            place += bed.repeat
        return positions

    def bed_positions(self, names: Iterable[str] = ()) -> tuple[int, ...]:
        """Return the places in ``single_beds`` of named beds or groups of beds; of all beds if no name is given."""
        wanted = tuple(names)
        if not wanted:
            return tuple(range(len(self.single_beds)))
        for name in wanted:
            if name not in self._positions:
                said = tell("There is no bed '{name}' in '{garden}'", name=name, garden=self.name)
                raise ScenarioError(unknown(said, name, self._positions, is_listed=False))
        return tuple(sorted({place for name in wanted for place in self._positions[name]}))

    @property
    def plan_names(self) -> tuple[str, ...]:
        """Return the names of the plans in order."""
        return tuple(plan.name for plan in self.plans)

    def plan(self, name: str) -> Plan:
        """Return the plan of this name.

        Raises
        ------
        ScenarioError
            If there is none.
        """
        for plan in self.plans:
            if plan.name == name:
                return plan
        said = tell("There is no plan '{name}' in '{garden}'", name=name, garden=self.name)
        raise ScenarioError(unknown(said, name, self.plan_names))

    def actions_of(self, plan_name: str) -> tuple[Action, ...]:
        """Return a plan's actions, with picking added for beds that are picked and that the plan does not mention."""
        actions = self.plan(plan_name).actions
        mentioned = {
            place for action in actions if isinstance(action, Pick) for place in self.bed_positions(action.beds)
        }
        return actions + self._silent_picks(mentioned)

    def skipped_beds(self, plan_name: str) -> frozenset[int]:
        """Return the places in ``single_beds`` of beds that a plan leaves unplanted."""
        skips = (action for action in self.plan(plan_name).actions if isinstance(action, SkipBed))
        return frozenset(place for skip in skips for place in self.bed_positions(skip.beds))

    def _silent_picks(self, mentioned: set[int]) -> tuple[Pick, ...]:
        picked = [
            bed for place, bed in enumerate(self.single_beds) if bed.harvest == "picking" and place not in mentioned
        ]
        fruit = tuple(bed.name for bed in picked if bed.crop == "cucumber")
        leaves = tuple(bed.name for bed in picked if bed.crop != "cucumber")
        rhythms = ((fruit, self.gardener.pick_fruit_every_days), (leaves, self.gardener.pick_leaves_every_days))
        return tuple(Pick(do="pick", beds=beds, every_days=days) for beds, days in rhythms if beds)

    def with_changes(self, changes: Mapping[str, Any]) -> Scenario:
        """Return a scenario with other values at dotted keys, each checked; see ``sim.scenario.changes.changed``."""
        from sim.scenario.changes import changed  # that file needs this one

        return changed(self, changes)

    @property
    def fingerprint(self) -> str:
        """Return 12 hex digits that change with any value."""
        from sim.scenario.changes import fingerprint  # that file needs this one

        return fingerprint(self)

    @property
    def first_date(self) -> date:
        """Return the first day of the first season."""
        return date_in(self.season.first_day, self.season.calendar_year)

    @property
    def last_date(self) -> date:
        """Return the last day of the first season."""
        return date_in(self.season.last_day, self.season.calendar_year)
