"""Draw a picture with matplotlib, for PNG and SVG files. No global figure state: safe on a server with threads."""

from __future__ import annotations

import html
import io
import textwrap
import threading
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Literal, Protocol, TypeVar

import matplotlib as mpl
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine

from dashboard.charts.palette import GRID, INK, PAPER, QUIET_INK, Look, look_of
from dashboard.charts.picture import NO_FIGURE, Panel, Picture, axis_ticks
from dashboard.charts.summary import spread
from dashboard.saying import say_setting, short_number
from dashboard.tongue import _

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from pandas import DataFrame

WIDTH_INCHES = 11.0
DOTS_PER_INCH = 160
TEXT_POINTS = 10.0
LANE_OFFSET = 0.21
SEASON_OFFSETS = (-0.05, 0.0, 0.05)
ROOM_FOR_FIGURES = 1.75
"""The axis runs on to this many times the highest season, so that the means stand clear of the marks."""

LONG_FIGURES = 5_000
"""From here on the figures of an axis are so wide that fewer fit."""

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


def picture_bytes(picture: Picture, form: Literal["png", "svg"], *, dots_per_inch: int = DOTS_PER_INCH) -> bytes:
    """Return the picture as a PNG or SVG file; the same picture always gives the same bytes."""
    return drawn_bytes(picture, draw, form, dots_per_inch=dots_per_inch)


def drawn_bytes(
    picture: Drawn, draw: Callable[[Drawn], Figure], form: Literal["png", "svg"], *, dots_per_inch: int = DOTS_PER_INCH
) -> bytes:
    """Return a picture of any kind, drawn by ``draw``, as a PNG or SVG file."""
    settings: Any = {
        "font.size": TEXT_POINTS,
        "svg.hashsalt": "leafnest",
        "svg.fonttype": "path",
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
    return _with_words(file.getvalue(), picture)


def _with_words(svg: bytes, picture: Worded) -> bytes:
    """Give the SVG its title and description, so that a screen reader has something to say."""
    head, mark, rest = svg.decode("utf-8").partition("<svg ")
    opening, close, body = rest.partition(">")
    words = f"<title>{html.escape(picture.title)}</title><desc>{html.escape(picture.alt)}</desc>"
    return f'{head}{mark}role="img" {opening}{close}\n {words}{body}'.encode()


def draw(picture: Picture) -> Figure:
    """Return the figure: a panel a column, a plan a row."""
    rows = len(picture.plans)
    layout = ConstrainedLayoutEngine(w_pad=0.06, h_pad=0.06)
    figure = Figure(figsize=(WIDTH_INCHES, 1.75 + 0.62 * rows), layout=layout, facecolor=PAPER)
    figure.suptitle(picture.title, x=0.01, ha="left", fontsize=TEXT_POINTS + 4, fontweight="bold")
    figure.supxlabel(textwrap.fill(picture.caption, 140), x=0.01, ha="left", fontsize=TEXT_POINTS, color=QUIET_INK)
    panels = figure.subplots(1, len(picture.panels), sharey=True, squeeze=False)[0]
    for axes, panel in zip(panels, picture.panels, strict=True):
        _draw_panel(axes, panel, picture)
    panels[0].set_yticks(range(rows), [textwrap.fill(title, 20) for title in picture.plans.values()])
    panels[0].set_ylim(rows - 0.5, -0.5)
    return figure


def _draw_panel(axes: Axes, panel: Panel, picture: Picture) -> None:
    frame = picture.frame[picture.frame["panel"] == panel.heading]
    _dress(axes, panel, len(picture.plans), highest=float(frame["value"].max()))
    figures = spread(frame).set_index(["lane", "plan"])
    for row, slug in enumerate(picture.plans):
        for lane in range(len(panel.lanes)):
            height = row + (lane * 2 - 1) * LANE_OFFSET * (len(panel.lanes) - 1)
            if (lane, slug) not in figures.index:
                _say(axes, height, f"{panel.lanes[lane].words} {_(NO_FIGURE)}")
                continue
            values = frame[(frame["lane"] == lane) & (frame["plan"] == slug)]
            figure = figures.loc[(lane, slug)]
            _draw_lane(axes, height, values, (figure["low"], figure["mean"], figure["high"]), look_of(row), lane == 0)
            _say(axes, height, f"{panel.lanes[lane].words} {short_number(figure['mean'])}")


def _say(axes: Axes, height: float, words: str) -> None:
    axes.text(0.99, height, words.strip(), transform=axes.get_yaxis_transform(), ha="right", va="center")


def _dress(axes: Axes, panel: Panel, rows: int, highest: float) -> None:
    axes.set_title(panel.heading, loc="left", fontsize=TEXT_POINTS + 1, fontweight="bold")
    axes.set_xlabel(textwrap.fill(panel.axis, 26))
    axes.set_xlim(0, ROOM_FOR_FIGURES * (highest if highest > 0 else 1))
    ticks = axis_ticks(highest, most=3 if highest < LONG_FIGURES else 2)
    axes.set_xticks(ticks, [say_setting(tick) for tick in ticks])
    axes.grid(axis="x", color=GRID, linewidth=0.8)
    axes.set_axisbelow(True)
    axes.tick_params(axis="y", length=0)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    for border in range(1, rows):
        axes.axhline(border - 0.5, color=GRID, linewidth=0.8)


def _draw_lane(
    axes: Axes, height: float, values: DataFrame, figure: tuple[float, float, float], look: Look, is_filled: bool
) -> None:
    low, mean, high = figure
    fill = look.colour if is_filled else PAPER
    offsets = [height + SEASON_OFFSETS[season % len(SEASON_OFFSETS)] for season in range(len(values))]
    axes.scatter(values["value"], offsets, s=12, marker=look.on_paper, color=look.colour, alpha=0.55, linewidths=0)
    axes.plot([low, high], [height, height], color=look.colour, linewidth=3 if is_filled else 1.5, alpha=0.9)
    axes.scatter(
        [mean],
        [height],
        s=62,
        marker=look.on_paper,
        facecolor=fill,
        edgecolor=look.colour,
        linewidths=1.6,
        zorder=3,
        clip_on=False,
    )
