"""What a plan does, said in plain words, and how two plans differ."""

from __future__ import annotations

from datetime import date
from typing import Any

from sim.scenario import Plan, Scenario
from sim.scenario.actions import Action
from sim.scenario.values import date_in

ANY_YEAR = 2025
MATERIALS = {
    "insect_mesh": "insect mesh",
    "fine_mesh": "fine mesh",
    "veil": "veil fabric",
    "row_cover": "row cover",
    "bird_net": "bird net",
}
EDGES = {"buried": "edges buried", "weighted": "edges weighted", "slack": "edges slack"}
PRODUCTS = {
    "bt": "a Bt spray",
    "spinosad": "a spinosad spray",
    "pyrethrins": "a pyrethrins spray",
    "azadirachtin": "an azadirachtin spray",
    "soap": "a soap spray",
}
HOURS = {"dawn": "at dawn", "noon": "at noon", "dusk": "at dusk"}
MOMENTS = {
    "planting": "at planting",
    "first_bloom": "at first bloom",
    "bloom_half": "when half the plants bloom",
    "heading": "when heads form",
    "first_picking": "at the first picking",
    "last_picking": "at the last picking",
}
DEEDS = {
    "cover": "Cover",
    "uncover": "Uncover",
    "spray": "Spray",
    "scout": "Look over plants",
    "spray_at_threshold": "Spray when there are many",
    "hand_pick": "Pick pests off by hand",
    "wash_off": "Wash aphids off with water",
    "hand_pollinate": "Carry pollen by hand",
    "weed": "Weed",
    "pick": "Pick the harvest",
    "plant_flower_strip": "Plant a flower strip",
    "plant_hedgerow": "Plant a hedgerow",
    "skip_bed": "Leave unplanted",
    "clean_up": "Pull the plants and clear up",
    "till": "Turn the soil",
    "put_up_nest_box": "Put up nest boxes",
}
KINDS = {"cover": "the net", "uncover": "the net", "spray": "sprays", "spray_at_threshold": "sprays"}
"""Deeds that count as one kind of thing when plans are set against each other; the others stand for themselves."""
THRESHOLD_WORDS = {
    "caterpillar_infested_share": "{:.0%} of plants with caterpillars",
    "harlequin_infested_share": "{:.0%} of plants with harlequin bugs",
    "flea_beetles_per_plant": "{:g} flea beetles a plant",
    "cucumber_beetles_per_plant": "{:g} cucumber beetles a plant",
    "aphid_infested_share": "{:.0%} of plants with aphids",
}


def say_date(day: date | str) -> str:
    """Return a day without its year: ``1 May``."""
    moment = date_in(day, ANY_YEAR) if isinstance(day, str) else day
    return f"{moment.day} {moment.strftime('%B')}"


def say_deed(action: Action) -> str:
    """Return what is done, where and when: ``Cover all beds: insect mesh, edges buried, at planting``."""
    where = _beds(action)
    details = ", ".join(part for part in (*_how(action), _when(action)) if part)
    return f"{DEEDS[action.do]}{where}{f': {details}' if details else ''}"


def say_plan(plan: Plan) -> list[str]:
    """Return each thing that a plan does."""
    return [say_deed(action) for action in plan.actions]


def difference_sentence(garden: Scenario, first: str, other: str) -> str:
    """Return what one plan does and the other does not, and a warning when that is more than one kind of thing."""
    deeds = {name: garden.plan(name).actions for name in (first, other)}
    only = {name: [action for action in deeds[name] if action not in deeds[rest]] for name, rest in _both(first, other)}
    kinds = {KINDS.get(action.do, DEEDS[action.do].lower()) for actions in only.values() for action in actions}
    titles = {name: garden.plan(name).title for name in (first, other)}
    if not kinds:
        return f"'{titles[other]}' and '{titles[first]}' do the same things."
    what = _listed(sorted(kinds))
    if len(kinds) == 1:
        return f"'{titles[other]}' differs from '{titles[first]}' in one kind of thing: {what}."
    return (
        f"'{titles[other]}' differs from '{titles[first]}' in {len(kinds)} kinds of things: {what}. "
        "So the pair alone cannot tell which of them made the difference."
    )


def _both(first: str, other: str) -> tuple[tuple[str, str], tuple[str, str]]:
    return (first, other), (other, first)


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _beds(action: Action) -> str:
    if not hasattr(action, "beds"):
        return ""
    names = [name.replace("_", " ") for name in action.beds]
    return f" {_listed(names)}" if names else " all beds"


def _how(action: Action) -> list[str]:
    raw: dict[str, Any] = action.model_dump()
    said = [MATERIALS[raw["material"]]] if "material" in raw else []
    said += [EDGES[raw["edges"]]] if "edges" in raw else []
    said += [f"open from {raw['open_from_hour']:g} to {raw['open_to_hour']:g}"] if raw.get("open_to_hour") else []
    said += [PRODUCTS[raw["product"]]] if "product" in raw else []
    said += [HOURS[raw["hour"]]] if "hour" in raw else []
    said += [f"at {THRESHOLD_WORDS[name].format(raw[name])}" for name in THRESHOLD_WORDS if raw.get(name) is not None]
    said += [f"{raw['plants']} plants a bed"] if "plants" in raw else []
    said += [f"{raw['seconds_per_plant']:g} seconds a plant"] if "seconds_per_plant" in raw else []
    said += [f"{raw['length_m']:g} m long"] if "length_m" in raw else []
    said += [f"{raw['age_years']:g} years old"] if raw.get("age_years") else []
    said += [f"{raw['area_m2']:g} m²"] if "area_m2" in raw else []
    return said


def _when(action: Action) -> str:
    raw: dict[str, Any] = action.model_dump()
    parts = []
    if raw.get("every_days"):
        parts.append("every day" if raw["every_days"] == 1 else f"every {raw['every_days']} days")
    if raw.get("at"):
        parts.append(MOMENTS[raw["at"]])
    if raw.get("on"):
        parts.append(f"on {say_date(raw['on'])}")
    if raw.get("since"):
        parts.append(f"from {say_date(raw['since'])}")
    days = raw.get("days_after_planting")
    if days is not None:
        parts.append("from planting" if days == 0 else f"{days} days after planting")
    if raw.get("delay_days"):
        parts.append(f"{raw['delay_days']} days later")
    if raw.get("until"):
        parts.append(f"until {say_date(raw['until'])}")
    if raw.get("times"):
        parts.append(f"at most {raw['times']} times")
    return ", ".join(parts)
