"""What a handout says where many plans are held against the first: a table in place of a sentence for each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dashboard.handout.words import COSTS, TOLD, closing_sentences, food_note, header_of, mean_of
from dashboard.language.saying import say_list
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import _, many

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings
    from dashboard.language.spoken import Spoken

MOST_TOLD_ONE_BY_ONE = 4
"""With more plans than these, a sentence for each plan and measure would fill pages."""
NO_BREAK = "\u00a0"
COLUMNS = (*TOLD, *(measure for measure in COSTS if measure not in TOLD))


def are_many(findings: Findings) -> bool:
    """Return whether the plans are too many to be told one by one."""
    return len(findings.plans) > MOST_TOLD_ONE_BY_ONE


def numbered(findings: Findings) -> dict[str, str]:
    """Return slug → the number under which a plan stands in the list, the table and the small pictures."""
    return {plan: str(number) for number, plan in enumerate(findings.plans, start=1)}


def extremes(findings: Findings) -> list[str]:
    """Return, for each measure, which plan gave most and which least, and which are too close to the first to call."""
    known = [BY_MEASURE[measure] for measure in TOLD if measure in findings.comparison.measures]
    said = [_extreme(findings, spoken) for spoken in known]
    return [sentence for sentence in (*said, *closing_sentences(findings)) if sentence]


def standing_table(findings: Findings) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Return header and rows: the mean of each measure under each plan, and in how many seasons it did better."""
    known = [measure for measure in COLUMNS if measure in findings.comparison.measures]
    header = (_("Plan"), *(header_of(BY_MEASURE[measure]) for measure in known))
    better = _better(findings)
    rows = tuple(
        (f"{number} {findings.titles[plan]}", *(_cell(findings, measure, plan, better) for measure in known))
        for plan, number in numbered(findings).items()
    )
    return header, rows


def table_note(findings: Findings) -> str:
    """Return what the brackets of the table hold."""
    count = len(findings.numbers)
    return many(
        "Means of a season. In brackets: in how many of {count} season the plan did better than plan 1; "
        "a wave (~) means too close to call.",
        "Means of a season. In brackets: in how many of {count} seasons the plan did better than plan 1; "
        "a wave (~) means too close to call.",
        count,
    ).format(count=count)


def _extreme(findings: Findings, spoken: Spoken) -> str:
    table = findings.comparison.table
    means = table[table["measure"] == spoken.measure].set_index("plan")["mean"].dropna()
    if means.empty:
        return ""
    titles = findings.titles
    most, least = str(means.idxmax()), str(means.idxmin())
    said = _("**{what}.** Most: {most} ({most_amount}). Least: {least} ({least_amount}).").format(
        what=spoken.title,
        most=titles[most],
        least=titles[least],
        most_amount=_amount(findings, spoken, most),
        least_amount=_amount(findings, spoken, least),
    )
    rows = findings.comparison.paired
    is_close = (rows["measure"] == spoken.measure) & (rows["verdict"] == "too close to call")
    close = [numbered(findings)[plan] for plan in rows[is_close]["plan"]]
    if close:
        plans = _("every other plan") if len(close) == len(findings.plans) - 1 else say_list(close)
        said = f"{said} {_('Too close to call against plan 1: {plans}.').format(plans=plans)}"
    return f"{said} {food_note(findings, spoken)}".strip()


def _amount(findings: Findings, spoken: Spoken, plan: str) -> str:
    return f"{mean_of(findings, spoken.measure, plan)} {spoken.unit}".replace(" ", NO_BREAK)


def _better(findings: Findings) -> dict[tuple[str, str], str]:
    rows = findings.comparison.paired
    return {
        (row["measure"], row["plan"]): f" ({row['ahead']}{'~' if row['verdict'] == 'too close to call' else ''})"
        for _place, row in rows.iterrows()
        if row["ahead"] + row["level"] + row["behind"]
    }


def _cell(findings: Findings, measure: str, plan: str, better: dict[tuple[str, str], str]) -> str:
    said = better.get((measure, plan), "") if measure in TOLD else ""
    return f"{mean_of(findings, measure, plan)}{said}"
