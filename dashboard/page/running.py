"""Runs for a page: asked of the work desk, shown step by step as they come, and given up when the page moves on."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import TypeAlias

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.codes.made import FILE_PREFIX
from dashboard.language.tongue import _, many
from dashboard.page.visit import shelves, visit_name
from dashboard.seasons.wishes import Lived, Wish
from dashboard.seasons.work import EXTRA_URGENCY, PAPER_URGENCY, STEPS, desk
from dashboard.server.settings import FIRST_START_SECONDS
from sim.comparison import Comparison, FinishedSeason, comparison_of
from sim.scenario import Scenario
from sim.store import SeasonKey

SECONDS_A_MINUTE = 60
TICK_SECONDS = 0.1
"""A waiting page looks up so often: that is when it learns that the visitor has moved something else."""

Seasons: TypeAlias = Mapping[tuple[str, int], Lived]
"""(name, season) → what was lived; seasons that every name has finished."""


def run_step_by_step(
    wished: Mapping[str, Sequence[Wish]],
    show: Callable[[Seasons, bool], object],
    *,
    is_extra: bool = False,
    is_paper: bool = False,
    bar: DeltaGenerator | None = None,
) -> None:
    """Run seasons and show them after the first, the fifth, the twentieth and the last.

    Parameters
    ----------
    wished
        Name, such as a plan's → its seasons; every name the same seasons in the same order.
    show
        Called with what there is and whether that is all. It is called once only if all is remembered already.
    is_extra
        Whether it may wait until everybody's first answers and refining are done.
    is_paper
        Whether it is of use only when all is there, and one teacher's, as the sheets of a lesson are: then its seasons
        take turns with all refining. Handouts of a whole class would keep first answers waiting (measured).
    bar
        Where the page says how far it is: where the answer will stand. Here, unless told.
    """
    rows = list(zip(*wished.values(), strict=True))
    together = [wish for row in rows for wish in row]
    note_own(together)
    bar = st.empty() if bar is None else bar
    shown = 0
    found: dict[SeasonKey, Lived] = {}
    urgency = EXTRA_URGENCY if is_extra else PAPER_URGENCY if is_paper else None
    with desk().order(together, urgency) as order:
        while shown < len(rows):
            found |= order.wait(TICK_SECONDS)
            ready = _ready(rows, found)
            if ready < len(rows):
                bar.progress(len(found) / len({wish.key for wish in together}), text=_waiting_words(found))
            if ready > shown:
                shown = ready
                show(_named(wished, rows[:ready], found), ready == len(rows))
    bar.empty()


def note_own(wished: Sequence[Wish]) -> None:
    """Note seasons of a garden that this visitor brought: their results go when the visit ends."""
    own = [wish.key for wish in wished if wish.scenario.name.startswith(FILE_PREFIX)]
    shelf = shelves().of(visit_name()) if own else None
    if shelf:
        shelf.note(own)


def _ready(rows: Sequence[Sequence[Wish]], found: Mapping[SeasonKey, Lived]) -> int:
    """Return how many of the first seasons can be shown: a step's worth that every name has finished, or all."""
    finished = next((place for place, row in enumerate(rows) if any(wish.key not in found for wish in row)), len(rows))
    return max((step for step in (*STEPS, len(rows)) if step <= finished), default=0)


def first_start_words() -> str:
    """Return why the first season takes long on this machine, or nothing where one has been lived before."""
    from sim.rules_cache import is_warm

    if is_warm():
        return ""
    minutes = math.ceil(FIRST_START_SECONDS / SECONDS_A_MINUTE)
    return many(
        "First start: the rules are being prepared. That takes about a minute, this once.",
        "First start: the rules are being prepared. That takes about {minutes} minutes, this once.",
        minutes,
    ).format(minutes=minutes)


def _waiting_words(found: Mapping[SeasonKey, Lived]) -> str:
    why = "" if found else first_start_words()
    if why:
        return why
    return _("Seasons lived so far: {count}").format(count=len(found))


def _named(
    wished: Mapping[str, Sequence[Wish]], rows: Sequence[Sequence[Wish]], found: Mapping[SeasonKey, Lived]
) -> Seasons:
    return {(name, wish.season): found[wish.key] for row in rows for name, wish in zip(wished, row, strict=True)}


def comparison_from(scenario: Scenario, seasons: Seasons) -> Comparison:
    """Return the comparison of named seasons; the first name is the one that the others are set against."""
    names = list(dict.fromkeys(name for name, _ in seasons))
    finished = [FinishedSeason(name, season, dict(lived.summary)) for (name, season), lived in seasons.items()]
    return comparison_of(scenario, names, finished)


def lived_under(plan: str, seasons: Seasons) -> list[Lived]:
    """Return what was lived under one name, season by season."""
    return [lived for (name, _season), lived in seasons.items() if name == plan]


def season_numbers(seasons: Seasons) -> list[int]:
    """Return the numbers of the seasons, each once."""
    return sorted({season for _plan, season in seasons})
