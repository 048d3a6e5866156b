"""Runs for the page: each season is run once and then remembered, for everyone who asks the same server."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import streamlit as st

from sim import run_season
from sim.comparison import Comparison, FinishedSeason, comparison_of
from sim.scenario import Scenario, load_scenario, scenario_names

SEASONS_REMEMBERED = 5_000


@st.cache_resource
def gardens() -> dict[str, Scenario]:
    """Return the gardens that come with the program, by name, the default one first."""
    return {name: load_scenario(name) for name in scenario_names()}


@st.cache_data(max_entries=SEASONS_REMEMBERED, show_spinner=False)
def season_summary(fingerprint: str, plan: str, seed: int, _scenario: Scenario) -> dict[str, float]:
    """Return the measures of one season; the scenario is known by its fingerprint."""
    return dict(run_season(_scenario, plan=plan, seed=seed).summary)


def compared(
    scenario: Scenario, plans: Sequence[str], seasons: int, seed: int, progress: Callable[[int, int], object]
) -> Comparison:
    """Return the comparison of these plans over the same seasons, running only what is not remembered.

    Parameters
    ----------
    scenario
        The garden.
    plans
        Names; the first is the one that the others are set against.
    seasons
        How many seasons each.
    seed
        The first season's number.
    progress
        Called with seasons done and all seasons.
    """
    jobs = [(plan, season) for season in range(seed, seed + seasons) for plan in plans]
    fingerprint = scenario.fingerprint
    finished = []
    for done, (plan, season) in enumerate(jobs, start=1):
        finished.append(FinishedSeason(plan, season, season_summary(fingerprint, plan, season, scenario)))
        progress(done, len(jobs))
    return comparison_of(scenario, plans, finished)
