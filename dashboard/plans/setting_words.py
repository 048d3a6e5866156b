"""What is varied in a sweep, in the words of the screens where they have some."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase

from dashboard.language.saying import in_units, say_date, say_list, say_setting, short_number, unit_after
from dashboard.language.tongue import _, mark
from dashboard.plans.choices import Choice, choices
from dashboard.plans.deeds import say_name
from sim.scenario import Scenario
from sim.scenario.changes import paths_of
from sim.settings import Setting, Value, is_month_day


@dataclass(frozen=True)
class Words:
    """Words for what only commands can vary.

    Parameters
    ----------
    keys
        Dotted keys; a star stands for any name, and then any number of such keys may move together.
    words
        Its label, marked; ``{beds}`` stands for the names of the beds.
    unit
        Unit of ``saying.UNITS`` that its values are in; nothing if it has none that US units change.
    """

    keys: tuple[str, ...]
    words: str
    unit: str = ""

    def are_of(self, keys: tuple[str, ...]) -> bool:
        """Return whether these are the words for such keys."""
        if "*" in self.keys[0]:
            return all(fnmatchcase(key, self.keys[0]) for key in keys)
        return sorted(keys) == sorted(self.keys)

    def label(self, keys: tuple[str, ...]) -> str:
        """Return the label for such keys."""
        beds = say_list([say_name(key.split(".")[1]) for key in keys if key.startswith("beds.")])
        said = _(self.words).format(beds=beds, unit=unit_after(self.unit) if self.unit else "")
        return said[:1].upper() + said[1:]

    def say(self, value: Value) -> str:
        """Return a value in words."""
        number = isinstance(value, int | float) and not isinstance(value, bool)
        return short_number(in_units(float(value), self.unit)) if number and self.unit else _say(value, None)


BIRDS, BEES = ("birds.use_of_garden",), ("bees.honey_bees", "bees.bumble_bees", "bees.small_bees")
ENEMIES = (
    "enemies.ground_beetles",
    "enemies.spiders",
    "enemies.lady_beetles",
    "enemies.lacewings",
    "enemies.parasitoid_wasps",
)
BEYOND_SCREENS = (
    Words(("beds.*.length_m",), mark("{beds}: length of the bed, {unit}"), "m"),
    Words(("beds.*.repeat",), mark("{beds}: how many such beds")),
    Words(ENEMIES, mark("Natural enemies, times the usual")),
    Words(("numbers.crops.grades.leaf_limit_share",), mark("Share of a leaf that may be missing when it is sold")),
    Words(("pests.try_bare_share",), mark("Share of insects turned away by a net that try bare plants")),
)
WITH_AND_WITHOUT = {
    frozenset(BIRDS): (mark("birds"), mark("no birds")),
    frozenset(BEES): (mark("bees"), mark("no bees")),
    frozenset(ENEMIES): (mark("enemies"), mark("no enemies")),
}
"""Keys of what is there as usual (1) or not at all (0) → both in words."""
WEATHER = {
    frozenset({"place.warmer_c"}): (mark("{value} {unit} warmer"), "c_difference"),
    frozenset({"place.wetter"}): (mark("rain times {value}"), ""),
}


def with_words(setting: Setting, scenario: Scenario) -> Setting:
    """Return the setting with words for what it is and for its values.

    Raises
    ------
    ScenarioError
        If the scenario has no such key.
    """
    choice = _choice_of(setting, scenario)
    own = next((words for words in BEYOND_SCREENS if words.are_of(setting.keys)), None)
    if choice is None and own is not None:
        words, said = own.label(setting.keys), {value: own.say(value) for value in setting.values}
    else:
        words = choice.words if choice else _plain_words(setting.keys)
        said = {value: _say(value, choice) for value in setting.values}
    beside = _beside(frozenset(setting.keys), said)
    return replace(setting, words=words, value_words=said, beside_words=beside)


def _beside(keys: frozenset[str], said: Mapping[Value, str]) -> dict[Value, str]:
    """Return values with what they are of, short enough to stand beside others; nothing where we have no such words."""
    if keys in WITH_AND_WITHOUT and set(said) <= {0, 1}:
        usual, none = WITH_AND_WITHOUT[keys]
        return {value: _(usual) if value else _(none) for value in said}
    if keys in WEATHER:
        words, unit = WEATHER[keys]
        return {value: _(words).format(value=one, unit=unit_after(unit)) for value, one in said.items()}
    return {}


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
    """Say a value, also one that its setting will not take: what is allowed there is told later, by the scenario."""
    if choice is not None and (choice.kind == "list" or (choice.unit and not isinstance(value, str))):
        return choice.say(value)
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, str):
        return say_date(value) if is_month_day(value) else say_name(value)
    return say_setting(value)


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
