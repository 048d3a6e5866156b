"""What a page is when the browser itself prints it: what it says, without what can only be pressed.

Buttons, sliders and lists cannot be used on paper. What was chosen in them stays, as words. A part that is folded
together is left out: whoever wants it printed opens it first.
"""

from __future__ import annotations

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

ON_PAPER = """<style>
@page { margin: 14mm; }
@media print {
  :root, html, body, .stApp, [data-testid="stMain"] { background: #ffffff !important; color-scheme: light; }
  html { font-size: 11pt !important; }
  .block-container { padding: 0 !important; max-width: none !important; zoom: 1 !important; }
  [data-testid="stMain"] :not(svg *) { color: #000000 !important; }
  /* Streamlit sets things in flexible columns, whose gaps and ends do not mind a sheet's. */
  [data-testid="stVerticalBlock"] { display: block !important; }
  /* What can only be pressed. */
  header, [data-testid="stSidebar"], [data-testid="stSkipToContent"], [data-testid="stElementToolbar"],
  [data-testid="stElementToolbarButton"], [data-testid="stHeaderActionElements"], [data-testid="stProgress"],
  .st-key-manner, .st-key-view-switch, .st-key-way, [class*="st-key-only-on-screen"],
  [data-testid="stElementContainer"]:has(> div > :is([data-testid="stBaseButton-secondary"],
    [data-testid="stBaseButton-primary"])),
  [data-testid="stElementContainer"]:has(> :is([data-testid="stPageLink"], [data-testid="stDownloadButton"],
    [data-testid="stFileUploader"])),
  [data-testid="stPopover"], .st-key-cares:not(:has([aria-checked="true"])),
  .st-key-cares [data-testid="stHorizontalBlock"]:not(:has([aria-checked="true"])),
  [data-testid="stExpander"]:has(> details:not([open])), [data-testid="stExpander"] [data-testid="stIconMaterial"],
  [data-testid="stElementContainer"]:has(> [data-testid="stCheckbox"] input:not(:checked)),
  [data-testid="stElementContainer"]:has(> [data-testid="stButtonGroup"]):not(:has(:is([aria-checked="true"],
    [aria-pressed="true"]))),
  [data-testid="stElementContainer"]:has(> [data-testid="stTextInput"] input[value=""]),
  [data-testid="stElementContainer"]:has(> [data-testid="stTextArea"] textarea:placeholder-shown),
  [data-testid="stButtonGroup"] [role] > button:not([aria-checked="true"], [aria-pressed="true"]),
  [data-testid="stRadioGroup"] > div:not(:has(input:checked)),
  [data-testid="stRadioOption"] > div > div:not([data-testid]):first-child,
  [data-testid="stCheckbox"] label > div:first-of-type,
  [data-testid="stSlider"] [role="group"],
  :is([data-testid="stSelectbox"], [data-testid="stMultiSelect"], [data-testid="stNumberInput"],
    [data-testid="stCode"]) :is(button, svg) {
    display: none !important;
  }
  /* What was chosen, as words and no longer as a field. */
  :is([data-testid="stSelectbox"], [data-testid="stMultiSelect"], [data-testid="stNumberInput"],
    [data-testid="stTextInput"], [data-testid="stButtonGroup"]) :is(div, span, button, input) {
    background: none !important; border: none !important; box-shadow: none !important; padding-left: 0 !important;
    min-height: 0 !important; height: auto; max-width: none !important; font-weight: 600;
  }
  :is([data-testid="stSelectbox"], [data-testid="stNumberInput"], [data-testid="stTextInput"]) input {
    field-sizing: content; min-width: 3rem; padding: 0 !important;
  }
  [data-testid="stMultiSelect"] [data-testid] [data-tag] { background: none !important; border: none !important; }
  [data-testid="stButtonGroup"] [role="radiogroup"] [role="radio"] { border: none !important; padding: 0 !important; }
  [data-testid="stButtonGroup"] [role="radiogroup"] { justify-content: flex-start !important; }
  [data-testid="stButtonGroup"] [role="radio"] { flex: none !important; width: auto !important; }
  [data-testid="stHorizontalBlock"]:has([data-testid="stSlider"]) > * { width: auto !important; flex: none !important; }
  [data-testid="stMultiSelect"] [data-tag] span { max-width: none !important; overflow: visible !important; }
  [data-testid="stMultiSelect"] input { display: none; }
  [data-testid="stExpander"] details, [data-testid="stExpander"] summary { border: none !important; padding-left: 0; }
  [data-testid="stCheckbox"] label::before { content: "✓\\00a0"; }
  /* An order that is to be tapped becomes one to be written: a short line before each name. */
  [data-testid="stElementContainer"][class*="st-key-tap-"][class*="st-key-tap-"] { display: block !important; }
  [class*="st-key-tap-"] button { border: none !important; background: none !important; padding: 0 !important; }
  [class*="st-key-tap-"] button * { white-space: normal !important; overflow: visible !important; }
  [class*="st-key-tap-"] [data-testid="stBaseButton-secondary"]::before { content: "____\\00a0"; }
  /* A sheet may end between things, not within one. */
  [data-testid="stVerticalBlock"] > * + * { margin-top: 0.7rem; }
  /* As Streamlit sets it, within a line, a table cannot be parted: a long one leaves a sheet empty and loses lines. */
  table { display: table !important; width: 100%; }
  tr, li, p, [data-testid="stAlert"], [data-testid="stVegaLiteChart"] {
    break-inside: avoid;
  }
  h1, h2, h3, h4, [data-testid="stHeading"] { break-after: avoid; }
  [data-testid="stAlertContainer"] { border: 1px solid #000000; background: none !important; }
}
</style>"""
DARK_ON_PAPER = """<style>
@media print { [data-testid="stVegaLiteChart"] svg { filter: invert(1) hue-rotate(180deg); } }
</style>"""
"""A chart that was drawn in light lines for a dark screen would vanish on white paper."""


def paper_style() -> str:
    """Return the style of the page on paper."""
    return ON_PAPER + (DARK_ON_PAPER if st.context.theme.type == "dark" else "")


def only_on_screen(name: str) -> DeltaGenerator:
    """Return a place for words that are of no use on paper, such as how to tap.

    Parameters
    ----------
    name
        One a place of its screen.
    """
    return st.container(key=f"only on screen {name}")
