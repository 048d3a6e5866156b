"""Take a picture away: size, copier and file are chosen under it, and it is drawn only when asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

import streamlit as st

from dashboard.language.tongue import _, in_these_words, mark

if TYPE_CHECKING:
    from dashboard.charts.imprint import Imprint
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

        taken = Taken(scene, name, str(kind), str(size), is_grey, garden, tuple(seasons))
        if taken.parts > 1:
            said = _("In this size the letters leave room for a part only: {count} pictures come in one ZIP file.")
            st.caption(said.format(count=taken.parts))
        st.download_button(
            _("Save"), in_these_words(taken.content), taken.file_name, taken.mime, on_click="ignore",
            key=f"take {name}", type="primary",
        )  # fmt: skip


def offer_one_of(scenes: Mapping[str, Printable], name: str, garden: str, seasons: Sequence[int]) -> None:
    """Let one of several pictures be picked by its words and taken away."""
    words = list(scenes)
    picked = st.selectbox(
        _("Which picture to take?"), range(len(words)), format_func=words.__getitem__, key=f"{name} taken"
    )
    if words:
        offer_picture(scenes[words[picked]], f"{name}_{picked + 1}", garden, seasons)


@dataclass(frozen=True)
class Taken:
    """A picture in the size and the file that were asked for; several files where one cannot hold it to be read."""

    scene: Printable
    name: str
    kind: str
    size: str
    is_grey: bool
    garden: str
    seasons: tuple[int, ...]

    @cached_property
    def style(self) -> Style:
        """Size, and whether for a grey copier."""
        from dashboard.charts.printed.shapes import SHAPES, Style

        return Style(SHAPES[self.size], self.is_grey)

    @cached_property
    def imprint(self) -> Imprint:
        """The small line at its foot."""
        from dashboard.charts.imprint import Imprint
        from sim.season import model_version

        return Imprint(self.garden, self.seasons, model_version(), date.today())

    @cached_property
    def parts(self) -> int:
        """How many pictures it takes for all of it to be read."""
        from dashboard.charts.printed.pictures import parts_of

        return len(parts_of(self.scene, self.style, self.imprint))

    @property
    def file_name(self) -> str:
        """What the file is called."""
        return f"{self.name}.{'zip' if self.parts > 1 else self.kind}"

    @property
    def mime(self) -> str:
        """What kind of file it is, as browsers say it."""
        return MIME["zip" if self.parts > 1 else self.kind]

    def content(self) -> bytes:
        """Return the file."""
        from dashboard.charts.printed.pictures import FORMS, picture_file, picture_files
        from dashboard.paper.archive import zipped

        form: Form = "png" if self.kind == "png" else "svg" if self.kind == "svg" else "pdf"
        if self.kind == "zip" or self.parts > 1:
            forms: Sequence[Form] = FORMS if self.kind == "zip" else (form, "txt")
            return zipped(dict(picture_files(self.scene, self.name, [self.style], self.imprint, forms)))
        return picture_file(self.scene, form, self.style, self.imprint)
