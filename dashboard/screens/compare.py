"""Compare plans: one measure a picture, one dot a season, and in how many seasons each plan was ahead."""

from collections.abc import Mapping
from dataclasses import replace

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.boards.room import end_page, show_comparison
from dashboard.boards.survival_board import show_stages
from dashboard.boards.trust_board import show_trust
from dashboard.charts.imprint import garden_words
from dashboard.charts.scene import Scene, order_words, ranks
from dashboard.language.saying import say_list
from dashboard.language.spoken import BY_MEASURE, SPOKEN, Spoken, spoken_in
from dashboard.language.tongue import _, in_these_words, many, mark
from dashboard.lesson.caring import SEASONS
from dashboard.lesson.lesson import CARED, MOST_SEATS, Lesson
from dashboard.page.dress import show_cautions, show_limits, show_way_on
from dashboard.page.paper import only_on_screen
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, comparison_from, run_step_by_step
from dashboard.page.taking import offer_picture
from dashboard.page.view import is_room_view, show_beside_picture, show_view_switch
from dashboard.page.visit import (
    garden_in_hand,
    gardens,
    keep,
    offer_as_moved,
    offer_guess,
    open_screen,
    show_setting,
    titles_in_hand,
)
from dashboard.teaching.on_screen import lead
from dashboard.teaching.tapping import have_tapped_for_plans, later_plans, show_taps_of_plans
from sim.comparison import Comparison

COUNTS = {1: mark("One"), 5: mark("Five"), 20: mark("Twenty"), 100: mark("A hundred")}
CLASS = 0
"""Stands among the counts for a season for each seat of the class."""
CLASS_WORDS = mark("One a seat")
COUNT_AT_FIRST = 5
SURVIVAL = "egg_to_adult_share"
SEATS_AT_FIRST = 24
ALONE = mark("One plan alone: nothing is set against it.")


def page() -> None:
    """Draw the page from top to bottom."""
    lesson = open_screen(_("Which plan gives what?"))
    if is_room_view():
        with st.container(key="room ask"):
            may_see = have_tapped_for_plans(lesson)
        if may_see:
            show_comparison(lesson)
        else:
            show_view_switch()
            end_page(lesson, can_be_moved=True)
        return
    show_setting(lesson)
    offer_as_moved(lesson)
    lesson = lead(lesson, "compare")
    offer_guess(lesson)
    if not have_tapped_for_plans(lesson):
        show_limits()
        show_cautions()
        return
    left, right = st.columns(2)
    with left:
        seasons = ask_seasons(lesson)
    measure = right.selectbox(
        _("What shall we look at?"),
        spoken_in(garden_in_hand(lesson)),
        format_func=lambda name: BY_MEASURE[name].title,
        key="measure",
        persist_state="session",
    )
    waiting, answer, usual = st.empty(), st.empty(), st.empty()
    if len(lesson.plans) > 1:
        show_differences(lesson)
    with st.container(key="cares"):
        lesson = ask_cares(lesson) if len(lesson.plans) > 1 else lesson
        verdict = st.empty()
    show_way_on("screens/went.py", _("Next: see where it all went"))
    show_limits()
    show_cautions()
    from dashboard.seasons.wishes import wishes

    garden = garden_in_hand(lesson)
    spoken = BY_MEASURE[measure]
    wished = {plan: wishes(garden, [plan], seasons) for plan in lesson.plans}
    run_step_by_step(
        wished, lambda found, is_all: show_answer(lesson, spoken, found, is_all, answer.container()), bar=waiting
    )
    twenty = range(lesson.season, lesson.season + SEASONS)
    wished = {plan: wishes(garden, [plan], twenty) for plan in lesson.plans}
    run_step_by_step(
        wished, lambda found, is_all: show_twenty(lesson, spoken, found, is_all, usual, verdict), bar=waiting
    )


def ask_seasons(lesson: Lesson) -> range:
    """Ask how many seasons and return their numbers."""
    count = st.segmented_control(
        _("How many seasons?"),
        [*COUNTS, CLASS],
        default=COUNT_AT_FIRST,
        format_func=lambda one: _(COUNTS.get(one, CLASS_WORDS)),
        key="count",
        required=True,
        persist_state="session",
    )
    if count == CLASS:
        seats = _("Seats in the class")
        count = int(st.number_input(seats, 1, MOST_SEATS, SEATS_AT_FIRST, key="seats", persist_state="session"))
        said = _("Each seat has a season of its own: the first seat has season {first}, the last {last}.")
        st.caption(said.format(first=lesson.season, last=lesson.season + count - 1))
    return range(lesson.season, lesson.season + count)


def show_answer(lesson: Lesson, spoken: Spoken, seasons: Seasons, is_all: bool, place: object) -> None:
    """Show sentences, picture and tables of the seasons so far."""
    comparison = comparison_from(garden_in_hand(lesson), seasons)
    with place:  # type: ignore[attr-defined]
        if is_all:
            show_taps_of_plans(lesson, comparison, later_plans(lesson))
        scene = show_measure(comparison, titles_in_hand(lesson), spoken)
        if spoken.measure == SURVIVAL:
            show_stages(titles_in_hand(lesson), seasons, _(gardens()[lesson.garden].title), is_all=is_all)
        if is_all:
            if scene is not None:
                offer_picture(scene, spoken.measure, garden_words(gardens()[lesson.garden]), comparison.seeds)
            show_each_season(comparison, titles_in_hand(lesson), spoken)
            show_every_measure(comparison, titles_in_hand(lesson))
            show_trust(spoken.measure)
            show_downloads(lesson, comparison)


def show_measure(comparison: Comparison, titles: Mapping[str, str], spoken: Spoken) -> Scene | None:
    """Show one measure: who was ahead in words, the picture, and its figures to read; return the picture if any."""
    from dashboard.charts.seasons_picture import draw, seasons_scene
    from dashboard.charts.sentences import FLEDGED, ahead_means, fledging_sentence, standings

    scene = seasons_scene(comparison.seasons, titles, spoken)
    count = len(comparison.seeds)
    heading = many("{what}, {count} season", "{what}, {count} seasons", count)
    heading = heading.format(what=spoken.title, count=count)
    said = standings(comparison, titles, spoken)
    is_alone = len(titles) == 1
    if scene.frame.empty or (not said and not is_alone):
        st.header(heading)
        st.markdown(_("Nothing of this kind in this garden: look at something else."))
        return None
    if spoken.measure == FLEDGED:
        said.append(fledging_sentence(comparison.seasons))

    def show_words() -> None:
        st.header(heading)
        st.markdown("\n".join(f"- {sentence}" for sentence in said if sentence))
        st.markdown(_(ALONE) if is_alone else ahead_means(spoken))

    show_beside_picture(show_words, lambda: place_chart(draw(scene), scene.alt))
    st.markdown(scene.caption)
    st.table(scene.table, hide_index=True, alt=scene.alt)
    return scene


def show_twenty(
    lesson: Lesson, spoken: Spoken, seasons: Seasons, is_all: bool, usual: DeltaGenerator, verdict: DeltaGenerator
) -> None:
    """Say, once there are twenty seasons, how usual the first one is, and what the class's answers put first."""
    if is_all and len(lesson.plans) > 1:
        from dashboard.charts.sentences import order_sentence

        comparison = comparison_from(garden_in_hand(lesson), seasons)
        usual.markdown(order_sentence(comparison.seasons, titles_in_hand(lesson), spoken))
        with verdict.container():
            show_cares(lesson, comparison)


def ask_cares(lesson: Lesson) -> Lesson:
    """Ask how much the class cares about each thing; nothing is set at first."""
    from dashboard.lesson.lesson import LEVELS

    st.subheader(_("What matters most to you?"))
    st.markdown(
        _("There is no best plan until somebody says what counts. Tap how much you care that each of these goes well.")
    )
    cares: dict[str, int] = {}
    can_be = spoken_in(garden_in_hand(lesson))
    asked = [measure for measure in CARED if measure in can_be]
    for first in range(0, len(asked), 2):
        for column, measure in zip(st.columns(2), asked[first : first + 2], strict=False):
            level = column.segmented_control(
                BY_MEASURE[measure].title,
                list(LEVELS),
                default=lesson.cares.get(measure),
                format_func=lambda one: _(LEVELS[one]),
                key=f"cares {measure}",
                width="stretch",
            )
            if level is not None:
                cares[measure] = level
    lesson = replace(lesson, cares=cares)
    keep(lesson)
    return lesson


def show_cares(lesson: Lesson, comparison: Comparison) -> None:
    """Show which plan the answers put first, and which answer alone would turn that."""
    from dashboard.charts.caring_picture import caring_scene, draw
    from dashboard.lesson.caring import points_of, turn_sentence, turns, ways_of

    if not any(lesson.cares.values()):
        st.markdown(_("Nothing is set, so nothing is said."))
        return
    titles = titles_in_hand(lesson)
    ways = ways_of(comparison)
    points = points_of(ways, lesson.cares)
    still_open = [
        BY_MEASURE[way.measure].title.lower() for way in ways if way.is_open and lesson.cares.get(way.measure)
    ]
    if still_open:
        said = _("Level or too close to call in twenty seasons, so it counts for nothing here: {what}.")
        st.markdown(said.format(what=say_list(still_open)))
    if not points:
        return
    order = order_words([titles[plan] for plan in points], ranks([round(value, 9) for value in points.values()]))
    st.markdown(_("**By what you care about, in twenty seasons: {order}.**").format(order=order))
    found = turns(ways, lesson.cares)
    said_turns = [turn_sentence(turn, BY_MEASURE[turn.measure].title, titles) for turn in found]
    st.markdown(
        "\n".join(f"- {sentence}" for sentence in said_turns)
        or _("No single answer, changed alone, puts another plan first.")
    )
    scene = caring_scene(ways, lesson.cares, titles)
    place_chart(draw(scene), scene.alt, has_few_marks=True)
    st.markdown(scene.caption)
    st.markdown(
        _(
            "Each row runs from the worst plan to the best plan here. Ask of each row: how much do we care for "
            "that step? A plan half way up gets half."
        )
    )
    st.table(scene.table, hide_index=True, alt=scene.alt)
    offer_picture(scene, "caring", garden_words(gardens()[lesson.garden]), comparison.seeds)


def show_each_season(comparison: Comparison, titles: Mapping[str, str], spoken: Spoken) -> None:
    """Show one measure of each season, closed at first, so that a seat without a device can read its own."""
    import pandas as pd

    from dashboard.language.saying import short_number

    rows = comparison.seasons[comparison.seasons["measure"] == spoken.measure]
    wide = rows.pivot_table(index="seed", columns="plan", values="value")
    known = [plan for plan in titles if plan in wide.columns]
    if not known:
        return
    said = [
        (f"{seed}", *(short_number(value * spoken.factor) for value in wide.loc[seed, known])) for seed in wide.index
    ]
    table = pd.DataFrame(said, columns=[_("Season"), *(titles[plan] for plan in known)])
    with st.expander(_("Season by season, so that each seat can read its own")):
        st.table(table, hide_index=True, alt=_("{what} of each season by plan.").format(what=spoken.title))


def show_every_measure(comparison: Comparison, titles: Mapping[str, str]) -> None:
    """Show the mean of every measure that this screen knows, closed at first."""
    import pandas as pd

    from dashboard.language.saying import short_number

    means = comparison.table.set_index(["measure", "plan"])["mean"]
    known = [one for one in SPOKEN if one.measure in comparison.measures]
    rows = [
        (f"{one.title}: {one.axis}", *(short_number(float(means[one.measure, plan]) * one.factor) for plan in titles))
        for one in known
    ]
    table = pd.DataFrame(rows, columns=[_("What"), *titles.values()])
    with st.expander(_("Everything at once, mean of these seasons")):
        st.table(table, hide_index=True, alt=_("Mean of each measure by plan."))


def show_differences(lesson: Lesson) -> None:
    """Say in which things the plans differ, and warn when in more than one."""
    from dashboard.plans.deeds import difference_sentence

    st.subheader(_("What differs between the plans"))
    garden = garden_in_hand(lesson)
    said = [difference_sentence(garden, lesson.plans[0], other) for other in lesson.plans[1:]]
    st.markdown("\n".join(f"- {sentence}" for sentence in said))


def show_downloads(lesson: Lesson, comparison: Comparison) -> None:
    """Offer the summary picture and every season's figures as files, made only when asked for."""
    from dashboard.results import comparison_picture, comparison_results, packed

    garden = garden_in_hand(lesson)
    only_on_screen("take").markdown(
        _("**Take it all.** The summary as a picture; every figure as a data package (CSV, Parquet).")
    )
    offer_picture(
        comparison_picture(comparison.seasons, garden, list(comparison.plans)),
        "summary",
        garden_words(garden),
        comparison.seeds,
    )

    @in_these_words
    def data() -> bytes:
        return packed(comparison_results(comparison, garden, list(comparison.plans)))

    st.download_button(
        _("All figures (ZIP)"), data, "leafnest_data.zip", "application/zip", on_click="ignore", key="data"
    )


if __name__ == "__main__":
    page()
