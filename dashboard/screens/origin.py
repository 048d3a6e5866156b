"""Where the numbers come from: every parameter with range, source and evidence; what is left out; cautions."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import streamlit as st

from dashboard.dress import show_cautions, show_limits
from dashboard.visit import open_screen

if TYPE_CHECKING:
    from dashboard.origins import Origin

ROWS_A_PAGE = 25
ALL = "all"


def page() -> None:
    """Draw the page from top to bottom."""
    open_screen(
        "Where do the numbers come from?",
        "Nothing in the model is a result typed in. Each number of nature has a value, a range in which it may lie, "
        "and a word on how well it is known. If your garden disagrees, believe your garden.",
    )
    show_limits()
    show_evidence()
    show_numbers()
    show_leaning()
    show_left_out()
    show_cautions()


def show_evidence() -> None:
    """Say what the badges mean and how many numbers carry each."""
    import pandas as pd

    from dashboard.origins import EVIDENCE, origins

    st.header("How well are they known?")
    badges = [row.evidence for row in origins()]
    rows = [(badge, badges.count(badge), f"{badges.count(badge) / len(badges):.0%}") for badge in EVIDENCE.values()]
    st.table(
        pd.DataFrame(rows, columns=["How it is known", "Numbers", "Share"]),
        hide_index=True,
        alt="How many numbers are known in which way.",
    )


def show_numbers() -> None:
    """Let numbers be looked for, and show those found, a page at a time."""
    from dashboard.origins import EVIDENCE, PARTS, found

    st.header("Look a number up")
    left, middle, right = st.columns(3)
    wanted = left.text_input("Words to look for", placeholder="for example: egg, or cabbage white", key="wanted")
    part = middle.selectbox("About what?", [ALL, *(title for title, _ in PARTS.values())], key="part")
    badge = right.selectbox("Known how?", [ALL, *EVIDENCE.values()], key="badge")
    rows = found(wanted, "" if part == ALL else part, "" if badge == ALL else badge)
    if not rows:
        st.markdown("No number holds all these words. Try fewer, or another part.")
        return
    pages = -(-len(rows) // ROWS_A_PAGE)
    page_number = 1
    if pages > 1:
        page_number = int(st.number_input(f"Page, of {pages}", 1, pages, key=f"page of {pages}"))
    first = (page_number - 1) * ROWS_A_PAGE
    shown = rows[first : first + ROWS_A_PAGE]
    st.markdown(f"{len(rows)} numbers found; {first + 1} to {first + len(shown)} are shown.")
    show_rows(shown)
    st.download_button("All numbers (CSV)", csv_of_all, "numbers.csv", "text/csv", on_click="ignore")


def show_rows(rows: Sequence["Origin"]) -> None:
    """Show numbers as a table."""
    import pandas as pd

    cells = [
        (
            f"**{row.part}**: {row.words}",
            f"**{row.value}** {row.unit}, range {row.range}",
            "; ".join(part for part in (row.evidence, row.note, row.source) if part),
        )
        for row in rows
    ]
    frame = pd.DataFrame(cells, columns=["What", "Value, unit and range", "How it is known, and from where"])
    frame = frame.map(lambda cell: cell.replace("$", "\\$").replace("~", "\\~"))
    st.table(frame, hide_index=True, alt="Numbers with value, unit, range, evidence and source.")


def csv_of_all() -> bytes:
    """Return every number as a CSV file."""
    from dataclasses import asdict

    import pandas as pd

    from dashboard.origins import origins
    from sim.export import csv_bytes

    return csv_bytes(pd.DataFrame([asdict(row) for row in origins()]))


def show_leaning() -> None:
    """Say which results lean on which numbers."""
    import pandas as pd

    from dashboard.origins import PARTS

    st.header("Which results lean on which numbers?")
    st.table(
        pd.DataFrame(list(PARTS.values()), columns=["Numbers about", "Move first"]),
        hide_index=True,
        alt="What results lean on each part of the numbers.",
    )


def show_left_out() -> None:
    """Say what the model leaves out, and which way that bends the result."""
    import pandas as pd

    from dashboard.origins import left_out

    st.header("What is left out?")
    st.table(
        pd.DataFrame(left_out(), columns=["Left out or made simpler", "Which way it bends the result"]),
        hide_index=True,
        alt="What the model leaves out and which way that bends the result.",
    )


if __name__ == "__main__":
    page()
