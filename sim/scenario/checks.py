"""What must hold between the parts of a scenario: days within the season, names that exist, nets on before off."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from typing import TYPE_CHECKING

from sim.errors import tell
from sim.scenario.actions import Cover, Timed, Uncover
from sim.scenario.values import date_in, refuse

if TYPE_CHECKING:
    from sim.scenario.actions import Action
    from sim.scenario.model import Bed, Plan, Scenario


def check_season(scenario: Scenario) -> None:
    """Refuse a season that ends before it begins, which one across the new year would do."""
    season = scenario.season
    if season.last_day <= season.first_day:
        raise refuse(
            tell(
                "a day after {first_day}, the first day, in the same year: no season runs across the new year",
                first_day=season.first_day,
            ),
            key="season.last_day",
            found=season.last_day,
        )


def check_beds(scenario: Scenario) -> None:
    """Refuse two beds of one name and planting outside the season."""
    seen: set[str] = set()
    for place, bed in enumerate(scenario.beds):
        for name in {bed.name, *(single.name for single in bed.each())}:
            if name in seen:
                raise refuse(tell("a name that no other bed has"), key=f"beds.{place}.name", found=name)
            seen.add(name)
        _check_day(scenario, bed.planted, f"beds.{place}.planted")


def check_plans(scenario: Scenario) -> None:
    """Refuse two plans of one name or title, beds that are not there, days out of season, nets taken off too early."""
    names: set[str] = set()
    titles: set[str] = set()
    known = {name for bed in scenario.beds for name in (bed.name, *(single.name for single in bed.each()))}
    for place, plan in enumerate(scenario.plans):
        if plan.name in names:
            raise refuse(tell("a name that no other plan has"), key=f"plans.{place}.name", found=plan.name)
        names.add(plan.name)
        read = " ".join(plan.title.split()).casefold()  # pictures, lists and papers tell plans apart by it alone
        if read in titles:
            raise refuse(tell("a title that no other plan has"), key=f"plans.{place}.title", found=plan.title)
        titles.add(read)
        for step, action in enumerate(plan.actions):
            _check_action(scenario, action, f"plans.{place}.actions.{step}", known)
        _check_uncovering(scenario, plan, place)


def _check_action(scenario: Scenario, action: Action, key: str, known: set[str]) -> None:
    for name in getattr(action, "beds", ()):
        if name not in known:
            here = ", ".join(bed.name for bed in scenario.beds)
            raise refuse(
                tell("the beds of this scenario, {here}", here=here), key=f"{key}.beds", found=name, known=known
            )
    for field in ("on", "since", "until"):
        day = getattr(action, field, None)
        if day is not None:
            _check_day(scenario, day, f"{key}.{field}")


def _check_day(scenario: Scenario, day: str, key: str) -> None:
    first, last = scenario.season.first_day, scenario.season.last_day
    if not first <= day <= last:
        raise refuse(tell("a day of the season, {first} to {last}", first=first, last=last), key=key, found=day)


def _check_uncovering(scenario: Scenario, plan: Plan, place: int) -> None:
    """Refuse to take a net off a bed on which the plan has not put one by then, as far as days are known beforehand."""
    covers: dict[int, list[Cover]] = defaultdict(list)
    for action in plan.actions:
        if isinstance(action, Cover):
            for position in scenario.bed_positions(action.beds):
                covers[position].append(action)
    for step, action in enumerate(plan.actions):
        if isinstance(action, Uncover):
            key = f"plans.{place}.actions.{step}"
            meant = scenario.bed_positions(action.beds) if action.beds or not covers else tuple(covers)
            for position in meant:
                _check_covered_first(scenario, action, scenario.single_beds[position], covers[position], key)


def _check_covered_first(scenario: Scenario, off: Uncover, bed: Bed, covers: list[Cover], key: str) -> None:
    if not covers:
        raise refuse(
            tell("a bed that this plan covers, and it never covers '{name}'", name=bed.name),
            key=key,
            has=tell("an uncovering"),
        )
    off_day = _known_day(scenario, off, bed)
    on_days = [_known_day(scenario, cover, bed) for cover in covers]
    known = [day for day in on_days if day is not None]
    if off_day is not None and len(known) == len(on_days) and min(known) > off_day:
        raise refuse(
            tell("a day after '{name}' is covered, which this plan does on {day:%m-%d}", name=bed.name, day=min(known)),
            key=key,
            has=tell("an uncovering on {day:%m-%d}", day=off_day),
        )


def _known_day(scenario: Scenario, action: Timed, bed: Bed) -> date | None:
    """Return the day of an action in a bed if it can be known before the season is run."""
    if action.on is not None:
        day = date_in(action.on, scenario.season.calendar_year)
    elif action.days_after_planting is not None or action.at == "planting":
        planted = date_in(bed.planted, scenario.season.calendar_year)
        day = planted + timedelta(days=action.days_after_planting or 0)
    else:
        return None
    return day + timedelta(days=action.delay_days)
