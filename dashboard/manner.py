"""How a visit is spoken to: its language and its units, kept for the visit and in the address, with a switch."""

from __future__ import annotations

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard.tongue import FIRST_LANGUAGE, FIRST_UNITS, LANGUAGES, _, ask_visit, current_language, mark

ADDRESS_WORDS = {"language": "lang", "units": "units"}
"""What is kept → its word in the address, which is left out for the first language and the first units."""
FIRST = {"language": FIRST_LANGUAGE, "units": FIRST_UNITS}
UNIT_WORDS = {"metric": mark("Metric"), "us": mark("US units")}
KNOWN = {"language": tuple(LANGUAGES), "units": tuple(UNIT_WORDS)}

_tell_page = st.components.v2.component(
    "page_language", js="export default ({ data }) => { document.documentElement.lang = data.language; };"
)
"""Tells the browser, and through it a screen reader, which language the page is in."""


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
    """Show which language and units are in use, to be switched at one tap, and tell the browser the language."""
    with st.container(horizontal=True, horizontal_alignment="right", key="manner"):
        _switch("language", _("Language"), LANGUAGES)
        _switch("units", _("Units"), {name: _(words) for name, words in UNIT_WORDS.items()})
    _tell_page(key="page language", data={"language": current_language()}, height="content")


def _switch(part: str, label: str, words: dict[str, str]) -> None:
    def follow() -> None:
        st.session_state[part] = st.session_state[f"{part} chosen"]

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


def _kept(part: str) -> str:
    """Return what this visit has chosen; outside a visit, as in a worker, the first."""
    if get_script_run_ctx(suppress_warning=True) is None:
        return FIRST[part]
    chosen: str = st.session_state.get(part, FIRST[part])
    return chosen
