"""What-if curves: the values that are tried, and words, picture and table that follow from the seasons."""

import numpy as np
import pytest

from dashboard.charts.curve_picture import curve_scene, draw
from dashboard.language.spoken import BY_MEASURE
from dashboard.plans.choices import choices
from dashboard.plans.curves import changes_at, curve_sentences, place_of, values_along
from sim.comparison import Comparison
from sim.scenario import load_scenario

SELL = BY_MEASURE["marketable_kg"]
GARDEN = load_scenario("teaching_garden")
OFFERED = choices(GARDEN, "net")


def named(words):
    return next(choice for choice in OFFERED if choice.words.startswith(words))


@pytest.mark.parametrize("choice", OFFERED, ids=lambda choice: choice.words[:40])
def test_a_curve_holds_both_ends_and_what_the_plan_has_and_every_value_can_be_run(choice):
    values = values_along(choice, choice.now)
    assert choice.now in values
    assert len(set(values)) == len(values) <= 9
    if choice.kind == "number":
        assert values == sorted(values)
        assert values[0] == choice.low
        assert values[-1] == choice.high
    places = [place_of(choice, value, number) for number, value in enumerate(values)]
    assert places == sorted(places)
    for value in values:
        GARDEN.with_changes(changes_at(choice, value, {"place.wetter": 2.0}))


def test_other_changes_stay_as_they_are_along_a_curve():
    pests = named("Pests that come")
    assert changes_at(pests, 3.0, {"pests.arrivals": 2.0, "place.wetter": 2.0}) == {
        "place.wetter": 2.0,
        "pests.arrivals": 3.0,
    }
    assert changes_at(pests, pests.now, {"pests.arrivals": 2.0}) == {}


def along(means, spread=0.1):
    chance = np.random.default_rng(4)
    values = np.array(means, dtype=float)[:, None, None] + chance.normal(0, spread, size=(len(means), 20, 1))
    return Comparison(tuple(map(str, range(len(means)))), tuple(range(1, 21)), ("marketable_kg",), values)


def test_the_ends_are_held_against_each_other_by_the_one_rule():
    pests, said = named("Pests that come"), ["0", "1", "5"]
    down = curve_sentences(along([9, 8, 4]), pests, said, SELL)
    assert down[0].startswith("Harvest fit to sell: less at 5 than at 0 in 20 of 20 seasons")
    assert down[1].startswith("On average most at 0")
    assert "Too close to call" in curve_sentences(along([5, 5, 5]), pests, said, SELL)[0]
    level = Comparison(("0", "1", "2"), tuple(range(20)), ("marketable_kg",), np.full((3, 20, 1), 6.0))
    assert curve_sentences(level, pests, said, SELL) == ["Harvest fit to sell: the same at 5 as at 0 in every season."]


def test_picture_words_and_table_say_the_same():
    scene = curve_scene(along([9, 8, 4]).seasons, [0, 1, 5], ["none", "usual", "five"], 1, "Pests", SELL)
    assert list(scene.table["Pests"]) == ["none", "usual (as it was)", "five"]
    assert "usual (as it was): 8" in scene.alt
    assert set(scene.frame.loc[scene.frame["is_now"], "at"]) == {1}
    assert "'five'" in str(draw(scene).to_dict()["layer"][0]["encoding"]["x"])


def test_where_most_seasons_go_one_way_and_the_mean_the_other_both_are_told():
    values = np.repeat([[5.0], [5.0], [5.0]], 20, axis=1)
    values[2] += np.array([1.0] * 17 + [-31.0] * 3)
    ends = Comparison(("0", "1", "2"), tuple(range(20)), ("marketable_kg",), values[:, :, None])
    said = curve_sentences(ends, named("Pests that come"), ["0", "1", "5"], SELL)[0]
    assert "more at 5 than at 0 in 17 of 20 seasons, the mean 3.8 kg less" in said
