"""A lesson's figures with invented numbers, to test its papers without running a season."""

from datetime import date

import numpy as np

from dashboard.language.spoken import BY_MEASURE
from dashboard.lesson.reading import load_lesson
from dashboard.seasons.moments import STANDING
from dashboard.teaching.figures import AS_CHANGED, AS_IT_WAS, LessonFigures, Stop
from sim.comparison import Comparison


def invented(name, seats=24):
    lesson, garden = load_lesson(name)
    lesson = lesson.model_copy(update={"seats": seats})
    chance = np.random.default_rng(5)
    stops = {
        plan: tuple(
            Stop(date(2025, 5, 1 + place), place % 2 == 0, dict.fromkeys(STANDING, 12.0))
            for place in range(len(lesson.pauses))
        )
        for plan in lesson.plans
    }
    first = comparison_of(lesson.plans, lesson.seasons, chance)
    return LessonFigures(lesson, garden, first, comparison_of((AS_IT_WAS, AS_CHANGED), lesson.seasons, chance), stops)


def comparison_of(plans, seasons, chance):
    measures = tuple(BY_MEASURE)
    values = chance.gamma(9.0, 1.0 + np.arange(len(plans))[:, None, None], (len(plans), len(seasons), len(measures)))
    return Comparison(tuple(plans), tuple(seasons), measures, values, scenario_name="invented")
