"""Who comes in: expected numbers by place and date, streams of chance, winter rest and transplants."""

import numpy as np
import pytest

from sim.cast import SPECIES, Crop, Entry, Fate, Species, Stage, word
from sim.insects.arrivals import females_per_day, pressures, wintered_numbers
from sim.insects.record import IN_SOIL, ON_STALKS
from sim.parameters import load_parameters
from tests.outside.insect_trials import Box, unharmed

P = load_parameters()
DAYS = np.arange(1, 366)


def test_comers_of_a_day_follow_the_table_at_mid_month():
    table = females_per_day(P, 45.0, np.array([196, 197]))  # the middle of July
    july = P.numbers("arrivals.females_per_day.north.cabbage_white")[4]
    assert table[:, Species.CABBAGE_WHITE].mean() == pytest.approx(july, rel=0.02)


def test_places_between_south_and_north_lie_between():
    south, middle, north = (females_per_day(P, latitude_deg, DAYS) for latitude_deg in (30.0, 39.0, 50.0))
    assert np.all(middle <= np.maximum(south, north) + 1e-12)
    assert np.all(middle >= np.minimum(south, north) - 1e-12)
    assert np.array_equal(females_per_day(P, -39.0, DAYS), middle)


def test_nobody_comes_in_deep_winter():
    assert not females_per_day(P, 40.0, np.array([1, 40, 350, 365])).any()


def test_years_differ_around_a_mean_of_one():
    area_m2 = np.full(SPECIES, P.number("arrivals.place.reference_area_m2"))
    years = np.array([pressures(P, seed, area_m2, np.ones(SPECIES)) for seed in range(3000)])
    spread = P.numbers("arrivals.place.year_spread")
    error = np.sqrt(np.exp(spread**2) - 1.0) / np.sqrt(len(years))
    assert np.all(np.abs(years.mean(axis=0) - 1.0) < 4.0 * error)
    assert np.log(years).std(axis=0) == pytest.approx(spread, rel=0.1)


def test_no_host_no_comers_and_twice_the_factor_twice_the_comers():
    area_m2 = np.full(SPECIES, 6.0)
    area_m2[Species.CUCUMBER_BEETLE] = 0.0
    once, twice = (pressures(P, 5, area_m2, np.full(SPECIES, factor)) for factor in (1.0, 2.0))
    assert once[Species.CUCUMBER_BEETLE] == 0.0
    assert twice == pytest.approx(2.0 * once)


def test_wintering_needs_a_host_last_year_in_soil_or_old_stalks():
    per_m2, in_soil = np.full(SPECIES, 2.0), np.zeros(SPECIES)
    in_soil[Species.FLEA_BEETLE] = 1.0

    def mean(hosted, stalks):
        return np.mean([wintered_numbers(per_m2, 5.0, in_soil, hosted, stalks, seed, 0) for seed in range(400)], axis=0)

    assert not mean(False, False).any()
    hosted, stalks = mean(True, False), mean(False, True)
    assert hosted[Species.FLEA_BEETLE] == pytest.approx(10.0, abs=0.7)
    assert not np.delete(hosted, Species.FLEA_BEETLE).any()
    assert stalks[Species.CABBAGE_WHITE] == pytest.approx(10.0, abs=0.7)
    assert stalks[Species.FLEA_BEETLE] == 0.0


@pytest.mark.parametrize(
    ("species", "stage", "place"),
    [
        (Species.CABBAGE_WHITE, Stage.PUPA, ON_STALKS),
        (Species.PARASITOID_WASP, Stage.PUPA, ON_STALKS),
        (Species.HARLEQUIN_BUG, Stage.ADULT, ON_STALKS),
        (Species.FLEA_BEETLE, Stage.ADULT, IN_SOIL),
    ],
)
def test_each_species_winters_in_its_own_way(species, stage, place):
    box = Box(species, unharmed())
    numbers = np.zeros(SPECIES, np.int64)
    numbers[species] = 12
    box.insects.winter_in(0, numbers)
    assert box.insects.entries[Entry.OVERWINTERED, species] == 12
    assert (box.alive["stage"] == stage).all()
    assert (box.alive["place"] == place).all()
    assert (box.alive["is_resting"] == 1).all()
    assert (box.alive["life_dd"] >= 0.0).all()
    assert len(set(box.alive["key"].tolist())) == 12


def test_transplants_bring_eggs_around_their_mean():
    box = Box(Species.CABBAGE_WHITE, unharmed(), plants=400, crop=Crop.KALE)
    box.insects.come_with_transplants(0, 0.5, 0)
    assert box.insects.count == pytest.approx(200, abs=60)
    assert (box.alive["stage"] == Stage.EGG).all()
    assert (box.alive["fate"] == Fate.ALIVE).all()


def test_every_species_has_a_row_north_and_south():
    for side in ("north", "south"):
        for species in Species:
            assert len(P.numbers(f"arrivals.females_per_day.{side}.{word(species)}")) == 9


def test_a_good_year_for_one_species_says_nothing_of_another():
    area_m2 = np.full(SPECIES, P.number("arrivals.place.reference_area_m2"))
    years = np.log([pressures(P, seed, area_m2, np.ones(SPECIES)) for seed in range(1000)])
    linked = np.corrcoef(years[:, years.std(axis=0) > 0].T)[np.triu_indices(SPECIES, 1)]
    assert len(linked) > 1
    assert np.abs(linked).max() < 4.5 / np.sqrt(len(years))  # standard errors, of the widest of many pairs


def test_each_egg_on_a_transplant_has_luck_of_its_own():
    box = Box(Species.CABBAGE_WHITE, unharmed(), plants=10, crop=Crop.KALE)
    box.insects.come_with_transplants(0, 8.0, 0)
    assert box.insects.count > 40  # several on a plant
    assert len(set(box.alive["key"].tolist())) == box.insects.count
