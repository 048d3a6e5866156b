"""The pictures of a comparison by their names, for those who ask for one from the command line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from dashboard.spoken import BY_MEASURE
from dashboard.tongue import _
from sim.errors import RunError, near_names

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings

NAMES = ("summary", "ends", "energy", "calendar")


def check_names(names: Sequence[str]) -> None:
    """Make sure that every picture asked for is known.

    Raises
    ------
    RunError
        If one is not.
    """
    known = (*NAMES, *BY_MEASURE)
    for name in names:
        if name not in known:
            raise RunError(f"There is no picture '{name}'.{near_names(name, known)} Allowed: {', '.join(known)}.")


def scene_of(findings: Findings, name: str) -> Any:
    """Return the picture with this name."""
    if name == "summary":
        from dashboard.results import comparison_picture

        return comparison_picture(findings.comparison.seasons, findings.garden, findings.plans)
    if name == "ends":
        from dashboard.charts.ends_picture import ends_scene
        from dashboard.ends import EVERY_KIND, by_group, mean_ends, per_thousand

        ends = {plan: per_thousand(by_group(mean_ends(findings.lived(plan), None))) for plan in findings.plans}
        return ends_scene(ends, findings.titles, _(EVERY_KIND))
    if name == "energy":
        from dashboard.charts.energy_picture import energy_scene

        return energy_scene({plan: _mean_energy(findings, plan) for plan in findings.plans}, findings.titles)
    if name == "calendar":
        from dashboard.charts.calendar_picture import calendar_scene

        return calendar_scene(findings.days(), findings.titles, findings.numbers[0])
    from dashboard.charts.seasons_picture import seasons_scene

    return seasons_scene(findings.comparison.seasons, findings.titles, BY_MEASURE[name])


def _mean_energy(findings: Findings, plan: str) -> dict[str, float]:
    summaries = [lived.summary for lived in findings.lived(plan)]
    names = [name for name in summaries[0] if name.endswith(("_kj", "_mj"))]
    return {name: sum(summary.get(name, 0.0) for summary in summaries) / len(summaries) for name in names}
