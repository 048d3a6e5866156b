"""Try it yourself: move what the gardener decides or what the world does, and see what it changes."""

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.boards.bargain_board import ask_bargain, settle, show_bargain, summaries_of
from dashboard.boards.what_if import ask_curve, curve_asked, draw_curve
from dashboard.charts.imprint import garden_words
from dashboard.language.saying import say_error
from dashboard.language.spoken import BY_MEASURE
from dashboard.language.tongue import _, current_units, many
from dashboard.lesson.lesson import Lesson
from dashboard.page.again import fresh
from dashboard.page.dress import show_cautions, show_limits, show_way_on
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, comparison_from, run_step_by_step
from dashboard.page.taking import offer_one_of
from dashboard.page.view import place_before_all, show_beside_picture
from dashboard.page.visit import gardens, keep, open_screen, show_setting
from dashboard.plans.bargains import Bargain, bargains_of
from dashboard.seasons.wishes import wishes
from dashboard.seasons.work import STEPS
from dashboard.teaching.on_screen import lead, offer_second_round
from dashboard.teaching.tapping import has_tapped, show_tap, slot_of_changes, tapped_measure
from sim.errors import LeafnestError
from sim.scenario import Scenario

if TYPE_CHECKING:
    from dashboard.plans.choices import Choice

SHOWN = ("marketable_kg", "pests_alive_peak_count", "bird_food_reachable_g", "labour_minutes")
TABLED = (*SHOWN, "cost_usd", "flower_visits_count", "bird_food_delivered_g", "birds_entangled_count")
MOST_CHOICES = 3
SPRAYS = ("spray", "spray_at_threshold")


def page() -> None:
    """Draw the page from top to bottom."""
    top = place_before_all()
    lesson = open_screen(_("What would you change?"))
    setting = st.container()  # filled below, as is the second round, once it is known what is moved
    lesson = lead(lesson, "try")
    second_round = st.container()
    garden = gardens()[lesson.garden]
    left, right = st.columns(2)
    with left:
        lesson = ask_bargain(lesson)
    with right if bargains_of(lesson.garden) else left:
        lesson, offered = ask_plan(lesson, garden)
    lesson = ask_changes(lesson, offered)
    values = [(choice, choice.value_in(lesson.changes)) for choice in offered]
    moved = [choice.holding(value) for choice, value in values if value != choice.now]
    lesson = ask_curve(lesson, moved)
    keep(lesson)
    with setting:
        show_setting(lesson)
    with second_round:
        offer_second_round(lesson)
    bargain = bargains_of(lesson.garden).get(lesson.bargain)
    place = st.container() if top is None else top
    show_way_on("screens/home.py", _("Next: take it home"))
    show_limits()
    show_cautions([lesson.tried_plan])
    if not lesson.changes:
        place.markdown(_("Nothing is changed yet. Move something, and its answer stands here."))
        if bargain:
            settle(lesson, garden, bargain, place)
        return
    try:
        changed = garden.with_changes(lesson.changes)
    except LeafnestError as error:
        place.warning(say_error(error))
        return
    if wait_for_tap(lesson, place):
        answer(lesson, garden, changed, bargain, place)
        if asked := curve_asked(lesson, moved):
            draw_curve(lesson, garden, asked, place)


def ask_plan(lesson: Lesson, garden: Scenario) -> tuple[Lesson, list["Choice"]]:
    """Ask for the plan to change; another plan begins with nothing changed in what the gardener decides."""
    from dashboard.plans.choices import choices

    names = list(garden.plan_names)
    now = lesson.tried_plan or lesson.plans[min(1, len(lesson.plans) - 1)]
    titles = {plan.name: _(plan.title) for plan in garden.plans}
    slot = fresh(f"tried plan {lesson.garden}")
    plan = st.selectbox(_("Which plan?"), names, names.index(now), format_func=titles.__getitem__, key=slot)
    if plan != now:
        kept = {key: value for key, value in lesson.changes.items() if not key.startswith("plans.")}
        lesson = replace(lesson, changes=kept)
    return replace(lesson, tried_plan=plan), choices(garden, plan)


def ask_changes(lesson: Lesson, offered: list["Choice"]) -> Lesson:
    """Let up to three things be picked and moved; return the lesson with what differs from the plan as it was."""
    from dashboard.plans.choices import without_control

    if unheld := without_control(lesson.changes, offered):
        said = _("No control here stands for {settings}, so it was left out.")
        st.warning(said.format(settings=", ".join(unheld)))
    by_key = {choice.keys[0]: choice for choice in offered}
    moved = [key for key, choice in by_key.items() if choice.value_in(lesson.changes) != choice.now]
    slot = fresh(f"{lesson.garden} {lesson.tried_plan}")
    picked = st.multiselect(
        _("What do you want to change? Pick one thing, {most} at most.").format(most=MOST_CHOICES),
        list(by_key),
        moved or [next((one for one in offered if one.kind == "number"), offered[0]).keys[0]],
        format_func=lambda key: by_key[key].words,
        max_selections=max(MOST_CHOICES, len(moved)),
        key=f"things {slot}",
        select_all=False,  # it would pick the first three of the list
    )
    changes: dict[str, Any] = {}
    for key in picked:
        choice = by_key[key]
        value = ask_value(choice, choice.value_in(lesson.changes), slot)
        if value != choice.now:
            changes |= choice.changes(value)
    if any(by_key[key].deed in SPRAYS for key in picked):
        st.caption(_("A label says how often, and how long to wait before picking."))
    count = sum(choice.value_in(changes) != choice.now for choice in offered)
    if count > 1:
        said = _("{count} things differ. Then the answer cannot tell which of them made the difference.")
        st.warning(said.format(count=count))
    return replace(lesson, changes=changes)


def ask_value(choice: "Choice", value: Any, slot: str) -> Any:
    """Show the control of one choice, set to a value; return what it says."""
    key = f"{slot} {choice.keys[0]}"
    if choice.kind == "switch":
        return st.toggle(choice.words, value, key=key)
    at_first = st.session_state.setdefault(f"at first {key}", value)  # so that the control keeps its range
    choice = choice.holding(at_first).holding(value)
    if choice.kind == "list":
        options = list(choice.options or {})
        return st.selectbox(choice.words, options, options.index(value), format_func=choice.say, key=key)
    if choice.kind == "date":
        return _date(choice, value, key)
    low, high, step = choice.shown_range
    before = choice.shown(type(choice.low)(value))  # a link may say a whole number where the control has decimals
    shown = _number(choice.words, low, high, step, before, f"{key} {current_units()}")
    return value if shown == before else choice.value_of(shown)


def _number(words: str, low: float, high: float, step: float, value: float, key: str) -> float:
    """Show a slider and beside it a box with minus and plus; either moves the other."""
    slider, box = f"slider {key}", f"box {key}"

    def follow(leader: str, follower: str) -> None:
        st.session_state[follower] = st.session_state[leader]

    for name in (slider, box):
        st.session_state.setdefault(name, value)
    form = "%g" if isinstance(step, float) else None
    wide, narrow = st.columns([3, 1], vertical_alignment="bottom")
    wide.slider(words, low, high, step=step, format=form, key=slider, on_change=follow, args=(slider, box))
    narrow.number_input(
        _("{what}, typed").format(what=words),
        low,
        high,
        step=step,
        format=form,
        key=box,
        on_change=follow,
        args=(box, slider),
        label_visibility="collapsed",
    )
    moved: float = st.session_state[slider]
    return round(moved, 6) if isinstance(moved, float) else moved


def _date(choice: "Choice", value: str, key: str) -> str:
    """Show a planting day to be moved by days."""
    from dashboard.plans.choices import day_after, days_from

    days = _number(choice.words, int(choice.low), int(choice.high), 1, days_from(choice.now, value), key)
    return day_after(choice.now, int(days))


def wait_for_tap(lesson: Lesson, place: DeltaGenerator) -> bool:
    """Ask, in a lesson, for one tap before each answer; return whether the answer may be shown."""
    what = BY_MEASURE[tapped_measure(lesson)].title.lower()
    with place:
        question = _("Before you see it, {what}: more than before, about the same, or less?").format(what=what)
        return has_tapped(lesson, slot_of_changes(lesson), question)


def answer(lesson: Lesson, garden: Scenario, changed: Scenario, bargain: Bargain | None, place: DeltaGenerator) -> None:
    """Run the plan as it was and as changed, and show the answer after one, five and twenty seasons."""
    from dashboard.charts.change_picture import AFTER, BEFORE

    seasons = range(lesson.season, lesson.season + STEPS[-1])
    wished = {
        BEFORE: wishes(garden, [lesson.tried_plan], seasons),
        AFTER: wishes(changed, [lesson.tried_plan], seasons),
    }
    with place:
        spot = st.empty()
        run_step_by_step(
            wished, lambda found, is_all: show_answer(lesson, garden, bargain, found, is_all, spot.container())
        )


def show_answer(
    lesson: Lesson, garden: Scenario, bargain: Bargain | None, seasons: Seasons, is_all: bool, place: DeltaGenerator
) -> None:
    """Show what changed in words, small pictures and a table."""
    from dashboard.charts.change_picture import AFTER, BEFORE, change_scene, draw
    from dashboard.charts.sentences import ahead_means, standings
    from dashboard.plans.choices import choices, describe

    comparison = comparison_from(garden, seasons)
    count = len(comparison.seeds)
    titles = {BEFORE: _("as it was"), AFTER: _("As changed")}
    known = [BY_MEASURE[name] for name in TABLED if name in comparison.measures]
    scenes = {one.measure: change_scene(comparison.seasons, one) for one in known}
    with place:
        heading = many("What it changed, {count} season", "What it changed, {count} seasons", count)
        st.header(heading.format(count=count))
        st.markdown("\n".join(f"- {said}" for said in describe(lesson.changes, choices(garden, lesson.tried_plan))))
        if bargain:
            show_bargain(bargain, summaries_of(seasons, AFTER))
        if is_all:
            show_tap(lesson, slot_of_changes(lesson), comparison, AFTER)
        said = [
            f"{one.title}. {sentence}" for one in known[: len(SHOWN)] for sentence in standings(comparison, titles, one)
        ]
        shown = [scenes[name] for name in SHOWN if name in scenes]

        def show_charts() -> None:
            for first in range(0, len(shown), 2):
                for column, scene in zip(st.columns(2), shown[first : first + 2], strict=False):
                    place_chart(draw(scene), scene.alt, column)

        def show_standings() -> None:
            st.markdown("\n".join(f"- {sentence}" for sentence in said))
            st.markdown(" ".join(ahead_means(one) for one in known[: len(SHOWN)]))

        show_beside_picture(show_standings, show_charts)
        st.markdown(shown[0].caption if shown else "")
        if is_all:
            offer_one_of(
                {one.title: scenes[one.measure] for one in known}, "change", garden_words(garden), comparison.seeds
            )
        show_table(list(scenes.values()))


def show_table(scenes: list[Any]) -> None:
    """Show the means before and after, and measures that have no picture here."""
    import pandas as pd

    table = pd.concat([scene.table for scene in scenes], ignore_index=True)
    st.table(table, hide_index=True, alt=" ".join(scene.alt for scene in scenes))


if __name__ == "__main__":
    page()
