"""What a plan does, said in plain words, and how two plans differ."""

from __future__ import annotations

from typing import Any

from dashboard.language.saying import say_amount, say_date, say_hour, say_list, say_setting, say_share
from dashboard.language.tongue import _, many, mark
from sim.scenario import Plan, Scenario
from sim.scenario.actions import Action

MATERIALS = {
    "insect_mesh": mark("insect mesh"),
    "fine_mesh": mark("fine mesh"),
    "veil": mark("veil fabric"),
    "row_cover": mark("row cover"),
    "bird_net": mark("bird net"),
}
EDGES = {"buried": mark("edges buried"), "weighted": mark("edges weighted"), "slack": mark("edges slack")}
PRODUCTS = {
    "bt": mark("a Bt spray"),
    "spinosad": mark("a spinosad spray"),
    "pyrethrins": mark("a pyrethrins spray"),
    "azadirachtin": mark("an azadirachtin spray"),
    "soap": mark("a soap spray"),
}
HOURS = {"dawn": mark("at dawn"), "noon": mark("at noon"), "dusk": mark("at dusk")}
MOMENTS = {
    "planting": mark("at planting"),
    "first_bloom": mark("at first bloom"),
    "bloom_half": mark("when half the plants bloom"),
    "heading": mark("when heads form"),
    "first_picking": mark("at the first picking"),
    "last_picking": mark("at the last picking"),
}
DEEDS = {
    "cover": mark("Cover"),
    "uncover": mark("Uncover"),
    "spray": mark("Spray"),
    "scout": mark("Look over plants"),
    "spray_at_threshold": mark("Spray when there are many"),
    "hand_pick": mark("Pick pests off by hand"),
    "wash_off": mark("Wash aphids off with water"),
    "hand_pollinate": mark("Carry pollen by hand"),
    "weed": mark("Weed"),
    "pick": mark("Pick the harvest"),
    "plant_flower_strip": mark("Plant a flower strip"),
    "plant_hedgerow": mark("Plant a hedgerow"),
    "skip_bed": mark("Leave unplanted"),
    "clean_up": mark("Pull the plants and clear up"),
    "till": mark("Turn the soil"),
    "put_up_nest_box": mark("Put up nest boxes"),
}
KINDS = {
    "cover": mark("the net"),
    "uncover": mark("the net"),
    "spray": mark("sprays"),
    "spray_at_threshold": mark("sprays"),
}
"""Deeds that count as one kind of thing when plans are set against each other; the others stand for themselves."""
THRESHOLD_WORDS = {
    "caterpillar_infested_share": mark("at {figure} of plants with caterpillars"),
    "harlequin_infested_share": mark("at {figure} of plants with harlequin bugs"),
    "flea_beetles_per_plant": mark("at {figure} flea beetles a plant"),
    "cucumber_beetles_per_plant": mark("at {figure} cucumber beetles a plant"),
    "aphid_infested_share": mark("at {figure} of plants with aphids"),
}
DAYS = {"on": mark("on {day}"), "since": mark("from {day}"), "until": mark("until {day}")}
"""A date in an action, and how it is said."""


def say_name(name: str) -> str:
    """Return the name of a bed, a plan or the like as words; those of the gardens that come along are translated."""
    return _(name.replace("_", " "))


def say_deed(action: Action, most_beds: int = 100) -> str:
    """Return what is done, where and when: ``Cover (all beds): insect mesh, edges buried, at planting``.

    More beds than ``most_beds`` are counted, not named.
    """
    where = _beds(action, most_beds)
    details = ", ".join(part for part in (*_how(action), _when(action)) if part)
    return f"{_(DEEDS[action.do])}{where}{f': {details}' if details else ''}"


def say_plan(plan: Plan) -> list[str]:
    """Return each thing that a plan does."""
    return [say_deed(action) for action in plan.actions]


def difference_sentence(garden: Scenario, first: str, other: str) -> str:
    """Return what one plan does and the other does not, and a warning when that is more than one kind of thing."""
    deeds = {name: garden.plan(name).actions for name in (first, other)}
    only = {name: [action for action in deeds[name] if action not in deeds[rest]] for name, rest in _both(first, other)}
    kinds = {_kind_of(action) for actions in only.values() for action in actions}
    titles = {"other": _(garden.plan(other).title), "first": _(garden.plan(first).title)}
    if not kinds:
        return _("'{other}' and '{first}' do the same things.").format(**titles)
    what = say_list(sorted(kinds))
    if len(kinds) == 1:
        return _("'{other}' differs from '{first}' in one kind of thing: {what}.").format(**titles, what=what)
    return _(
        "'{other}' differs from '{first}' in {count} kinds of things: {what}. "
        "So the pair alone cannot tell which of them made the difference."
    ).format(**titles, count=len(kinds), what=what)


def _kind_of(action: Action) -> str:
    return _(KINDS[action.do]) if action.do in KINDS else _(DEEDS[action.do]).lower()


def _both(first: str, other: str) -> tuple[tuple[str, str], tuple[str, str]]:
    return (first, other), (other, first)


def _beds(action: Action, most_beds: int) -> str:
    if not hasattr(action, "beds"):
        return ""
    names = [say_name(name) for name in action.beds]
    if len(names) > most_beds:
        return f" ({_('{count} beds').format(count=len(names))})"
    return f" ({say_list(names) if names else _('all beds')})"


def _few(figure: float) -> int:
    """Return 1 for one, or another number, as plurals ask for whole numbers: one and a half are several."""
    return 1 if figure == 1 else 2


def _how(action: Action) -> list[str]:
    raw: dict[str, Any] = action.model_dump()
    lists = (("material", MATERIALS), ("edges", EDGES), ("product", PRODUCTS), ("hour", HOURS))
    said = [_(words[raw[field]]) for field, words in lists if field in raw]
    if raw.get("open_to_hour"):
        hours = {"first": say_hour(raw["open_from_hour"]), "last": say_hour(raw["open_to_hour"])}
        said.append(_("open from {first} to {last}").format(**hours))
    said += [_(THRESHOLD_WORDS[name]).format(figure=_threshold(name, raw[name])) for name in _thresholds(raw)]
    if "plants" in raw:
        said.append(many("{count} plant a bed", "{count} plants a bed", raw["plants"]).format(count=raw["plants"]))
    if "seconds_per_plant" in raw:
        seconds = raw["seconds_per_plant"]
        words = many("one second a plant", "{count} seconds a plant", _few(seconds))
        said.append(words.format(count=say_setting(seconds)))
    if "length_m" in raw:
        said.append(_("{length} long").format(length=say_amount(raw["length_m"], "m")))
    if age := raw.get("age_years"):
        said.append(many("one year old", "{count} years old", _few(age)).format(count=say_setting(age)))
    return said + ([say_amount(raw["area_m2"], "m2")] if "area_m2" in raw else [])


def _thresholds(raw: dict[str, Any]) -> list[str]:
    return [name for name in THRESHOLD_WORDS if raw.get(name) is not None]


def _threshold(name: str, value: float) -> str:
    return say_share(value) if name.endswith("_share") else say_setting(value)


def _when(action: Action) -> str:
    raw: dict[str, Any] = action.model_dump()
    parts = []
    if raw.get("every_days"):
        parts.append(many("every day", "every {count} days", raw["every_days"]).format(count=raw["every_days"]))
    moment = raw.get("at")
    if moment:
        parts.append(_(MOMENTS[moment]))
    for field, words in DAYS.items():
        if raw.get(field):
            parts.append(_(words).format(day=say_date(raw[field])))
    days = raw.get("days_after_planting")
    if days is not None:
        parts.append(
            many("{count} day after planting", "{count} days after planting", days).format(count=days)
            if days
            else _("from planting")
        )
    if raw.get("delay_days"):
        parts.append(many("{count} day later", "{count} days later", raw["delay_days"]).format(count=raw["delay_days"]))
    if raw.get("times"):
        parts.append(many("at most once", "at most {count} times", raw["times"]).format(count=raw["times"]))
    return ", ".join(parts)
