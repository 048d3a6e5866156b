"""Where the numbers come from: every parameter with range, source and evidence; what is left out; cautions."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import streamlit as st

from dashboard.boards.trust_board import show_leaning, show_patterns
from dashboard.language.saying import say_share, with_minus
from dashboard.language.tongue import _, many, mark
from dashboard.page.dress import show_cautions, show_limits
from dashboard.page.visit import open_screen

if TYPE_CHECKING:
    from dashboard.origins import Origin

ROWS_A_PAGE = 25
ALL = mark("all")


def page() -> None:
    """Draw the page from top to bottom."""
    open_screen(
        _("Where do the numbers come from?"),
        _(
            "Nothing in the model is a result typed in. Each number of nature has a value, a range in which it may "
            "lie, and a word on how well it is known. If your garden disagrees, believe your garden."
        ),
    )
    show_limits()
    show_evidence()
    show_numbers()
    show_leaning()
    show_patterns()
    show_left_out()
    show_cautions([])


def show_evidence() -> None:
    """Say what the badges mean and how many numbers carry each."""
    import pandas as pd

    from dashboard.origins import EVIDENCE, origins

    st.header(_("How well are they known?"))
    badges = [row.evidence for row in origins()]
    rows = [
        (_(words), badges.count(badge), say_share(badges.count(badge) / len(badges)))
        for badge, words in EVIDENCE.items()
    ]
    st.table(
        pd.DataFrame(rows, columns=[_("How it is known"), _("Numbers"), _("Share of all")]),
        hide_index=True,
        alt=_("How many numbers are known in which way."),
    )


def show_numbers() -> None:
    """Let numbers be looked for, and show those found, a page at a time."""
    from dashboard.origins import EVIDENCE, PARTS, found

    st.header(_("Look a number up"))
    left, middle, right = st.columns(3)
    hint = _("for example: egg, or cabbage white")
    wanted = left.text_input(_("Words to look for"), placeholder=hint, key="wanted")
    part = middle.selectbox(
        _("About what?"), [ALL, *PARTS], format_func=lambda one: _(PARTS[one][0] if one in PARTS else ALL), key="part"
    )
    badge = right.selectbox(
        _("Known how?"), [ALL, *EVIDENCE], format_func=lambda one: _(EVIDENCE.get(one, ALL)), key="badge"
    )
    rows = found(wanted, "" if part == ALL else part, "" if badge == ALL else badge)
    if not rows:
        st.markdown(_("No number holds all these words. Try fewer, or another part."))
        return
    pages = -(-len(rows) // ROWS_A_PAGE)
    page_number = 1
    if pages > 1:
        asked = _("Page, of {pages}").format(pages=pages)
        page_number = int(st.number_input(asked, 1, pages, key=f"page of {pages}"))
    first = (page_number - 1) * ROWS_A_PAGE
    shown = rows[first : first + ROWS_A_PAGE]
    said = many(
        "{count} number found; {first} to {last} are shown.",
        "{count} numbers found; {first} to {last} are shown.",
        len(rows),
    )
    st.markdown(said.format(count=len(rows), first=first + 1, last=first + len(shown)))
    show_rows(shown)
    st.download_button(_("All numbers (CSV)"), csv_of_all, "numbers.csv", "text/csv", on_click="ignore")


def show_rows(rows: Sequence["Origin"]) -> None:
    """Show numbers as a table; where it is narrow, each row lies as a card (see ``dashboard/page/dress.py``)."""
    import pandas as pd

    from dashboard.origins import EVIDENCE, PARTS

    cells = [
        (
            f"**{_(PARTS[row.part][0])}**: {row.words}",
            value_words(row),
            _(EVIDENCE[row.evidence]),
            " ".join(f"{part.removesuffix('.')}." for part in (row.note, row.source) if part),
        )
        for row in rows
    ]
    columns = [_("Number"), _("Value, unit and range"), _("How it is known"), _("From where")]
    frame = pd.DataFrame(cells, columns=columns)
    frame = frame.map(lambda cell: cell.replace("$", "\\$").replace("~", "\\~"))
    with st.container(key="numbers"):
        st.table(frame, hide_index=True, alt=_("Numbers with value, unit, range, evidence and source."))


def value_words(row: "Origin") -> str:
    """Return value, unit and range; of a row of numbers, each beside whom it is for: nobody can count eleven places."""
    from dashboard.origins import BETWEEN

    value, low, high = map(with_minus, (row.value, row.low, row.high))
    if not row.places:
        said = _("**{value}** {unit}, range {low} to {high}")
        return said.format(value=value, unit=row.unit, low=low, high=high)
    values, lows, highs = (text.split(BETWEEN) for text in (value, low, high))
    if len(lows) == len(highs) == 1:
        each = ", ".join(f"{name} **{value}**" for name, value in zip(row.places, values, strict=True))
        return _("{each}; {unit}, range {low} to {high}").format(each=each, unit=row.unit, low=low, high=high)
    ranges = zip(*(_spread(some, len(values)) for some in (lows, highs)), strict=True)
    one_said = _("{name} **{value}** ({low} to {high})")
    each = ", ".join(
        one_said.format(name=name, value=value, low=low, high=high)
        for name, value, (low, high) in zip(row.places, values, ranges, strict=True)
    )
    return _("{each}; {unit}, range in brackets").format(each=each, unit=row.unit)


def _spread(numbers: list[str], count: int) -> list[str]:
    """Return one for each, where one was said for all."""
    return numbers * count if len(numbers) == 1 else numbers


def csv_of_all() -> bytes:
    """Return every number as a CSV file."""
    from dataclasses import asdict

    import pandas as pd

    from dashboard.origins import origins
    from sim.export import csv_bytes

    return csv_bytes(pd.DataFrame([asdict(row) for row in origins()]))


def show_left_out() -> None:
    """Say what the model leaves out, and which way that bends the result."""
    import pandas as pd

    from dashboard.origins import left_out

    st.header(_("What is left out?"))
    rows = [(_(what), _(bends)) for what, bends in left_out()]
    st.table(
        pd.DataFrame(rows, columns=[_("Left out or made simpler"), _("Which way it bends the result")]),
        hide_index=True,
        alt=_("What the model leaves out and which way that bends the result."),
    )


if __name__ == "__main__":
    page()
