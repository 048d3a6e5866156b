"""The commands ``leafnest sweep``, which varies settings, and ``leafnest questions``, which does so for a list."""

from __future__ import annotations

import argparse
import shlex
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dashboard.commands.asking import (
    add_outputs,
    add_scenario,
    add_seed,
    count,
    hand_over,
    prepare,
    scenario_of,
    some_folder,
    some_name,
)
from dashboard.commands.printing import add_print, add_sizes, styles_of
from dashboard.commands.stopping import also_unread, note_written
from sim.errors import OutputError, tell

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from dashboard.commands.question_page import Answer
    from dashboard.commands.questions import Question
    from sim.export import Results
    from sim.jobs import Progress
    from sim.scenario import Scenario
    from sim.settings import Setting
    from sim.sweep import Sweep

SEASONS_SWEPT = 10
PLANS_SWEPT = 3
AT_FIRST = ("full_page",)
MEASURES_SWEPT = ("marketable_kg", "pests_alive_peak_count", "bird_food_reachable_g", "labour_minutes")


def add_commands(parts: Any) -> None:
    """Add the command to the reader of the command line."""
    sweep = parts.add_parser(
        "sweep",
        help="vary one setting or more, and see what that does",
        description="Vary one setting or more of a garden; every point lives the same seasons with the same luck.",
        epilog="Settings: 'leafnest sweep teaching_garden --vary pests.arrivals=0:4:5 --plan net', dates too: "
        "beds.collards.planted=03-15:05-15:5. Actions of a plan go by what they do: "
        "plans.net.actions.cover.days_after_planting=0,7,14. KEY+KEY=… moves settings together.",
    )
    add_scenario(sweep)
    sweep.add_argument(
        "--vary",
        metavar="KEY=LOW:HIGH:STEPS",
        action="append",
        required=True,
        dest="varied",
        help="a setting and its values: a range and how many values in it, or a list a,b,c; say it again for more",
    )
    sweep.add_argument(
        "--plan",
        metavar="NAME",
        action="append",
        dest="plans",
        help="a plan to run; say it again for more (default: the plans that are varied, "
        f"else the first {PLANS_SWEPT} of the scenario)",
    )
    sweep.add_argument(
        "--seasons",
        type=count,
        default=SEASONS_SWEPT,
        metavar="N",
        help=f"seasons for each plan at each point (default: {SEASONS_SWEPT})",
    )
    add_seed(sweep)
    sweep.add_argument(
        "--measure",
        metavar="NAME",
        action="append",
        dest="measures",
        help=f"what to print and draw; say it again for more (default: {', '.join(MEASURES_SWEPT)}); "
        "the files hold every measure",
    )
    workers = sweep.add_mutually_exclusive_group()
    workers.add_argument("--workers", type=count, metavar="N", help="processes to share the work (default: as it pays)")
    workers.add_argument(
        "--cluster",
        type=some_name,
        metavar="ADDRESS",
        help="a Dask scheduler to share the work, such as tcp://host:8786",
    )
    sweep.add_argument(
        "--store",
        type=some_name,
        metavar="DIR",
        help="keep seasons here as they come; said again after a stop, it goes on from there",
    )
    add_outputs(sweep)
    add_sizes(sweep, "full_page")
    add_print(sweep)
    sweep.set_defaults(run=_sweep)

    questions = parts.add_parser("questions", help="answer the questions that gardeners ask, each by one sweep")
    questions.add_argument("names", metavar="QUESTION", nargs="*", help="only these (default: all)")
    questions.add_argument("--list", action="store_true", help="list the questions and their commands, run nothing")
    questions.add_argument(
        "--page",
        type=Path,
        metavar="FILE",
        help="also write the page about them (Markdown), pictures in a folder beside it",
    )
    questions.add_argument("--out", type=some_folder, metavar="DIR", help="also write the picture of each here")
    questions.add_argument("--overwrite", action="store_true", help="replace the files of an earlier run in DIR")
    add_sizes(questions, "full_page")
    add_print(questions)
    questions.set_defaults(run=_questions)


def _sweep(choice: argparse.Namespace) -> int:
    scenario = scenario_of(choice)
    settings = settings_of(choice, scenario)
    plans = plans_to_run(choice, scenario, settings)
    measures = measures_to_show(choice)
    check_store(choice)
    prepare(choice)

    from dashboard.commands import sweep_results, tables

    points = 1
    for setting in settings:
        points *= len(setting.values)
    parts = tables.counted(points, "point"), tables.counted(len(plans), "plan")
    words = f"{', '.join(parts)}, {tables.counted(choice.seasons, 'season')} each"
    with tables.progress_bar(words) as progress:
        found = run(choice, scenario, settings, plans, progress=progress)
    shown = [name for name in measures if name in found.measures]

    def results() -> Results:
        pictures = pictures_of(choice, found, scenario, settings, shown, "sweep")
        return sweep_results.results(found, scenario, shown, choice.changes, pictures)

    def show() -> None:
        if choice.json:
            tables.print_json(sweep_results.record(found, scenario, shown, choice.changes))
        else:
            sweep_results.print_sweep(found, scenario, shown)

    return hand_over(choice, results, show, "sweep_….png, .svg, .pdf, .txt")


def _questions(choice: argparse.Namespace) -> int:
    from dashboard.commands import question_page
    from dashboard.commands.questions import named
    from sim.export import Results, check_destination, write_results

    wanted = named(choice.names)
    if choice.list:
        for question in wanted:
            print(f"{question.name}: {question.asks}\n  {question.command}\n")
        return 0
    if choice.out:
        check_destination(choice.out, overwrite=choice.overwrite)
    question_page.check_place(choice.page, wanted)
    answers, pictures = [], {}
    for question in wanted:
        answers.append(answer_to(question))
        with also_unread(choice.page, choice.out):
            question_page.print_answer(answers[-1])
        if choice.out:
            answer = answers[-1]
            varied = answer.sweep.settings
            pictures.update(pictures_of(choice, answer.sweep, answer.garden, varied, answer.measures, question.name))
    if choice.page:
        question_page.write_answers(choice.page, answers)
        note_written(choice, choice.page)
    if choice.out:
        write_results(choice.out, Results({}, answers[0].sweep.provenance, extras=pictures), overwrite=choice.overwrite)
        print(f"Written: {choice.out}", file=sys.stderr)
    return 0


def pictures_of(
    choice: argparse.Namespace,
    sweep: Sweep,
    scenario: Scenario,
    settings: Sequence[Setting],
    measures: Sequence[str],
    name: str,
) -> dict[str, bytes]:
    """Return the picture of a sweep in the sizes and the language that were asked for."""
    from dataclasses import replace

    from dashboard.commands.sweep_results import files_of_picture
    from dashboard.language.tongue import speaking
    from dashboard.plans.setting_words import with_words

    with speaking(choice.language, choice.units):
        said = replace(sweep, settings=tuple(with_words(setting, scenario) for setting in settings))
        return files_of_picture(said, scenario, measures, name, styles_of(choice, AT_FIRST), choice.date)


def answer_to(question: Question, seasons: int | None = None) -> Answer:
    """Run the command of a question; with fewer seasons only to try it."""
    from dashboard.commands import sweep_results, tables
    from dashboard.commands.question_page import Answer

    reader = argparse.ArgumentParser(prog="leafnest")
    add_commands(reader.add_subparsers())
    asked = reader.parse_args(shlex.split(question.command)[1:])
    asked.seasons = seasons or asked.seasons
    scenario = scenario_of(asked)
    settings = settings_of(asked, scenario)
    measures = measures_to_show(asked)
    with tables.progress_bar(question.name) as progress:
        found = run(asked, scenario, settings, plans_to_run(asked, scenario, settings), progress=progress)
    shown = tuple(name for name in measures if name in found.measures)
    picture = sweep_results.picture_of(found, scenario, shown)
    return Answer(question, found, shown, picture, scenario)


def settings_of(choice: argparse.Namespace, scenario: Scenario) -> tuple[Setting, ...]:
    """Return what is to be varied, each with its words; unknown keys are told before anything runs."""
    from dashboard.plans.setting_words import with_words
    from sim.settings import setting_from

    return tuple(with_words(setting_from(text), scenario) for text in choice.varied)


def plans_to_run(choice: argparse.Namespace, scenario: Scenario, settings: Sequence[Setting]) -> tuple[str, ...]:
    """Return the plans asked for; else those that are varied; else the first of the scenario."""
    from sim.comparison import plans_of

    if choice.plans:
        return plans_of(scenario, choice.plans)
    parts = [key.split(".") for setting in settings for key in setting.keys if key.startswith("plans.")]
    named = dict.fromkeys(part[1] for part in parts if part[1] in scenario.plan_names)
    return tuple(named) or plans_of(scenario, scenario.plan_names[:PLANS_SWEPT])


def measures_to_show(choice: argparse.Namespace) -> tuple[str, ...]:
    """Return the measures asked for, each known and once.

    Raises
    ------
    RunError
        If one is not known.
    """
    from sim.errors import RunError, unknown
    from sim.measures import MEASURES

    wanted = tuple(dict.fromkeys(choice.measures or MEASURES_SWEPT))
    for name in wanted:
        if name not in MEASURES:
            said = tell(
                "There is no measure '{name}' among those of 'leafnest compare SCENARIO --all --json'", name=name
            )
            raise RunError(unknown(said, name, MEASURES, is_listed=False))
    return wanted


def check_store(choice: argparse.Namespace) -> None:
    """Make sure, before a long run, that its seasons are not kept where its results are to stand alone.

    Raises
    ------
    OutputError
        If they would be.
    """
    if not choice.store or not choice.out:
        return
    from sim.export import whole_place

    store, out = Path(choice.store).resolve(), whole_place(choice.out)
    if out in (store, *store.parents):
        raise OutputError(
            tell(
                "The seasons (--store {store}) cannot be kept in the folder of the results (--out {out}); choose "
                "another folder for one of them.",
                store=choice.store,
                out=choice.out,
            )
        )


def run(
    choice: argparse.Namespace,
    scenario: Scenario,
    settings: Sequence[Setting],
    plans: Sequence[str],
    *,
    progress: Progress | None = None,
) -> Sweep:
    """Run what was asked for, on the workers that were asked for."""
    from sim.sweep import sweep

    executor = _executor(choice)
    try:
        return sweep(
            scenario, settings, plans, choice.seasons, choice.seed,
            executor=executor, progress=progress, store=choice.store,
        )  # fmt: skip
    finally:
        if executor is not None:
            executor.shutdown(wait=False, cancel_futures=True)


def _executor(choice: argparse.Namespace) -> Executor | None:
    from sim.cluster import cluster
    from sim.workers import here, processes

    if choice.cluster:
        return cluster(choice.cluster)
    if choice.workers:
        return here() if choice.workers == 1 else processes(choice.workers)
    return None
