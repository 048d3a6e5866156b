"""What the study of sensitivity found, on a terminal and as a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import median
from typing import Any

from rich import box
from rich.table import Table

from dashboard.commands.markdown import head_of, row_of
from dashboard.commands.tables import new_console
from sim.comparison import unit_of, words_of
from sim.errors import RunError, Sentence, tell, unknown
from sim.parameters.spoken import key_in_words
from sim.sensitivity.known import rules
from sim.sensitivity.ranking import heavy_rows, leaning_of

MOST_MECHANISMS = 6
MOST_NUMBERS = 5
TITLE = "# Which numbers matter"
COMMAND = "leafnest sensitivity --remake DIR --keep --page docs/SENSITIVITY.md"


def print_leanings(ranking: dict[str, Any], plan: str | None = None, measure: str | None = None) -> None:
    """Print, for each result, the numbers that it leans on, and how often plans change places."""
    console = new_console()
    plans, measures = chosen(ranking, plan, measure)
    for name in measures:
        table = Table(title=_title(name), box=box.SIMPLE, title_justify="left")
        for column in ("plan", "share", "number", "known from … to", "result there"):
            table.add_column(column, justify="right" if column == "share" else "left")
        for one in plans:
            for place, (key, share, known, there) in enumerate(_numbers(ranking, one, name)):
                table.add_row(one if place == 0 else "", share, key_in_words(key), known, there)
        console.print(table)
        console.print(f"  {order_sentence(ranking['orders'][name])}\n")


def page_of(ranking: dict[str, Any]) -> str:
    """Return the page about sensitivity in Markdown."""
    parts = [
        _opening(ranking),
        _made_with(ranking["made"]["model"]),
        _stated(ranking),
        _leans(ranking),
        _mechanisms(ranking),
        _orders(ranking),
    ]
    return "\n\n".join([*parts, _least_certain(ranking.get("least_certain", [])), _ranges()]) + "\n"


def _made_with(model: dict[str, str]) -> str:
    """Return which model the ranking is of, and when it has to be made anew."""
    return (
        f"Made with version {model['version']}, rules {model['rules'][:8]}, numbers {model['parameters'][:8]}. "
        "Rules change their mark with every edit of the program, also with one that only makes it faster: then the "
        "ranking holds as it is. It has to be made anew when the same seeds give other results, or when a number or "
        "its range changes."
    )


def order_sentence(order: dict[str, Any]) -> str:
    """Return how often plans keep their places when every number is turned at once."""
    plans = ", ".join(f"`{plan}`" for plan in order["stated"])
    return (
        f"More first: {plans}. With every number turned at once over its range ({order['points']} draws) the first "
        f"stays first in {order['same_first']:.0%}, and the whole order stays in {order['same_order']:.0%}."
    )


def _numbers(ranking: dict[str, Any], plan: str, measure: str) -> Iterator[tuple[str, str, str, str]]:
    """Yield key, share with its half-width, range, and what the ends make of the result, heaviest first."""
    ends = {row[0]: f"{row[2]:.3g} to {row[3]:.3g}" for row in ranking["numbers"][plan][measure]}
    for key, _, share, width in heavy_rows(ranking["shares"][plan][measure])[:MOST_NUMBERS]:
        found = leaning_of(key, share, width)
        used = "times the values used" if found.is_stretched else f"({found.value:.3g} used)"
        known = f"{found.low:.3g} to {found.high:.3g} {used}, {found.unit}"
        yield key, f"{found.share:.0%} ± {100 * found.width:.0f}", known, ends.get(key, "")


def chosen(
    ranking: dict[str, Any], plan: str | None = None, measure: str | None = None
) -> tuple[Sequence[str], Sequence[str]]:
    """Return the plans and the measures to be shown: those named, or all.

    Raises
    ------
    RunError
        If the ranking does not have one that is named.
    """
    made = ranking["made"]
    return (
        _named(plan, made["plans"], tell("The ranking has no plan '{name}'", name=plan)),
        _named(measure, made["measures"], tell("The ranking has no measure '{name}'", name=measure)),
    )


def _named(name: str | None, known: Sequence[str], otherwise: Sentence) -> Sequence[str]:
    if name is None:
        return known
    if name not in known:
        raise RunError(unknown(otherwise, name, known))
    return [name]


def _title(measure: str) -> str:
    words, unit = words_of(measure), unit_of(measure)
    return f"{words[:1].upper()}{words[1:]} [{unit}]" if unit else words


def _opening(ranking: dict[str, Any]) -> str:
    made = ranking["made"]
    effort = made["effort"]
    widths = [
        row[3]
        for of_plan in ranking["shares"].values()
        for rows in of_plan.values()
        for row in heavy_rows(rows)[:MOST_NUMBERS]
    ] or [0.0]
    return f"""{TITLE}

Every number of nature in this program has a stated range. This page says on which of them the results lean, and how
often plans change places over the ranges. It is made by

    {COMMAND}

with the garden `{made["scenario"]}`, {effort["seasons"]} seasons a point with the same seeds everywhere, in four steps:

1. *Mechanisms.* All {made["numbers_varied"]} numbers that are not known exactly, grouped into {made["mechanisms"]}
   mechanisms (a table of a file), are moved group by group from {effort["screen_trajectories"]} starting points
   (Morris's method).
2. *Numbers.* Each of the {made["numbers_screened_singly"]} numbers of the {effort["mechanisms_kept"]} mechanisms that
   move most goes to the low and to the high end of its range, one at a time, while all else stands where it is used.
3. *Shares.* The {effort["numbers_kept"]} numbers that move most are varied together at
   {effort["sobol_base"] * (effort["numbers_kept"] + 2)} points, and the spread of each result is shared out among
   them (Sobol' indices).
4. *Orders.* Every number of all is drawn at once, {effort["orders"]} times, and the order of the plans is noted.

Half of each range lies below the value used and half above. A row of numbers moves together. Numbers of animals are
compared by their logarithm. Chance and weather are the same throughout, yet an insect that lives a day longer changes
what follows: part of every "share" is such scatter. With so few points no share is known well: of the {len(widths)}
told here the middle one is good to {100 * median(widths):.0f} parts in a hundred either way, the worst to
{100 * max(widths):.0f}. So heavy and light can be told apart, near neighbours cannot. Other gardens
lean on much the same numbers, not on the same shares. A result that had no value at a point (no
eggs, no share of eggs) was given the middle of the others; that happened {made["results_without_value"]} times."""


def _stated(ranking: dict[str, Any]) -> str:
    measures = ranking["made"]["measures"]
    lines = ["## At the values used", "", *head_of("plan", *map(_title, measures))]
    for plan, values in ranking["stated"].items():
        lines.append(row_of(f"`{plan}`", *(f"{values[name]:g}" for name in measures)))
    return "\n".join(lines)


def _leans(ranking: dict[str, Any]) -> str:
    lines = [
        "## What each result leans on",
        "",
        "Share: of the result's spread, alone and in company, when the numbers of step 3 vary together; ± says how",
        "well it is known from so many points. Shares add up to more than the whole where numbers work through each",
        "other, and those that may as well be 0 are left out. Result there: at the two ends, all else as used.",
    ]
    for name in ranking["made"]["measures"]:
        lines += [
            "",
            f"### {_title(name)}",
            "",
            *head_of("plan", "share", "number", "known from … to", "result there"),
        ]
        for plan in ranking["made"]["plans"]:
            for place, (key, share, known, there) in enumerate(_numbers(ranking, plan, name)):
                lines.append(row_of(f"`{plan}`" if place == 0 else "", share, f"`{key}`", known, there))
    return "\n".join(lines)


def _mechanisms(ranking: dict[str, Any]) -> str:
    lines = [
        "## Which mechanisms move it",
        "",
        "Mean change of the result when all numbers of a mechanism go across their ranges, largest first.",
        "",
        *head_of("result", "plan", "mechanisms"),
    ]
    for name in ranking["made"]["measures"]:
        for plan in ranking["made"]["plans"]:
            rows = ranking["mechanisms"][plan][name][:MOST_MECHANISMS]
            said = ", ".join(f"`{row[0]}` {row[1]:.2g}" for row in rows if row[1] > 0)
            lines.append(row_of(words_of(name), f"`{plan}`", said))
    return "\n".join(lines)


def _orders(ranking: dict[str, Any]) -> str:
    lines = ["## How often plans change places", ""]
    for name, order in ranking["orders"].items():
        lines.append(f"* {_title(name)}. {order_sentence(order)}")
        lines += [f"  * `{a}` above `{b}` in {share:.0%}." for a, b, share in order["pairs"]]
    return "\n".join(lines)


def _least_certain(rows: Sequence[dict[str, Any]]) -> str:
    if not rows:
        return "## The numbers that are known worst\n\nNot made in this run."
    measures = [name for name in rows[0] if name not in ("number", "value", "plan")]
    lines = ["## The numbers that are known worst", "", "One at a time, all else as used; the same seasons."]
    for number in dict.fromkeys(row["number"] for row in rows):
        columns = ("value", "plan", *map(_title, measures))
        lines += ["", f"### {number[:1].upper()}{number[1:]}", "", *head_of(*columns)]
        mine = [row for row in rows if row["number"] == number]
        for place, row in enumerate(mine):
            is_new = place == 0 or mine[place - 1]["value"] != row["value"]
            figures = (f"{row[name]:g}" for name in measures)
            lines.append(row_of(row["value"] if is_new else "", f"`{row['plan']}`", *figures))
    return "\n".join(lines)


def _ranges() -> str:
    lines = [
        "## Ranges that are narrower than what may be set",
        "",
        "An entry's low and high say what may be set. Where that is far more than what is unknown, the study uses the",
        "rules of `sim/sensitivity/known.toml`:",
        "",
        *head_of("numbers", "varied", "because"),
    ]
    for rule in rules()["narrower"]:
        lines.append(row_of(f"`{rule['keys']}`", _extent(rule), f"{rule['why']} ({rule['evidence']})"))
    for rule in rules()["left_alone"]:
        lines.append(row_of(f"`{rule['keys']}`", "left alone", rule["why"]))
    return "\n".join(lines)


def _extent(rule: Any) -> str:
    if "low" in rule:
        return f"{rule['low']:g} to {rule['high']:g}"
    if "least" in rule:
        return f"{rule['least']:g} to {rule['most']:g} times the value"
    return f"{rule['either_side']:g} less to {rule['either_side']:g} more"
