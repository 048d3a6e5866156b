"""Watch a season grow on a map of the garden, under one plan or two on one clock."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.boards.room import end_page
from dashboard.language.saying import say_list
from dashboard.language.tongue import _, current_language, current_units
from dashboard.lesson.lesson import Lesson
from dashboard.lesson.opened import pauses_of
from dashboard.page.dress import show_cautions, show_limits, show_way_on
from dashboard.page.running import Seasons, run_step_by_step
from dashboard.page.view import is_room_view, show_view_switch
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
from dashboard.seasons.filming import Filmed, film_wishes
from dashboard.teaching.on_screen import lead
from dashboard.teaching.tapping import have_tapped_for_plans, tapped_plans

WIDE = "<style>.block-container { max-width: 1900px !important; }</style>"
ALONE = ""
DAYS_A_ROW = 7
STORY, FILM, WATCHED, BESIDE = "story on the map", "film on the map", "plans watched", "plan to put beside"


def page() -> None:
    """Draw the page from top to bottom."""
    st.html(WIDE)
    lesson = open_screen(_("What happens on the way to the harvest?"))
    if is_room_view():
        show_to_a_room(lesson)
        return
    show_setting(lesson)
    offer_as_moved(lesson)
    lesson = lead(lesson, "watch")
    plans = choose_plans(lesson)
    if may_watch(lesson, plans):
        offer_guess(lesson)
        show_theater(lesson, film(lesson, plans))
        tapped = [plan for plan in tapped_plans(lesson) if plan in plans]
        if tapped:
            titles = titles_in_hand(lesson)
            told = _("What you said of {plans} stands beside what came on the next screen.")
            st.markdown(told.format(plans=say_list([f"'{titles[plan]}'" for plan in tapped])))
        lead_on(lesson)
    show_limits()
    show_cautions()


def lead_on(lesson: Lesson) -> None:
    """Lead to what the class said beside what came, if it has not been seen, and else to more seasons."""
    if not lesson.waits_for_season:
        show_way_on("screens/compare.py", _("Next: compare more seasons"))
    elif st.button(_("Next: what did you say, and what came?"), type="primary", icon=":material/arrow_forward:"):
        keep(replace(lesson, guess=replace(lesson.guess, is_shown=True)))
        st.switch_page("screens/guess.py")


def show_to_a_room(lesson: Lesson) -> None:
    """Show the map and nothing at its side."""
    place = st.empty()
    with st.container(horizontal=True, vertical_alignment="bottom", key="room controls"):
        plans = choose_plans(lesson)
        show_view_switch()
    end_page(lesson, can_be_moved=True)
    with place.container(key="room ask"):
        if not may_watch(lesson, plans):
            return
    filmed = film(lesson, plans, place)
    with place.container():
        show_theater(lesson, filmed)


def may_watch(lesson: Lesson, plans: list[str]) -> bool:
    """Ask for what is due before a season is shown, a guess to lock or a tap about a plan; return whether none is."""
    if lesson.guess.is_whole and not lesson.guess.is_locked:
        ask_to_lock(lesson)
        return False
    return have_tapped_for_plans(lesson, plans)


def choose_plans(lesson: Lesson) -> list[str]:
    """Let one or two of the lesson's plans be chosen."""
    titles = titles_in_hand(lesson)
    names = list(titles)
    if BESIDE in st.session_state:  # before the list is drawn: afterwards nobody may set it
        st.session_state["watch second"] = st.session_state.pop(BESIDE)
    left, right = (st.container(), st.container()) if is_room_view() else st.columns(2)
    with left:
        first = st.selectbox(
            _("Plan"), names, 0, key="watch first", persist_state="session", format_func=titles.__getitem__
        )  # fmt: skip
    others = [ALONE, *(name for name in names if name != first)]
    with right:
        second = st.selectbox(
            _("Beside it"), others, min(1, len(others) - 1), key="watch second", persist_state="session",
            format_func=lambda name: titles.get(name, _("nothing: one plan alone")),
        )  # fmt: skip
    return [first, second] if second else [first]


def unwatched(lesson: Lesson, plans: Iterable[str]) -> dict[str, str]:
    """Return slug → title of the plans that were not watched in this season yet, those shown now taken as watched."""
    season = _clock(lesson)
    watched: set[tuple[str, str]] = st.session_state.setdefault(WATCHED, set())
    watched |= {(season, plan) for plan in plans}
    return {plan: title for plan, title in titles_in_hand(lesson).items() if (season, plan) not in watched}


def ask_to_lock(lesson: Lesson) -> None:
    """Lock a guess that has been made before anything is shown."""
    st.markdown(_("You have made a guess. It is locked when the season starts; then nobody can change it."))
    if st.button(_("Lock the guess and start the season"), type="primary"):
        keep(replace(lesson, guess=replace(lesson.guess, is_locked=True)))
        st.rerun()


def film(lesson: Lesson, plans: list[str], bar: DeltaGenerator | None = None) -> dict[str, Filmed]:
    """Have the season lived under each plan with a camera in the garden, off the page; return what it saw."""
    filmed: dict[str, Filmed] = {}

    def take(found: Seasons, _is_all: bool) -> None:
        filmed.update({plan: lived for (plan, _season), lived in found.items() if isinstance(lived, Filmed)})

    run_step_by_step(film_wishes(garden_in_hand(lesson), plans, lesson.season), take, bar=bar)
    return filmed


@st.fragment
def show_theater(lesson: Lesson, filmed: Mapping[str, Filmed]) -> None:
    """Show the map, the story that was asked for, and the same in words."""
    from dashboard.player.component import PLAN, show_player

    data = _handed_over(lesson, filmed)
    wished = show_player(data, key="garden map")
    if wished and wished["kind"] == PLAN:
        st.session_state[BESIDE] = wished["plan"]
        st.rerun()
    if wished and wished["plan"] in filmed:
        st.session_state[STORY] = {**wished, "film": data["id"]}
    if st.session_state.get(STORY, {}).get("film") == data["id"]:
        tell_story(lesson, filmed, data)
    if not is_room_view():
        show_in_words(data)


def tell_story(lesson: Lesson, filmed: Mapping[str, Filmed], data: Mapping[str, Any]) -> None:
    """Tell the story that was asked for last."""
    from dashboard.player.stories import story

    told = st.session_state[STORY]
    head, sentences = story(filmed[told["plan"]].film, told["kind"], int(told["number"]), int(told["day"]))
    date, plan = data["dates"][told["day"]], titles_in_hand(lesson)[told["plan"]]
    with st.container(border=True, key="story"):
        st.subheader(head[:1].upper() + head[1:], anchor=False)
        st.caption(_("{plan}. As far as {date}.").format(plan=plan, date=date))
        st.markdown(" ".join(sentences))


def _handed_over(lesson: Lesson, filmed: Mapping[str, Filmed]) -> dict[str, Any]:
    """Return what the browser is handed, made once for these films in this language."""
    from dashboard.player.pauses import DEFAULT_PAUSES
    from dashboard.player.payload import payload

    titles = titles_in_hand(lesson)
    films = tuple((plan, one.reel) for plan, one in filmed.items())
    left = unwatched(lesson, filmed)
    made_of = (films, lesson.ready, current_language(), current_units(), is_room_view(), _clock(lesson), tuple(left))
    kept = st.session_state.get(FILM)
    if kept is None or kept[0] != made_of:
        data = payload(
            {plan: one.film for plan, one in filmed.items()}, {plan: titles[plan] for plan in filmed},
            {plan: one.days_of for plan, one in filmed.items()}, pauses_of(lesson) or DEFAULT_PAUSES,
            is_for_a_room=is_room_view(), foot=_foot(lesson), clock=_clock(lesson), unwatched=left,
        )  # fmt: skip
        kept = st.session_state[FILM] = (made_of, data)
    found: dict[str, Any] = kept[1]
    return found


def _clock(lesson: Lesson) -> str:
    """Return the name under which the browser remembers the day; a new guess begins with a new season."""
    changes = sorted(lesson.changes.items()) if lesson.as_moved else ()
    return repr((lesson.garden, lesson.season, lesson.ready, sorted(lesson.guess.ranks.items()), changes))


def _foot(lesson: Lesson) -> str:
    """Return the small line below a picture of the map that is taken away."""
    from dashboard.charts.imprint import Imprint, garden_words
    from sim.season import model_version

    return Imprint(garden_words(gardens()[lesson.garden]), (lesson.season,), model_version(), date.today()).line()


def show_in_words(data: Mapping[str, Any]) -> None:
    """Show what the map shows as tables: what happened when, and how each week stood."""
    import pandas as pd

    with st.expander(_("The season in words: what happened when")):
        for plan in data["plans"]:
            st.markdown(f"**{plan['title']}**")
            rows = [(data["dates"][one["day"]], one["words"]) for one in plan["events"]]
            st.table(
                pd.DataFrame(rows, columns=[_("Day"), _("What happened")]), hide_index=True,
                alt=_("What happened when under the plan {plan}.").format(plan=plan["title"]),
            )  # fmt: skip
    with st.expander(_("The season in numbers: every seventh day")):
        for plan in data["plans"]:
            st.markdown(f"**{plan['title']}**")
            days = range(0, data["days"], DAYS_A_ROW)
            columns = {_("Day"): [data["dates"][day] for day in days]}
            columns |= {one["name"]: [f"{one['values'][day]:g}" for day in days] for one in plan["figures"]}
            st.table(
                pd.DataFrame(columns), hide_index=True,
                alt=_("How each week stood under the plan {plan}.").format(plan=plan["title"]),
            )  # fmt: skip


if __name__ == "__main__":
    page()
