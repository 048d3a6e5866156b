"""The guess of a later round: one tap before an answer is shown, and guess and answer together afterwards.

A tap is kept by what was changed, so a reload asks no one twice. Free play does not ask.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import streamlit as st

from dashboard.charts.sentences import OPEN, is_mean_other_way, way_of
from dashboard.language.saying import say_share, short_number
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import _, mark
from dashboard.lesson.lesson import MOST_TAPS, TAPS, Lesson
from dashboard.lesson.opened import lesson_file_of
from dashboard.page.visit import keep, plan_titles, questions_in_hand
from sim.comparison import better_of

if TYPE_CHECKING:
    from pandas import DataFrame, Series

    from sim.comparison import Comparison

CHOICES = {"more": mark("More"), "same": mark("About the same"), "less": mark("Less")}
SAID = {
    "more": mark("You said: more."),
    "same": mark("You said: about the same."),
    "less": mark("You said: less."),
}
CAME = {
    "more": mark("The seasons said: more."),
    "same": mark("The seasons said: about the same."),
    "less": mark("The seasons said: less."),
}
ONE_WAY = {
    "more": mark("The seasons said: more in each that differs, but they are too few to be sure."),
    "less": mark("The seasons said: less in each that differs, but they are too few to be sure."),
}
TOO_FEW = mark("The seasons said: too few to be sure.")
UNDECIDED = mark("The seasons said: too close to call.")
"""Open is never said as "about the same": five seasons of five one way are open, and forty nearly always agree with
them (measured with the teaching garden, five plans against nothing done: 2,073 times of 2,079, once the other way)."""
FAIR = {
    "more": mark("More, but so little that your answer is fair, too."),
    "less": mark("Less, but so little that your answer is fair, too."),
}
SLIGHT_SHARE = 0.02
"""Below such a part of what it is set against, a step is no surprise to those who said "about the same"."""
_LETTERS = 8


def tapped_measure(lesson: Lesson) -> str:
    """Return the measure that a tap is about: the one of the lesson's first question."""
    return next(iter(questions_in_hand(lesson).values()))[1]


def slot_of_changes(lesson: Lesson) -> str:
    """Return the word under which a tap about changed settings is kept."""
    said = json.dumps([lesson.tried_plan, lesson.season, sorted(lesson.changes.items())], sort_keys=True)
    return f"c{hashlib.sha256(said.encode()).hexdigest()[:_LETTERS]}"


def later_plans(lesson: Lesson) -> list[str]:
    """Return the plans that came into a lesson after its own, which were guessed about in an order."""
    followed = lesson_file_of(lesson)
    return [plan for plan in lesson.plans[1:] if plan not in followed.plans] if followed else []


def tapped_plans(lesson: Lesson) -> list[str]:
    """Return those of the later plans about which a tap was made."""
    return [plan for plan in later_plans(lesson) if plan in lesson.taps]


def has_tapped(lesson: Lesson, slot: str, question: str) -> bool:
    """Ask in a lesson for one tap, unless it was made; return whether the answer may be shown."""
    if not lesson.ready or slot in lesson.taps:
        return True
    st.markdown(f"**{question}**")
    for column, word in zip(st.columns(len(TAPS)), TAPS, strict=True):
        if column.button(_(CHOICES[word]), key=f"tap {word} {slot}", width="stretch"):
            taps = dict(list({**lesson.taps, slot: word}.items())[-MOST_TAPS:])
            keep(replace(lesson, taps=taps))
            st.rerun()
    return False


def have_tapped_for_plans(lesson: Lesson, shown: Sequence[str] = ()) -> bool:
    """Ask in a lesson for one tap about each plan that was added; return whether answers may be shown.

    Parameters
    ----------
    lesson
        With its plans and the taps so far.
    shown
        The plans that would be shown now; all of the lesson's, unless told.
    """
    what = BY_MEASURE[tapped_measure(lesson)].title.lower()
    for plan in later_plans(lesson):
        if shown and plan not in shown:
            continue
        told = _("Before you see it: '{plan}' against '{first}', {what}: more, about the same, or less?")
        titles = plan_titles(lesson)
        first = titles[lesson.plans[0]]
        if not has_tapped(lesson, plan, told.format(plan=titles[plan], first=first, what=what)):
            return False
    return True


def _against_first(comparison: Comparison, plan: str, measure: str) -> DataFrame:
    """Return the row of a plan against the first, or no row."""
    return comparison.paired[(comparison.paired["measure"] == measure) & (comparison.paired["plan"] == plan)]


def came_of(comparison: Comparison, plan: str, measure: str) -> str:
    """Return what the seasons gave against the first plan: one of the taps, or that it is open."""
    rows = _against_first(comparison, plan, measure)
    return "same" if rows.empty else way_of(rows.iloc[0])


def said_beside_came(lesson: Lesson, slot: str, comparison: Comparison, plan: str, *, is_for_room: bool = False) -> str:
    """Return guess and answer of a tap, side by side; for a room an open answer is short, for counts stand beside."""
    measure = tapped_measure(lesson)
    came = came_of(comparison, plan, measure)
    if came != OPEN:
        return f"{_(SAID[lesson.taps[slot]])} {_(CAME[came])}"
    row = _against_first(comparison, plan, measure).iloc[0]
    return f"{_(SAID[lesson.taps[slot]])} {_open_words(row, is_for_room=is_for_room)}"


def _open_words(row: Series, *, is_for_room: bool = False) -> str:
    """Return what seasons say that leave it open: which way all went that differ, or that it is too close to call."""
    if bool(row["ahead"]) == bool(row["behind"]):
        return _(UNDECIDED)
    if is_for_room:
        return _(TOO_FEW)
    is_more = bool(row["ahead"]) == (better_of(str(row["measure"])) != "less")
    return _(ONE_WAY["more" if is_more else "less"])


def size_words(comparison: Comparison, plan: str, measure: str) -> str:
    """Return how large the step from the first plan is, since being sure of a step says nothing of its size."""
    rows = _against_first(comparison, plan, measure)
    came = came_of(comparison, plan, measure)
    if rows.empty or came == "same":
        return ""
    spoken, step = BY_MEASURE[measure], float(rows.iloc[0]["difference"])
    if not abs(step) > 0:  # gains and losses of whole creatures may cancel; of no season with a figure it is no number
        return ""
    means = comparison.table.set_index(["measure", "plan"])["mean"]
    amount = f"{short_number(abs(step) * spoken.factor)} {spoken.unit}"
    more, less = (
        _("The size: {amount} more in a mean season{part}."),
        _("The size: {amount} less in a mean season{part}."),
    )
    said = (more if step > 0 else less).format(
        amount=amount, part=_part_words(step, float(means[measure, rows.iloc[0]["against"]]))
    )
    if is_mean_other_way(rows.iloc[0]):
        return f"{said} {_('That is the other way than most seasons went: the few others changed most.')}"
    ending = (
        _("Luck alone could do that.")
        if came == OPEN
        else _("'About the same' is said here only when luck alone could do it. Sure is not large: is this step large?")
    )
    return f"{said} {ending}"


def _part_words(step: float, whole: float) -> str:
    """Return a step as a part of what it is set against: ", about one part in 60"; nothing of nothing."""
    if not whole:
        return ""
    share = abs(step / whole)
    if share > 1 / 2:
        return _(", or {share} of what it is set against").format(share=say_share(share))
    return _(", about one part in {count} of what it is set against").format(count=short_number(round(1 / share)))


def _is_slight(comparison: Comparison, plan: str, measure: str) -> bool:
    """Return whether a step from the first plan is so small a part of it that "about the same" is fair, too."""
    rows = _against_first(comparison, plan, measure)
    if rows.empty:
        return True
    means = comparison.table.set_index(["measure", "plan"])["mean"]
    whole = float(means[measure, rows.iloc[0]["against"]])
    return abs(float(rows.iloc[0]["difference"])) < SLIGHT_SHARE * abs(whole)


def _ending(said: str, came: str, *, is_slight: bool) -> str:
    """Return what a tap is told beside its answer: that it was right, open, fair all the same, or a surprise."""
    if said == came:
        return _("Just so.")
    if came == OPEN:
        return _("More seasons may tell.")
    if said == "same" and is_slight:
        return _(FAIR[came])
    return _("A surprise: why?")


def show_tap(lesson: Lesson, slot: str, comparison: Comparison, plan: str, whose: str = "") -> None:
    """Set the tap beside the answer."""
    if slot not in lesson.taps:
        return
    said = lesson.taps[slot]
    came = came_of(comparison, plan, tapped_measure(lesson))
    ending = _ending(said, came, is_slight=_is_slight(comparison, plan, tapped_measure(lesson)))
    size = size_words(comparison, plan, tapped_measure(lesson))
    told = (whose, said_beside_came(lesson, slot, comparison, plan), ending, size, _("Say it with because."))
    st.info(" ".join(part for part in told if part), icon=":material/front_hand:")


def show_taps_of_plans(lesson: Lesson, comparison: Comparison, plans: Sequence[str]) -> None:
    """Set the tap about each plan that was added beside its answer."""
    titles = plan_titles(lesson)
    for plan in plans:
        show_tap(lesson, plan, comparison, plan, f"**{titles[plan]}**.")
