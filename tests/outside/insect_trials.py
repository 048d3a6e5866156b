"""Small trials that drive the insects of the model themselves: a rearing box, and gardens in weather of given months.

A ``Box`` holds one kind of insect on plants that are never used up, in chosen weather, with only those deaths that a
trial leaves on. Time is read as by an observer who looks once a day: a change counts as the middle of its day.
"""

from dataclasses import dataclass, field
from datetime import date, timedelta

import mesa
import numpy as np

from sim import run_season
from sim.cast import PRODUCTS, SPECIES, STAGES, Crop, Entry, Fate, Species, Stage, word
from sim.compiled import records
from sim.crops.plant import LEAF, LEAVES, PLACES, PLANT
from sim.insects.flight import flight_of_all
from sim.insects.population import Insects, SprayEffects
from sim.insects.record import HIDDEN, IN_SOIL, NOWHERE
from sim.insects.rules import own_pace
from sim.insects.table import GUILD, insect_table
from sim.parameters import load_parameters
from sim.randomness import child_key, normal, stream_key
from sim.surroundings import TODAY, open_ground

DEATHS = (
    "failed_share",
    "disease_per_day",
    "hunting_wasps_per_day",
    "other_parasitoids_per_day",
    "rain_loss",
    "heat_death_per_day",
    "cold_death_per_day",
)
"""Entries of each species that kill without a predator in sight."""
NO_SPRAYS = SprayEffects(np.zeros((PRODUCTS, SPECIES, STAGES)), np.zeros((PRODUCTS, SPECIES)), np.zeros(PRODUCTS))
BIG_LEAF_CM2 = 4000.0
BIRD_FATES = tuple(word(fate) for fate in Fate if word(fate).endswith("_bird"))


def unharmed(leave_on=(), **changes):
    """Return the table with every death but the named ones off and adults that stay; ``changes`` by dotted key."""
    off = {f"{key}.{name}": [0.0] * STAGES for key in GUILD.values() for name in DEATHS if name not in leave_on}
    stay = {f"{key}.stay_share": 1.0 for key in GUILD.values()}
    return load_parameters().with_changes(off | stay | changes)


def roomy(species, leave_on=(), **changes):
    """Return the table of ``unharmed`` with a cage in which adults lay and age as if free."""
    key = GUILD[species]
    return unharmed(leave_on, **{f"{key}.shut_in_egg_share": 1.0, f"{key}.shut_in_ageing": 1.0}, **changes)


def day_of(mean_c, *, swing_c=0.0, rain_mm=0.0, clear_share=1.0):
    """Return one midsummer day's record; ``swing_c`` is half of the way from the lowest to the highest temperature."""
    today = records(np.zeros(1, TODAY))
    today["day_of_year"], today["day_length_h"], today["clear_share"] = 172, 16.0, clear_share
    today["tmin_c"], today["tmax_c"], today["rain_mm"] = mean_c - swing_c, mean_c + swing_c, rain_mm
    return today


class Box:
    """One kind of insect on plants of its own; days are lived one by one."""

    def __init__(self, species, parameters=None, *, crop=None, plants=1, leaf_cm2=BIG_LEAF_CM2, sprays=NO_SPRAYS):
        self.species = species
        if crop is None:
            crop = Crop.CUCUMBER if species == Species.CUCUMBER_BEETLE else Crop.CABBAGE
        self.insects = Insects(
            mesa.Model(), insect_table(parameters or unharmed()), sprays, seed=5,
            first_plant=np.array([0, plants, plants]), expected_arrivals=np.zeros((1, SPECIES)),
        )  # fmt: skip
        self.plants = records(np.zeros(plants, PLANT))
        self.plants["crop"], self.plants["is_growing"], self.plants["leaf_area_cm2"] = int(crop), 1, leaf_cm2
        self.plants["infected_day"] = -1
        self.leaves = records(np.zeros((plants, LEAVES), LEAF))
        self.leaves["area_cm2"] = leaf_cm2 / LEAVES
        self.near = open_ground(np.ones(2))
        self.day = 0

    def put(self, stage, number, **values):
        """Put insects of one stage on the plants, in turn; return their records."""
        who, table = self.insects, self.insects.table
        who._make_room(number)
        first = who.count
        who.records[first : first + number] = 0
        for place in range(first, first + number):
            one = who.records[place]
            one["key"] = child_key(stream_key(11, "box", int(self.species)), place)
            one["species"], one["stage"], one["fate"], one["entry"] = self.species, stage, Fate.ALIVE, Entry.ARRIVED
            one["pace"] = own_pace(one["key"], float(table.fliers["pace_spread"][self.species]))
            one["mass_mg"] = table.life["start_mg"][self.species, stage]
            one["plant"], one["inside"], one["place"] = place % len(self.plants), -1, NOWHERE
            if table.life["in_soil"][self.species, stage] > 0:
                one["place"], one["exposure"] = IN_SOIL, HIDDEN
            if stage == Stage.ADULT:
                one["is_female"], one["life_dd"] = 1, table.fliers["life_dd"][self.species]
        who.count = first + number
        who.entries[Entry.ARRIVED, self.species] += number
        for name, value in values.items():
            who.records[name][first : who.count] = value
        return who.records[first : who.count]

    def shut(self):
        """Close the box, so that nobody leaves: a cage as good as the open (see ``roomy``)."""
        for way_in in (self.near.gets_in, self.near.fits_through, self.near.gap_pass):
            way_in[:] = 0.0
        self.near.beds["is_covered"] = 1

    @property
    def alive(self):
        """Return the records of the living."""
        return self.insects.records[: self.insects.count]

    @property
    def laid(self):
        """Return eggs laid so far."""
        return int(self.insects.entries[Entry.BORN, self.species])

    def clear_young(self):
        """Take all young away, so that only the first adults are followed."""
        young = self.alive["stage"] != Stage.ADULT
        self.alive["fate"][young] = Fate.CLEANED_UP
        self.insects.bury()

    def dead(self, *fates):
        """Return how many left by these fates in each stage, shape (STAGES,)."""
        return self.insects.exits[:, :, self.species][..., list(fates)].sum(axis=(0, 1, 3))

    def live(self, today, *, flies=False, sun_bonus_c=0.0, is_shortening=False):
        """Live one day of this weather with all the food there can be; adults try plants and lay only if asked to."""
        who, near = self.insects, self.near
        today["day"] = self.day
        for name in ("tmin_c", "tmax_c", "rain_mm"):
            near.beds[name] = today[name][0]
        near.beds["sun_bonus_c"] = sun_bonus_c
        demand = np.zeros((len(self.plants), PLACES))
        if flies:  # the morning's weather decides who will be on the wing
            weather = (float(today[name][0]) for name in ("tmax_c", "clear_share", "rain_mm"))
            flight_of_all(who.table.fliers, *weather, who.table.habits, who.flight)
        who.count_up(near)
        who.weigh(today[0], near)
        who.live(today[0], is_shortening, near, self.plants, self.leaves, demand)
        who.eat(today[0], self.plants, np.ones_like(demand))
        if flies:
            who.fly(today[0], near, np.arange(len(self.plants)), self.plants, self.leaves)
        who.bury()
        self.day += 1
        assert not who.balance().any()


@dataclass
class Rearing:
    """What was seen of a cohort, by stage: mean days to it, how many entered it, leaf eaten in it, mass before it."""

    days_to: dict = field(default_factory=dict)
    entered: dict = field(default_factory=dict)
    eaten_cm2: dict = field(default_factory=dict)
    mass_mg: dict = field(default_factory=dict)

    def days_in(self, first, last):
        """Return mean days from entering one stage to entering another."""
        return self.days_to[last] - self.days_to[first]


def rear(species, mean_c, *, swing_c=0.0, number=200, parameters=None, start=Stage.EGG, longest=400):
    """Rear a cohort to adults at one temperature on all the leaf that it wants."""
    box = Box(species, parameters)
    box.put(start, number)
    stage_of = dict.fromkeys(box.alive["key"].tolist(), int(start))
    days = {start: [0.0] * number}
    masses: dict = {}
    seen = Rearing()
    for day in range(longest):
        mass_before = dict(zip(box.alive["key"].tolist(), box.alive["mass_mg"].tolist(), strict=True))
        box.live(day_of(mean_c, swing_c=swing_c))
        for key, stage, want_cm2 in zip(
            *(box.alive[name].tolist() for name in ("key", "stage", "want_cm2")), strict=True
        ):
            if stage != stage_of[key]:
                days.setdefault(Stage(stage), []).append(day + 0.5)
                masses.setdefault(Stage(stage), []).append(mass_before[key])
                stage_of[key] = stage
            if stage != Stage.ADULT:
                seen.eaten_cm2[Stage(stage)] = seen.eaten_cm2.get(Stage(stage), 0.0) + want_cm2 / number
        if (box.alive["stage"] == Stage.ADULT).all():
            break
    seen.days_to = {stage: float(np.mean(times)) for stage, times in days.items()}
    seen.entered = {stage: len(times) for stage, times in days.items()}
    seen.mass_mg = {stage: float(np.mean(of_all)) for stage, of_all in masses.items()}
    return seen


def weather_of_months(path, monthly_mean_c, *, swing_c=6.0, rainy_every_days=5, rain_mm=12.0, year=2025):
    """Write a year of daily weather with these mean temperatures [°C], January first, and steady rain; return the path.

    Mid-month means are joined by straight lines; on rainy days the temperature swings half as far.
    """
    first = date(year, 1, 1)
    middles = [(date(year, month, 15) - first).days for month in range(1, 13)]
    lines = ["date,tmin_c,tmax_c,rain_mm"]
    for day in range(365):
        mean_c = float(np.interp(day, middles, monthly_mean_c))
        is_rainy = day % rainy_every_days == 0
        swing = swing_c / 2.0 if is_rainy else swing_c
        rain = rain_mm if is_rainy else 0.0
        lines.append(f"{first + timedelta(days=day)},{mean_c - swing:.2f},{mean_c + swing:.2f},{rain}")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def at_place(scenario, weather_file, latitude_deg, **changes):
    """Return a scenario that lives in the weather of a file; other changes by dotted key."""
    place = {"place.climate": None, "place.weather_file": str(weather_file), "place.latitude_deg": latitude_deg}
    return scenario.with_changes(place | {"place.elevation_m": 100.0} | changes)


def seasons(scenario, plan="nothing", seeds=range(1, 7)):
    """Return a season for each seed."""
    return [run_season(scenario, plan, seed) for seed in seeds]


def count(season, species, *fates, stages=None, place="beds", entry="born"):
    """Return how many of a species in a season's fate table died of the named fates; of any fate if none is named."""
    rows = season.fates
    chosen = (rows.species == word(species)) & (rows.place == place) & (rows.entry == entry)
    if stages is not None:
        chosen &= rows.stage.isin([word(stage) for stage in stages])
    if fates:
        chosen &= rows.fate.isin(fates)
    return int(rows["count"][chosen].sum())


def entered(season, species, stage):
    """Return how many of those born in the beds reached a stage."""
    return count(season, species, stages=[later for later in Stage if later >= stage])


def life_of_adults(species, days, *, number=200, plants=40, parameters=None):
    """Let newly emerged females live in a roomy cage in these days' weather; return eggs a day and alive each evening.

    Eggs of each day are for each female put in, shape (days,); the living are counted each evening, shape (days,).
    """
    box = Box(species, parameters or roomy(species), plants=plants)
    box.shut()
    adults = box.put(Stage.ADULT, number, inside=0)
    spread = load_parameters().number("insects.flight.life_spread")
    for one in adults:
        one["life_dd"] *= max(0.2, 1.0 + spread * normal(one["key"], 0, 6))
    eggs, alive = [], []
    for today in days:
        before = box.laid
        box.live(today, flies=True)
        eggs.append((box.laid - before) / number)
        box.clear_young()
        alive.append(box.insects.count)
    return np.array(eggs), np.array(alive)
