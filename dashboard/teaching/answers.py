"""Answers that the model gives to a lesson's questions, as blocks of a paper; every figure comes from its seasons."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from dashboard.charts.sentences import OPEN, is_mean_other_way, order_sentence, short_verdict, standings, way_of
from dashboard.language.saying import in_units, say_date, short_number, unit_after
from dashboard.language.tongue import _, many
from dashboard.lesson.lesson_file import ClosingQuestion
from dashboard.paper.blocks import Grid
from dashboard.seasons.moments import STANDING
from dashboard.teaching.figures import AS_CHANGED, AS_IT_WAS, LessonFigures, Stop, figure_words, spoken_of

if TYPE_CHECKING:
    from pandas import Series


def title_and_unit(measure: str) -> str:
    """Return a measure with its unit: ``Harvest fit to sell, kilograms in the season``."""
    spoken = spoken_of(measure)
    return _("{what}, {unit}").format(what=spoken.title, unit=spoken.axis)


def ranges_grid(figures: LessonFigures, measure: str) -> Grid:
    """Return what a measure came to: in the class's season, and in all seats' seasons."""
    lesson = figures.lesson
    header = (
        _("Plan"),
        _("Season {season}").format(season=lesson.season),
        _("Lowest to highest of {count} seasons").format(count=lesson.seats),
        _("Mean"),
    )
    rows = tuple(
        (title, figures.first_of(plan, measure), figures.range_of(plan, measure), figures.mean_of(plan, measure))
        for plan, title in figures.titles.items()
    )
    return Grid(header, rows, caption=title_and_unit(measure), widths=(3.3, 1.3, 2.1, 1), are_figures_right=True)


def standing_sentences(figures: LessonFigures, measure: str) -> list[str]:
    """Return the order in the class's season, how usual it is, and how often each plan was ahead of the first."""
    spoken = spoken_of(measure)
    if measure not in figures.comparison.measures:
        return [_("Nothing of this kind in this garden.")]
    order = order_sentence(figures.comparison.seasons, figures.titles, spoken)
    return [order, *standings(figures.comparison, figures.titles, spoken)]


def reasons_said(figures: LessonFigures, question: ClosingQuestion) -> list[str]:
    """Return the reasons that the seasons bear out, and a sentence on how many they do not."""
    said = [_(reason.says) for reason in question.why if figures.holds(reason, question.measure)]
    left_out = len(question.why) - len(said)
    if left_out:
        told = many(
            "One more answer stands in the lesson's file; these seasons do not bear it out.",
            "{count} more answers stand in the lesson's file; these seasons do not bear them out.",
            left_out,
        )
        said.append(told.format(count=left_out))
    return said


def second_round_grid(figures: LessonFigures) -> Grid:
    """Return what the change of the second round did to the measures that the class guessed about."""
    comparison = figures.second
    means = comparison.table.set_index(["measure", "plan"])["mean"]
    rows = []
    for measure in _measures_of_second_round(figures):
        factor = spoken_of(measure).factor
        was, now = (short_number(float(means[measure, plan]) * factor) for plan in (AS_IT_WAS, AS_CHANGED))
        pair = comparison.paired[comparison.paired["measure"] == measure].iloc[0]
        more = int(pair["ahead"] if _is_more_ahead(measure) else pair["behind"])
        less = int(pair["behind"] if _is_more_ahead(measure) else pair["ahead"])
        told = _so(pair, is_seen=was != now)
        rows.append((title_and_unit(measure), was, now, f"{more} / {int(pair['level'])} / {less}", told))
    header = (_("What, mean"), _("As it was"), _("As changed"), _("Seasons more / same / less"), _("So"))
    return Grid(header, tuple(rows), widths=(3, 0.9, 1.1, 1.5, 2.4))


def _so(pair: Series, *, is_seen: bool) -> str:
    """Return what the seasons say in a word and, where the means beside it are seen to say the other, that they do."""
    way = way_of(pair)
    if way == OPEN:
        return short_verdict(pair)  # never "about the same": few seasons that all went one way are open, too
    if not (is_seen and is_mean_other_way(pair)):
        return tap_words(way)
    more, less = (
        _("{words}, in most seasons. The mean fell, for the few others changed most."),
        _("{words}, in most seasons. The mean rose, for the few others changed most."),
    )
    return (more if way == "more" else less).format(words=tap_words(way))


def tap_words(word: str) -> str:
    """Return how one of the three taps of a second guess is said."""
    return {"more": _("More"), "same": _("About the same"), "less": _("Less")}[word]


def _measures_of_second_round(figures: LessonFigures) -> list[str]:
    lesson = figures.lesson
    asked = dict.fromkeys([*(one.measure for one in lesson.guesses), *(one.measure for one in lesson.closing)])
    return [measure for measure in asked if measure in figures.second.measures]


def _is_more_ahead(measure: str) -> bool:
    from sim.comparison import better_of

    return better_of(measure) != "less"


def graph_questions(figures: LessonFigures) -> list[tuple[str, str]]:
    """Return the questions to the student's graph, each with the answer that these seasons give."""
    measure = figures.lesson.guesses[0].measure
    wide = figures.values_by_plan(measure)
    titles = list(figures.titles.values())
    spread = wide.max(axis=1) - wide.min(axis=1)
    most_often = np.bincount(wide.argmax(axis=0), minlength=len(titles))
    highest = figure_words(float(wide.max()) * spoken_of(measure).factor)
    counts = ", ".join(
        _("{plan} in {count}").format(plan=title, count=int(count))
        for title, count in zip(titles, most_often, strict=True)
    )
    return [
        (
            _("Find the highest dot. Which plan is it, and about how much?"),
            _("{plan}, {figure}.").format(plan=titles[int(wide.max(axis=1).argmax())], figure=highest),
        ),
        (
            _("Under which plan do the seasons differ most?"),
            _("{plan}: from {range}.").format(
                plan=titles[int(spread.argmax())],
                range=figures.range_of(figures.lesson.plans[int(spread.argmax())], measure),
            ),
        ),
        (
            _("Follow the lines. Does the same plan come first in every season?"),
            _("Of {seasons} seasons, first came: {counts}.").format(seasons=wide.shape[1], counts=counts),
        ),
    ]


def stop_grid(figures: LessonFigures, number: int) -> Grid:
    """Return how things stand under each plan at one of the pauses, in the class's season."""
    looked = [STANDING[name] for name in figures.lesson.pauses[number].look]
    header = (_("Plan"), _("Day"), *(_(one.words).format(short=unit_after(one.unit)) for one in looked))
    rows = tuple(
        (title, _day_words(stop), *_figures_of(stop, figures.lesson.pauses[number].look))
        for plan, title in figures.titles.items()
        for stop in [figures.stops[plan][number]]
    )
    return Grid(header, rows, widths=(3.2, 1.4, *(1.2,) * len(looked)))


def _day_words(stop: Stop) -> str:
    day = say_date(stop.day)
    return day if stop.has_come else _("{day} (never seen)").format(day=day)


def _figures_of(stop: Stop, names: tuple[str, ...]) -> list[str]:
    return [figure_words(in_units(stop.standing[name], STANDING[name].unit)) for name in names]
