"""Pictures of one question: words, alternative text, table and marks all say what the seasons said."""

import json

import altair as alt
import numpy as np
import pandas as pd
import pytest

from dashboard.charts import change_picture, ends_picture, energy_picture, guess_picture, seasons_picture
from dashboard.charts.days_picture import day_axis
from dashboard.charts.dressing import TITLE_LETTERS, dress
from dashboard.charts.scene import order_words, ranks
from dashboard.charts.sentences import ahead_means, order_sentence, standings
from dashboard.language.spoken import BY_MEASURE, SPOKEN
from dashboard.seasons.ends import (
    EVERY_KIND,
    GREW_UP,
    GROUPS,
    KINDS_MIXED,
    by_group,
    creatures,
    mean_ends,
    per_thousand,
)
from dashboard.seasons.wishes import Lived
from sim.cast import FATES, SPECIES, Fate, Species, Stage
from sim.measures import MEASURES
from tests.dashboard.invented import TITLES, comparison
from tests.dashboard.test_sentences import with_more_to_sell

SELL = BY_MEASURE["marketable_kg"]


def test_every_measure_spoken_of_is_one_that_the_model_reports():
    assert set(BY_MEASURE) <= set(MEASURES)
    assert len({one.title for one in SPOKEN}) == len(SPOKEN)


def test_every_fate_is_in_one_group():
    fates = [fate for group in GROUPS.values() for fate in group]
    assert sorted(fates) == sorted(Fate)


def ends_of(counts):
    ends = np.zeros((SPECIES, len(Stage), FATES), dtype=np.int32)
    for (species, stage, fate), count in counts.items():
        ends[species, stage, fate] = count
    return Lived({}, ends)


def test_ends_are_counted_once_and_adults_grew_up_however_they_ended():
    white, wasp = Species.CABBAGE_WHITE, Species.PARASITOID_WASP
    first = ends_of({(white, Stage.EGG, Fate.FAILED): 60, (white, Stage.ADULT, Fate.EATEN_BY_SPIDER): 20})
    second = ends_of({(white, Stage.INSTAR_2, Fate.EATEN_BY_SPIDER): 20, (wasp, Stage.ADULT, Fate.OLD_AGE): 7})
    ends = mean_ends([first, second], None)
    assert ends.sum() == 50
    groups = by_group(ends)
    assert groups[GREW_UP] == 10
    assert groups["eaten by crawling hunters"] == 10
    assert per_thousand(groups)["failed to hatch or moult"] == 600
    assert sum(per_thousand(groups).values()) == pytest.approx(1000)
    assert creatures(ends)["count"].sum() == 50
    assert per_thousand(by_group(mean_ends([second], Species.FLEA_BEETLE))) == {}


def test_ends_are_drawn_to_one_scale_and_told(tmp_path):
    thousands = {
        "nothing": {"starved": 0.0, GREW_UP: 400.0, "disease": 600.0},
        "net": {"starved": 0.4, GREW_UP: 999.6, "disease": 0.0},
        "spray_weekly": {},
    }
    scene = ends_picture.ends_scene(thousands, TITLES, "cabbage white")
    assert list(scene.table["Net it"]) == ["under 1", "1,000", "0"]
    assert set(scene.table["Spray every week by the calendar"]) == {"none"}
    assert "Do nothing: 600 disease" in scene.alt
    charts = [ends_picture.draw(scene, plan).to_dict() for plan in ("nothing", "net")]
    scales = [chart["layer"][0]["encoding"]["x"]["scale"]["domain"] for chart in charts]
    assert scales[0] == scales[1]


def test_kinds_shown_together_come_with_a_warning():
    """A plan that leaves only a hardy kind seems to spare eggs, though no kind fares better."""
    frail, hardy = {"starved": 900.0, GREW_UP: 100.0}, {"starved": 20.0, GREW_UP: 80.0}
    without, under_net = per_thousand({fate: frail[fate] + hardy[fate] for fate in frail}), per_thousand(hardy)
    assert under_net[GREW_UP] > without[GREW_UP]
    mixed = ends_picture.ends_scene({"nothing": without, "net": under_net, "spray_weekly": {}}, TITLES, EVERY_KIND)
    alone = ends_picture.ends_scene({"nothing": {}, "net": under_net, "spray_weekly": {}}, TITLES, "flea beetle")
    assert KINDS_MIXED in mixed.caption
    assert KINDS_MIXED not in alone.caption


def test_energy_discs_have_areas_in_proportion_and_one_scale():
    means = {
        "nothing": {"eaten_by_insects_kj": 4000.0, "insects_grown_kj": 1000.0, "plants_grown_kj": 100000.0},
        "net": {"eaten_by_insects_kj": 40.0, "insects_grown_kj": 0.0, "plants_grown_kj": 0.0},
    }
    plans = {name: TITLES[name] for name in means}
    scene = energy_picture.energy_scene(means, plans)
    assert "leaf that insects ate 4,000 kJ" in scene.alt
    assert not scene.frame["words"].str.contains("hedgerow").any()
    for plan, marks in (("nothing", 2), ("net", 1)):
        chart = energy_picture.draw(scene, plan).to_dict()
        discs = next(layer for layer in chart["layer"] if "size" in layer["encoding"])
        assert discs["encoding"]["size"]["scale"]["domain"] == [0, 4000.0]
        assert len(chart["datasets"][discs["data"]["name"]]) == marks
    assert "Of each 1,000 kJ, insects ate 40" in energy_picture.share_sentence(means["nothing"], "Do nothing")
    assert "nothing grew" in energy_picture.share_sentence(means["net"], "Net it")


def test_guess_and_outcome_stand_in_one_picture():
    scene = guess_picture.guess_scene(SELL, TITLES, (1, 2, 3), (10.0, 30.0, 30.0), 5)
    assert list(scene.table["Guessed"]) == ["1st", "2nd", "3rd"]
    assert list(scene.table["Season 5"]) == ["3rd", "1st", "1st"]
    assert "Net it = Spray every week by the calendar, then Do nothing" in scene.caption
    assert "0 of 3 plans" in scene.caption
    assert "Do nothing: guessed 1st, came 3rd with 10" in scene.alt
    assert len(scene.frame) == 6
    assert "url" not in json.dumps(guess_picture.draw(scene).to_dict())


@pytest.mark.parametrize(("seasons", "lines"), [(12, True), (31, False)])
def test_seasons_are_dots_and_joined_up_to_thirty(seasons, lines):
    scene = seasons_picture.seasons_scene(comparison(seasons=seasons).seasons, TITLES, SELL)
    assert len(scene.frame) == seasons * len(TITLES)
    marks = {layer["mark"]["type"] for layer in seasons_picture.draw(scene).to_dict()["layer"]}
    assert ("line" in marks) == lines
    assert ("A line joins" in scene.caption) == lines
    mean = comparison(seasons=seasons).table.set_index(["plan", "measure"])["mean"]["net", "marketable_kg"]
    assert f"Net it: mean {mean:.1f}" in scene.alt
    assert list(scene.table["Plan"]) == list(TITLES.values())


def test_a_plan_without_a_figure_says_none():
    seasons = comparison().seasons
    gap = seasons.assign(value=seasons["value"].mask(seasons["plan"] == "net"))
    scene = seasons_picture.seasons_scene(gap, TITLES, SELL)
    assert "Net it: none" in scene.alt
    assert list(scene.table.loc[1])[1:] == ["none"] * 3
    assert seasons_picture.draw(scene).to_dict()


def test_a_change_is_drawn_before_and_after():
    names = (change_picture.BEFORE, change_picture.AFTER)
    scene = change_picture.change_scene(comparison(plans=names).seasons, SELL)
    assert len(scene.frame) == 24
    assert all(name in scene.alt for name in names)
    assert change_picture.draw(scene).to_dict()["layer"]


@pytest.mark.parametrize(
    ("difference", "told"),
    [
        (2.5, "ahead in 12, level in 0, behind in 0 of 12; 2.5 kg more on average. **Ahead.**"),
        (-1.0, "ahead in 0, level in 0, behind in 12 of 12; 1.0 kg less on average. **Behind.**"),
        (0.0, "ahead in 0, level in 12, behind in 0 of 12; the same on average. **Level.**"),
        (
            [1.0] * 7 + [-1.0] * 5,
            "ahead in 7, level in 0, behind in 5 of 12; 0.17 kg more on average. **Too close to call",
        ),
    ],
)
def test_standings_count_seasons_and_call_them_by_one_rule(difference, told):
    assert told in standings(with_more_to_sell(difference), TITLES, SELL)[0]


def test_where_less_is_better_ahead_means_less():
    assert ahead_means(BY_MEASURE["labour_minutes"]).startswith("Ahead means less")
    assert ahead_means(SELL).startswith("Ahead means more")


def test_how_usual_the_first_order_is_is_told():
    said = order_sentence(with_more_to_sell([1.0] * 9 + [-1.0] * 3).seasons, TITLES, SELL)
    assert said == "Season 1, most first: Net it, then Do nothing. 9 of 12 seasons came out in that order."
    assert "one throw of the dice" in order_sentence(comparison(seasons=1).seasons, TITLES, SELL)


def test_orders_share_places():
    assert ranks([3.0, 5.0, 5.0, 1.0]) == [3, 1, 1, 4]
    assert order_words(["a", "b", "c"], [2, 1, 1]) == "b = c, then a"


def test_every_letter_of_a_picture_has_an_ink_of_its_own_whatever_the_page_looks_like():
    """Each is changed for another on a dark page; an ink that is left out would be the page's own."""
    scene = seasons_picture.seasons_scene(comparison().seasons, TITLES, SELL)
    config = seasons_picture.draw(scene).to_dict()["config"]
    assert config["background"] == "#ffffff"
    for part, inks in (("axis", ("labelColor", "titleColor")), ("legend", ("labelColor",)), ("title", ("color",))):
        assert all(config[part][ink] in ("#1b1b1b", "#4a4a4a") for ink in inks)


def test_a_long_title_takes_two_lines_so_that_a_phone_cuts_none():
    title = "of a picture that has rather much to say about it"
    chart = dress(alt.Chart(pd.DataFrame({"x": [1]})).mark_point(), title=title)
    assert chart.title["text"] == ["of a picture that has rather much to", "say about it"]
    assert max(map(len, chart.title["text"])) <= TITLE_LETTERS


def test_no_title_is_broken_inside_a_word_and_a_unit_stands_below_it():
    title = "Survival, stage by stage: all plant-eaters"
    chart = dress(alt.Chart(pd.DataFrame({"x": [1]})).mark_point(), title=title, unit="of 1,000 eggs")
    assert chart.title["text"] == ["Survival, stage by stage: all", "plant-eaters"]
    assert chart.title["subtitle"] == ["of 1,000 eggs"]


def test_an_arrow_that_falls_begins_below_the_words_of_its_disc():
    means = {"nothing": {disc.measure: 10.0 for disc in energy_picture.DISCS}}
    drawn = energy_picture.draw(energy_picture.energy_scene(means, {"nothing": "Nothing"}), "nothing")
    arrows = next(one.data for one in drawn.layer if "across_end" in getattr(one.data, "columns", ()))
    falling = arrows[arrows["up_end"] < arrows["up"]]
    assert len(falling) == 1
    assert (falling["across"] >= 1.4).all()  # beyond half a line of words, at the width of a phone
    assert (arrows["across_end"] > arrows["across"]).all()


def test_each_month_on_the_axis_of_days_has_its_short_name():
    frame = pd.DataFrame({"day": [0, 90], "first_day": "2025-03-01"})
    axis = day_axis(frame).to_dict()["axis"]
    assert axis["values"] == [0, 31, 61]
    assert axis["labelExpr"].startswith("datum.value == 0 ? 'Mar' : datum.value == 31 ? 'Apr'")


def test_the_last_line_of_words_ends_above_a_disc_of_the_top_row_however_many_there_are():
    means = {"nothing": {disc.measure: 10.0 for disc in energy_picture.DISCS}}
    scene = energy_picture.energy_scene(means, {"nothing": "Nothing"})
    words = {"insects_to_enemies_kj": "hunters", "territory_to_nestlings_kj": "food of some kind that came from afar"}
    scene.frame["words"] = scene.frame["measure"].map(words).fillna("words")
    top = energy_picture.draw(scene, "nothing").layer[-2].data
    assert list(top["label"].str.count("\n")) == [1, 3]
    assert list(top["up_px"]) == [-energy_picture.LINE_PX, -3 * energy_picture.LINE_PX]
