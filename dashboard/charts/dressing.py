"""How every picture on the screen is dressed: letters, lines and marks that can be read by all and from afar."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping
from typing import Any

import altair as alt
from altair.utils import schemapi

from dashboard.charts.palette import INK, PAPER, QUIET_INK, look_of
from dashboard.charts.picture import Numbered

schemapi.disable_debug_mode()  # no look at the grammar of every part and of the whole: the tests do that, not visitors
alt.theme.enable("none")  # sizes and letters are the house's own

TEXT_PX = 14
FONT = "Source Sans, sans-serif"
PLAN_LABEL_LETTERS = 17
LINES = "split(datum.label, '\\n')"
"""Vega's expression for a label of several lines."""
ROW_LABEL_PX = 170
LEGEND_ASIDE_PX = -90
"""A legend below the names of the rows, too: names of plans are long, and a phone is narrow."""
MEAN_BAR_PX = 38
NARROWEST_PX, FIGURE_PX = 290, 8
"""What a phone leaves beside the upright axis, and the width of a bold figure in the letters of a mean."""
TITLE_LETTERS, UNIT_LETTERS = 39, 48
"""Of a title in one line, and of the unit below it: what a phone has room for."""

HOUSE_STYLE: dict[str, Any] = {
    "background": PAPER,
    "font": FONT,
    "padding": 8,
    "mark": {"aria": False},
    "view": {"stroke": None},
    "axis": {
        "labelFontSize": TEXT_PX,
        "titleFontSize": TEXT_PX,
        "labelColor": QUIET_INK,
        "titleColor": INK,
        "titleFontWeight": "normal",
        "aria": False,
    },
    "legend": {"labelColor": INK, "titleColor": INK, "aria": False},
    "axisY": {"labelColor": INK, "labelLineHeight": 16},
    "title": {
        "anchor": "start",
        "fontSize": TEXT_PX + 3,
        "color": INK,
        "subtitleFontSize": TEXT_PX,
        "subtitleColor": QUIET_INK,
    },
}
"""Vega-Lite's configuration of every picture.

What a picture says to those who cannot see it is said once, beside it: its parts stay silent, or they would speak
English on every page.
"""


class _Layers(alt.LayerChart):
    """Altair's layers without its search for a table and for switches that all of them could share.

    For that it copies each layer four times: more than half of what drawing took. None of ours has a switch, and the
    page lays each table aside once anyway (``dashboard/page/placing.py``).
    """

    def __init__(self, **parts: Any) -> None:
        super(alt.LayerChart, self).__init__(**parts)


def layered(*charts: Any) -> alt.LayerChart:
    """Return charts that lie over each other, the first at the back."""
    return _Layers(layer=list(charts))


def dress(chart: Any, style: Mapping[str, Any] = HOUSE_STYLE, *, unit: str = "", **properties: Any) -> Any:
    """Return the chart with its properties, such as ``width``, and with the house's letters and lines.

    They are written on the chart itself: Altair's own way copies all of it for each, which took longer than drawing.

    Parameters
    ----------
    chart
        The chart; it is changed.
    style
        Vega-Lite's configuration.
    unit
        Words of the upright axis, to stand below the title: along the axis they are cut where a picture is low.
    properties
        What is written on the chart; a title is broken between words.
    """
    if title := properties.get("title", ""):
        properties["title"] = {"text": _between_words(title, TITLE_LETTERS), "aria": False}
        if unit:
            properties["title"]["subtitle"] = _between_words(unit, UNIT_LETTERS)
    for name, value in (properties | {"config": dict(style)}).items():
        chart[name] = value
    return chart


def _between_words(words: str, letters: int) -> list[str]:
    """Return words in lines of so many letters, none broken at a hyphen."""
    return textwrap.wrap(words, letters, break_on_hyphens=False)


def plan_labels(plans: Mapping[str, str], letters: int = PLAN_LABEL_LETTERS) -> dict[str, str]:
    """Return slug → title broken into short lines."""
    return {slug: in_lines(title, letters) for slug, title in plans.items()}


def in_lines(words: str, letters: int) -> str:
    """Return words broken into short lines, as :data:`LINES` reads them."""
    return "\n".join(_between_words(words, letters))


def look_range(picture: Numbered, labels: Mapping[str, str], part: str) -> alt.Scale:
    """Return the scale of colours (``colour``) or marks (``on_screen``) of plans by their labels (slug → label)."""
    looks = [look_of(picture.number_of(plan)) for plan in labels]
    return alt.Scale(domain=list(labels.values()), range=[getattr(look, part) for look in looks])


def legend_below(aside_px: int, *, symbol_size: int, label_px: int) -> alt.Legend:
    """Return a legend of one column below the picture, its marks so far aside of the picture's left edge."""
    return alt.Legend(
        orient="bottom",
        columns=1,
        title=None,
        labelFontSize=TEXT_PX,
        labelLimit=label_px,
        symbolSize=symbol_size,
        symbolOffset=aside_px,
    )


def tips(**fields: str) -> list[alt.Tooltip]:
    """Return what is shown when a mark is pointed at: field → its words; ``value`` and ``mean`` are figures."""
    shown = []
    for field, words in fields.items():
        is_figure = field in ("value", "mean")
        figure: dict[str, Any] = {"format": ",.3~g"} if is_figure else {}
        shown.append(alt.Tooltip(f"{field}:{'Q' if is_figure else 'N'}", title=words, **figure))
    return shown


def mean_words(means: Any, **places: Any) -> list[alt.Chart]:
    """Return the words beside the bars of means, on a paper-coloured rim so that no line runs through them."""
    words = alt.Chart(means)
    style: dict[str, Any] = {"dx": MEAN_BAR_PX // 2 + 3, "align": "left", "fontSize": TEXT_PX, "fontWeight": "bold"}
    return [
        words.mark_text(**style, color=PAPER, stroke=PAPER, strokeWidth=5).encode(text=alt.Text("said:N"), **places),
        words.mark_text(**style, color=INK).encode(text=alt.Text("said:N"), **places),
    ]


def room_beside(said: Iterable[str], columns: int) -> dict[str, int]:
    """Return the chart's padding that keeps the words beside the last of its columns whole on a phone.

    They were cut at the picture's edge: a mean of 6,032 read 6,03.
    """
    words_px = MEAN_BAR_PX // 2 + 3 + FIGURE_PX * max(map(len, said), default=0)
    return {"right": max(0, words_px - NARROWEST_PX // (2 * max(1, columns)))}


def rows_of(labels: Mapping[str, str], field: str = "Plan") -> alt.Y:
    """Return the axis with a row a plan, its label in short lines."""
    return alt.Y(
        f"{field}:N",
        sort=None,
        scale=alt.Scale(domain=list(labels.values())),
        title=None,
        axis=alt.Axis(labelExpr=LINES, labelLimit=ROW_LABEL_PX, ticks=False, domain=False, labelPadding=8),
    )
