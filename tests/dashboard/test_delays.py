"""What comes later is found in the days themselves: dips that were put there are told with their dates."""

from datetime import date

import numpy as np
import pytest

from dashboard.charts.days_picture import days_scene, deeds_scene, draw, draw_deeds
from dashboard.language.saying import short_number
from dashboard.language.tongue import speaking
from dashboard.seasons.daily import COLUMNS_OF, PLACE, TITLES, UNITS, WEEK, days_of, smooth
from dashboard.seasons.delays import CHAINS, delay_sentences, first_deed, gap_of
from sim.chronicle import COLUMNS, Chronicle

FIRST = date(2025, 3, 1)
PLANS = {"nothing": "Do nothing", "spray": "Spray it"}
SEASONS, DAYS = 12, 200
SPRAYED, FEWER, HUNGRY, BACK = 40, 50, 80, 120


def invented(seasons=SEASONS):
    """Return days in which a spray on day 40 costs caterpillars from day 50 and bird food from day 80; spiders dip."""
    luck = np.random.default_rng(5).uniform(0.9, 1.1, size=(seasons, 1))
    plain = np.zeros((seasons, DAYS, len(COLUMNS_OF)))
    for series in ("caterpillars", "bird_food", "spiders"):
        plain[:, :, PLACE[series]] = 100 * luck
    other = plain.copy()
    other[:, SPRAYED, PLACE["sprayed"]] = 3
    other[:, FEWER:, PLACE["caterpillars"]] *= 0.2
    other[:, HUNGRY:, PLACE["bird_food"]] *= 0.5
    other[:, FEWER:BACK, PLACE["spiders"]] *= 0.4
    return {"nothing": plain, "spray": other}


def test_every_column_that_is_kept_is_in_the_day_book_and_every_series_has_words():
    assert {name for names in COLUMNS_OF.values() for name in names} <= set(COLUMNS)
    book = Chronicle(3)
    book.column("lady_beetles")[:] = 2
    book.column("lacewings")[:] = 5
    assert days_of(book)[:, PLACE["aphid_eaters"]].tolist() == [7, 7, 7]
    assert {series for _words, chain in CHAINS.values() for series in chain} <= set(TITLES) & set(UNITS)


def test_the_ends_of_a_season_are_not_smoothed_towards_nothing():
    assert smooth(np.full((2, 30), 6.0)) == pytest.approx(6.0)


def test_a_day_is_not_told_of_the_days_after_it():
    smoothed = smooth(np.repeat([0.0, 7.0], 10))
    assert not smoothed[:10].any()
    assert smoothed[10:].tolist() == [1, 2, 3, 4, 5, 6, 7, 7, 7, 7]


def test_a_cause_its_effect_and_the_days_between_are_found():
    days = invented()
    assert first_deed(days, "spray", "nothing") == ("sprayed", SPRAYED)
    fewer, hungry = (gap_of(days, "spray", "nothing", series) for series in ("caterpillars", "bird_food"))
    assert 0 <= fewer.onset - FEWER <= 3
    assert hungry.onset - fewer.onset == HUNGRY - FEWER
    assert gap_of(days, "spray", "nothing", "aphids").onset is None
    said = delay_sentences(days, ("caterpillars", "bird_food"), PLANS, FIRST)
    assert len(said) == 1
    assert "The first spray is on April 10." in said[0]
    assert f"That is {HUNGRY - FEWER} days after 'caterpillars on the crops' did." in said[0]


def test_a_difference_that_nobody_would_see_is_not_clear_yet():
    days = invented()
    days["spray"][:, SPRAYED:FEWER, PLACE["caterpillars"]] *= 0.999  # in every season, and next to nothing
    assert gap_of(days, "spray", "nothing", "caterpillars").onset >= FEWER


def test_an_order_that_turns_later_is_told():
    days = invented()
    assert gap_of(days, "spray", "nothing", "caterpillars").turned is None
    days["spray"][:, BACK:, PLACE["caterpillars"]] *= 10
    assert 0 <= gap_of(days, "spray", "nothing", "caterpillars").turned - BACK < WEEK
    said = delay_sentences(days, ("caterpillars",), PLANS, FIRST)[0]
    assert "it is the other way round" in said


def test_hunters_that_dip_come_back_or_do_not():
    days = invented()
    assert 0 <= gap_of(days, "spray", "nothing", "spiders").back - BACK < WEEK
    assert "They are nearly back" in delay_sentences(days, ("spiders",), PLANS, FIRST)[0]
    days["spray"][:, BACK:, PLACE["spiders"]] *= 0.3
    assert "not back by the end" in delay_sentences(days, ("spiders",), PLANS, FIRST)[0]


def test_chance_alone_and_few_seasons_tell_of_no_delay():
    chance = np.random.default_rng(9)
    shape = (SEASONS, DAYS, len(COLUMNS_OF))
    days = {plan: chance.uniform(0, 100, size=shape) for plan in PLANS}
    for plan in days:
        days[plan][:, :, [PLACE["covered"], PLACE["sprayed"]]] = 0
    said = delay_sentences(days, ("caterpillars",), PLANS, FIRST)[0]
    assert "no clear difference on any day" in said
    few = delay_sentences(invented(5), ("caterpillars",), PLANS, FIRST)
    assert few == ["A delay can be told from nine seasons on: look at more of them."]


@pytest.mark.statistical
@pytest.mark.parametrize("seasons", [9, 20])
def test_numbers_that_change_slowly_seldom_differ_by_luck_on_any_day(seasons):
    """The null of a whole season, not of a day: slow numbers of one kind, half of them called another plan's."""
    chance = np.random.default_rng(21)
    keeps, tries, found = 0.97, 150, 0  # half of a difference is left after three weeks
    for _ in range(tries):
        steps = chance.normal(size=(2 * seasons, DAYS))
        slow = np.zeros_like(steps)
        for day in range(1, DAYS):
            slow[:, day] = keeps * slow[:, day - 1] + steps[:, day]
        days = {plan: np.zeros((seasons, DAYS, len(COLUMNS_OF))) for plan in PLANS}
        days["nothing"][:, :, PLACE["spiders"]] = np.exp(slow[:seasons] / 4)
        days["spray"][:, :, PLACE["spiders"]] = np.exp(slow[seasons:] / 4)
        found += gap_of(days, "spray", "nothing", "spiders").onset is not None
    assert found / tries <= 1 / 20


def test_pictures_tell_the_same_in_words_and_tables():
    days = invented()
    scene = days_scene(days, "caterpillars", PLANS, FIRST)
    assert scene.table.shape == (7, 3)
    assert scene.table["Spray it"].iloc[-1] == "20"
    assert "Caterpillars on the crops, alive, over the season, mean of 12 seasons." in scene.alt
    assert "'Mar'" in str(draw(scene).to_dict()["layer"][0]["encoding"]["x"])
    deeds = deeds_scene(days, PLANS, FIRST)
    assert deeds.table.iloc[1].tolist() == ["Spray it", "never", "1"]
    assert "days with a spray: 1" in deeds.alt
    assert draw_deeds(deeds).to_dict()["layer"]


def test_bird_food_is_weighed_in_the_units_of_the_moment():
    days = invented()
    with speaking("en", "us"):
        scene = days_scene(days, "bird_food", PLANS, FIRST)
        said = " ".join(delay_sentences(days, ("bird_food",), PLANS, FIRST))
        alive = days_scene(days, "caterpillars", PLANS, FIRST)
    plain = days_scene(days, "bird_food", PLANS, FIRST)
    assert scene.title == "Bird food in reach (ounces)"
    assert scene.frame["value"].max() == pytest.approx(plain.frame["value"].max() / 28.349523)
    assert f"{short_number(scene.frame['value'].max())} ounces" in said
    assert alive.frame["value"].max() == pytest.approx(plain.frame["value"].max())


def test_a_first_deed_is_one_of_all_seasons_on_its_usual_day():
    days = invented()
    days["spray"][:, SPRAYED, PLACE["sprayed"]] = 0
    days["spray"][:, SPRAYED + 5, PLACE["sprayed"]] = 1
    days["spray"][0, SPRAYED + 30, PLACE["sprayed"]], days["spray"][0, SPRAYED + 5, PLACE["sprayed"]] = 1, 0
    assert first_deed(days, "spray", "nothing") == ("sprayed", SPRAYED + 5)  # one late season moves it by nothing
    days["spray"][0, :, PLACE["sprayed"]] = 0
    assert first_deed(days, "spray", "nothing") is None  # a season without: no day of all
