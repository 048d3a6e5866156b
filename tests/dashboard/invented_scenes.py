"""One scene of every picture function, of invented figures, to test what is drawn without running a season."""

from datetime import date

import numpy as np
import pandas as pd

from dashboard.charts.calendar_picture import calendar_scene
from dashboard.charts.caring_picture import caring_scene
from dashboard.charts.change_picture import AFTER, BEFORE, change_scene
from dashboard.charts.curve_picture import curve_scene
from dashboard.charts.days_picture import days_scene, deeds_scene
from dashboard.charts.ends_picture import ends_scene
from dashboard.charts.energy_picture import DISCS, energy_scene
from dashboard.charts.guess_picture import guess_scene
from dashboard.charts.seasons_picture import seasons_scene
from dashboard.charts.stages_picture import stages_scene
from dashboard.charts.starving_picture import starving_scene
from dashboard.charts.summary import summary_picture
from dashboard.charts.weeks_picture import weeks_scene
from dashboard.language.spoken import BY_MEASURE
from dashboard.lesson.caring import Way
from dashboard.seasons.daily import PLACE
from dashboard.seasons.ends import GREW_UP, GROUPS
from dashboard.seasons.starving import EATERS, KILLED, Miss
from sim.cast import FATES, Stage
from tests.dashboard.invented import comparison

SELL = BY_MEASURE["marketable_kg"]
FIRST_DAY = date(2025, 3, 1)
DAYS = 200
UNEVEN = (0.0, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0)
"""Values of a curve of which the first lie close together."""


def season_days(plan, covered=3.0, sprays=7):
    day = np.arange(DAYS)
    return pd.DataFrame(
        {
            "date": pd.date_range("2025-03-01", periods=DAYS).strftime("%Y-%m-%d"),
            "covered_beds": np.where((day > 30) & (day < 150), covered, 0.0) * (plan != "nothing"),
            "beds_sprayed": np.where(day % sprays == 0, 2.0, 0.0) * (plan == "spray_weekly"),
            "harvest_kg": np.where((day > 60) & (day % 3 == 0), 1.0, 0.0),
            "nestlings": np.where((day > 60) & (day < 90), 5.0, 0.0),
        }
    )


def ways_of(titles):
    first, *_others, last = titles
    shares = {plan: place / (len(titles) - 1) for place, plan in enumerate(titles)}
    other = {plan: 1 - share for plan, share in shares.items()}
    return [
        Way("marketable_kg", (first, 3.0), (last, 9.0), shares, is_open=False),
        Way("bird_food_reachable_g", (last, 1.0), (first, 4.0), other, is_open=False),
    ]


def days_of(titles):
    wave = np.abs(np.sin(np.arange(DAYS) / 40))[None, :, None] * np.ones((12, 1, len(PLACE)))
    days = {plan: wave * (place + 1) for place, plan in enumerate(titles)}
    for place, plan in enumerate(titles):
        book = season_days(plan)
        days[plan][:, :, PLACE["covered"]] = book["covered_beds"] * (place % 2)
        days[plan][:, :, PLACE["sprayed"]] = np.where(np.arange(DAYS) % 9 == place, 2.0, 0.0) * (place > 1)
    return days


def counts_of(titles):
    counts = {}
    for place, plan in enumerate(titles):
        counts[plan] = np.zeros((len(Stage), FATES))
        for stage in Stage:
            counts[plan][stage, 0] = 1000.0 / (1 + int(stage) + place) ** 2
    return counts


def misses_of(titles):
    words = [KILLED, *EATERS.values()]
    return {
        plan: [
            Miss(one, 11.0 * place * (-1) ** row + row, is_open=(row + place) % 3 == 1) for row, one in enumerate(words)
        ]
        for place, plan in enumerate(titles)
    }


def weeks_of(titles):
    return {
        plan: {week: 3 + (7 * week + 11 * place) % 40 for week in range(4 + place, 24)}
        for place, plan in enumerate(titles)
    }


def curve_of(places=UNEVEN, said=None):
    chance = np.random.default_rng(5)
    rows = [
        (str(number), season, SELL.measure, 20 + 9 * number + chance.normal(0, 4))
        for number in range(len(places))
        for season in range(1, 11)
    ]
    seasons = pd.DataFrame(rows, columns=["plan", "seed", "measure", "value"])
    said = said or [f"{place:g}" for place in places]
    return curve_scene(seasons, places, said, 2, "Open edges of the net, share of its length", SELL)


def change_of():
    return change_scene(comparison(plans=(BEFORE, AFTER)).seasons, SELL)


def scenes_of(titles):
    """Return name → scene; names are those of the drawers on paper, and of pictures that share one."""
    seasons = comparison(plans=tuple(titles)).seasons
    fates = [*GROUPS, GREW_UP]
    ends = {plan: {fate: 1000 / len(fates) for fate in fates} for plan in titles}
    energy = {plan: {disc.measure: 100.0 * (place + 1) for place, disc in enumerate(DISCS)} for plan in titles}
    places = list(range(1, len(titles) + 1))
    days = days_of(titles)
    return {
        "seasons": seasons_scene(seasons, titles, SELL),
        "change": change_of(),
        "ends": ends_scene(ends, titles, "all plant-eaters"),
        "energy": energy_scene(energy, titles),
        "guess": guess_scene(SELL, titles, places, [float(place) for place in places], 1),
        "summary": summary_picture(seasons, titles, "An invented garden"),
        "caring": caring_scene(ways_of(titles), {"marketable_kg": 2}, titles),
        "days": days_scene(days, next(iter(PLACE)), titles, FIRST_DAY),
        "deeds": deeds_scene(days, titles, FIRST_DAY),
        "calendar": calendar_scene({plan: season_days(plan) for plan in titles}, titles, 1),
        "curve": curve_of(),
        "stages": stages_scene(counts_of(titles), titles, "all plant-eaters"),
        "starving": starving_scene(misses_of(titles), titles),
        "weeks": weeks_scene(weeks_of(titles), titles, "All plant-eaters: starved", FIRST_DAY, DAYS),
    }
