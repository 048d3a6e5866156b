"""The same thing again: a setting's code and link to read out or copy, and a place to type a code."""

from __future__ import annotations

from urllib.parse import urlencode, urlsplit

import streamlit as st

from dashboard.language.tongue import _
from dashboard.lesson.lesson import Lesson
from dashboard.lesson.lesson_code import code_of, lesson_of_code
from dashboard.page.manner import manner_in_address
from dashboard.page.visit import CODE_WORD, WAITING_CODE, gardens, keep

_TYPED = "code typed"
_SAID = "code said"
_ANEW = "fields anew"
MOST_TYPED = 900


def take_code() -> None:
    """Offer a place to type a code, and say what of it was not understood."""
    st.session_state.setdefault(_TYPED, st.session_state.pop(WAITING_CODE, ""))
    st.text_input(
        _("Have a code? Type it here."), key=_TYPED, max_chars=MOST_TYPED, placeholder="04XF-600N", on_change=_open_code
    )
    for sentence in st.session_state.get(_SAID, ()):
        st.warning(sentence)


def is_code_waiting() -> bool:
    """Return whether a code stands in the place to type one because it could not be opened."""
    return bool(str(st.session_state.get(_TYPED, "")).strip())


def _open_code() -> None:
    """Go to the setting of the code before the page is drawn, so that everything on it shows that setting."""
    st.session_state[_SAID] = []
    typed = st.session_state[_TYPED]
    if not typed.strip():
        return
    lesson, st.session_state[_SAID] = lesson_of_code(typed, gardens())
    if lesson is not None:
        forget_answers()
        keep(lesson)
        st.session_state[_SAID].append(_("Opened: '{garden}', season {season}.").format(
            garden=_(gardens()[lesson.garden].title), season=lesson.season
        ))  # fmt: skip
        st.session_state[_TYPED] = ""


def open_waiting_code() -> None:
    """After a file was brought: show it, or the setting of the code that had asked for it."""
    forget_answers()
    typed = str(st.session_state.get(_TYPED, ""))
    lesson, said = lesson_of_code(typed, gardens()) if typed.strip() else (None, [])
    if lesson is not None:
        keep(lesson)
    st.session_state[_SAID] = said if lesson is not None else []


def forget_answers() -> None:
    """Let go of what stands in the fields of all screens, so that they show a lesson that comes from elsewhere."""
    st.session_state[_ANEW] = st.session_state.get(_ANEW, 0) + 1
    for slot in list(st.session_state):
        if str(slot).startswith(FIELDS):
            del st.session_state[slot]


def fresh(field: str) -> str:
    """Return a field's name, a new one after answers were let go of: browsers send old answers to old names."""
    times = st.session_state.get(_ANEW, 0)
    return f"{field} {times}" if times else field


FIELDS = (
    "garden chosen",
    "plans of ",
    "season ",
    "tried plan ",
    "things ",
    "seat number",
    "slider ",
    "box ",
    "taps ",
    "hands ",
    "because",
    "reason",
    "look at",
    "bargain of ",
    "curve",
    "along ",
)
"""How the names begin of fields that show the lesson."""


def show_again(lesson: Lesson) -> None:
    """Show the code and the link that lead back to this setting."""
    code = code_of(lesson, gardens())
    st.header(_("The same thing again"))
    st.markdown(
        _(
            "This code holds the lesson or garden, the plans, the season and each setting that was changed. It holds "
            "no guess, no bargain and no curve. "
            "Read it out, or copy the link."
        )
    )
    left, right = st.columns([1, 2])
    with left:
        st.code(code, language=None)
    with right:
        st.code(link_of(code), language=None)


def link_of(code: str, address: str = "") -> str:
    """Return the link to a setting, in the language and units of this visit, at this server or another address."""
    here = urlsplit(address or st.context.url or "")
    words = urlencode({CODE_WORD: code.replace("-", "")} | manner_in_address(), doseq=True)
    return f"{here.scheme or 'http'}://{here.netloc}/?{words}"
