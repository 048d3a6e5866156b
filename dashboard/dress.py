"""What every page shares: a focus ring that can be seen, room for phones, and the words that must not be missing."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.cautions import CAUTIONS, MODEL_WORDS, OPEN_FLOWERS, sprays_flowers
from dashboard.tongue import _, speaker_note
from dashboard.visit import current_lesson, garden_in_hand

STYLE = """<style>
a:focus-visible, button:focus-visible, input:focus-visible, summary:focus-visible, [data-tag]:focus-visible,
[data-testid="stSlider"] div:has(> div > input[type="range"]:focus-visible) {
  outline: 3px solid currentColor !important; outline-offset: 2px;
}
.block-container { max-width: 1400px; padding-top: 4.25rem; }
[data-testid="stStatusWidget"] { display: none; }
.st-key-page-language { position: absolute; height: 0; }
[data-testid="stPageLink"] a * { white-space: normal !important; overflow: visible !important; }
[data-testid="stCaptionContainer"], [data-testid="stCaptionContainer"] * { color: inherit !important; opacity: 1; }
[data-testid="stMultiSelect"] [data-tag], [data-testid="stBaseButton-primary"] {
  background-color: #0b5d3b !important; border-color: #0b5d3b !important; color: #ffffff !important;
}
.st-key-way-on a { background-color: #0b5d3b !important; padding: 0.6rem 1rem; }
.st-key-way-on a * { color: #ffffff !important; }
.way-in { font-size: clamp(1.4rem, 3.4vw, 3.6rem); font-weight: 600; overflow-wrap: anywhere; }
[data-testid="stMultiSelect"] input { min-width: 2rem !important; }
.stDialog pre { display: none; }
table { font-variant-numeric: tabular-nums; }
[data-testid="stTable"] th, [data-testid="stTable"] th * { color: inherit !important; font-weight: 600; }
</style>"""


def dress_page() -> None:
    """Put the shared style on the page."""
    st.html(STYLE)


def show_way_on(screen: str, words: str) -> None:
    """Show the one way on to the next screen, so that nobody has to look for it."""
    with st.container(key="way-on"):
        st.page_link(screen, label=words, icon=":material/arrow_forward:")


def show_limits() -> None:
    """Show what the page is not."""
    st.info(_(MODEL_WORDS), icon=":material/info:")


def show_cautions(plans: Sequence[str] | None = None) -> None:
    """Show the cautions, open to read without a click, and above them what a plan shown does against them.

    Parameters
    ----------
    plans
        The plans that the screen shows; those of the visitor's lesson, unless told.
    """
    st.subheader(_("Before you do any of this outdoors"))
    lesson = current_lesson()
    if sprays_flowers(garden_in_hand(lesson), lesson.plans if plans is None else plans):
        st.warning(_(OPEN_FLOWERS), icon=":material/warning:")
    st.markdown("\n".join(f"- {_(caution)}" for caution in CAUTIONS))
    if speaker_note():
        st.markdown(f"*{speaker_note()}*")
