"""What every printed picture shares: title above, caption and foot line below, the drawing in the room between."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine

from dashboard.charts.palette import GRID, INK, PAPER, QUIET_INK
from dashboard.charts.printed.lettering import FONT, LINE_HEIGHT, height_inches, shortened, wrapped
from dashboard.charts.printed.shapes import SLIDE, Style

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MARGIN_SHARE = 0.022
"""Of the width, on each side."""
BARE_MARGIN_SHARE = 0.008
"""For a picture without a foot line, which stands on a paper that has margins of its own."""
GAP_SHARE = 0.014
MOST_TITLE_LINES = 2


@dataclass(frozen=True)
class Room:
    """What a drawing gets: the figure, whose layout is held to the room, the room's size, and the style."""

    figure: Figure
    width_inches: float
    height_inches: float
    style: Style

    @property
    def points(self) -> float:
        """Size of letters that are to be read."""
        return self.style.shape.text_points

    @property
    def line_points(self) -> float:
        """Width of a line that must be seen."""
        return self.style.shape.line_points


def settings_of(style: Style) -> Any:
    """Return matplotlib's settings for a style; SVG keeps its words as words, and the same picture its bytes."""
    return {
        "font.family": [FONT],
        "font.size": style.shape.text_points,
        "svg.hashsalt": "leafnest",
        "svg.fonttype": "none",
        "axes.edgecolor": QUIET_INK,
        "text.color": INK,
        "axes.labelcolor": INK,
        "xtick.color": INK,
        "ytick.color": INK,
        "hatch.linewidth": max(0.6, style.shape.line_points / 2.5),
        "text.parse_math": False,
    }


def new_sheet(title: str, caption: str, foot: str, style: Style) -> Room:
    """Return an empty sheet with its words set, and the room that is left for the drawing."""
    shape = style.shape
    margin, gap = (MARGIN_SHARE if foot else BARE_MARGIN_SHARE) * shape.width_inches, GAP_SHARE * shape.width_inches
    wide = shape.width_inches - 2 * margin
    figure = Figure(figsize=(shape.width_inches, shape.height_inches), facecolor=PAPER)
    top, bottom = shape.height_inches - margin, margin
    heading = shortened(title, shape.title_points, wide, MOST_TITLE_LINES, is_bold=True)
    _set(figure, margin, top, heading, shape.title_points, weight="bold", va="top")
    top -= height_inches(heading, shape.title_points) + gap
    for words, points, most_lines in ((foot, shape.foot_points, 0), (caption, *_caption_room(style))):
        lines = _sentences_that_fit(words, points, wide, most_lines) if most_lines else wrapped(words, points, wide)
        _set(figure, margin, bottom, lines, points, color=QUIET_INK, va="bottom")
        bottom += height_inches(lines, points) + gap * (0.6 if lines else 0)
    tall = top - bottom
    rect = (
        margin / shape.width_inches,
        bottom / shape.height_inches,
        wide / shape.width_inches,
        tall / shape.height_inches,
    )
    pad = 0.004 * shape.width_inches
    figure.set_layout_engine(ConstrainedLayoutEngine(rect=rect, w_pad=pad, h_pad=pad, hspace=0.04, wspace=0.06))
    return Room(figure, wide, tall, style)


def _caption_room(style: Style) -> tuple[float, int]:
    """Return size and most lines of the caption: on paper a note, whole; on a slide what two lines hold."""
    return max(style.shape.foot_points, 0.75 * style.shape.text_points), 2 if style.shape is SLIDE else 0


def _sentences_that_fit(words: str, points: float, wide: float, most_lines: int) -> str:
    """Return as many whole sentences as so many lines hold, at least one."""
    sentences = re.split(r"(?<=[.!?]) ", words)
    for count in range(len(sentences), 1, -1):
        lines = wrapped(" ".join(sentences[:count]), points, wide)
        if lines.count("\n") < most_lines:
            return lines
    return wrapped(sentences[0], points, wide)


def _set(figure: Figure, x_inches: float, y_inches: float, words: str, points: float, **look: Any) -> None:
    wide, tall = figure.get_size_inches()
    text = figure.text(
        x_inches / wide, y_inches / tall, words, ha="left", fontsize=points, linespacing=LINE_HEIGHT / 1.2, **look
    )
    text.set_in_layout(False)


def bare(axes: Axes, *, keeps: tuple[str, ...] = ("bottom",)) -> None:
    """Take away the frame but for the sides that are kept."""
    for side, spine in axes.spines.items():
        spine.set_visible(side in keeps)
    axes.set_axisbelow(True)


def rule(axes: Axes, axis: Any) -> None:
    """Draw quiet lines across at the figures of an axis."""
    axes.grid(axis=axis, color=GRID, linewidth=0.8)


def say_on_paper(axes: Axes, x: float, y: float, words: str, points: float, **look: Any) -> None:
    """Write words on a paper-coloured ground, so that no line runs through them."""
    ground = {"facecolor": PAPER, "edgecolor": "none", "pad": 0.8}
    axes.text(x, y, words, fontsize=points, bbox=ground, **look)
