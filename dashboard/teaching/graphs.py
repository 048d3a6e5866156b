"""The two graphs of the student's sheet: empty axes to draw into, and the same axes with a dot a season."""

from __future__ import annotations

from dataclasses import replace

from dashboard.charts.imprint import Imprint
from dashboard.charts.printed.pictures import picture_file
from dashboard.charts.printed.shapes import Shape, Style
from dashboard.charts.scene import Scene
from dashboard.charts.seasons_picture import seasons_scene
from dashboard.language.tongue import _, mark
from dashboard.paper.blocks import Image
from dashboard.teaching.figures import LessonFigures, spoken_of

TO_READ = Shape("graph_to_read", mark("a graph to read"), 7.1, 4.3, 12.0, 9.0, 13.0, 1.8, 150)
TO_DRAW = Shape("graph_to_draw", mark("a graph to draw"), 7.1, 2.7, 12.0, 9.0, 13.0, 1.8, 150)


def graph_to_read(figures: LessonFigures, imprint: Imprint) -> Image:
    """Return the graph of the first question's measure, drawn for a grey copier."""
    scene = _scene(figures)
    return Image(picture_file(scene, "svg", Style(TO_READ, is_grey=True), imprint), alt=scene.alt)


def graph_to_draw(figures: LessonFigures, imprint: Imprint) -> Image:
    """Return the axes of that graph without a mark."""
    scene = _scene(figures)
    told = _("Empty axes. Along the foot: {plans}. Up the side: {axis}, from 0. Room for one dot for each plan.")
    alt = told.format(plans=", ".join(scene.plans.values()), axis=scene.axis)
    empty = replace(scene, kind="empty", title="", caption="", alt=alt)
    return Image(
        picture_file(empty, "svg", Style(TO_DRAW, is_grey=True), replace(imprint, seasons=(), day=None)), alt=alt
    )


def _scene(figures: LessonFigures) -> Scene:
    measure = figures.lesson.guesses[0].measure
    return seasons_scene(figures.comparison.seasons, figures.titles, spoken_of(measure))
