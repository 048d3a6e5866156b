"""A tap beside its answer: which way, and how large the step is."""

from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest

from dashboard.lesson.lesson import Lesson
from dashboard.teaching.tapping import _open_words, came_of, show_tap, size_words


def comparison_of(difference, mean, verdict):
    row = {
        "measure": "marketable_kg",
        "plan": "net",
        "against": "nothing",
        "difference": difference,
        "verdict": verdict,
    }
    table = pd.DataFrame([{"measure": "marketable_kg", "plan": "nothing", "mean": mean}])
    return SimpleNamespace(paired=pd.DataFrame([row]), table=table)


@pytest.mark.parametrize(
    ("difference", "mean", "verdict", "said"),
    [
        (
            0.15,
            9.0,
            "ahead",
            "The size: 0.15 kg more in a mean season, about one part in 60 of what it is set against.",
        ),
        (-0.15, 9.0, "behind", "The size: 0.15 kg less in a mean season, about one part in 60"),
        (6.0, 9.0, "ahead", "The size: 6.0 kg more in a mean season, or 67% of what it is set against."),
        (6.0, 0.0, "ahead", "The size: 6.0 kg more in a mean season. 'About the same'"),
        (0.15, 9.0, "too close to call", "Luck alone could do that."),
    ],
)
def test_a_step_is_told_with_its_size(difference, mean, verdict, said):
    words = size_words(comparison_of(difference, mean, verdict), "net", "marketable_kg")
    assert said in words
    assert ("Sure is not large" in words) is (verdict != "too close to call")


@pytest.mark.parametrize(
    ("said", "difference", "mean", "ending"),
    [
        ("same", 0.3, 53.0, "More, but so little that your answer is fair, too."),
        ("same", -0.3, 53.0, "Less, but so little that your answer is fair, too."),
        ("same", 1.5, 53.0, "A surprise: why?"),
        ("same", 0.3, 0.0, "A surprise: why?"),
        ("less", 0.3, 53.0, "A surprise: why?"),
        ("more", 0.3, 53.0, "Just so."),
    ],
)
def test_a_step_too_small_to_see_is_no_surprise_to_those_who_said_about_the_same(
    said, difference, mean, ending, monkeypatch
):
    told = []
    monkeypatch.setattr("streamlit.info", lambda words, **_more: told.append(words))
    lesson = Lesson("leaf_bed", ("nothing", "net"), taps={"net": said})
    comparison = comparison_of(difference, mean, "ahead" if difference > 0 else "behind")
    comparison.paired = comparison.paired.assign(ahead=20, level=0, behind=0)
    if difference < 0:
        comparison.paired = comparison.paired.assign(ahead=0, behind=20)
    show_tap(lesson, "net", comparison, "net")
    endings = ("Just so.", "A surprise: why?", "your answer is fair, too.", "More seasons may tell.")
    assert ending in told[0]
    assert sum(one in told[0] for one in endings) == 1


@pytest.mark.parametrize("said", ["more", "same", "less"])
@pytest.mark.parametrize(
    ("ahead", "behind", "came"),
    [
        (5, 0, "The seasons said: more in each that differs, but they are too few to be sure."),
        (0, 5, "The seasons said: less in each that differs, but they are too few to be sure."),
        (3, 2, "The seasons said: too close to call."),
        (0, 0, "The seasons said: too close to call."),
    ],
)
def test_what_few_seasons_leave_open_is_not_called_about_the_same(said, ahead, behind, came, monkeypatch):
    """Five seasons are what the page runs at first, and five of five one way is open: no guess may be called right."""
    told = []
    monkeypatch.setattr("streamlit.info", lambda words, **_more: told.append(words))
    comparison = comparison_of(9.0 * np.sign(ahead - behind), 40.0, "too close to call")
    comparison.paired = comparison.paired.assign(ahead=ahead, level=5 - ahead - behind, behind=behind)
    show_tap(Lesson("leaf_bed", ("nothing", "net"), taps={"net": said}), "net", comparison, "net")
    assert came in told[0]
    assert "More seasons may tell." in told[0]
    assert "Just so." not in told[0]
    assert "The seasons said: about the same" not in told[0]


def test_open_of_what_is_better_when_less_names_the_way_it_went():
    row = pd.Series({"measure": "pests_alive_peak_count", "ahead": 4, "level": 0, "behind": 0})
    assert "less in each that differs" in _open_words(row)


def test_a_step_against_most_seasons_says_that_it_is():
    words = size_words(comparison_of(-0.15, 9.0, "ahead"), "net", "marketable_kg")
    assert "0.15 kg less in a mean season" in words
    assert words.endswith("That is the other way than most seasons went: the few others changed most.")
    assert came_of(comparison_of(-0.15, 9.0, "ahead"), "net", "marketable_kg") == "more"


@pytest.mark.parametrize("step", [0.0, float("nan")])
def test_no_step_has_no_size(step):
    """Neither where every season was level, nor where gains and losses cancel, nor where no season has a figure."""
    for verdict in ("level", "too close to call"):
        assert size_words(comparison_of(step, 9.0, verdict), "net", "marketable_kg") == ""
