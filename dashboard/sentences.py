"""What a comparison says in plain words: how often a plan was ahead, by how much, and what did not move."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from dashboard.charts.picture import short_number
from dashboard.charts.scene import order_words, ranks
from dashboard.spoken import Spoken
from sim.comparison import better_of

if TYPE_CHECKING:
    from pandas import DataFrame, Series

    from sim.comparison import Comparison

SPOKEN = (
    ("marketable_kg", "kg", "to sell"),
    ("bird_food_reachable_g", "g", "bird food in reach"),
)
"""Measure, unit and words of the headlines."""

MOST_SEASONS_TO_GO = 200
"""Beyond so many, no class would run them."""

FLEDGED = "nestlings_fledged_count"


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
    verdicts = comparison.paired.set_index(["measure", "plan"])["verdict"]
    said = []
    for measure, unit, words in SPOKEN:
        wide = _season_by_plan(comparison.seasons, measure)
        for plan in [plan for plan in comparison.plans[1:] if {plan, first} <= set(wide.columns)]:
            sentence = _headline((wide[plan] - wide[first]).dropna(), titles[plan], titles[first], unit, words)
            is_open = verdicts[(measure, plan)] == "too close to call" and len(wide) > 1
            said.append(sentence + (" Too close to call: more seasons would be needed." if is_open else ""))
    return said


def fledging_sentence(seasons: DataFrame) -> str:
    """Return a sentence if no plan changed how many nestlings fledged in any season, else an empty text."""
    wide = _season_by_plan(seasons, FLEDGED)
    if wide.shape[1] < 2 or not wide.to_numpy().any() or wide.nunique(axis=1).max() > 1:
        return ""
    return (
        "No plan changed how many nestlings fledged, in any season: one bed is small beside a territory. "
        "Read the bird food, not the fledglings, to see what a plan does to birds."
    )


def _season_by_plan(seasons: DataFrame, measure: str) -> DataFrame:
    rows = seasons[seasons["measure"] == measure]
    return rows.pivot_table(index="seed", columns="plan", values="value")


def _headline(differences: Series, plan: str, first: str, unit: str, words: str) -> str:
    count = len(differences)
    more, fewer = int((differences > 0).sum()), int((differences < 0).sum())
    if not more and not fewer:
        return f"{plan}: as much {words} as '{first}' in every season."
    low, high = float(differences.quantile(0.1)), float(differences.quantile(0.9))
    way, often = ("more", more) if more >= fewer else ("less", fewer)
    amount = (
        f"from {_signed(low)} to {_signed(high)} {unit} in 8 of 10 seasons" if count > 1 else f"{_signed(low)} {unit}"
    )
    return f"{plan}: {way} {words} than '{first}' in {often} of {count} seasons ({amount})."


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
    return f"Ahead means {'less' if better_of(spoken.measure) == 'less' else 'more'}: {spoken.title.lower()}."


def order_sentence(seasons: DataFrame, titles: Mapping[str, str], spoken: Spoken) -> str:
    """Return the order of plans in the first season, most first, and how usual that order is among all seasons."""
    wide = _season_by_plan(seasons, spoken.measure).dropna()
    wide = wide[[plan for plan in titles if plan in wide.columns]]
    if wide.empty:
        return ""
    places = [tuple(ranks(list(row))) for row in wide.to_numpy()]
    order = order_words([titles[plan] for plan in wide.columns], places[0])
    first = f"Season {wide.index[0]}, most first: {order}."
    if len(places) == 1:
        return f"{first} One season is one throw of the dice: run more."
    same = sum(one == places[0] for one in places)
    return f"{first} {same} of {len(places)} seasons came out in that order."


def _standing(row: Series, titles: Mapping[str, str], spoken: Spoken) -> str:
    count = int(row["ahead"] + row["level"] + row["behind"])
    if not count:
        return f"**{titles[row['plan']]}**: nothing to count in these seasons."
    difference = float(row["difference"]) * spoken.factor
    amount = short_number(abs(difference))
    mean = (
        "the same on average"
        if amount == "0"
        else f"{amount} {spoken.unit} {'more' if difference > 0 else 'less'} on average"
    )
    verdict = {
        "ahead": "Ahead.",
        "behind": "Behind.",
        "level": "Level.",
        "too close to call": f"Too close to call{_seasons_to_go(row['more_seasons_needed'])}.",
    }[str(row["verdict"])]
    return (
        f"**{titles[row['plan']]}** against '{titles[row['against']]}': ahead in {row['ahead']}, level in "
        f"{row['level']}, behind in {row['behind']} of {count}; {mean}. **{verdict}**"
    )


def _seasons_to_go(more: object) -> str:
    if not isinstance(more, int) or more > MOST_SEASONS_TO_GO:
        return ""
    return f": about {more} more season{'s' if more > 1 else ''} may settle it"
