"""What a comparison says in plain words: how often a plan was ahead, by how much, and what did not move."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from dashboard.charts.scene import order_words, ranks
from dashboard.language.saying import in_units, short_number, unit_after
from dashboard.language.spoken import Spoken
from dashboard.language.tongue import _, many, mark
from sim.comparison import better_of

if TYPE_CHECKING:
    from pandas import DataFrame, Series

    from sim.comparison import Comparison

SPOKEN = (
    (
        "marketable_kg",
        "kg",
        mark("{plan}: as much to sell as '{first}' in every season."),
        mark("{plan}: more to sell than '{first}' in {often} of {count} seasons ({amount})."),
        mark("{plan}: less to sell than '{first}' in {often} of {count} seasons ({amount})."),
    ),
    (
        "bird_food_reachable_g",
        "g",
        mark("{plan}: as much bird food in reach as '{first}' in every season."),
        mark("{plan}: more bird food in reach than '{first}' in {often} of {count} seasons ({amount})."),
        mark("{plan}: less bird food in reach than '{first}' in {often} of {count} seasons ({amount})."),
    ),
    (
        "bird_food_in_beds_g",
        "g",
        mark("{plan}: in the beds alone as much bird food as '{first}' in every season."),
        mark("{plan}: in the beds alone more bird food than '{first}' in {often} of {count} seasons ({amount})."),
        mark("{plan}: in the beds alone less bird food than '{first}' in {often} of {count} seasons ({amount})."),
    ),
)
"""Measure, unit and sentences of the headlines: as much, more, less."""

MOST_SEASONS_TO_GO = 200
"""Beyond so many, no class would run them."""
ROUGH_FROM, ROUGH_STEP = 20, 10
"""From how many on they are told in round numbers: they are a rough reckoning."""

FEWEST_FOR_TENTHS = 10
"""From how many seasons on the middle 8 of 10 are told; of fewer, the lowest and the highest."""

FLEDGED = "nestlings_fledged_count"
OPEN = "open"
"""What seasons say that leave open which way a plan goes."""


def headlines(comparison: Comparison, titles: Mapping[str, str]) -> list[str]:
    """Return, for each plan against the first, in how many seasons it gave more, and how much more.

    Parameters
    ----------
    comparison
        Plans over the same seasons.
    titles
        Slug → title of its plans.
    """
    first = comparison.plans[0]
    rows = comparison.paired.set_index(["measure", "plan"])
    said = []
    for measure, unit, *sentences in SPOKEN:
        wide = _season_by_plan(comparison.seasons, measure)
        for plan in [plan for plan in comparison.plans[1:] if {plan, first} <= set(wide.columns)]:
            sentence = _headline((wide[plan] - wide[first]).dropna(), titles[plan], titles[first], unit, sentences)
            row = rows.loc[(measure, plan)]
            is_open = row["verdict"] == "too close to call" and len(wide) > 1
            said.append(f"{sentence} {short_verdict(row)}" if is_open else sentence)
    return said


def fledging_sentence(seasons: DataFrame) -> str:
    """Return a sentence if no plan changed how many nestlings fledged in any season, else an empty text."""
    wide = _season_by_plan(seasons, FLEDGED)
    if wide.shape[1] < 2 or not wide.to_numpy().any() or wide.nunique(axis=1).max() > 1:
        return ""
    return _(
        "No plan changed how many nestlings fledged, in any season: one bed is small beside a territory. "
        "Read the bird food, not the fledglings, to see what a plan does to birds."
    )


def _season_by_plan(seasons: DataFrame, measure: str) -> DataFrame:
    rows = seasons[seasons["measure"] == measure]
    return rows.pivot_table(index="seed", columns="plan", values="value")


def _headline(differences: Series, plan: str, first: str, unit: str, sentences: Sequence[str]) -> str:
    count = len(differences)
    more, fewer = int((differences > 0).sum()), int((differences < 0).sum())
    as_much, more_than, less_than = map(_, sentences)
    if not more and not fewer:
        return as_much.format(plan=plan, first=first)
    # Of fewer than ten seasons no part is 8 of 10: of two, none lies between such quantiles, and of three one does.
    parts = (0.1, 0.9) if count >= FEWEST_FOR_TENTHS else (0.0, 1.0)
    low, high = (_signed(in_units(float(differences.quantile(part)), unit)) for part in parts)
    sentence, often = (more_than, more) if more >= fewer else (less_than, fewer)
    amount = f"{low} {unit_after(unit)}"
    if count > 1:
        tenths, all_of_them = _("from {low} to {high} {unit} in 8 of 10 seasons"), _("from {low} to {high} {unit}")
        told = tenths if count >= FEWEST_FOR_TENTHS else all_of_them
        amount = told.format(low=low, high=high, unit=unit_after(unit))
    return sentence.format(plan=plan, first=first, often=often, count=count, amount=amount)


def _signed(value: float) -> str:
    return ("+" if value > 0 else "") + short_number(value)


def standings(comparison: Comparison, titles: Mapping[str, str], spoken: Spoken) -> list[str]:
    """Return, for each plan against the first, in how many seasons it was ahead, level and behind, and the verdict.

    Parameters
    ----------
    comparison
        Plans over the same seasons.
    titles
        Slug → title of its plans.
    spoken
        The measure.
    """
    rows = comparison.paired[comparison.paired["measure"] == spoken.measure]
    return [_standing(row, titles, spoken) for _, row in rows.iterrows()]


def ahead_means(spoken: Spoken) -> str:
    """Return what being ahead means for a measure, ``Ahead means more: harvest`` for one."""
    is_less = better_of(spoken.measure) == "less"
    sentence = _("Ahead means less: {what}.") if is_less else _("Ahead means more: {what}.")
    return sentence.format(what=spoken.title.lower())


def order_sentence(seasons: DataFrame, titles: Mapping[str, str], spoken: Spoken) -> str:
    """Return the order of plans in the first season, most first, and how usual that order is among all seasons."""
    wide = _season_by_plan(seasons, spoken.measure).dropna()
    wide = wide[[plan for plan in titles if plan in wide.columns]]
    if wide.empty:
        return ""
    places = [tuple(ranks(list(row))) for row in wide.to_numpy()]
    order = order_words([titles[plan] for plan in wide.columns], places[0])
    first = _("Season {season}, most first: {order}.").format(season=wide.index[0], order=order)
    if len(places) == 1:
        return f"{first} {_('One season is one throw of the dice: run more.')}"
    same = sum(one == places[0] for one in places)
    usual = many(
        "{same} of {count} seasons came out in that order.", "{same} of {count} seasons came out in that order.", same
    )
    return f"{first} {usual.format(same=same, count=len(places))}"


def way_of(row: Series) -> str:
    """Return what most seasons of a paired row say of the plan: ``more``, ``less``, ``same``, or ``open``."""
    if row["verdict"] == "level":
        return "same"
    if row["verdict"] == "too close to call":
        return OPEN
    return "more" if (row["verdict"] == "ahead") == (better_of(row["measure"]) != "less") else "less"


def is_mean_other_way(row: Series) -> bool:
    """Return whether the mean went the other way than most seasons did: then the few others changed most."""
    way, difference = way_of(row), float(row["difference"])
    return (way == "more" and difference < 0) or (way == "less" and difference > 0)


def mean_difference(row: Series, spoken: Spoken) -> str:
    """Return how much more or less a plan gave on average than the one it is held against, from its paired row."""
    if row["verdict"] == "level":
        return _("the same on average")
    difference = float(row["difference"]) * spoken.factor
    amount = short_number(abs(difference))
    if amount == "0":
        return _("nearly the same on average")
    if spoken.is_counted:
        said = _("{amount} more {unit} on average") if difference > 0 else _("{amount} fewer {unit} on average")
    else:
        said = _("{amount} {unit} more on average") if difference > 0 else _("{amount} {unit} less on average")
    return said.format(amount=amount, unit=spoken.unit)


def _standing(row: Series, titles: Mapping[str, str], spoken: Spoken) -> str:
    count = int(row["ahead"] + row["level"] + row["behind"])
    if not count:
        return _("**{plan}**: nothing to count in these seasons.").format(plan=titles[row["plan"]])
    return _(
        "**{plan}** against '{first}': ahead in {ahead}, level in {level}, behind in {behind} of {count}; {mean}. "
        "**{verdict}**"
    ).format(
        plan=titles[row["plan"]],
        first=titles[row["against"]],
        ahead=row["ahead"],
        level=row["level"],
        behind=row["behind"],
        count=count,
        mean=mean_difference(row, spoken),
        verdict=_verdict(row),
    )


def short_verdict(row: Series) -> str:
    """Return the verdict of a paired row in as few words as a room can read, without how many seasons more it takes."""
    if row["verdict"] == "level":
        return ""  # every season was: the counts say so
    if row["verdict"] != "too close to call":
        return _("Luck alone would seldom do that.")
    return _("Too close to call.") if min(row["ahead"], row["behind"]) else _("Too few seasons to be sure.")


def _is_one_way(row: Series) -> bool:
    """Return whether no season went the other way; then it is not close, there are only too few."""
    return bool(row["ahead"] + row["level"] + row["behind"] > 1 and not min(row["ahead"], row["behind"]))


def _verdict(row: Series) -> str:
    """Return the verdict of a paired row in words and, where it is open, how many more seasons may settle it."""
    verdict, more = str(row["verdict"]), row["more_seasons_needed"]
    settled = {"ahead": _("Ahead."), "behind": _("Behind."), "level": _("Level.")}
    if verdict in settled:
        return settled[verdict]
    if not isinstance(more, int) or more > MOST_SEASONS_TO_GO:
        return _("Too close to call.")
    if more > ROUGH_FROM:
        more = ROUGH_STEP * math.ceil(more / ROUGH_STEP)
    if _is_one_way(row):
        never_behind = _("Never behind, but too few seasons to be sure: about {more} more may settle it.")
        never_ahead = _("Never ahead, but too few seasons to be sure: about {more} more may settle it.")
        return (never_behind if row["ahead"] else never_ahead).format(more=more)
    return many(
        "Too close to call: about {more} more season may settle it.",
        "Too close to call: about {more} more seasons may settle it.",
        more,
    ).format(more=more)
