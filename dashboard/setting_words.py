"""What is varied in a sweep, in the words of the screens where they have some."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from dashboard.choices import Choice, choices
from dashboard.deeds import say_name
from dashboard.saying import say_date, say_setting
from dashboard.tongue import _
from sim.scenario import Scenario
from sim.scenario.changes import paths_of
from sim.settings import Setting, Value

_ALL_DAYS = 5
"""Length of a month and day, such as 04-15."""


def with_words(setting: Setting, scenario: Scenario) -> Setting:
    """Return the setting with words for what it is and for its values.

    Raises
    ------
    ScenarioError
        If the scenario has no such key.
    """
    choice = _choice_of(setting, scenario)
    words = choice.words if choice else _plain_words(setting.keys)
    return replace(setting, words=words, value_words={value: _say(value, choice) for value in setting.values})


def _choice_of(setting: Setting, scenario: Scenario) -> Choice | None:
    """Return the choice of a screen that moves the same values, if there is one, or all of its kind together."""
    wanted = {path for key in setting.keys for path in paths_of(scenario, key)}
    for choice in _offered(scenario):
        if {path for key in choice.keys for path in paths_of(scenario, key)} == wanted:
            return choice
    return None


def _offered(scenario: Scenario) -> Iterable[Choice]:
    for plan in scenario.plan_names:
        offered = choices(scenario, plan)
        yield from offered
        for kin in dict.fromkeys(choice.kin for choice in offered if choice.kin):
            same = [choice for choice in offered if choice.kin == kin]
            yield replace(same[0], keys=tuple(key for one in same for key in one.keys), words=kin)


def _say(value: Value, choice: Choice | None) -> str:
    if choice is not None and (choice.kind == "list" or choice.unit):
        return choice.say(value)
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, str):
        return say_date(value) if _is_month_day(value) else say_name(value)
    return say_setting(value)


def _is_month_day(value: str) -> bool:
    return len(value) == _ALL_DAYS and value[:2].isdigit() and value[2] == "-" and value[3:].isdigit()


def _plain_words(keys: tuple[str, ...]) -> str:
    """Return keys as words, what they share said once: ``pests: cabbage white, cabbage looper``."""
    shared = keys[0].rpartition(".")[0]
    if shared and all(key.rpartition(".")[0] == shared for key in keys):
        fields = ", ".join(_spaced(key.rpartition(".")[2]) for key in keys)
        return f"{_spaced(shared)}: {fields}"
    field = keys[0].rpartition(".")[2]
    if len(keys) > 1 and all(key.rpartition(".")[2] == field for key in keys):
        return f"{_spaced(field)}: {', '.join(_spaced(key.rpartition('.')[0]) for key in keys)}"
    return ", ".join(_spaced(key) for key in keys)


def _spaced(key: str) -> str:
    parts = [part for part in key.split(".") if part not in ("plans", "actions", "beds")]
    return " ".join(parts).replace("_", " ")
