"""The pictures of a handout, drawn for its width: the calendar, two measures side by side, and where the eggs went."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from dashboard.charts.printed.calendar_strip import most_plans
from dashboard.charts.printed.pictures import picture_file
from dashboard.charts.printed.shapes import HALF_PAGE, Style
from dashboard.charts.printed.sheet import new_sheet
from dashboard.paper.blocks import Image
from dashboard.tongue import _

if TYPE_CHECKING:
    from dashboard.charts.scene import Scene
    from dashboard.handout.findings import Findings

HALF_WIDTH = replace(
    HALF_PAGE, name="half_width", width_inches=3.5, height_inches=2.3, title_points=10.5, line_points=1.5
)
ROW_INCHES, AROUND_INCHES, AROUND_ENDS_INCHES = 0.19, 0.95, 1.45
"""Height of a row in the calendar and among the ends, and of what stands around the rows."""
LEAST_CALENDAR_INCHES, HIGHEST_INCHES = 1.7, 8.6


def calendar_image(findings: Findings, *, is_grey: bool) -> Image:
    """Return one season of each plan as strips of days."""
    from dashboard.charts.calendar_picture import calendar_scene

    scene = calendar_scene(findings.days(), findings.titles, findings.numbers[0])
    height = LEAST_CALENDAR_INCHES
    while height < HIGHEST_INCHES and not _holds_all(scene, height):
        height += ROW_INCHES
    return _image(scene, height, is_grey=is_grey)


def _holds_all(scene: Scene, height_inches: float) -> bool:
    """Return whether every plan can be read in the calendar when it is so high."""
    style = Style(replace(HALF_PAGE, height_inches=height_inches))
    return most_plans(new_sheet(scene.title, scene.caption, "", style), scene) >= len(scene.plans)


def measure_images(findings: Findings, measures: tuple[str, ...], *, is_grey: bool) -> list[Image]:
    """Return a picture of each of the measures that has figures, a dot a season, half a page wide."""
    from dashboard.charts.seasons_picture import seasons_scene
    from dashboard.handout.many_plans import are_many, numbered
    from dashboard.spoken import BY_MEASURE

    images = []
    has_numbers = are_many(findings)  # their names would not fit into half a page
    height = max(HALF_WIDTH.height_inches, ROW_INCHES * len(findings.plans) + AROUND_INCHES)
    style = Style(replace(HALF_WIDTH, height_inches=height), is_grey)
    for measure in measures:
        scene = seasons_scene(findings.comparison.seasons, findings.titles, BY_MEASURE[measure])
        if scene.frame.empty:
            continue
        plans = numbered(findings) if has_numbers else scene.plans
        images.append(Image(_svg(replace(scene, caption="", plans=plans), style), scene.alt))
    return images


def ends_image(findings: Findings, *, is_grey: bool) -> Image | None:
    """Return what became of a thousand eggs, or nothing where none were laid; of many plans the first."""
    from dashboard.charts.ends_picture import ends_scene
    from dashboard.ends import EVERY_KIND, by_group, mean_ends, per_thousand

    ends = {plan: per_thousand(by_group(mean_ends(findings.lived(plan), None))) for plan in findings.plans}
    scene = ends_scene(ends, findings.titles, _(EVERY_KIND))
    if scene.frame.empty:
        return None
    return _image(scene, ROW_INCHES * scene.frame["fate"].nunique() + AROUND_ENDS_INCHES, is_grey=is_grey)


def _image(scene: Scene, height_inches: float, *, is_grey: bool) -> Image:
    return Image(_svg(scene, Style(replace(HALF_PAGE, height_inches=height_inches), is_grey)), scene.alt)


def _svg(scene: Any, style: Style) -> bytes:
    return picture_file(scene, "svg", style, None)
