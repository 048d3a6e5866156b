"""Every column that is handed over is told in words, and what is counted is said as one or several."""

import numpy as np
import pytest

from dashboard.commands.tables import figure, print_comparison, range_of
from dashboard.day_words import DAY_WORDS
from dashboard.language.saying import MINUS
from dashboard.results import COLUMN_WORDS
from sim.chronicle import COLUMNS
from sim.comparison import Comparison
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


def test_ahead_is_told_of_the_seasons_that_were_not_level(capsys):
    base = comparison(["nothing", "net"], 12)
    values, place = base.values.copy(), base.measures.index("marketable_kg")
    values[1, :, place] = np.where(np.arange(12) < 7, values[0, :, place] + 1.0, values[0, :, place])
    told = Comparison(base.plans, base.seeds, base.measures, values)
    print_comparison(told, load_scenario("leaf_bed"), ["nothing", "net"])
    rows = capsys.readouterr().out.splitlines()
    first = next(number for number, row in enumerate(rows) if "Fit to sell, kg" in row)
    assert rows[first + 1].rstrip().endswith("7 of 7")


def test_a_share_is_printed_of_a_hundred_and_no_range_goes_beyond_what_can_be():
    assert figure("marketable_share", 0.62) == "62"
    assert figure("marketable_share", 0.62, sign=True) == "+62"
    assert figure("marketable_kg", 0.62) == "0.62"
    assert range_of("marketable_share", 0.95, 0.88, 1.02) == "95 (88 to 100)"
    assert range_of("marketable_kg", 0.05, -0.02, 0.12, sign=True) == f"+0.05 ({MINUS}0.02 to +0.12)"
