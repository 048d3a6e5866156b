"""What every page shares: a focus ring that can be seen, room for phones, and the words that must not be missing."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from dashboard.language.cautions import CAUTIONS, MODEL_WORDS, OPEN_FLOWERS, sprays_flowers
from dashboard.language.tongue import _, speaker_note
from dashboard.page.paper import paper_style
from dashboard.page.visit import current_lesson, garden_in_hand

STYLE = """<i class="dress"></i><style>
[data-testid="stElementContainer"]:has(> [data-testid="stHtml"] > .dress) { display: none; }
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
/* A list of pages that is folded away outside the window still took a tab stop for each of its links. */
[data-testid="stSidebar"][data-collapsed="true"] { visibility: hidden; }
/* Two arrows alone tell nobody that all pages are behind them; the name is said in the page's language. */
[data-testid="stExpandSidebarButton"] { width: auto !important; min-height: 2.6rem; padding: 0 0.6rem !important; }
[data-testid="stExpandSidebarButton"]::after { content: attr(aria-label); margin-left: 0.3rem; }
[data-testid="stSidebarNavLink"] { min-height: 2.6rem; }
/* Streamlit shows what stands above a picture to a mouse only, but lets a keyboard walk through it. */
[data-testid="stElementToolbar"]:focus-within { opacity: 1 !important; z-index: 5; }
[data-testid="stMultiSelect"] [data-tag] button { align-self: stretch; min-width: 1.8rem; margin-right: -0.5rem; }
/* Rings and tracks that are not chosen stood at less than 2:1 on their ground; what can be chosen must be seen. */
[data-testid="stRadio"] label:not(:has(input:checked)) > div > div:not([data-testid]):first-child {
  border-color: currentColor !important;
}
[data-testid="stCheckbox"] label > div:first-of-type { box-shadow: inset 0 0 0 1px currentColor; }
[data-testid="stElementContainer"]:has(> [data-testid="stHtml"] > .beside-picture) { display: none; }
/* Numbers and where they come from. Long notes stood in a third of a phone's width, half a thousand pixels high. */
.st-key-numbers td { vertical-align: top !important; overflow-wrap: anywhere; }
.st-key-numbers td:first-child { width: 19%; }
.st-key-numbers td:nth-child(2) { width: 25%; }
.st-key-numbers td:nth-child(3) { width: 14%; }
@media (max-width: 700px) {
  .st-key-numbers table, .st-key-numbers tbody, .st-key-numbers tr { display: block; }
  .st-key-numbers thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .st-key-numbers tr { padding: 0.6rem; border-bottom: 1px solid color-mix(in srgb, currentColor 30%, transparent); }
  .st-key-numbers tr:last-child { border-bottom: none; }
  .st-key-numbers td { display: block; width: auto !important; border: none !important; padding: 0 !important; }
  .st-key-numbers td:nth-child(n + 3) { font-size: 0.875rem !important; line-height: 1.35; }
}
@media (min-width: 1000px) {
  [data-testid="stVerticalBlock"]:has(> [data-testid="stElementContainer"] .beside-picture) {
    display: grid !important; grid-template-columns: 2fr 3fr; gap: 0 2rem; align-items: start;
  }
}
@media (max-width: 1000px) {
  /* Answers that break into rows: each with a whole border, and high enough for a thumb. */
  [data-testid="stButtonGroup"] [role="radiogroup"] {
    flex-wrap: wrap !important; gap: 0.25rem; overflow: visible !important; mask: none !important;
  }
  [data-testid="stButtonGroup"] [role="radio"] {
    border: 1px solid color-mix(in srgb, currentColor 55%, transparent) !important; border-radius: 0.5rem !important;
    margin: 0 !important; min-height: 2.6rem; padding-inline: 0.7rem;
  }
  [data-testid="stButtonGroup"] [role="radio"][aria-checked="true"] { border-color: currentColor !important; }
}
/* A system that gives its own few colours takes every ground away, and with it what was chosen and where boxes end. */
@media (forced-colors: active) {
  [data-testid="stButtonGroup"] :is([aria-checked="true"], [aria-pressed="true"]),
  [data-testid="stCheckbox"] label:has(input:checked) > div:first-of-type,
  [data-testid="stRadio"] label:has(input:checked) > div > div:not([data-testid]):first-child {
    forced-color-adjust: none; background-color: Highlight !important; border-color: Highlight !important;
  }
  [data-testid="stButtonGroup"] :is([aria-checked="true"], [aria-pressed="true"]) * { color: HighlightText !important; }
  [data-testid="stCheckbox"] label > div:first-of-type { outline: 1px solid CanvasText; }
  [data-testid="stCheckbox"] label > div:first-of-type > div {
    forced-color-adjust: none; background-color: CanvasText !important;
  }
  [data-testid="stCheckbox"] label:has(input:checked) > div:first-of-type > div {
    background-color: HighlightText !important;
  }
  [data-testid="stSlider"] [role="group"] > div > div:first-child { outline: 1px solid CanvasText; }
  [data-testid="stSlider"] div:has(> div > input[type="range"]) {
    forced-color-adjust: none; background-color: Highlight !important; color: CanvasText;
  }
  [data-testid="stSliderThumbValue"] * { color: CanvasText !important; }
  [data-testid="stAlertContainer"], .st-key-way-on a, [data-testid="stMultiSelect"] [data-tag] {
    border: 2px solid currentColor !important;
  }
}
</style>"""


def dress_page() -> None:
    """Put the shared style on the page.

    It stands among the page's elements, by its empty mark. Style alone goes to a place that Streamlit keeps for what
    renders nothing, and a browser test has met a page at rest that had lost it; why is not known.
    """
    st.html(STYLE + paper_style())


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
