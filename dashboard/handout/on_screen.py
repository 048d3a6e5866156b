"""Offer a handout of the comparison in hand, to print, to change or to listen to."""

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.language.saying import say_error
from dashboard.language.tongue import _, in_these_words, many, mark
from dashboard.lesson.lesson import Lesson
from dashboard.lesson.lesson_code import code_of
from dashboard.page.running import Seasons, run_step_by_step
from dashboard.page.visit import garden_in_hand, gardens, is_shown_as_moved, titles_in_hand, what_was_moved
from dashboard.paper.press import print_there
from dashboard.seasons.wishes import wishes
from sim.errors import OutputError
from sim.scenario import Scenario

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings
    from dashboard.paper.blocks import PaperSize

COUNTS = {5: mark("Five"), 20: mark("Twenty")}
PAPERS = {"letter": mark("Letter"), "a4": "A4"}
FILES = {
    "pdf": (mark("To print (PDF)"), "application/pdf"),
    "docx": (
        mark("To change (Word file)"),
        "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    ),
    "txt": (mark("As plain text"), "text/plain"),
}


def offer_handout(lesson: Lesson) -> Callable[[], None]:
    """Ask which handout and return what runs the seasons and offers it: to be called last, for it waits."""
    st.header(_("A handout of this comparison"))
    st.markdown(
        _(
            "It tells in two pages what these plans gave. It holds the plans, pictures, minutes and money. "
            "It says what is in doubt and what to heed outdoors. It speaks the language and the units chosen above."
        )
    )
    left, middle, right = st.columns(3)
    count = left.segmented_control(
        _("How many seasons?"), list(COUNTS), default=20, format_func=lambda one: _(COUNTS[one]), required=True,
        key="take seasons", persist_state="session",
    )  # fmt: skip
    size = middle.segmented_control(
        _("Which paper?"), list(PAPERS), default="letter", format_func=lambda one: _(PAPERS[one]), required=True,
        key="take paper", persist_state="session",
    )  # fmt: skip
    is_grey = right.toggle(_("For a grey copier"), key="take grey", persist_state="session")
    address = ask_address()
    place, waiting = st.empty(), st.container()
    seasons = range(lesson.season, lesson.season + int(count or 20))
    garden = garden_in_hand(lesson)
    wished = {plan: wishes(garden, [plan], seasons) for plan in lesson.plans}

    def show(found: Seasons, is_all: bool) -> None:
        offer(lesson, garden, found, "a4" if size == "a4" else "letter", is_grey, address, is_all, place)

    def run() -> None:
        with waiting:
            run_step_by_step(wished, show)

    return run


def ask_address() -> str:
    """Ask for a public address, for a square code on the page; return it checked, or nothing."""
    from dashboard.paper.public_address import EXAMPLE, MOST_LETTERS, public_address

    typed = st.text_input(
        _("A public address of this dashboard, if it has one: the page then shows a square code for cameras."),
        max_chars=MOST_LETTERS, placeholder=EXAMPLE, key="take address",
    )  # fmt: skip
    if not typed.strip():
        return ""
    try:
        return public_address(typed)
    except OutputError as error:
        st.warning(say_error(error))
        return ""


def offer(
    lesson: Lesson, garden: Scenario, seasons: Seasons, size: "PaperSize", is_grey: bool, address: str, is_all: bool,
    place: DeltaGenerator,
) -> None:  # fmt: skip
    """Offer the files, made only when asked for, once all seasons are there."""
    if not is_all:
        return
    from dashboard.handout.findings import Findings

    ordered = {
        (plan, season): seasons[plan, season] for plan in lesson.plans for season in sorted({s for _p, s in seasons})
    }
    titles = titles_in_hand(lesson)
    changed = tuple(what_was_moved(lesson)[1]) if is_shown_as_moved(lesson) else ()
    findings = Findings(garden, ordered, changed, code_of(lesson, gardens()), called=titles)
    with place.container():
        count = len(findings.numbers)
        said = many("From {count} season: {plans}.", "From {count} seasons: {plans}.", count)
        st.markdown(said.format(count=count, plans=" · ".join(titles.values())))
        for column, (form, (words, mime)) in zip(st.columns(len(FILES)), FILES.items(), strict=True):
            name = f"handout_{size}.{form}" if form != "txt" else "handout.txt"
            column.download_button(
                _(words), content_of(findings, size, form, is_grey, address), name, mime, on_click="ignore",
                key=f"handout {form}", width="stretch", type="primary" if form == "pdf" else "secondary",
            )  # fmt: skip
        with st.expander(_("What stands on it, to read here")):
            show_words(findings)


def content_of(findings: "Findings", size: "PaperSize", form: str, is_grey: bool, address: str) -> Callable[[], bytes]:
    """Return what makes the file when its button is tapped."""

    @in_these_words
    def content() -> bytes:
        return print_there(handout_file, findings, size, form, is_grey, address, date.today())

    return content


def handout_file(findings: "Findings", size: "PaperSize", form: str, is_grey: bool, address: str, day: date) -> bytes:
    """Return the handout as a file, in the language and units spoken here."""
    from dashboard.handout.contents import handouts
    from dashboard.handout.files import PRINTED, file_of

    printed, whole = handouts(findings, size, day=day, is_grey=is_grey, address=address)
    return file_of(printed if form == PRINTED else whole, size, form)


def show_words(findings: "Findings") -> None:
    """Show what the handout says, without its pictures: those stand on the other screens."""
    from dashboard.handout import words

    for heading, points in (
        (_("The plans"), words.plan_points(findings)),
        (_("What happened"), [words.against_sentence(findings), *words.happened_points(findings)]),
        (_("How sure is this?"), words.doubt_points(findings)),
    ):
        st.subheader(heading)
        st.markdown("\n".join(f"- {point}" for point in points if point))
