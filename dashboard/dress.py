"""What every page shares: a focus ring that can be seen, room for phones, and the words that must not be missing."""

from __future__ import annotations

import streamlit as st

from dashboard.tongue import _, mark, speaker_note

STYLE = """<style>
a:focus-visible, button:focus-visible, input:focus-visible, summary:focus-visible, [data-tag]:focus-visible,
[data-testid="stSlider"] div:has(> div > input[type="range"]:focus-visible) {
  outline: 3px solid currentColor !important; outline-offset: 2px;
}
.block-container { max-width: 1400px; padding-top: 3.5rem; }
[data-testid="stCaptionContainer"], [data-testid="stCaptionContainer"] * { color: inherit !important; opacity: 1; }
[data-testid="stMultiSelect"] [data-tag], [data-testid="stBaseButton-primary"] {
  background-color: #0b5d3b !important; border-color: #0b5d3b !important; color: #ffffff !important;
}
table { font-variant-numeric: tabular-nums; }
[data-testid="stTable"] th, [data-testid="stTable"] th * { color: inherit !important; font-weight: 600; }
</style>"""

MODEL_WORDS = mark(
    "**This is a model.** It shows which way a plan pushes things and roughly how far. It is not a forecast for one "
    "garden, and not advice for yours. The gardens in it are invented."
)

CAUTIONS = (
    mark(
        "**Sprays.** The label is the law: crop, pest, place, gloves, waiting time, bees. Organic products too. "
        "No product here has a rate or a brand; ask your extension office. Many places let only licensed people spray "
        "at schools, and students never do."
    ),
    mark(
        "**Nets and wildlife.** Use a mesh that a finger cannot enter, pulled tight, its edges closed to the ground, "
        "and look at it every day. If an animal is caught, call a wildlife rescue. Cap the ends of hoops and wires."
    ),
    mark("**Bees.** Nothing is sprayed on open flowers, and drift is kept off flowering edges."),
    mark(
        "**Stings and allergies.** Ask before a garden walk who is allergic; do not swat; leave unknown caterpillars "
        "alone."
    ),
    mark("**Birds.** Nests and eggs are protected by law in most places: watch from a distance, leave boxes closed."),
    mark("Local codes, your extension office and licensed practice come before anything on this page."),
)


def dress_page() -> None:
    """Put the shared style on the page."""
    st.html(STYLE)


def show_limits() -> None:
    """Show what the page is not."""
    st.info(_(MODEL_WORDS), icon=":material/info:")


def show_cautions() -> None:
    """Show the cautions, open to read without a click."""
    st.subheader(_("Before you do any of this outdoors"))
    st.markdown("\n".join(f"- {_(caution)}" for caution in CAUTIONS))
    if speaker_note():
        st.markdown(f"*{speaker_note()}*")
