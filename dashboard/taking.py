"""Take a picture away: size, copier and file are chosen under it, and it is drawn only when asked for."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

import streamlit as st

from dashboard.tongue import _, in_these_words, mark

if TYPE_CHECKING:
    from dashboard.charts.printed.pictures import Form, Printable
    from dashboard.charts.printed.shapes import Style

SIZES = {"half_page": mark("Half a page"), "full_page": mark("A page"), "slide": mark("A slide")}
FILES = {"png": "PNG", "svg": "SVG", "pdf": "PDF", "zip": mark("All, with its words")}
MIME = {"png": "image/png", "svg": "image/svg+xml", "pdf": "application/pdf", "zip": "application/zip"}


def offer_picture(scene: Printable, name: str, garden: str, seasons: Sequence[int]) -> None:
    """Show, under a picture, what it takes to save it.

    Parameters
    ----------
    scene
        What the picture shows.
    name
        Of the file, and of these fields: one a picture on a screen.
    garden
        Title of the scenario.
    seasons
        Numbers of the seasons shown.
    """
    with st.popover(_("Take this picture"), icon=":material/download:"):
        size = st.segmented_control(
            _("For what?"), list(SIZES), default="half_page", format_func=lambda one: _(SIZES[one]), required=True,
            key=f"take size {name}",
        )  # fmt: skip
        is_grey = st.toggle(_("For a grey copier"), key=f"take grey {name}")
        kind = st.segmented_control(
            _("As which file?"), list(FILES), default="png", format_func=lambda one: _(FILES[one]), required=True,
            key=f"take kind {name}",
        )  # fmt: skip

        @in_these_words
        def content() -> bytes:
            return picture_content(scene, name, str(kind), str(size), is_grey=is_grey, garden=garden, seasons=seasons)

        st.download_button(
            _("Save"), content, f"{name}.{kind}", MIME[str(kind)], on_click="ignore", key=f"take {name}", type="primary"
        )


def picture_content(
    scene: Printable, name: str, kind: str, size: str, *, is_grey: bool, garden: str, seasons: Sequence[int]
) -> bytes:
    """Return the file that was asked for."""
    from dashboard.charts.imprint import Imprint
    from dashboard.charts.printed.pictures import FORMS, picture_file, picture_files
    from dashboard.charts.printed.shapes import SHAPES, Style
    from dashboard.paper.archive import zipped
    from sim.season import model_version

    style: Style = Style(SHAPES[size], is_grey)
    imprint = Imprint(garden, seasons, model_version(), date.today())
    if kind == "zip":
        return zipped(dict(picture_files(scene, name, [style], imprint, FORMS)))
    form: Form = "png" if kind == "png" else "svg" if kind == "svg" else "pdf"
    return picture_file(scene, form, style, imprint)
