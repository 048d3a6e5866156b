"""The table of patterns, on a terminal and as a page."""

from __future__ import annotations

from collections.abc import Sequence

from dashboard.citing import full_source, sources_in
from dashboard.commands.markdown import head_of, row_of
from sim.patterns.table import Finding, Pattern, figure_of, range_of

TITLE = "# Which patterns the model reproduces"
COMMAND = "leafnest patterns --keep --page docs/PATTERNS.md"


def print_list(wanted: Sequence[Pattern]) -> None:
    """Print each pattern's name and what it asks."""
    for pattern in wanted:
        print(f"{pattern.name:32s} {pattern.what}")


def print_finding(finding: Finding) -> None:
    """Print what the model gave for one pattern."""
    pattern = finding.pattern
    tuned = "" if pattern.is_check else "  (tuned, no check)"
    print(
        f"{_verdict(finding):8s} {figure_of(finding.value):>8s}  [{range_of(pattern)}]  {pattern.what}{tuned}",
        flush=True,
    )


def summary_of(found: Sequence[Finding]) -> str:
    """Return how many checks are met, in a sentence."""
    checks = [finding for finding in found if finding.pattern.is_check]
    tuned = [finding for finding in found if not finding.pattern.is_check]
    met, held = sum(finding.is_met for finding in checks), sum(finding.is_met for finding in tuned)
    directions = sum(finding.is_met and finding.pattern.asks_a_direction for finding in checks)
    return (
        f"{met} of {len(checks)} patterns that nothing was tuned to are met, {directions} of these asking "
        f"only for more or less; {held} of {len(tuned)} that parameters were set by."
    )


def page_of(found: Sequence[Finding], seasons: int) -> str:
    """Return the page of patterns in Markdown."""
    lines = [
        TITLE,
        "",
        "Patterns that others have published, or that the trade knows, at several levels: single lives, numbers,",
        "plans, flowers, nests. Each is one figure found by living whole gardens; a pattern that fails stays in the",
        "table. Where a parameter was set by the very finding, the pattern is no check: it only shows that the setting",
        f"holds in a whole garden. Made by `{COMMAND}`: {seasons} seasons each, seeds 1 to {seasons}.",
        "So few seasons leave luck in every figure, and a figure near an end of its band is met or missed by luck: the",
        "model's description says how many of these turn with other seasons (What some seasons can tell).",
        "",
        f"**{summary_of(found)}**",
    ]
    for level in dict.fromkeys(finding.pattern.level for finding in found):
        lines += ["", f"## {level[:1].upper()}{level[1:]}", ""]
        lines += head_of("pattern", "expected", "band", "model", "", "source", "tuned to it")
        lines += [_line(finding) for finding in found if finding.pattern.level == level]
    return "\n".join([*lines, "", "## Sources", "", *_sources(found), ""])


def _verdict(finding: Finding) -> str:
    return "met" if finding.is_met else "not met"


def _line(finding: Finding) -> str:
    pattern = finding.pattern
    said = f"{pattern.expected}. {pattern.note}".strip() if pattern.note else pattern.expected
    source = pattern.read if pattern.source == "none" else f"`{pattern.source}`, {pattern.read}"
    tuned = ", ".join(f"`{key.strip()}`" for key in pattern.tuned_to.split(",")) if pattern.tuned_to else "nothing"
    verdict = f"**{_verdict(finding)}**"
    return row_of(pattern.what, said, range_of(pattern), figure_of(finding.value), verdict, source, tuned)


def _sources(found: Sequence[Finding]) -> list[str]:
    named = {key for finding in found for key in (finding.pattern.source, *sources_in(finding.pattern.note))}
    return [f"* `{key}`: {full_source(key)}." for key in sorted(named - {"none"})]
