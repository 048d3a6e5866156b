"""What is said in words follows from the seasons."""

import numpy as np
import pandas as pd
import pytest

from dashboard.charts.sentences import (
    _verdict,
    fledging_sentence,
    headlines,
    is_mean_other_way,
    mean_difference,
    order_sentence,
    short_verdict,
    standings,
    way_of,
)
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import speaking
from sim.comparison import Comparison
from sim.uncertainty import Score
from tests.dashboard.invented import MEASURED, TITLES, comparison


def with_more_to_sell(difference, seasons=12):
    base = comparison(plans=("nothing", "net"), seasons=seasons)
    values = base.values.copy()
    place = MEASURED.index("marketable_kg")
    values[1, :, place] = values[0, :, place] + np.asarray(difference)
    return Comparison(base.plans, base.seeds, base.measures, values)


def test_a_sure_lead_is_counted():
    sentence = headlines(with_more_to_sell(2.5), TITLES)[0]
    assert (
        sentence
        == "Net it: more to sell than 'Do nothing' in 12 of 12 seasons (from +2.5 to +2.5 kg in 8 of 10 seasons)."
    )


def test_a_loss_is_told_as_plainly_as_a_lead():
    assert "less to sell than 'Do nothing' in 12 of 12" in headlines(with_more_to_sell(-1.0), TITLES)[0]


def test_a_draw_is_called_open():
    assert headlines(with_more_to_sell([1.0, -1.0] * 6), TITLES)[0].endswith("Too close to call.")


def test_few_seasons_are_told_from_end_to_end_and_not_as_eight_of_ten():
    """Between the tenths of three seasons lies one of them: no part of so few is 8 of 10."""
    assert (
        "(from +1.0 to +9.0 kg). Too few seasons to be sure."
        in headlines(with_more_to_sell([1.0, 9.0, 2.0], seasons=3), TITLES)[0]
    )
    differences = np.arange(1.0, 11.0)
    said = headlines(with_more_to_sell(differences, seasons=10), TITLES)[0]
    assert "(from +1.9 to +9.1 kg in 8 of 10 seasons)" in said
    assert np.mean((differences >= 1.9) & (differences <= 9.1)) == 0.8


def test_few_seasons_that_all_go_one_way_are_called_too_few_and_not_close():
    said = standings(with_more_to_sell(2.5, seasons=5), TITLES, BY_MEASURE["marketable_kg"])[0]
    assert "ahead in 5" in said
    assert "**Never behind, but too few seasons to be sure" in said
    assert "Too close" not in said


def test_one_season_that_went_behind_is_not_said_to_have_gone_no_other_way():
    said = standings(with_more_to_sell([-1.0] + [0.0] * 19, seasons=20), TITLES, BY_MEASURE["marketable_kg"])[0]
    assert "behind in 1 of 20" in said
    assert "**Never ahead, but too few seasons to be sure" in said


@pytest.mark.parametrize(
    ("difference", "said"),
    [
        ([2.5] * 12, "Luck alone would seldom do that."),
        ([-2.5] * 12, "Luck alone would seldom do that."),
        ([2.5] * 5, "Too few seasons to be sure."),
        ([2.5], "Too few seasons to be sure."),
        ([2.5, -2.5] * 3, "Too close to call."),
        ([0.0] * 3, ""),
    ],
)
def test_a_verdict_in_short_says_whether_luck_may_have_done_it(difference, said):
    rows = with_more_to_sell(difference, seasons=len(difference)).paired
    assert short_verdict(rows[rows["measure"] == "marketable_kg"].iloc[0]) == said


def test_creatures_are_fewer_and_kilograms_less():
    row, other = (pd.Series({"difference": way * 12.0, "verdict": "behind"}) for way in (-1, 1))
    assert mean_difference(row, BY_MEASURE["pests_alive_peak_count"]) == "12 fewer pests on average"
    assert mean_difference(other, BY_MEASURE["pests_alive_peak_count"]) == "12 more pests on average"
    assert mean_difference(row, BY_MEASURE["marketable_kg"]) == "12 kg less on average"


def test_no_difference_is_said():
    assert "as much to sell as 'Do nothing' in every season" in headlines(with_more_to_sell(0.0), TITLES)[0]


@pytest.mark.parametrize(
    ("grams", "verdict", "units", "said"),
    [
        (-0.15, "behind", "us", "0.0053 oz less on average"),
        (-0.005, "behind", "us", "0.0002 oz less on average"),
        (-0.15, "behind", "metric", "0.15 g less on average"),
        (-0.0005, "behind", "us", "nearly the same on average"),
        (0.0, "too close to call", "us", "nearly the same on average"),
        (0.0, "level", "us", "the same on average"),
    ],
)
def test_a_small_loss_is_not_called_the_same(grams, verdict, units, said):
    row = pd.Series({"difference": grams, "verdict": verdict})
    with speaking("en", units):
        assert mean_difference(row, BY_MEASURE["bird_food_reachable_g"]) == said


@pytest.mark.parametrize("measure", ["marketable_kg", "pests_alive_peak_count"])
@pytest.mark.parametrize(("often", "seldom", "way"), [(1.0, -9.0, "more"), (-1.0, 9.0, "less")])
def test_most_seasons_say_which_way_whatever_the_mean_says(measure, often, seldom, way):
    base = comparison(plans=("nothing", "net"), seasons=12)
    place = MEASURED.index(measure)
    values = base.values.copy()
    values[1, :, place] = values[0, :, place] + np.array([seldom] * 2 + [often] * 10)
    rows = Comparison(base.plans, base.seeds, base.measures, values).paired
    row = rows[rows["measure"] == measure].iloc[0]
    assert (way_of(row), is_mean_other_way(row)) == (way, True)


def test_fledglings_that_do_not_move_are_said_plainly():
    assert "one bed is small beside a territory" in fledging_sentence(comparison().seasons)


def test_fledglings_that_move_in_one_season_are_not():
    base = comparison()
    values = base.values.copy()
    values[1, 4, MEASURED.index("nestlings_fledged_count")] -= 1
    moved = Comparison(base.plans, base.seeds, base.measures, values)
    assert fledging_sentence(moved.seasons) == ""


def test_a_garden_without_nests_says_nothing_of_fledglings():
    assert fledging_sentence(comparison(fledged=0.0).seasons) == ""


def test_an_order_is_the_same_only_if_every_plan_has_its_place():
    base = comparison(seasons=4)
    values = base.values.copy()
    values[:, :, MEASURED.index("marketable_kg")] = [[9, 9, 9, 1], [5, 5, 2, 5], [2, 2, 5, 9]]
    told = Comparison(base.plans, base.seeds, base.measures, values)
    assert order_sentence(told.seasons, TITLES, BY_MEASURE["marketable_kg"]).endswith(
        "2 of 4 seasons came out in that order."  # in the third the first plan leads, too, but not the second follows
    )


def test_many_seasons_to_go_are_told_in_tens_and_never_fewer_than_it_takes():
    said = standings(with_more_to_sell([1.0] * 13 + [-1.0] * 7, seasons=20), TITLES, BY_MEASURE["marketable_kg"])[0]
    needed = Score(13, 0, 7).more_seasons_needed
    assert needed > 20
    (told,) = (int(word) for word in said.partition("Too close to call")[2].split() if word.isdigit())
    assert told % 10 == 0
    assert needed <= told < needed + 10


@pytest.mark.parametrize(
    ("needed", "told"),
    [
        (1, "Too close to call: about 1 more season may settle it."),
        (20, "Too close to call: about 20 more seasons may settle it."),
        (21, "Too close to call: about 30 more seasons may settle it."),  # a rough reckoning is told in tens
        (200, "Too close to call: about 200 more seasons may settle it."),
        (201, "Too close to call."),  # nobody would run so many
    ],
)
def test_seasons_to_go_are_told_as_far_as_a_class_would_go(needed, told):
    row = pd.Series(
        {"verdict": "too close to call", "more_seasons_needed": needed, "ahead": 8, "level": 0, "behind": 4}
    )
    assert _verdict(row) == told


def test_a_headline_tells_the_way_of_most_seasons_though_the_mean_goes_the_other():
    said = headlines(with_more_to_sell([1.0] * 10 + [-50.0] * 2), TITLES)[0]
    assert "more to sell than 'Do nothing' in 10 of 12 seasons" in said
