"""The table of patterns is sound, its functions live gardens, and its page is the one that the command makes."""

import math

import pytest

from sim.errors import RunError
from sim.parameters import load_parameters
from sim.parameters.table import sources
from sim.patterns.found import keep_findings, stored_findings
from sim.patterns.lives import share
from sim.patterns.table import Finding, figure_of, findings, named, patterns
from tests.house.files import ROOT

READ = {
    "read", "read: data", "read: abstract", "read: second hand", "derived", "memory", "common practice, no source"
}  # fmt: skip


def test_there_are_enough_patterns_at_several_levels_that_nothing_was_tuned_to():
    checks = [pattern for pattern in patterns() if pattern.is_check]
    assert len(checks) >= 15
    assert len({pattern.level for pattern in checks}) >= 4


@pytest.mark.parametrize("pattern", patterns(), ids=lambda pattern: pattern.name)
def test_a_pattern_says_what_is_expected_by_whom_and_what_was_tuned(pattern):
    assert pattern.what
    assert pattern.expected
    assert pattern.low <= pattern.high
    assert math.isfinite(pattern.low) or math.isfinite(pattern.high), "a band without ends cannot fail"
    assert pattern.read in READ
    assert pattern.source in sources() or pattern.read == "common practice, no source"
    for key in filter(None, pattern.tuned_to.split(", ")):
        assert any(known == key or known.startswith(f"{key}.") for known in load_parameters()), key
    assert callable(pattern.function)
    assert pattern.function.__doc__


def test_a_figure_outside_its_band_or_missing_is_not_met():
    pattern = named(["egg_to_pupa"])[0]
    assert Finding(pattern, pattern.low).is_met
    assert not Finding(pattern, pattern.high + 1.0).is_met
    assert not Finding(pattern, math.nan).is_met


def test_one_number_over_another():
    assert share(1.0, 4.0) == 0.25
    assert share(1.0, 0.0) == math.inf
    assert math.isnan(share(0.0, 0.0))


def test_an_unknown_pattern_is_answered_with_one_near():
    with pytest.raises(RunError, match="egg_to_pupa"):
        named(["egg_to_pupae"])


def test_gardens_are_lived_and_the_same_seeds_give_the_same_figure():
    wanted = named(["cucumbers_left_covered", "deaths_in_small_larvae"])
    first = [finding.value for finding in findings(wanted, (1,))]
    assert all(math.isfinite(value) for value in first)
    assert first == [finding.value for finding in findings(wanted, (1,))]
    assert first != [finding.value for finding in findings(wanted, (2,))]


def test_every_pattern_stands_on_the_page():
    page = (ROOT / "docs" / "PATTERNS.md").read_text(encoding="utf-8")
    rows = [
        line for line in page.splitlines() if line.startswith("| ") and ("**met**" in line or "**not met**" in line)
    ]
    assert len(rows) == len(patterns())
    for pattern in patterns():
        assert any(row.startswith(f"| {pattern.what} |") for row in rows), pattern.name


def test_the_findings_that_come_along_are_those_of_the_page():
    """If this fails, the page was made without ``--keep``: the command stands at its head."""
    page = (ROOT / "docs" / "PATTERNS.md").read_text(encoding="utf-8")
    found, _seasons = stored_findings()
    assert [one.pattern for one in found] == list(patterns())
    for one in found:
        verdict = "met" if one.is_met else "not met"
        rows = [row for row in page.splitlines() if row.startswith(f"| {one.pattern.what} |")]
        assert any(f"| {figure_of(one.value)} | **{verdict}** |" in row for row in rows), one.pattern.name


def test_findings_are_kept_with_figures_that_json_does_not_know(tmp_path):
    wanted = named(["egg_to_pupa", "deaths_in_small_larvae"])
    keep_findings([Finding(wanted[0], math.nan), Finding(wanted[1], math.inf)], 3, tmp_path / "found.json")
    assert (tmp_path / "found.json").read_text(encoding="utf-8").count('"nan"') == 1
