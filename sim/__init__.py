"""A garden season, run insect by insect.

Public names: ``load_scenario``, ``scenario_names``, ``run_season``, ``compare``, ``Season``, ``Comparison``,
``Scenario``. They are imported when first asked for, so that a command that runs no season starts at once.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sim.comparison import Comparison, compare
    from sim.scenario import Scenario, load_scenario, scenario_names
    from sim.season import Season, run_season

_HOME = {
    "Comparison": "sim.comparison",
    "Scenario": "sim.scenario",
    "Season": "sim.season",
    "compare": "sim.comparison",
    "load_scenario": "sim.scenario",
    "run_season": "sim.season",
    "scenario_names": "sim.scenario",
}

__all__ = ["Comparison", "Scenario", "Season", "compare", "load_scenario", "run_season", "scenario_names"]


def __getattr__(name: str) -> Any:
    """Return a public name, importing its home on first use."""
    if name in _HOME:
        return getattr(import_module(_HOME[name]), name)
    raise AttributeError(f"module 'sim' has no public name {name!r}")
