"""Where it all went, a question at a time: eggs, who went short, days, energy, the creatures behind it, next spring."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.boards.days_board import ask_chain, show_days
from dashboard.boards.follow_board import ask_number, follow
from dashboard.boards.spring_board import show_spring
from dashboard.boards.survival_board import show_stages
from dashboard.charts.imprint import garden_words
from dashboard.language.saying import say_number, short_number
from dashboard.language.tongue import _, many, mark
from dashboard.lesson.boards import BOARDS, DAYS, EGGS, FOLLOW, SHORT, SPRING
from dashboard.lesson.lesson import Lesson
from dashboard.page.again import fresh
from dashboard.page.dress import show_cautions, show_limits, show_way_on
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, lived_under, run_step_by_step, season_numbers
from dashboard.page.taking import offer_picture
from dashboard.page.view import place_before_all, show_with_picture
from dashboard.page.visit import (
    garden_in_hand,
    gardens,
    keep,
    offer_as_moved,
    open_screen,
    show_setting,
    titles_in_hand,
)
from dashboard.seasons.wishes import wishes
from dashboard.teaching.on_screen import lead
from dashboard.teaching.tapping import have_tapped_for_plans

SEASON_COUNTS = {1: mark("One season"), 5: mark("Mean of five"), 20: mark("Mean of twenty")}
NETS, SPRAYS = {"cover"}, {"spray", "spray_at_threshold"}
LOOK_AGAIN = {
    EGGS: (
        mark("A spray kills some. Who ate those that it did not kill, under the other plans?"),
        mark("Fewer eggs in all is another thing than fewer of each thousand that grow up. Which did the net do?"),
        mark("The bars add up to a thousand. If one cause goes, do all of those live, or does another take them?"),
    ),
    SHORT: (mark("Who lost, though nobody touched them? Find those that starved, and food that no bird could reach."),),
    SPRING: (
        mark("Who rests in old stalks, and who in the soil? Which of them would an autumn clean-up take away?"),
        mark("A net goes over the same bed in spring. Who is in there already?"),
    ),
}
"""What a picture answers and what it hides."""
ABOUT = {
    LOOK_AGAIN[EGGS][0]: SPRAYS,
    LOOK_AGAIN[EGGS][1]: NETS,
    LOOK_AGAIN[SPRING][1]: NETS,
}
"""Question → one of these is done under some plan that is shown, or it is not asked."""


def page() -> None:
    """Draw the page from top to bottom: one of six questions, and its answer."""
    top = place_before_all()
    lesson = open_screen(_("Where did it all go?"))
    show_setting(lesson)
    offer_as_moved(lesson)
    lesson = lead(lesson, "went")
    if not have_tapped_for_plans(lesson):
        show_limits()
        show_cautions()
        return
    lesson = ask_board(lesson)
    look = lesson.look or EGGS
    asked = ask_about(look)
    spot = st.container() if top is None else top
    waiting, place = spot.empty(), spot.empty()
    show_questions(lesson, look)
    show_way_on("screens/try_out.py", _("Next: change something"))
    show_limits()
    show_cautions()
    seasons = range(lesson.season, lesson.season + asked.count)
    if look == FOLLOW:
        if asked.group:
            follow(lesson, asked.kind, asked.group, place)
        return
    if look == SPRING:
        show_spring(lesson, seasons, place, waiting)
        return
    garden = garden_in_hand(lesson)
    wished = {plan: wishes(garden, [plan], seasons) for plan in lesson.plans}
    run_step_by_step(
        wished, lambda found, is_all: show_answer(lesson, look, asked, found, is_all, place.container()), bar=waiting
    )


def ask_board(lesson: Lesson) -> Lesson:
    """Ask which of the questions is looked at; it stands in the address.

    One plan alone leaves nobody with less: there is none to hold it against.
    """
    boards = [board for board in BOARDS if board != SHORT or len(lesson.plans) > 1]
    look = st.segmented_control(
        _("Which question?"),
        boards,
        default=lesson.look if lesson.look in boards else EGGS,
        format_func=lambda one: _(BOARDS[one]),
        key=fresh("look at"),
        required=True,
    )
    lesson = replace(lesson, look="" if look == EGGS else str(look))
    keep(lesson)
    return lesson


@dataclass(frozen=True)
class Asked:
    """What a board asks for: whose eggs, how many seasons, which chain, which number."""

    kind: str = ""
    count: int = 1
    chain: str = ""
    group: str = ""


def ask_about(look: str) -> Asked:
    """Ask what the board that is looked at needs to know."""
    if look == FOLLOW:
        return Asked(kind=ask_kind(), group=ask_number())
    left, right = st.columns(2)
    with left:
        kind = ask_kind() if look == EGGS else ""
        chain = ask_chain() if look == DAYS else ""
    with right if kind or chain else left:
        count = st.selectbox(
            _("How many seasons?"),
            list(SEASON_COUNTS),
            2,
            format_func=lambda one: _(SEASON_COUNTS[one]),
            key="ends count",
            persist_state="session",
        )
    return Asked(kind, count, chain)


def ask_kind() -> str:
    """Ask whose eggs are looked at."""
    from dashboard.seasons.ends import kinds

    kind: str = st.selectbox(_("Whose eggs?"), list(kinds()), format_func=_, key="kind", persist_state="session")
    return kind


def show_answer(lesson: Lesson, look: str, asked: Asked, seasons: Seasons, is_all: bool, place: DeltaGenerator) -> None:
    """Show the pictures of the seasons so far."""
    titles = titles_in_hand(lesson)
    garden = garden_words(gardens()[lesson.garden])
    with place:
        if look == EGGS:
            show_eggs(titles, asked.kind, seasons, is_all, garden)
            show_stages(titles, seasons, garden, asked.kind, is_all=is_all)
        elif look == SHORT:
            show_starving(titles, seasons, is_all, garden)
        elif look == DAYS:
            show_days(lesson, titles, asked.chain, seasons, is_all)
        else:
            show_energy(titles, seasons, is_all, garden)


def show_starving(titles: Mapping[str, str], seasons: Seasons, is_all: bool, garden: str) -> None:
    """Show what each plan kills beside whom it leaves with less."""
    from dashboard.charts.starving_picture import draw, starving_scene
    from dashboard.seasons.starving import misses, starving_sentences

    rows = misses({plan: lived_under(plan, seasons) for plan in titles})
    scene = starving_scene(rows, titles)
    st.header(scene.title)
    said = starving_sentences(rows, titles, len(season_numbers(seasons)))
    show_with_picture(
        lambda: place_chart(draw(scene), scene.alt),
        lambda: show_points(said),
    )
    st.markdown(scene.caption)
    st.table(scene.table, hide_index=True, alt=scene.alt)
    if is_all:
        offer_picture(scene, "starving", garden, season_numbers(seasons))


def show_eggs(titles: Mapping[str, str], kind: str, seasons: Seasons, is_all: bool, garden: str) -> None:
    """Show what became of a thousand eggs, how many eggs there were, and the creatures behind each number."""
    from dashboard.charts.ends_picture import draw, ends_scene
    from dashboard.seasons.ends import by_group, creatures, kinds, mean_ends, per_thousand

    ends = {plan: mean_ends(lived_under(plan, seasons), kinds()[kind]) for plan in titles}
    scene = ends_scene({plan: per_thousand(by_group(counts)) for plan, counts in ends.items()}, titles, kind)
    count = len({season for _name, season in seasons})
    seasons_said = many("one season", "mean of {count} seasons", count).format(count=count)
    st.header(f"{scene.title} ({seasons_said})")
    said = [f"**{title}**: {_eggs_words(seasons, plan, float(ends[plan].sum()))}" for plan, title in titles.items()]
    if scene.frame.empty:
        show_points(said)
        st.markdown(_("No such eggs were laid on the crops in these seasons."))
        return

    def show_charts() -> None:
        for column, plan in zip(_pairs(len(titles)), titles, strict=False):
            if not scene.frame[scene.frame["plan"] == plan].empty:
                alt = f"{titles[plan]}. {scene.alt}"
                place_chart(draw(scene, plan), alt, column)

    show_with_picture(show_charts, lambda: show_points(said))
    st.markdown(scene.caption)
    with st.expander(_("The eggs as a table")):
        st.table(scene.table, hide_index=True, alt=scene.alt)
    if is_all:
        offer_picture(scene, "ends", garden, season_numbers(seasons))
        for plan, title in titles.items():
            with st.expander(_("The creatures behind the numbers: {plan}").format(plan=title)):
                frame = creatures(ends[plan])
                frame["count"] = [say_number(value, 1) for value in frame["count"]]
                frame.columns = [_("As"), _("How it ended"), _("Mean count a season")]
                alt = _("Every stage and fate of {kind} under {plan}.").format(kind=_(kind), plan=title)
                st.table(frame, hide_index=True, alt=alt)


def show_energy(titles: Mapping[str, str], seasons: Seasons, is_all: bool, garden: str) -> None:
    """Show the energy that went from leaf to insect to enemy, bird and nestling."""
    from dashboard.charts.energy_picture import draw, energy_scene, share_sentence

    means = {plan: _mean_energy(seasons, plan) for plan in titles}
    scene = energy_scene(means, titles)
    st.header(scene.title)

    def show_charts() -> None:
        for column, plan in zip(_pairs(len(titles)), titles, strict=False):
            alt = f"{titles[plan]}. {scene.alt}"
            place_chart(draw(scene, plan), alt, column)
            if is_all:
                with column:
                    offer_picture(scene.only(plan), f"energy_{plan}", garden, season_numbers(seasons))

    show_with_picture(
        show_charts, lambda: show_points(share_sentence(means[plan], title) for plan, title in titles.items())
    )
    st.markdown(scene.caption)
    st.table(scene.table, hide_index=True, alt=scene.alt)


def show_points(said: Iterable[str]) -> None:
    """Show sentences, a point each."""
    st.markdown("\n".join(f"- {sentence}" for sentence in said))


def show_questions(lesson: Lesson, look: str) -> None:
    """Ask what the picture answers and what it hides, of what is done under the plans that are shown."""
    garden = garden_in_hand(lesson)
    done = {action.do for plan in lesson.plans for action in garden.plan(plan).actions}
    asked = [question for question in LOOK_AGAIN.get(look, ()) if question not in ABOUT or ABOUT[question] & done]
    if asked:
        st.subheader(_("Look again"))
        show_points(map(_, asked))


def _eggs_words(seasons: Seasons, plan: str, eggs: float) -> str:
    count = len(lived_under(plan, seasons))
    turned = sum(lived.summary.get("turned_away_count", 0.0) for lived in lived_under(plan, seasons)) / count
    if not turned:
        return _("{eggs} eggs a season on the crops.").format(eggs=short_number(eggs))
    said = _("{eggs} eggs a season on the crops; a net ended {tries} tries to get in.")
    return said.format(eggs=short_number(eggs), tries=say_number(turned))


def _mean_energy(seasons: Seasons, plan: str) -> dict[str, float]:
    summaries = [lived.summary for lived in lived_under(plan, seasons)]
    names = [name for name in summaries[0] if name.endswith(("_kj", "_mj"))]
    return {name: sum(summary.get(name, 0.0) for summary in summaries) / len(summaries) for name in names}


def _pairs(count: int) -> list[DeltaGenerator]:
    return [column for _row in range(0, count, 2) for column in st.columns(2)]


if __name__ == "__main__":
    page()
