"""How a visit is spoken to: its language and its units, kept for the visit and in the address, with a switch."""

from __future__ import annotations

from importlib.resources import files

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard.language.tongue import FIRST_LANGUAGE, FIRST_UNITS, LANGUAGES, _, ask_visit, current_language, mark
from dashboard.page.view import show_view_switch
from dashboard.sharing.role import is_class_server

ADDRESS_WORDS = {"language": "lang", "units": "units"}
"""What is kept → its word in the address, which is left out for the first language and the first units."""
FIRST = {"language": FIRST_LANGUAGE, "units": FIRST_UNITS}
UNIT_WORDS = {"metric": "kg, m", "us": "lb, ft"}
"""Units → what stands on the switch: so short that a phone has room for it, and the same in every language."""
KNOWN = {"language": tuple(LANGUAGES), "units": tuple(UNIT_WORDS)}

WORDS_OF_STREAMLIT = (
    mark("Add files"),
    mark("App pages"),
    mark("Choose an option"),
    mark("Choose options"),
    mark("Clear all"),
    mark("Clear entry"),
    mark("Clear value"),
    mark("Close"),
    mark("Close fullscreen"),
    mark("Copied"),
    mark("Copy to clipboard"),
    mark("Copy Vega-Lite spec"),
    mark("Copy Vega-Lite spec: "),
    mark("Decrement"),
    mark("Download as PNG"),
    mark("Download as PNG: "),
    mark("Drag and drop a file here"),
    mark("Fullscreen"),
    mark("Fullscreen: "),
    mark("Increment"),
    mark("Link to heading"),
    mark("No results"),
    mark("Open"),
    mark("Page not found"),
    mark("Please wait..."),
    mark("Press Enter to apply"),
    mark("Remove "),
    mark("Select all"),
    mark("Selected values"),
    mark("Show chart"),
    mark("Show data"),
    mark("Show data: "),
    mark("Skip to main content"),
    mark("The page that you have requested does not seem to exist. Running the app's main page."),
    mark("Upload"),
    mark("You can only select up to "),
    mark(" options. Remove an option first."),
    mark(" per file"),
    mark("file upload"),
)
"""The English words that Streamlit brings along; a space at an end says that more follows or went before."""
WORDS_FOR_THE_LIST = {
    "Sidebar": mark("List of pages"),
    "Expand sidebar": mark("All pages"),
    "Collapse sidebar": mark("Close the list of pages"),
}
"""What Streamlit calls the list of pages of a narrow window → what it is called here, in English, too."""
NO_ANSWER = "Connection error"
NO_ANSWER_WHYS = (
    "Streamlit server is not responding. Are you connected to the internet?",
    "Is Streamlit still running? If you accidentally stopped Streamlit, just restart it in your terminal:",
)
"""What Streamlit says when its server is gone. No internet is needed here, so it is said in other words."""
GONE = mark("No answer from the teacher's computer")
GONE_WHY = mark(
    "Sharing was stopped, or this device left the network. No internet is needed. Leave this page open: it goes on by "
    "itself as soon as the way is open again."
)
ENDED = mark("No answer from the program")
ENDED_WHY = mark(
    "It was ended, or this computer slept. Start it again with 'leafnest'; this page then goes on by itself."
)

_tell_page = st.components.v2.component(
    "page_language",
    js="".join(
        (files("dashboard.page") / one).read_text(encoding="utf-8") for one in ("page_history.js", "page_language.js")
    ),
)
"""Tells the browser, and through it a screen reader, which language the page is in, and the words above in it; and that
a screen is one step of its history, whatever is written into the address."""


def begin_visit() -> list[str]:
    """Listen to this visit's language and units; return a sentence for what its address asks for and is not there."""
    ask_visit(lambda: _kept("language"), lambda: _kept("units"))
    complaints = []
    for part, word in ADDRESS_WORDS.items():
        if part in st.session_state:
            continue
        said = st.query_params.get(word, FIRST[part])
        st.session_state[part] = said if said in KNOWN[part] else FIRST[part]
        if said not in KNOWN[part]:
            complaints.append((word, said[:60], ", ".join(KNOWN[part])))
    told = _("The link says {word} = '{found}'; allowed: {allowed}. So that part was left out.")
    return [told.format(word=word, found=found, allowed=allowed) for word, found, allowed in complaints]


def manner_in_address() -> dict[str, list[str]]:
    """Return the words of an address that say this visit's language and units, where they are not the first."""
    return {word: [_kept(part)] for part, word in ADDRESS_WORDS.items() if _kept(part) != FIRST[part]}


def show_switches() -> None:
    """Show which language and units are in use, to be switched at one tap."""
    with st.container(horizontal=True, horizontal_alignment="right", vertical_alignment="center", key="manner"):
        show_view_switch()
        _switch("language", _("Language"), LANGUAGES)
        _switch("units", _("Units"), UNIT_WORDS)


def tell_browser() -> None:
    """Tell the browser which language the page is in, and Streamlit's few words in it."""
    words = {text: _(text) for text in WORDS_OF_STREAMLIT}
    words |= {text: _(said) for text, said in WORDS_FOR_THE_LIST.items()}
    words[NO_ANSWER] = _(GONE if is_class_server() else ENDED)
    words |= dict.fromkeys(NO_ANSWER_WHYS, _(GONE_WHY if is_class_server() else ENDED_WHY))
    _tell_page(key="page language", data={"language": current_language(), "words": words}, height="content")


def _switch(part: str, label: str, words: dict[str, str]) -> None:
    def follow() -> None:
        st.session_state[part] = st.session_state[f"{part} chosen"]
        _say_choices_again()

    st.segmented_control(
        label,
        list(words),
        default=_kept(part),
        format_func=words.__getitem__,
        key=f"{part} chosen",
        on_change=follow,
        required=True,
        persist_state="session",
        label_visibility="collapsed",
    )


def _say_choices_again() -> None:
    """Let lists say what is chosen anew: a browser keeps showing a choice in the words that it was chosen in."""
    for key, value in st.session_state.items():
        if isinstance(value, str | int | list) and not isinstance(value, bool):
            st.session_state[key] = value


def _kept(part: str) -> str:
    """Return what this visit has chosen; outside a visit, as in a worker, the first."""
    if get_script_run_ctx(suppress_warning=True) is None:
        return FIRST[part]
    chosen: str = st.session_state.get(part, FIRST[part])
    return chosen
