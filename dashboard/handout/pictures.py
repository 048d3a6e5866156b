"""The pictures of a handout, drawn for its width: the calendar, two measures side by side, and where the eggs went."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from dashboard.charts.printed.calendar_strip import most_plans
from dashboard.charts.printed.pictures import picture_file
from dashboard.charts.printed.shapes import HALF_PAGE, Style
from dashboard.charts.printed.sheet import new_sheet
from dashboard.handout.many_plans import are_many, numbered
from dashboard.handout.words import DRAWN
from dashboard.paper.blocks import Image

if TYPE_CHECKING:
    from dashboard.charts.scene import Scene
    from dashboard.handout.findings import Findings

HALF_WIDTH = replace(
    HALF_PAGE, name="half_width", width_inches=3.5, height_inches=2.3, title_points=10.5, line_points=1.5
)
ROW_INCHES, AROUND_INCHES, AROUND_ENDS_INCHES = 0.19, 1.2, 1.45
"""Height of a row in the calendar and among the ends, and of what stands around the rows."""
MOST_SIDE_BY_SIDE, NAMED_ROW_INCHES = 3, 0.52
"""More plans than these stand in rows half a page wide; a name takes up to three lines there."""
LEAST_CALENDAR_INCHES, HIGHEST_INCHES = 1.7, 8.6


class Pictures:
    """The pictures of a handout: what each shows is found once, and it is drawn only if it is asked for."""

    def __init__(self, findings: Findings, *, is_grey: bool) -> None:
        self.findings, self.is_grey = findings, is_grey
        self.measure_scenes = measure_scenes(findings)
        self.ends_scene = _ends_scene(findings)

    @property
    def has_ends(self) -> bool:
        """Whether any egg was laid."""
        return self.ends_scene is not None

    @cached_property
    def calendar(self) -> Image:
        """One season of each plan as strips of days."""
        scene = _calendar_scene(self.findings)
        return _image(scene, _height_of_calendar(scene), is_grey=self.is_grey)

    @cached_property
    def measures(self) -> list[Image]:
        """A picture of each of the measures drawn, half a page wide."""
        style = style_of_measures(self.findings, is_grey=self.is_grey)
        return [Image(_svg(scene, style), scene.alt) for scene in self.measure_scenes]

    @cached_property
    def ends(self) -> Image | None:
        """What became of a thousand eggs, or nothing where none were laid."""
        scene = self.ends_scene
        return _image(scene, _height_of_ends(scene), is_grey=self.is_grey) if scene else None


class Blanks:
    """Empty pictures, no higher than the drawn ones will be: what they crowd out need not be drawn to know it.

    A drawing takes a while, and the calendar of twelve plans takes twelve seasons lived once more.
    """

    def __init__(self, pictures: Pictures) -> None:
        tall, ends = _height_of_measures(pictures.findings), pictures.ends_scene
        self.has_ends = pictures.has_ends
        self.calendar = _blank(HALF_PAGE.width_inches, LEAST_CALENDAR_INCHES)
        self.measures = [_blank(HALF_WIDTH.width_inches, tall) for _scene in pictures.measure_scenes]
        self.ends = _blank(HALF_PAGE.width_inches, _height_of_ends(ends)) if ends else None


def _blank(width_inches: float, height_inches: float) -> Image:
    size = f'width="{width_inches}in" height="{height_inches}in"'
    return Image(f'<svg xmlns="http://www.w3.org/2000/svg" {size}/>'.encode(), alt="-")


def measure_scenes(findings: Findings) -> list[Scene]:
    """Return what each of the measures that has figures shows, a dot a season, as it stands in half a page."""
    from dashboard.charts.seasons_picture import seasons_scene
    from dashboard.language.spoken import BY_MEASURE

    seasons, titles = findings.comparison.seasons, findings.titles
    # Where plans are many, their names would not fit into half a page.
    plans = numbered(findings) if are_many(findings) else titles
    scenes = [seasons_scene(seasons, titles, BY_MEASURE[measure]) for measure in DRAWN]
    return [replace(scene, caption="", plans=plans, order=titles) for scene in scenes if not scene.frame.empty]


def style_of_measures(findings: Findings, *, is_grey: bool) -> Style:
    """Return the size of such a picture, which grows with the plans, and whether it is grey."""
    return Style(replace(HALF_WIDTH, height_inches=_height_of_measures(findings)), is_grey)


def _height_of_measures(findings: Findings) -> float:
    count = len(findings.plans)
    if count <= MOST_SIDE_BY_SIDE:
        return HALF_WIDTH.height_inches
    return count * (ROW_INCHES if are_many(findings) else NAMED_ROW_INCHES) + AROUND_INCHES


def _calendar_scene(findings: Findings) -> Scene:
    from dashboard.charts.calendar_picture import calendar_scene

    return calendar_scene(findings.days(), findings.titles, findings.numbers[0])


def _height_of_calendar(scene: Scene) -> float:
    height = LEAST_CALENDAR_INCHES
    while height < HIGHEST_INCHES and not _holds_all(scene, height):
        height += ROW_INCHES
    return height


def _holds_all(scene: Scene, height_inches: float) -> bool:
    """Return whether every plan can be read in the calendar when it is so high."""
    style = Style(replace(HALF_PAGE, height_inches=height_inches))
    return most_plans(new_sheet(scene.title, scene.caption, "", style), scene) >= len(scene.plans)


def _ends_scene(findings: Findings) -> Scene | None:
    """Return what became of a thousand eggs under each plan, or nothing where none were laid."""
    from dashboard.charts.ends_picture import ends_scene
    from dashboard.seasons.ends import EVERY_KIND, by_group, mean_ends, per_thousand

    ends = {plan: per_thousand(by_group(mean_ends(findings.lived(plan), None))) for plan in findings.plans}
    scene = ends_scene(ends, findings.titles, EVERY_KIND)
    return None if scene.frame.empty else scene


def _height_of_ends(scene: Scene) -> float:
    return ROW_INCHES * int(scene.frame["fate"].nunique()) + AROUND_ENDS_INCHES


def _image(scene: Scene, height_inches: float, *, is_grey: bool) -> Image:
    return Image(_svg(scene, Style(replace(HALF_PAGE, height_inches=height_inches), is_grey)), scene.alt)


def _svg(scene: Scene, style: Style) -> bytes:
    return picture_file(scene, "svg", style, None)
