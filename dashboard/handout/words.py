"""What a handout says in words: the garden, the plans, what happened, what is in doubt, and where numbers come from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from dashboard.charts.sentences import FLEDGED, fledging_sentence, mean_difference
from dashboard.language.cautions import OPEN_FLOWERS, sprays_flowers
from dashboard.language.saying import say_date, say_list, say_share, short_number
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import _, many
from dashboard.plans.deeds import say_deed, say_name

if TYPE_CHECKING:
    from pandas import Series

    from dashboard.handout.findings import Findings
    from dashboard.language.spoken import Spoken

FOOD, FOOD_IN_BEDS = "bird_food_reachable_g", "bird_food_in_beds_g"
TOLD = ("marketable_kg", "pests_alive_peak_count", FOOD)
"""The measures told in words."""
DRAWN = ("marketable_kg", FOOD)
"""Those drawn."""
COSTS = ("labour_minutes", "cost_usd", "marketable_kg")
MOST_BEDS_NAMED, MOST_BEDS_OF_A_DEED = 8, 2


def garden_sentences(findings: Findings, *, has_beds: bool) -> list[str]:
    """Return what the garden is: its own words, what grows where if asked, and what was changed."""
    beds = findings.garden.beds
    grown = [
        many("{name}: one plant from {day}", "{name}: {count} plants from {day}", bed.plant_count * bed.repeat).format(
            name=say_name(bed.name), count=bed.plant_count * bed.repeat, day=say_date(bed.planted)
        )
        for bed in beds[:MOST_BEDS_NAMED]
    ]
    said = [_(findings.garden.about).strip()] if findings.garden.about.strip() else []
    if has_beds:
        said.append(_("Beds: {beds}.").format(beds="; ".join(grown)))
    if has_beds and len(beds) > MOST_BEDS_NAMED:
        said.append(_("And {count} more kinds of beds.").format(count=len(beds) - MOST_BEDS_NAMED))
    if findings.changed:
        said.append(_("Changed for this page: {changes}.").format(changes="; ".join(findings.changed)))
    return said


def plan_points(findings: Findings, numbers: Mapping[str, str] | None = None) -> list[str]:
    """Return each plan with what it alone does, and then what all of them do; with its number, if it has one."""
    deeds = {
        plan: [say_deed(action, MOST_BEDS_OF_A_DEED) for action in findings.garden.plan(plan).actions]
        for plan in findings.plans
    }
    shared = [deed for deed in deeds[findings.plans[0]] if all(deed in others for others in deeds.values())]
    points = []
    for plan, title in findings.titles.items():
        own = [deed for deed in deeds[plan] if deed not in shared or len(deeds) == 1]
        number = f"{numbers[plan]} " if numbers else ""
        points.append(f"**{number}{title}.** {'. '.join(own) if own else _('Nothing more than all plans do')}.")
    if shared and len(deeds) > 1:
        points.append(f"**{_('All plans.')}** {'. '.join(shared)}.")
    if sprays_flowers(findings.garden, findings.plans):
        points.append(_(OPEN_FLOWERS))
    return points


def happened_points(findings: Findings) -> list[str]:
    """Return what the seasons say, a measure a point; each plan is held against the first."""
    comparison, titles = findings.comparison, findings.titles
    known = [BY_MEASURE[measure] for measure in TOLD if measure in comparison.measures]
    said = []
    if len(titles) == 1:
        said += [f"{_mean_sentence(findings, one.measure)} {food_note(findings, one)}".strip() for one in known]
    else:
        rows = comparison.paired
        for spoken in known:
            own = [row for _place, row in rows[rows["measure"] == spoken.measure].iterrows()]
            told = [_standing(row, titles, spoken) for row in own]
            parts = (*told, *_close_calls(own, titles), food_note(findings, spoken))
            said.append(f"**{spoken.title}.** {' '.join(filter(None, parts))}")
    return [sentence for sentence in (*said, *closing_sentences(findings)) if sentence]


def food_note(findings: Findings, spoken: Spoken) -> str:
    """Return, for bird food alone, which part of it lies in the beds, and which seasons do not count."""
    if spoken.measure != FOOD:
        return ""
    table = findings.comparison.table
    counted = table.loc[table["measure"] == FOOD, "seasons"].min()
    is_less = counted < len(findings.numbers)
    uncounted = _("Seasons without young in reach are not counted.") if is_less else ""
    return f"{_part_in_beds(findings)} {uncounted}".strip()


def _part_in_beds(findings: Findings) -> str:
    """Return which part of the bird food in reach lies in the beds under each plan, or nothing where nobody knows."""
    if FOOD_IN_BEDS not in findings.comparison.measures:
        return ""
    means = [[findings.means.get((measure, plan), 0.0) for measure in (FOOD_IN_BEDS, FOOD)] for plan in findings.plans]
    parts = say_list([_part(inside / whole) if whole else _("none") for inside, whole in means])
    if len(means) == 1:
        return _("Part of it in the beds: {parts}; the rest is on wild plants beside them.").format(parts=parts)
    told = _("Part of it in the beds, in the order of the plans: {parts}; the rest is on wild plants beside them.")
    return told.format(parts=parts)


def _part(share: float) -> str:
    return _("under 1%") if 0 < share < 1 / 100 else say_share(share)


def closing_sentences(findings: Findings) -> list[str]:
    """Return what is said last of the seasons: that no plan changed how many fledged, and what has no figures."""
    comparison = findings.comparison
    said = [fledging_sentence(comparison.seasons)] if FLEDGED in comparison.measures else []
    missing = [BY_MEASURE[measure].title.lower() for measure in TOLD if measure not in comparison.measures]
    if missing:
        said.append(_("No figures in this garden: {what}.").format(what=say_list(missing)))
    return said


def against_sentence(findings: Findings) -> str:
    """Return which plan the others are held against, or nothing where there is one alone."""
    first = next(iter(findings.titles.values()))
    return _("Each plan is held against '{first}'.").format(first=first) if len(findings.plans) > 1 else ""


def _standing(row: Series, titles: dict[str, str], spoken: Spoken) -> str:
    count = int(row["ahead"] + row["level"] + row["behind"])
    if not count:
        return _("{plan}: nothing to count.").format(plan=titles[row["plan"]])
    return many(
        "{plan}: {mean}, better in {ahead} of {count} season.",
        "{plan}: {mean}, better in {ahead} of {count} seasons.",
        count,
    ).format(plan=titles[row["plan"]], mean=mean_difference(row, spoken), ahead=row["ahead"], count=count)


def _close_calls(rows: Sequence[Series], titles: dict[str, str]) -> list[str]:
    """Return one sentence for all plans that are too close to the first to call, or none."""
    close = [titles[row["plan"]] for row in rows if row["verdict"] == "too close to call"]
    if not close:
        return []
    if len(rows) == 1:
        return [_("Too close to call.")]
    if len(close) == len(rows):
        return [_("All of this is too close to call.")]
    return [_("Too close to call: {plans}.").format(plans=say_list(close))]


def _mean_sentence(findings: Findings, measure: str) -> str:
    spoken = BY_MEASURE[measure]
    mean = mean_of(findings, measure, findings.plans[0])
    return _("{what}: {amount} {unit}, mean of these seasons.").format(what=spoken.title, amount=mean, unit=spoken.unit)


def mean_of(findings: Findings, measure: str, plan: str) -> str:
    """Return the mean of a measure under a plan, as measured now."""
    mean = findings.means.get((measure, plan))
    return _("none") if mean is None else short_number(mean * BY_MEASURE[measure].factor)


def cost_table(findings: Findings) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Return header and rows: what each plan took and gave, mean of a season."""
    known = [measure for measure in COSTS if measure in findings.comparison.measures]
    header = (_("Plan"), *(header_of(BY_MEASURE[name]) for name in known))
    rows = tuple((title, *(mean_of(findings, name, plan) for name in known)) for plan, title in findings.titles.items())
    return header, rows


def header_of(spoken: Spoken) -> str:
    """Return what a column holds, with its unit unless the words say it."""
    return spoken.title if spoken.unit.lower() in spoken.title.lower() else f"{spoken.title} ({spoken.unit})"


def doubt_points(findings: Findings) -> list[str]:
    """Return the four kinds of doubt, each by itself."""
    from dashboard.origins import origins

    count = len(findings.numbers)
    numbers = origins()
    guesses = sum(row.evidence in ("memory", "common practice") for row in numbers)
    luck = many(
        "**Luck.** One season was run. Another may turn the order round.",
        "**Luck.** No two seasons are alike. {count} seasons were run, the same for every plan.",
        count,
    ).format(count=count)
    return [
        luck,
        _(
            "**Guesses.** {share} of the {all} numbers of nature rest on memory or common practice. "
            "Each has a range in which it may lie."
        ).format(share=say_share(guesses / len(numbers)), all=len(numbers)),
        _("**What is left out.** Slugs, mites, deer, drought and most plant diseases."),
        _("**Your garden.** Other soil and another hand give other numbers. If it disagrees, believe your garden."),
    ]


def again_sentences(findings: Findings) -> list[str]:
    """Return how to come back to exactly this setting."""
    said = []
    if findings.code:
        said.append(
            _("Code of this setting: **{code}**. Type it under 'Have a code?', and ask for the same seasons.").format(
                code=findings.code
            )
        )
    if findings.command:
        said.append(_("Or say to the command: {command}").format(command=findings.command))
    return said


def lacking_sentence(lacking: Sequence[str]) -> str:
    """Return how many letters could not be printed, or nothing."""
    if not lacking:
        return ""
    return many(
        "{count} letter of a name has no shape in the fonts of this page; □ stands for it.",
        "{count} letters of names have no shape in the fonts of this page; □ stands for them.",
        len(lacking),
    ).format(count=len(lacking))
