"""The pictures of a comparison by their names, for those who ask for one from the command line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from dashboard.language.spoken import BY_MEASURE
from dashboard.seasons.daily import TITLES
from sim.errors import RunError, tell, unknown

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings

NAMES = ("summary", "ends", "energy", "calendar", "stages", "starving", "deeds", *(f"days_{one}" for one in TITLES))
OF_ONE_SEASON = ("calendar", "deeds")
"""Pictures of the first season alone."""


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
            raise RunError(unknown(tell("There is no picture '{name}'", name=name), name, known))


def scene_of(findings: Findings, name: str) -> Any:
    """Return the picture with this name."""
    if name == "summary":
        from dashboard.results import comparison_picture

        return comparison_picture(findings.comparison.seasons, findings.garden, findings.plans)
    if name == "ends":
        from dashboard.charts.ends_picture import ends_scene
        from dashboard.seasons.ends import EVERY_KIND, by_group, mean_ends, per_thousand

        ends = {plan: per_thousand(by_group(mean_ends(findings.lived(plan), None))) for plan in findings.plans}
        return ends_scene(ends, findings.titles, EVERY_KIND)
    if name == "energy":
        from dashboard.charts.energy_picture import energy_scene

        return energy_scene({plan: _mean_energy(findings, plan) for plan in findings.plans}, findings.titles)
    if name == "calendar":
        from dashboard.charts.calendar_picture import calendar_scene

        return calendar_scene(findings.days(), findings.titles, findings.numbers[0])
    if name == "stages":
        from dashboard.charts.stages_picture import stages_scene
        from dashboard.seasons.ends import EVERY_KIND, mean_ends

        ends_of = {plan: mean_ends(findings.lived(plan), None) for plan in findings.plans}
        return stages_scene(ends_of, findings.titles, EVERY_KIND)
    if name == "starving":
        from dashboard.charts.starving_picture import starving_scene
        from dashboard.seasons.starving import misses

        return starving_scene(misses({plan: findings.lived(plan) for plan in findings.plans}), findings.titles)
    if name == "deeds" or name.startswith("days_"):
        return _scene_of_days(findings, name)
    from dashboard.charts.seasons_picture import seasons_scene

    return seasons_scene(findings.comparison.seasons, findings.titles, BY_MEASURE[name])


def _scene_of_days(findings: Findings, name: str) -> Any:
    import numpy as np

    from dashboard.charts.days_picture import days_scene, deeds_scene

    days = {
        plan: np.stack([lived.days for lived in findings.lived(plan) if lived.days is not None])
        for plan in findings.plans
    }
    first_day = findings.garden.first_date
    if name == "deeds":
        return deeds_scene(days, findings.titles, first_day)
    return days_scene(days, name.removeprefix("days_"), findings.titles, first_day)


def _mean_energy(findings: Findings, plan: str) -> dict[str, float]:
    summaries = [lived.summary for lived in findings.lived(plan)]
    names = [name for name in summaries[0] if name.endswith(("_kj", "_mj"))]
    return {name: sum(summary.get(name, 0.0) for summary in summaries) / len(summaries) for name in names}
