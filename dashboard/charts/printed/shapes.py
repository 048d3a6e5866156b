"""The sizes in which a picture is printed, and how its plans look in colour and on a grey copier."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dashboard.charts.palette import Look, look_of
from dashboard.language.tongue import mark


@dataclass(frozen=True)
class Shape:
    """One size.

    Parameters
    ----------
    name
        Part of the file's name.
    words
        What it is for.
    width_inches, height_inches
        Of the whole picture.
    text_points, foot_points, title_points
        Sizes of letters: what is to be read, the small line at the foot, the title.
    line_points
        Width of a line that must be seen.
    screen_dots_per_inch
        For the smaller PNG, which fits a screen.
    """

    name: str
    words: str
    width_inches: float
    height_inches: float
    text_points: float
    foot_points: float
    title_points: float
    line_points: float
    screen_dots_per_inch: int


SLIDE = Shape("slide", mark("slide, 16:9"), 40 / 3, 7.5, 24.0, 14.0, 30.0, 4.0, 144)
HALF_PAGE = Shape("half_page", mark("half a page"), 7.1, 4.7, 10.0, 9.0, 13.0, 1.8, 150)
FULL_PAGE = Shape("full_page", mark("a full page"), 7.1, 9.3, 12.0, 9.0, 16.0, 2.0, 150)
SHAPES = {shape.name: shape for shape in (SLIDE, HALF_PAGE, FULL_PAGE)}
PRINT_DOTS_PER_INCH = 300

GREYS = (
    *("#1b1b1b", "#767676", "#4a4a4a", "#8a8a8a", "#333333", "#6a6a6a", "#5a5a5a"),
    *("#909090", "#2a2a2a", "#626262", "#3f3f3f", "#808080"),
)
"""Plans on a grey copier, neighbours far apart; each passes 3:1 on white. Marks and hatches carry the difference."""


@dataclass(frozen=True)
class Style:
    """A size, and whether for a grey copier."""

    shape: Shape
    is_grey: bool = False

    def look(self, number: int) -> Look:
        """Return colour, mark and hatch of the plan with this number."""
        look = look_of(number)
        return replace(look, colour=GREYS[number % len(GREYS)]) if self.is_grey else look
