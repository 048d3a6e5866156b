"""The commands about sensitivity and patterns: what they print and write."""

import json

import pytest

from dashboard.command import main
from dashboard.commands import leanings, pattern_page
from sim.patterns.table import Finding, figure_of, named, range_of
from sim.sensitivity.ranking import heavy_rows, stored_ranking
from tests.house.files import ROOT


def run(capsys, *arguments):
    try:
        status = main(arguments)
    except SystemExit as end:
        status = end.code
    captured = capsys.readouterr()
    return status, captured.out, captured.err


def test_the_stored_ranking_is_printed(capsys):
    status, out, _ = run(capsys, "sensitivity", "--plan", "net", "--measure", "marketable_kg")
    assert status == 0
    assert "Fit to sell" in out
    assert "stays first in" in out


def test_the_stored_ranking_as_json(capsys):
    status, out, _ = run(capsys, "sensitivity", "--json")
    assert status == 0
    assert json.loads(out) == stored_ranking()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["sensitivity", "--plan", "nett"], "'nett'"),
        (["sensitivity", "--measure", "marketable"], "marketable_kg"),
        (["patterns", "egg_to_pupae"], "egg_to_pupa"),
        (["sensitivity", "--taste"], "--remake"),
        (["sensitivity", "--keep", "--json"], "--remake"),
        (["patterns", "--seasons", "0"], "whole number from 1"),
    ],
)
def test_a_mistake_is_answered_with_one_sentence(capsys, arguments, told):
    status, _, err = run(capsys, *arguments)
    assert status == 2
    assert told in err
    assert len(err.strip().splitlines()) == 1


def test_the_page_on_sensitivity_is_the_one_of_the_stored_ranking():
    page = (ROOT / "docs" / "SENSITIVITY.md").read_text(encoding="utf-8")
    assert page == leanings.page_of(stored_ranking())


def test_the_page_says_no_better_than_the_ranking_how_well_its_shares_are_known():
    shares = stored_ranking()["shares"].values()
    told = [row[3] for of in shares for rows in of.values() for row in heavy_rows(rows)[: leanings.MOST_NUMBERS]]
    page = " ".join(leanings.page_of(stored_ranking()).split())
    assert f"the worst to {100 * max(told):.0f}." in page
    assert page.count("±") == len(told) + 1


def test_the_page_says_how_the_least_certain_numbers_move_the_results():
    page = leanings.page_of(stored_ranking())
    for words in (
        "missing share of a leaf",
        "under a buried edge",
        "a cabbage white larva eats",
        "birds' use",
        "bare plants",
        "shut in",
        "winged aphid",
    ):
        assert words in page.lower()


def test_patterns_are_listed_without_a_season(capsys):
    status, out, _ = run(capsys, "patterns", "--list")
    assert status == 0
    assert "wilt_against_beetles" in out


def test_a_pattern_is_run_and_its_page_written(capsys, tmp_path):
    page = tmp_path / "PATTERNS.md"
    status, out, _ = run(capsys, "patterns", "cucumbers_left_covered", "--seasons", "1", "--page", str(page))
    assert status == 0
    assert "1 of 1 patterns" in out or "0 of 1 patterns" in out
    assert "Cucumbers picked under a net that stays on" in page.read_text(encoding="utf-8")


def test_a_few_patterns_do_not_replace_the_findings_of_all(capsys):
    status, _, err = run(capsys, "patterns", "cucumbers_left_covered", "--keep")
    assert status == 2
    assert "--keep needs all patterns" in err


def test_the_page_keeps_a_pattern_that_fails_and_tells_tuned_from_checks():
    check, tuned = named(["egg_to_pupa", "small_over_large_patch"])
    page = pattern_page.page_of([Finding(check, 0.9), Finding(tuned, 10.0)], 3)
    assert "**not met**" in page
    assert "0 of 1 patterns that nothing was tuned to are met, 0 of these asking only for more or less; 1 of 1" in page
    assert "`moths.cabbage_white.leave_per_try`" in page
    assert "Dempster" in page


def test_figures_and_bands_in_words():
    low, high, both = named(["cabbage_under_spun_cover", "cucumbers_left_covered", "egg_to_pupa"])
    assert [range_of(one) for one in (low, high, both)] == ["at least 1", "at most 0.3", "0.05 to 0.2"]
    assert [figure_of(value) for value in (float("nan"), float("inf"), 0.1234)] == [
        "none",
        "endless",
        "0.123",
    ]
