"""When insects come, peak and follow each other through a season, in weather built from the monthly means of a place.

The means are from memory of the places' normals; the weather between them is straight lines, and no year's.
"""

from datetime import date
from itertools import pairwise

import numpy as np
import pytest

from sim import load_scenario
from sim.cast import Entry, Fate, Species, Stage, word
from sim.parameters import load_parameters
from sim.weather.files import read_weather
from tests.outside.insect_trials import Box, at_place, roomy, seasons, weather_of_months
from tests.outside.register import check

WHITE, LOOPER, DIAMONDBACK = Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH
QUEBEC = (45.5, [-9.0, -7.5, -2.0, 6.0, 13.0, 18.2, 20.8, 19.6, 14.8, 8.2, 1.5, -6.0])
WISCONSIN = (43.1, [-7.5, -5.5, 1.0, 8.0, 14.5, 20.0, 22.3, 21.0, 16.5, 10.0, 2.5, -5.0])
MASSACHUSETTS = (42.3, [-3.0, -2.0, 2.5, 8.5, 14.5, 19.5, 22.5, 21.8, 17.5, 11.5, 5.5, 0.0])
SEEDS = range(1, 9)
JANUARY_FIRST = date(2025, 1, 1)


@pytest.fixture(scope="module")
def weather_file(tmp_path_factory):
    """Return a function that gives the weather file of a place."""
    folder = tmp_path_factory.mktemp("weather")

    def file_of(place):
        latitude_deg, monthly_mean_c = place
        return weather_of_months(folder / f"{latitude_deg}.csv", monthly_mean_c)

    return file_of


@pytest.fixture(scope="module")
def unprotected(weather_file):
    """Return a function that gives seasons of an unprotected leaf bed at a place."""

    def seasons_at(place):
        leaf_bed = load_scenario("leaf_bed").with_changes(
            {"beds.collards.planted": "04-20", "beds.kale.planted": "04-20"}
        )
        return seasons(at_place(leaf_bed, weather_file(place), place[0]), seeds=SEEDS)

    return seasons_at


def first_days(all_seasons, species):
    """Return the day of the year with the first eggs in each season that has any."""
    days = []
    for season in all_seasons:
        eggs = season.daily[f"{word(species)}_eggs"].to_numpy()
        if eggs.any():
            days.append(day_of_year(season.daily["date"][int(np.argmax(eggs > 0))]))
    return days


def day_of_year(text):
    return (date.fromisoformat(text) - JANUARY_FIRST).days + 1


@check(
    "in south-western Quebec diamondback moths lay first in the first week of June, 10 May to 15 June",
    source="gb98",
    read="read: abstract",
    independent=False,
)
def test_first_eggs_of_diamondback_moths_in_quebec(unprotected):
    first = np.median(first_days(unprotected(QUEBEC), DIAMONDBACK))
    assert day_of_year("2025-05-10") <= first <= day_of_year("2025-06-15")


@check(
    "loopers fly in from the south: in a northern garden most caterpillars are there after July",
    source="uwlooper",
    read="read",
    independent=False,
)
def test_loopers_come_late_to_the_north(unprotected):
    in_quebec = unprotected(QUEBEC)
    peaks = [day_of_year(s.daily["date"][int(s.daily[f"{word(LOOPER)}_young"].argmax())]) for s in in_quebec]
    assert np.median(peaks) > day_of_year("2025-07-31")


@check(
    "crucifer flea beetles in Massachusetts feed in two peaks, June and August, within three weeks",
    source="and05",
    read="read: abstract",
    independent=False,
)
def test_two_peaks_of_flea_beetles(unprotected):
    beetles = np.mean([season.daily["flea_beetle_adults"] for season in unprotected(MASSACHUSETTS)], axis=0)
    smooth = np.convolve(beetles, np.ones(15) / 15.0, "same")
    first_row = day_of_year("2025-03-01")
    day = np.arange(len(smooth)) + first_row
    middle = day[(day > 170) & (day < 225)][np.argmin(smooth[(day > 170) & (day < 225)])]
    early, late = day[day < middle][np.argmax(smooth[day < middle])], day[day > middle][np.argmax(smooth[day > middle])]
    assert abs(early - day_of_year("2025-06-15")) <= 21
    assert abs(late - day_of_year("2025-08-15")) <= 21
    assert smooth[middle - first_row] < 0.9 * min(smooth[early - first_row], smooth[late - first_row])


def days_of_most_eggs(species, weather, first_day):
    """Return the days on which each generation lays most, one cohort begetting the next, till none lays any more.

    A cohort of eggs laid on one day is followed to the eggs of its daughters; the day of most of these begins the next.
    """
    bonus_c = load_parameters().number("nets.sun_bonus_c")
    days = [first_day]
    while True:
        box = Box(species, roomy(species), plants=20)
        box.shut()
        box.put(Stage.EGG, 60, inside=0)
        laid = []
        for day in range(days[-1], len(weather)):
            today = weather[day : day + 1].copy()
            before = box.laid
            shortening = bool(weather["day_length_h"][day] < weather["day_length_h"][day - 1])
            sun_bonus_c = bonus_c * float(today["clear_share"][0])
            box.live(today, flies=True, sun_bonus_c=sun_bonus_c, is_shortening=shortening)
            laid.append(box.laid - before)
            box.alive["fate"][box.alive["entry"] == Entry.BORN] = Fate.CLEANED_UP
            box.insects.bury()
        if sum(laid) < 60:
            return days
        days.append(days[-1] + int(np.argmax(np.convolve(laid, np.ones(5), "same"))))


def generations(species, place, weather_file, first_date):
    latitude_deg, _ = place
    weather = read_weather(weather_file(place), latitude_deg=latitude_deg, elevation_m=100.0).days
    return weather, days_of_most_eggs(species, weather, day_of_year(first_date) - 1)


@check("cabbage white has three generations in Quebec", source="gb98", read="read: abstract", independent=True)
@check(
    "from one generation's eggs to the next pass 320 degree-days above 10 °C there, 290 to 380",
    source="gb98",
    read="read: abstract",
    independent=False,
)
def test_generations_of_cabbage_white_in_quebec(weather_file):
    weather, days = generations(WHITE, QUEBEC, weather_file, "2025-05-27")
    assert len(days) == 3
    above_c = np.maximum(0.0, (weather["tmin_c"] + weather["tmax_c"]) / 2.0 - 10.0)
    for first, second in pairwise(days):
        assert 290.0 <= above_c[first:second].sum() <= 380.0


@check("cabbage white has three or four generations in Wisconsin", source="ufic", read="read", independent=True)
def test_generations_of_cabbage_white_in_wisconsin(weather_file):
    _, days = generations(WHITE, WISCONSIN, weather_file, "2025-05-20")
    assert 3 <= len(days) <= 4


@check(
    "cabbage whites of late summer lay no more: their young go to winter rest as pupae when days fall below 13 h",
    source="ufic",
    read="read",
    independent=False,
)
def test_pupae_of_autumn_rest(unprotected):
    everybody = [season.garden.insects.records[: season.garden.insects.count] for season in unprotected(QUEBEC)]
    alive = np.concatenate(everybody)
    pupae = alive[(alive["species"] == WHITE) & (alive["stage"] == Stage.PUPA)]
    assert len(pupae)
    assert pupae["is_resting"].mean() > 0.9


@check(
    "caterpillars of cabbage white are on autumn crops in the warm south as well: eggs in September and October",
    source="gk95",
    read="read: abstract",
    independent=True,
)
def test_autumn_generation_in_the_south():
    autumn = [
        season.daily["cabbage_white_young"][season.daily["date"].between("2025-09-10", "2025-10-10")].mean()
        for season in seasons(load_scenario("leaf_bed"), seeds=SEEDS)
    ]
    assert np.mean(autumn) > 1.0
