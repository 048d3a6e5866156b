"""Where it all went: what became of a thousand eggs, and the energy from leaf to nestling, under each plan."""

from collections.abc import Mapping

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.delays import CHAINS
from dashboard.dress import show_cautions, show_limits
from dashboard.follow_board import ask_number, follow
from dashboard.lesson import Lesson
from dashboard.running import Seasons, run_step_by_step
from dashboard.saying import say_number
from dashboard.survival_board import show_stages
from dashboard.taking import offer_picture
from dashboard.teaching.on_screen import lead
from dashboard.teaching.tapping import have_tapped_for_plans
from dashboard.tongue import _, many, mark
from dashboard.visit import gardens, open_screen, plan_titles, show_setting
from dashboard.work import Lived, wishes

SEASON_COUNTS = {1: mark("One season"), 5: mark("Mean of five"), 20: mark("Mean of twenty")}
QUESTIONS = (
    mark("Who lost, though nobody touched them? Find those that starved, and food that no bird could reach."),
    mark("A spray kills some. Who ate those that it did not kill, under the other plans?"),
    mark("Fewer eggs in all is another thing than fewer of each thousand that grow up. Which did the net do?"),
    mark("The bars add up to a thousand. If one cause goes, do all of those live, or does another take them?"),
)
"""What the pictures answer and what they hide."""


def page() -> None:
    """Draw the page from top to bottom."""
    from dashboard.ends import kinds

    lesson = open_screen(_("Where did it all go?"))
    show_setting(lesson)
    lesson = lead(lesson, "went")
    if not have_tapped_for_plans(lesson):
        show_limits()
        show_cautions()
        return
    left, right = st.columns(2)
    with left:
        kind = st.selectbox(_("Whose eggs?"), list(kinds()), format_func=_, key="kind", persist_state="session")
    with right:
        count = st.selectbox(
            _("How many seasons?"),
            list(SEASON_COUNTS),
            2,
            format_func=lambda one: _(SEASON_COUNTS[one]),
            key="ends count",
            persist_state="session",
        )
    chain = st.selectbox(
        _("What shall we follow through the season?"),
        list(CHAINS),
        format_func=lambda one: _(CHAINS[one][0]),
        key="chain",
        persist_state="session",
    )
    waiting, place = st.empty(), st.empty()
    st.header(_("Follow a number to the creatures behind it"))
    group = ask_number()
    behind = st.empty()
    show_questions()
    show_limits()
    show_cautions()
    st.page_link("screens/try_out.py", label=_("Next: change something"), icon=":material/arrow_forward:")
    seasons = range(lesson.season, lesson.season + count)
    garden = gardens()[lesson.garden]
    wished = {plan: wishes(garden, [plan], seasons) for plan in lesson.plans}
    run_step_by_step(
        wished, lambda found, is_all: show_answer(lesson, kind, chain, found, is_all, place.container()), bar=waiting
    )
    if group:
        follow(lesson, kind, group, behind)


def show_answer(lesson: Lesson, kind: str, chain: str, seasons: Seasons, is_all: bool, place: DeltaGenerator) -> None:
    """Show the pictures of the seasons so far."""
    titles = plan_titles(lesson)
    with place:
        garden = _(gardens()[lesson.garden].title)
        show_eggs(titles, kind, seasons, is_all, garden)
        show_stages(titles, seasons, garden, kind, is_all=is_all)
        show_starving(titles, seasons, is_all, garden)
        show_days(lesson, titles, chain, seasons, is_all)
        show_energy(titles, seasons, is_all, garden)


def show_starving(titles: Mapping[str, str], seasons: Seasons, is_all: bool, garden: str) -> None:
    """Show what each plan kills beside whom it leaves with less."""
    from dashboard.charts.starving_picture import draw, starving_scene
    from dashboard.starving import misses, starving_sentences

    rows = misses({plan: _of(seasons, plan) for plan in titles})
    scene = starving_scene(rows, titles)
    st.header(scene.title)
    said = starving_sentences(rows, titles, len(season_numbers(seasons)))
    st.markdown("\n".join(f"- {sentence}" for sentence in said))
    st.altair_chart(draw(scene), width="stretch", theme=None, alt=scene.alt)
    st.markdown(scene.caption)
    st.table(scene.table, hide_index=True, alt=scene.alt)
    if is_all:
        offer_picture(scene, "starving", garden, season_numbers(seasons))


def show_days(lesson: Lesson, titles: Mapping[str, str], chain: str, seasons: Seasons, is_all: bool) -> None:
    """Show cause and effect over the days of the season, and say how long the effect took."""
    import numpy as np

    from dashboard.charts.days_picture import days_scene, deeds_scene, draw, draw_deeds
    from dashboard.delays import delay_sentences

    days = {plan: np.stack([lived.days for lived in _of(seasons, plan) if lived.days is not None]) for plan in titles}
    words, series = CHAINS[chain]
    first_day = gardens()[lesson.garden].first_date
    st.header(_("When it happened: {what}").format(what=_(words).lower()))
    st.markdown("\n".join(f"- {said}" for said in delay_sentences(days, series, titles, first_day)))
    deeds = deeds_scene(days, titles, first_day)
    scenes = [days_scene(days, one, titles, first_day) for one in series]
    garden = _(gardens()[lesson.garden].title)
    st.altair_chart(draw_deeds(deeds), width="stretch", theme=None, alt=deeds.alt)
    if is_all:
        offer_picture(deeds, "deeds", garden, season_numbers(seasons)[:1])
    for one, scene in zip(series, scenes, strict=True):
        st.altair_chart(draw(scene), width="stretch", theme=None, alt=scene.alt)
        if is_all:
            offer_picture(scene, f"days_{one}", garden, season_numbers(seasons))
    st.markdown(f"{deeds.caption} {scenes[0].caption}")
    st.markdown(
        _("Clear: in the sign test over the seasons, for seven days on end. Look far from the cause, and weeks later.")
    )
    with st.expander(_("The same as tables")):
        for scene in [deeds, *scenes]:
            st.markdown(f"**{scene.title}**")
            st.table(scene.table, hide_index=True, alt=scene.alt)


def show_eggs(titles: Mapping[str, str], kind: str, seasons: Seasons, is_all: bool, garden: str) -> None:
    """Show what became of a thousand eggs, how many eggs there were, and the creatures behind each number."""
    from dashboard.charts.ends_picture import draw, ends_scene
    from dashboard.ends import by_group, creatures, kinds, mean_ends, per_thousand

    ends = {plan: mean_ends(_of(seasons, plan), kinds()[kind]) for plan in titles}
    scene = ends_scene({plan: per_thousand(by_group(counts)) for plan, counts in ends.items()}, titles, _(kind))
    count = len({season for _name, season in seasons})
    seasons_said = many("one season", "mean of {count} seasons", count).format(count=count)
    st.header(f"{scene.title} ({seasons_said})")
    said = [f"**{title}**: {_eggs_words(seasons, plan, float(ends[plan].sum()))}" for plan, title in titles.items()]
    st.markdown("\n".join(f"- {sentence}" for sentence in said))
    if scene.frame.empty:
        st.markdown(_("No such eggs were laid on the crops in these seasons."))
        return
    for column, plan in zip(_pairs(len(titles)), titles, strict=False):
        if not scene.frame[scene.frame["plan"] == plan].empty:
            alt = f"{titles[plan]}. {scene.alt}"
            column.altair_chart(draw(scene, plan), width="stretch", theme=None, alt=alt)
    st.markdown(scene.caption)
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


def season_numbers(seasons: Seasons) -> list[int]:
    """Return the numbers of the seasons, each once."""
    return sorted({season for _plan, season in seasons})


def show_energy(titles: Mapping[str, str], seasons: Seasons, is_all: bool, garden: str) -> None:
    """Show the energy that went from leaf to insect to enemy, bird and nestling."""
    from dashboard.charts.energy_picture import draw, energy_scene, share_sentence

    means = {plan: _mean_energy(seasons, plan) for plan in titles}
    scene = energy_scene(means, titles)
    st.header(scene.title)
    st.markdown("\n".join(f"- {share_sentence(means[plan], title)}" for plan, title in titles.items()))
    for column, plan in zip(_pairs(len(titles)), titles, strict=False):
        alt = f"{titles[plan]}. {scene.alt}"
        column.altair_chart(draw(scene, plan), width="stretch", theme=None, alt=alt)
        if is_all:
            with column:
                offer_picture(scene.only(plan), f"energy_{plan}", garden, season_numbers(seasons))
    st.markdown(scene.caption)
    st.table(scene.table, hide_index=True, alt=scene.alt)


def show_questions() -> None:
    """Ask what the pictures answer and what they hide."""
    st.subheader(_("Look again"))
    st.markdown("\n".join(f"- {_(question)}" for question in QUESTIONS))


def _of(seasons: Seasons, plan: str) -> list[Lived]:
    return [lived for (name, _season), lived in seasons.items() if name == plan]


def _eggs_words(seasons: Seasons, plan: str, eggs: float) -> str:
    count = len(_of(seasons, plan))
    turned = sum(lived.summary.get("turned_away_count", 0.0) for lived in _of(seasons, plan)) / count
    if not turned:
        return _("{eggs} eggs a season on the crops.").format(eggs=say_number(eggs))
    said = _("{eggs} eggs a season on the crops; a net ended {tries} tries to get in.")
    return said.format(eggs=say_number(eggs), tries=say_number(turned))


def _mean_energy(seasons: Seasons, plan: str) -> dict[str, float]:
    summaries = [lived.summary for lived in _of(seasons, plan)]
    names = [name for name in summaries[0] if name.endswith(("_kj", "_mj"))]
    return {name: sum(summary.get(name, 0.0) for summary in summaries) / len(summaries) for name in names}


def _pairs(count: int) -> list[DeltaGenerator]:
    return [column for _row in range(0, count, 2) for column in st.columns(2)]


if __name__ == "__main__":
    page()
