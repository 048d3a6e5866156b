"""On the screen: which numbers a result leans on, and which published patterns the model reproduces or does not."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import streamlit as st

from dashboard.language.saying import say_list, say_share, short_number, with_minus
from dashboard.language.tongue import _, many, mark

if TYPE_CHECKING:
    from sim.patterns.table import Pattern
    from sim.sensitivity.ranking import Leaning

MET, NOT_MET = mark("✓ yes"), mark("✗ no")
ALL, FAILED = mark("all"), mark("only those that it misses")
RESULTS = {
    "marketable_kg": mark("harvest fit to sell"),
    "marketable_share": mark("share fit to sell"),
    "egg_to_adult_share": mark("pest eggs that grow up"),
    "pest_days_count": mark("pests, added up over days"),
    "bird_food_delivered_g": mark("garden food to nestlings"),
}
"""Results that the study of sensitivity looked at."""
_HUNDRED = 100.0
MOST_NUMBERS = 8
MOST_NAMED = 2
"""Numbers named for each plan beside a result."""


def show_leaning() -> None:
    """Say which numbers a result leans on under a plan, and how often plans change places over all ranges."""
    import pandas as pd

    from dashboard.origins import EVIDENCE, PARTS
    from sim.scenario import load_scenario
    from sim.sensitivity.ranking import leans_on, stored_ranking

    ranking = stored_ranking()
    made = ranking["made"]
    titles = {plan.name: _(plan.title) for plan in load_scenario(made["scenario"]).plans}
    st.header(_("Which results lean on which numbers?"))
    left, right = st.columns(2)
    measure = left.selectbox(
        _("Which result?"), made["measures"], format_func=lambda one: _(RESULTS[one]), key="leaning result"
    )
    plan = right.selectbox(
        _("Under which plan?"), made["plans"], format_func=lambda one: titles[one], key="leaning plan"
    )
    st.markdown(_order_sentence(ranking["orders"][measure], titles))
    rows = [
        (one.name, f"{say_share(one.share)} ± {round(_HUNDRED * one.width)}", _known(one), _(EVIDENCE[one.evidence]))
        for one in leans_on(measure, plan, MOST_NUMBERS)
    ]
    if rows:
        columns = [_("Number"), _("Share of the spread"), _("Known from … to"), _("How it is known")]
        alt = _("The numbers that move this result most, when all that matter move over their ranges.")
        st.table(pd.DataFrame(rows, columns=columns), hide_index=True, alt=alt)
        st.markdown(
            _("± says how well a share is known: so few points were tried that two near neighbours may change places.")
        )
    else:
        st.markdown(_("No single number carries much of it."))
    st.markdown(_study_sentence(made))
    with st.expander(_("What each part of the numbers moves first")):
        parts = pd.DataFrame([(_(title), _(moved)) for title, moved in PARTS.values()])
        parts.columns = [_("Numbers about"), _("Move first")]
        st.table(parts, hide_index=True, alt=_("What results lean on each part of the numbers."))


def show_trust(measure: str) -> None:
    """Say beside a result, closed at first, how far its order of plans can be trusted; nothing of one not studied."""
    from sim.scenario import load_scenario
    from sim.sensitivity.ranking import leans_on, stored_ranking

    ranking = stored_ranking()
    made = ranking["made"]
    if measure not in made["measures"]:
        return
    titles = {plan.name: _(plan.title) for plan in load_scenario(made["scenario"]).plans}
    order = ranking["orders"][measure]
    with st.expander(_("How far can this be trusted?")):
        st.markdown(_study_sentence(made))
        st.markdown(_order_sentence(order, titles))
        st.markdown("\n".join(f"- {sentence}" for sentence in _pair_sentences(order, titles)))
        leanings = {titles[plan]: leans_on(measure, plan, MOST_NAMED) for plan in made["plans"]}
        said = _("**{plan}** leans most on {numbers}.")
        lines = [
            said.format(plan=title, numbers=say_list([_within(one) for one in mine]))
            for title, mine in leanings.items()
            if mine
        ]
        st.markdown("\n".join(f"- {line}" for line in lines))
        st.page_link("screens/origin.py", label=_("All of this, number by number"), icon=":material/arrow_forward:")


def show_patterns() -> None:
    """Show each published pattern, what the model gives, and whether that is met; misses are shown as plainly."""
    import pandas as pd

    from sim.patterns.found import stored_findings
    from sim.patterns.table import figure_of, range_of

    findings, seasons = stored_findings()
    checks = [one for one in findings if one.pattern.is_check]
    st.header(_("Does it behave like the gardens that others measured?"))
    said = _(
        "The model meets {met} of {count} patterns that nothing in it was set by. It misses the others, and they stay "
        "in the table. Where a number was set by the same finding, meeting it proves little: those are marked."
    )
    st.markdown(said.format(met=sum(one.is_met for one in checks), count=len(checks)))
    wanted = st.segmented_control(
        _("Which patterns?"), [ALL, FAILED], default=ALL, format_func=_, key="patterns shown", required=True
    )
    shown = [one for one in findings if wanted == ALL or not one.is_met]
    for level in dict.fromkeys(one.pattern.level for one in shown):
        mine = [one for one in shown if one.pattern.level == level]
        met = sum(one.is_met for one in mine)
        heading = many("{level}: {met} of {count} met", "{level}: {met} of {count} met", len(mine))
        rows = [
            (
                _(one.pattern.what),
                f"{_(one.pattern.expected)} ({with_minus(range_of(one.pattern))})",
                with_minus(figure_of(one.value)),
                _(MET if one.is_met else NOT_MET),
                _how_it_counts(one.pattern),
            )
            for one in mine
        ]
        with st.expander(heading.format(level=_(level).capitalize(), met=met, count=len(mine))):
            columns = [_("Pattern"), _("Expected"), _("The model"), _("Met?"), _("How it counts")]
            alt = _("Published patterns about {level}, and what the model gives.").format(level=_(level))
            st.table(pd.DataFrame(rows, columns=columns).map(_plain), hide_index=True, alt=alt)
    told = many("Each is one figure from {count} season.", "Each is one figure from {count} seasons.", seasons)
    turned = _("Some of them lie near the end of their range: other seasons turn a yes into a no, or a no into a yes.")
    st.markdown(f"{told.format(count=seasons)} {turned}")


def _how_it_counts(pattern: Pattern) -> str:
    if not pattern.is_check:
        return _("set by it, no check")
    return _("checked: more or less only") if pattern.asks_a_direction else _("checked")


def _study_sentence(made: dict[str, Any]) -> str:
    from sim.scenario import load_scenario

    said = _(
        "All numbers that are not known exactly were moved over their ranges, {count} in all, in one garden: {garden}. "
        "Other gardens lean on much the same numbers, not on the same shares."
    )
    return said.format(count=made["numbers_varied"], garden=_(load_scenario(made["scenario"]).title))


def _order_sentence(order: dict[str, Any], titles: dict[str, str]) -> str:
    stated = [titles[plan] for plan in order["stated"]]
    said = _(
        "At the numbers used, most first: {order}. With every number moved at once, the first stays first in {first} "
        "of 100 tries, and the whole order stays in {whole}."
    )
    first, whole = (short_number(_HUNDRED * order[name]) for name in ("same_first", "same_order"))
    return said.format(order=_(", then ").join(stated), first=first, whole=whole)


def _pair_sentences(order: dict[str, Any], titles: dict[str, str]) -> list[str]:
    said = _("'{first}' stays above '{second}' in {share} of 100 tries.")
    return [
        said.format(first=titles[first], second=titles[second], share=short_number(_HUNDRED * share))
        for first, second, share in order["pairs"]
    ]


def _within(one: Leaning) -> str:
    """Return a number's name and how far it is known: a factor for multiples, else from, to and used."""
    if one.is_stretched and one.low > 0:
        factor = max(one.value / one.low, one.high / one.value)
        return _("*{number}* (known within a factor of {factor})").format(number=one.name, factor=short_number(factor))
    return f"*{one.name}* ({_known(one)})"


def _known(one: Leaning) -> str:
    if one.is_stretched:
        said = _("{low} to {high} times the values used ({unit})")
    else:
        said = _("{low} to {high}; used: {value} {unit}")
    low, high, value = (with_minus(f"{number:.3g}") for number in (one.low, one.high, one.value))
    return said.format(low=low, high=high, value=value, unit=one.unit)


def _plain(cell: str) -> str:
    return cell.replace("$", "\\$").replace("~", "\\~")
