"""Every column that is handed over is told in words, and what is counted is said as one or several."""

import pytest

from dashboard.day_words import DAY_WORDS
from dashboard.results import COLUMN_WORDS
from dashboard.tables import print_comparison
from sim.chronicle import COLUMNS
from sim.measures import MEASURES
from sim.scenario import load_scenario
from tests.dashboard.invented import comparison


def test_every_column_of_the_days_is_told_in_words():
    assert set(DAY_WORDS) == {"date", "day", *COLUMNS}
    assert all(words == words.strip() and words for words in DAY_WORDS.values())


def test_every_column_of_a_comparison_is_told_in_words():
    found = comparison()
    for table in (found.table, found.paired, found.seasons):
        assert set(map(str, table.columns)) <= set(COLUMN_WORDS)
    assert all(measure.words for measure in MEASURES.values())


@pytest.mark.parametrize(
    ("plans", "seasons", "said"),
    [
        (["net"], 2, "1 plan over 2 seasons"),
        (["net"], 1, "1 plan over 1 season"),
        (["nothing", "net"], 1, "2 plans over the same season"),
        (["nothing", "net"], 2, "2 plans over the same 2 seasons"),
    ],
)
def test_plans_and_seasons_are_counted_as_one_or_several(capsys, plans, seasons, said):
    print_comparison(comparison(plans, seasons), load_scenario("leaf_bed"), plans)
    assert capsys.readouterr().out.splitlines()[0].endswith(f": {said}")
