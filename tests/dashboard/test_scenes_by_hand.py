"""Pictures of figures so few that each mark and each word can be reckoned by hand."""

import math
from datetime import date

import numpy as np
import pandas as pd
import pytest

from dashboard.charts import energy_picture, guess_picture
from dashboard.charts.curve_picture import curve_scene
from dashboard.charts.days_picture import NET, SPRAY, days_scene, deeds_scene
from dashboard.charts.weeks_picture import weeks_scene
from dashboard.language.spoken import BY_MEASURE
from dashboard.seasons.daily import PLACE

FIRST_DAY = date(2025, 3, 1)
PLANS = {"nothing": "Do nothing", "net": "Net it"}
SHARE = BY_MEASURE["marketable_share"]


# -- energy


def arrows_of(means):
    scene = energy_picture.energy_scene({"nothing": means}, {"nothing": "Nothing"})
    chart = energy_picture.draw(scene, "nothing")
    return next(one.data for one in chart.layer if "across_end" in getattr(one.data, "columns", ()))


def test_the_head_of_an_arrow_points_the_way_that_it_goes():
    arrows = arrows_of({disc.measure: 10.0 for disc in energy_picture.DISCS})
    rise = np.sign(arrows["up_end"] - arrows["up"])
    assert set(rise) == {-1.0, 0.0, 1.0}
    assert (np.sign(arrows["turn"]) == -rise).all()  # Vega turns clockwise


def test_no_arrow_leads_to_an_eater_that_is_not_drawn():
    assert len(arrows_of({"eaten_by_insects_kj": 10.0, "insects_grown_kj": 5.0, "insects_to_birds_kj": 1.0})) == 2
    assert len(arrows_of({"eaten_by_insects_kj": 10.0, "insects_grown_kj": 5.0})) == 1


def test_words_stand_just_outside_their_disc():
    means = {"eaten_by_insects_kj": 100.0, "insects_grown_kj": 25.0, "insects_to_enemies_kj": 25.0}
    scene = energy_picture.energy_scene({"nothing": means}, {"nothing": "Nothing"})
    chart = energy_picture.draw(scene, "nothing")
    words = pd.concat([one.data for one in chart.layer if "words_at" in getattr(one.data, "columns", ())])
    px_to_plane = (energy_picture.UP[1] - energy_picture.UP[0]) / energy_picture.HEIGHT_PX
    largest_px = math.sqrt(energy_picture.LARGEST_AREA_PX / math.pi) + energy_picture.WORDS_APART_PX
    at = words.drop_duplicates("measure").set_index("measure")
    away = (at["words_at"] - at["up"]) / px_to_plane
    assert away["eaten_by_insects_kj"] == pytest.approx(-largest_px)
    assert away["insects_to_enemies_kj"] > 0.0 > away["insects_grown_kj"]  # above the top row, else below
    assert away["insects_to_enemies_kj"] == pytest.approx(-away["insects_grown_kj"])


# -- a guess and its outcome


def test_a_guess_is_drawn_hollow_and_the_season_with_its_figure_in_the_readers_unit():
    scene = guess_picture.guess_scene(SHARE, PLANS, (1, 2), (0.25, 0.5), 5)
    marks = scene.frame.set_index(["plan", "kind"])
    assert marks["place"].to_dict() == {
        ("nothing", guess_picture.GUESSED): 1, ("nothing", guess_picture.TAKEN): 2,
        ("net", guess_picture.GUESSED): 2, ("net", guess_picture.TAKEN): 1,
    }  # fmt: skip
    assert marks["figure"]["nothing", guess_picture.TAKEN] == "25"
    assert marks["figure"]["net", guess_picture.GUESSED] == ""
    assert list(scene.table.iloc[:, -1]) == ["25", "50"]


# -- over the days


def test_a_week_is_drawn_from_its_first_day_and_the_first_of_equal_weeks_is_told():
    scene = weeks_scene({"nothing": {2: 7, 5: 7, 3: 1}, "net": {}}, PLANS, "eaten", FIRST_DAY, 60)
    assert list(scene.frame["day"]) == [14, 21, 35]
    assert list(scene.frame["count"]) == [7, 1, 7]
    assert "Do nothing: 15 in all, most, 7, in the week from March 15" in scene.alt
    assert "Net it: 0 in all." in scene.alt
    assert list(scene.table["Net it"]) == ["0", "0", "0"]


def some_days(count, **series):
    """Return a season of two plans: nothing for the one, for the other these values on these days."""
    days = {plan: np.zeros((1, count, len(PLACE))) for plan in PLANS}
    for name, values in series.items():
        for day, value in values.items():
            days["net"][0, day, PLACE[name]] = value
    return days


def test_a_net_is_drawn_to_the_evening_of_its_last_day_and_told_by_that_day():
    covered = dict.fromkeys([0, 1, 2, 10], 1.0)
    scene = deeds_scene(some_days(40, covered=covered, sprayed={5: 1.0, 39: 1.0}), PLANS, FIRST_DAY)
    spans = scene.frame[["deed", "day", "end"]].to_numpy().tolist()
    assert spans == [[NET, 0, 3], [NET, 10, 11], [SPRAY, 5, 6], [SPRAY, 39, 40]]
    assert list(scene.table.iloc[0]) == ["Do nothing", "never", "0"]
    assert list(scene.table.iloc[1]) == ["Net it", "March 1 to March 3, March 11 to March 11", "2"]
    assert scene.axis == "2025-03-01/2025-04-09"


def test_a_month_of_the_table_is_the_mean_of_its_own_days():
    late = dict.fromkeys(range(40, 61), 12.0)  # from ten days into April; a week that ends in March has none of it
    scene = days_scene(some_days(61, spiders=late), "spiders", PLANS, FIRST_DAY)
    march, april = scene.table["Net it"]
    means = scene.frame[scene.frame["plan"] == "net"]["value"].to_numpy()
    assert march == "0"
    assert float(april) == pytest.approx(means[31:].mean(), abs=0.05)
    assert list(scene.table["Do nothing"]) == ["0", "0"]


# -- along a choice


def test_the_value_that_the_plan_has_is_ringed_and_named():
    rows = [("0", seed, "marketable_share", 0.2) for seed in (1, 2)] + [("1", 1, "marketable_share", 0.6)]
    seasons = pd.DataFrame(rows, columns=["plan", "seed", "measure", "value"])
    scene = curve_scene(seasons, [0.0, 7.0, 14.0], ["0 days", "7 days", "14 days"], 1, "Delay", SHARE)
    assert list(scene.frame["is_now"]) == [False, False, True]
    assert list(scene.frame["at"]) == [0.0, 0.0, 7.0]
    assert list(scene.frame["value"]) == pytest.approx([20.0, 20.0, 60.0])
    assert list(scene.table["Delay"]) == ["0 days", "7 days (as it was)", "14 days"]
    assert list(scene.table.iloc[:, -1])[:2] == ["20", "60"]


def test_a_part_of_a_part_of_a_picture_keeps_the_looks_of_the_whole():
    scene = guess_picture.guess_scene(SHARE, {**PLANS, "spray": "Spray"}, (1, 2, 3), (0.2, 0.5, 0.4), 5)
    part = scene.only("net", "spray").only("spray")
    assert part.number_of("spray") == scene.number_of("spray")
