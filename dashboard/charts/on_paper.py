"""Pictures of sweeps as files: PNG, SVG and tagged PDF. No global figure state: safe on a server with threads."""

from __future__ import annotations

import html
import io
import threading
from collections.abc import Callable
from typing import Any, Literal, Protocol, TypeVar

import matplotlib as mpl
from matplotlib.figure import Figure

from dashboard.charts.palette import INK, QUIET_INK
from dashboard.charts.printed.lettering import FONT
from dashboard.paper.typeset import pdf_of_svg
from dashboard.tongue import current_language

WIDTH_INCHES = 11.0
DOTS_PER_INCH = 160
TEXT_POINTS = 10.0
Drawn = TypeVar("Drawn", bound="Worded")

_settings_lock = threading.Lock()  # matplotlib's settings belong to the whole process


class Worded(Protocol):
    """What every picture has in words."""

    @property
    def title(self) -> str:
        """What stands over it."""

    @property
    def alt(self) -> str:
        """What it says to those who cannot see it."""


def drawn_bytes(
    picture: Drawn,
    draw: Callable[[Drawn], Figure],
    form: Literal["png", "svg", "pdf"],
    *,
    dots_per_inch: int = DOTS_PER_INCH,
) -> bytes:
    """Return a picture, drawn by ``draw``, as a file."""
    settings: Any = {
        "font.size": TEXT_POINTS,
        "svg.hashsalt": "leafnest",
        "svg.fonttype": "none",
        "font.family": [FONT],
        "axes.edgecolor": QUIET_INK,
        "text.color": INK,
        "axes.labelcolor": INK,
        "xtick.color": QUIET_INK,
        "hatch.linewidth": 0.8,
    }
    file = io.BytesIO()
    with _settings_lock, mpl.rc_context(settings):
        figure = draw(picture)
        if form == "png":
            notes = {"Title": picture.title, "Description": picture.alt, "Software": "Leaf to Nest"}
            figure.savefig(file, format="png", dpi=dots_per_inch, metadata=notes)
            return file.getvalue()
        figure.savefig(file, format="svg", metadata={"Date": None, "Creator": "Leaf to Nest"})
    if form == "pdf":
        return pdf_of_svg(file.getvalue(), title=picture.title, alt=picture.alt, language=current_language())
    return _with_words(file.getvalue(), picture)


def _with_words(svg: bytes, picture: Worded) -> bytes:
    """Give the SVG its title and description, so that a screen reader has something to say."""
    head, mark, rest = svg.decode("utf-8").partition("<svg ")
    opening, close, body = rest.partition(">")
    words = f"<title>{html.escape(picture.title)}</title><desc>{html.escape(picture.alt)}</desc>"
    return f'{head}{mark}role="img" {opening}{close}\n {words}{body}'.encode()
