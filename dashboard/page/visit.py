"""One visitor's lesson, kept between screens and in the address of each, and the head of every screen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import streamlit as st
from streamlit.runtime import exists, get_instance
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard.brought.shelf import Shelf, Shelves
from dashboard.charts.plan_titles import PlanTitles
from dashboard.language.tongue import _
from dashboard.lesson.address import MADE, address_of, lesson_from
from dashboard.lesson.lesson import Lesson, first_lesson
from dashboard.lesson.lesson_code import code_of, lesson_of_code
from dashboard.lesson.opened import own_gardens, questions_of
from dashboard.page.manner import manner_in_address
from dashboard.page.view import is_room_view, view_in_address
from dashboard.sharing.role import code_of_the_class
from dashboard.sharing.seats import Seats
from sim.errors import LeafnestError
from sim.scenario import Scenario, load_scenario, scenario_names

CODE_WORD = "code"
"""The word of a link that holds a whole setting."""
WAITING_CODE = "code of the link"
"""Where a code is kept that could not be opened yet."""
_LESSON = "lesson"
_COMPLAINTS = "complaints"


@st.cache_resource(show_spinner=False)
def _shipped() -> dict[str, Scenario]:
    return {**{name: load_scenario(name) for name in scenario_names()}, **own_gardens()}


def gardens() -> dict[str, Scenario]:
    """Return the gardens that come with the program, by name, the default one first, then this visitor's own."""
    shelf = shelves().of(visit_name())
    return {**_shipped(), **shelf.gardens} if shelf else _shipped()


@st.cache_resource(show_spinner=False)
def shelves() -> Shelves:
    """Return what all visitors of this server brought; each sees only their own."""
    return Shelves(_is_here, _end_visit)


@st.cache_resource(show_spinner=False)
def seats() -> Seats:
    """Return which visit of this server said which seat."""
    return Seats(_is_here)


def new_shelf() -> Shelf:
    """Return the place for what this visitor brings."""
    return shelves().new(visit_name())


def visit_name() -> str:
    """Return what the server calls this visit."""
    context = get_script_run_ctx(suppress_warning=True)
    return context.session_id if context else ""


def _is_here(visit: str) -> bool:
    return not exists() or get_instance().is_active_session(visit)


def _end_visit(visit: str) -> None:
    """Let the server forget a visit that was cut off, the files that it was sent among what it holds."""
    runtime = get_instance()
    runtime._get_async_objs().eventloop.call_soon_threadsafe(runtime.close_session, visit)


def current_lesson() -> Lesson:
    """Return this visitor's lesson: as left on another screen, or as the address says, or the first one."""
    if _LESSON not in st.session_state:
        words = {word: st.query_params.get_all(word) for word in st.query_params}
        st.session_state[_LESSON], st.session_state[_COMPLAINTS] = _lesson_of_link(words)
    lesson: Lesson = st.session_state[_LESSON]
    if lesson.garden not in gardens():  # a garden of one's own, after the visit was cut off for long
        st.session_state[_LESSON], said = lesson_from({"garden": [lesson.garden]}, gardens())
        st.session_state.setdefault(_COMPLAINTS, []).extend(said)
        lesson = st.session_state[_LESSON]
    return lesson


def _lesson_of_link(words: Mapping[str, Sequence[str]]) -> tuple[Lesson, list[str]]:
    code = "".join(words.get(CODE_WORD, ())[:1]) or ("" if MADE in words else code_of_the_class())
    if not code:
        return lesson_from(words, gardens())
    lesson, said = lesson_of_code(code, gardens())
    if lesson is None:
        st.session_state[WAITING_CODE] = code
    return lesson or first_lesson(gardens()), said


def keep(lesson: Lesson) -> None:
    """Keep the lesson for the other screens and in the address, so that a reload or a link brings it back."""
    st.session_state[_LESSON] = lesson
    words = address_of(lesson, gardens()) | manner_in_address() | view_in_address()
    if {word: st.query_params.get_all(word) for word in st.query_params} != words:
        st.query_params.from_dict(words)


def open_screen(question: str, about: str = "") -> Lesson:
    """Show the screen's question, tell what of a link was not understood, and return the lesson."""
    if not is_room_view():  # there the one sentence is the title
        st.title(question)
        if about:
            st.markdown(about)
    lesson = current_lesson()
    for sentence in st.session_state.pop(_COMPLAINTS, []):
        st.warning(sentence)
    keep(lesson)
    return lesson


def garden_in_hand(lesson: Lesson) -> Scenario:
    """Return the garden that is watched and compared: as it was moved, where that is wanted and can be."""
    return _moved_garden(lesson) or gardens()[lesson.garden]


def questions_in_hand(lesson: Lesson) -> dict[str, tuple[str, str]]:
    """Return what is asked of the garden in hand: word in the address → question and measure."""
    return questions_of(lesson, gardens()[lesson.garden])


def is_shown_as_moved(lesson: Lesson) -> bool:
    """Return whether the garden in hand is not as it stands."""
    return _moved_garden(lesson) is not None


def _moved_garden(lesson: Lesson) -> Scenario | None:
    """Return the garden as it was moved; None where it is to be seen as it stands, or cannot be changed so."""
    if not lesson.as_moved:
        return None
    try:
        return gardens()[lesson.garden].with_changes(lesson.changes)
    except LeafnestError:  # the screen for trying tells why
        return None


def plan_titles(lesson: Lesson, plans: Sequence[str] = ()) -> PlanTitles:
    """Return slug → title of the lesson's plans, or of those named, in their order."""
    garden = gardens()[lesson.garden]
    titles = {plan.name: plan.title for plan in garden.plans}
    return PlanTitles({name: _(titles[name]) for name in plans or lesson.plans}, garden.plan_names)


def titles_in_hand(lesson: Lesson) -> PlanTitles:
    """Return slug → title of the lesson's plans; what is shown as it was moved is called so."""
    is_moved = is_shown_as_moved(lesson)
    moved = {key.split(".")[1] for key in lesson.changes if is_moved and key.startswith("plans.")}
    called = _("{plan}, as moved")
    titles = plan_titles(lesson).items()
    said = {name: called.format(plan=title) if name in moved else title for name, title in titles}
    return PlanTitles(said, gardens()[lesson.garden].plan_names)


def show_setting(lesson: Lesson) -> None:
    """Say in one line which garden, plans and season this screen is about."""
    garden = gardens()[lesson.garden]
    plans = " · ".join(plan_titles(lesson).values())
    said = _("**{garden}**, season {season} first. Plans: {plans}.")
    code = _("Code: {code}.").format(code=code_of(lesson, gardens()))
    st.caption(f"{said.format(garden=_(garden.title), season=lesson.season, plans=plans)} {code}")


def what_was_moved(lesson: Lesson) -> tuple[str, list[str]]:
    """Return the plan that was tried, and each thing that was moved, in words."""
    from dashboard.plans.choices import choices, describe

    plan = lesson.tried_plan or lesson.plans[min(1, len(lesson.plans) - 1)]  # as the screen for trying begins
    return plan, describe(lesson.changes, choices(gardens()[lesson.garden], plan))


def tell_what_was_moved(lesson: Lesson, *, is_shown: bool = False) -> None:
    """Say, where plans stand as they are, what was moved on the screen for trying, and lead to its answer there."""
    if not lesson.changes:
        return
    plan, moved = what_was_moved(lesson)
    said = _(
        "The plans here are as they stand. What you moved on 'Try it yourself', for the plan '{plan}', is answered "
        "there only: {moved}."
    )
    if is_shown:
        said = _("Shown here as you moved it on 'Try it yourself', for the plan '{plan}': {moved}.")
    st.caption(said.format(plan=plan_titles(lesson, [plan])[plan], moved="; ".join(moved)))
    st.page_link("screens/try_out.py", label=_("See what it changed on 'Try it yourself'"), icon=":material/tune:")


def offer_as_moved(lesson: Lesson) -> None:
    """Let plans be seen as they were moved, where something was; a switch begins the page anew."""
    if not lesson.changes:
        return
    words = _("Show it here as you moved it")
    wanted = st.toggle(words, lesson.as_moved, key=f"as moved {lesson.garden} {lesson.as_moved}")
    if wanted != lesson.as_moved:
        keep(replace(lesson, as_moved=wanted))
        st.rerun()  # what stands above is about the garden in hand, too
    tell_what_was_moved(lesson, is_shown=is_shown_as_moved(lesson))


def offer_guess(lesson: Lesson) -> None:
    """Offer, in one line, to guess first; never stand in the way."""
    if not lesson.guess.is_locked and len(lesson.plans) > 1:
        offer = _("No guess yet: say what you expect first?")
        st.page_link("screens/guess.py", label=offer, icon=":material/front_hand:")
