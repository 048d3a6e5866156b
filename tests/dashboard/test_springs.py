"""What waits for next spring: who winters under each plan, and a second year set against one begun afresh."""

import numpy as np
import pytest

from dashboard.boards.springs import PEAK, kind_rows, spring_sentences, springs
from dashboard.seasons.wishes import Lived
from sim.cast import FATES, SPECIES, Species, Stage

PLANS = {"nothing": "Do nothing", "net": "Net it"}
SEASONS = 12
NO_ENDS = np.zeros((SPECIES, len(Stage), FATES), dtype=np.int32)


def years(peak, **wintered):
    """Return a year's seasons: pests at their peak, and who was at winter rest when it began."""
    resting = np.zeros(SPECIES, dtype=np.int64)
    for name, count in wintered.items():
        resting[Species[name.upper()]] = count
    return [Lived({PEAK: float(peak + season)}, NO_ENDS, wintered=resting) for season in range(SEASONS)]


def lived(net_then=10.0, net_alone=40.0):
    """Return seasons in which 9 pests and 5 wasps came out; more wait after doing nothing, fewer under the net."""
    before = {"cabbage_white": 2, "flea_beetle": 7, "parasitoid_wasp": 5}
    found = {
        "nothing": years(50, **before),
        "then nothing": years(90, cabbage_white=30, flea_beetle=20, parasitoid_wasp=8),
        "alone nothing": years(60, **before),
        "net": years(5, **before),
        "then net": years(net_then, cabbage_white=1, flea_beetle=3, parasitoid_wasp=6),
        "alone net": years(net_alone, **before),
    }
    return springs({(plan, season): one for plan, of in found.items() for season, one in enumerate(of)}, list(PLANS))


def test_pests_that_wait_are_counted_without_the_wasps_that_live_on_them():
    this_spring, nothing, net = spring_sentences(lived(), PLANS)
    assert this_spring.startswith("Pests that came out of soil and stalks this spring: 9.0,")
    assert "**Do nothing**: these wait for next spring. Pests: 50. Wasps: 8.0." in nothing
    assert "**Net it**: these wait for next spring. Pests: 4.0. Wasps: 6.0." in net


def test_a_second_year_is_more_or_fewer_than_one_begun_as_this():
    _, nothing, net = spring_sentences(lived(), PLANS)
    assert "More in 12, level in 0, fewer in 0 of 12 seasons." in nothing
    assert "has 96 pests at its peak; begun as this year, 66." in nothing
    assert "More in 0, level in 0, fewer in 12 of 12 seasons." in net
    assert "would be the same" in spring_sentences(lived(net_then=40.0), PLANS)[2]


def test_each_kind_has_this_spring_and_the_next_under_each_plan():
    rows = {words: (now, coming) for words, now, coming in kind_rows(lived())}
    assert set(rows) == {"cabbage white", "flea beetle", "parasitoid wasp"}
    assert rows["cabbage white"] == (2.0, [30.0, 1.0])
    assert rows["flea beetle"][1] == pytest.approx([20.0, 3.0])
