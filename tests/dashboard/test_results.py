"""Every column that is handed over is told in words, and every measure drawn has its files."""

from dashboard.day_words import DAY_WORDS
from dashboard.results import COLUMN_WORDS
from sim.chronicle import COLUMNS
from sim.measures import MEASURES
from tests.dashboard.invented import comparison


def test_every_column_of_the_days_is_told_in_words():
    assert set(DAY_WORDS) == {"date", "day", *COLUMNS}
    assert all(words == words.strip() and words for words in DAY_WORDS.values())


def test_every_column_of_a_comparison_is_told_in_words():
    found = comparison()
    for table in (found.table, found.paired, found.seasons):
        assert set(map(str, table.columns)) <= set(COLUMN_WORDS)
    assert all(measure.words for measure in MEASURES.values())
