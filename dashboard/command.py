"""The ``leafnest`` command: read what is asked, call, write, print, and answer a mistake with one sentence.

Results are written before they are printed, so that a reader who leaves early, such as ``head``, takes nothing away.
Exit status: 0 done, 2 the person's mistake, 130 stopped with Ctrl-C. Everything slow to import is imported by the part
that needs it, so that help and the small commands answer at once.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NoReturn

from dashboard.commands import research, sweeping
from dashboard.commands.asking import (
    add_outputs,
    add_scenario,
    add_seed,
    count,
    hand_over,
    prepare,
    scenario_of,
    some_name,
    whole_number,
    write_new,
)
from dashboard.commands.standard_output import lose_the_rest, told_output
from dashboard.commands.stopping import words_when_stopped
from dashboard.handout import commands as take_home
from dashboard.teaching import commands

MISTAKE = 2
STOPPED = 130
PLANS_COMPARED = 3
SEASONS_COMPARED = 20


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and return its exit status."""
    with told_output():
        return _answered(arguments)


def _answered(arguments: Sequence[str] | None) -> int:
    choice = argparse.Namespace()
    try:
        choice = _asked(arguments)
        run: Callable[[argparse.Namespace], int] = choice.run
        status = run(choice)
        sys.stdout.flush()  # when Python ends, nobody is left to answer for a broken pipe
        return status
    except KeyboardInterrupt:
        print(f"leafnest: {words_when_stopped(choice)}", file=sys.stderr)
        return STOPPED
    except BrokenPipeError:  # the reader of our output, such as `head`, has gone
        lose_the_rest(sys.stdout)
        return 0
    except Exception as fault:
        from sim.errors import LeafnestError

        if not isinstance(fault, LeafnestError):
            raise
        print(f"leafnest: {fault}", file=sys.stderr)
        return MISTAKE


def _asked(arguments: Sequence[str] | None) -> argparse.Namespace:
    try:
        return parser().parse_args(arguments)
    except SystemExit:  # help was printed, and its reader may have gone
        sys.stdout.flush()
        raise


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        print(f"{self.prog}: {message[:1].upper()}{message[1:]}. See '{self.prog} --help'.", file=sys.stderr)
        raise SystemExit(MISTAKE)


def parser() -> argparse.ArgumentParser:
    """Return the reader of the command line."""
    whole = _Parser(
        prog="leafnest",
        description="A garden season, insect by insect: what nets, sprays or doing nothing do to the harvest, the "
        "pests, and the birds that feed caterpillars to their young. Without a command it opens the dashboard.",
        epilog="A teaching model: it shows the direction and size of trade-offs, not a forecast for one garden.",
    )
    whole.add_argument("--version", action="store_true", help="say the version and stop")
    whole.add_argument("--port", type=_port, help="port of the dashboard (default: the first free one from 8501)")
    whole.add_argument("--share", action="store_true", help="open the pages to devices in the same network, too")
    whole.add_argument("--no-browser", action="store_true", help="do not open a browser window")
    whole.set_defaults(run=_open_dashboard)
    parts = whole.add_subparsers(title="commands", metavar="COMMAND", parser_class=_Parser)

    season = parts.add_parser("season", help="run one season under one plan")
    add_scenario(season)
    season.add_argument(
        "--plan", type=some_name, metavar="NAME", help="what the gardener does (default: the scenario's first plan)"
    )
    add_seed(season)
    add_outputs(season)
    season.set_defaults(run=_season)

    compare = parts.add_parser("compare", help="run plans side by side over the same seasons")
    add_scenario(compare)
    compare.add_argument(
        "--plan",
        metavar="NAME",
        action="append",
        dest="plans",
        help=f"a plan to compare; say it again for more (default: the first {PLANS_COMPARED} of the scenario)",
    )
    compare.add_argument(
        "--seasons", type=count, default=SEASONS_COMPARED, metavar="N", help="seasons for each plan (default: 20)"
    )
    add_seed(compare)
    compare.add_argument("--all", action="store_true", help="print every measure, by crop and by species too")
    add_outputs(compare)
    compare.set_defaults(run=_compare)

    scenarios = parts.add_parser("scenarios", help="list the gardens that come with the program, and their plans")
    scenarios.set_defaults(run=_scenarios)
    check = parts.add_parser("check", help="check a scenario file without running it")
    check.add_argument("file", metavar="FILE", help="a scenario in TOML, or a name from 'leafnest scenarios'")
    check.set_defaults(run=_check)
    new = parts.add_parser("new", help="write a scenario file that explains itself, to be edited")
    new.add_argument("file", metavar="FILE", type=Path, help="where to write it; must not exist")
    new.set_defaults(run=_new)
    sweeping.add_commands(parts)
    research.add_commands(parts, count)
    take_home.add_commands(parts)
    commands.add_commands(parts, _port)
    return whole


def _port(text: str) -> int:
    return whole_number(text, 1024, 65535)


def _open_dashboard(choice: argparse.Namespace) -> int:
    if choice.version:
        from importlib.metadata import version

        print(f"leafnest {version('leafnest')}")
        return 0
    from dashboard.server.settings import serve

    serve(port=choice.port, opens_browser=not choice.no_browser, shares=choice.share)
    return 0


def _season(choice: argparse.Namespace) -> int:
    from sim import run_season

    scenario = scenario_of(choice)
    plan = scenario.plan(choice.plan or scenario.plan_names[0]).name
    prepare(choice)
    season = run_season(scenario, plan=plan, seed=choice.seed)

    from dashboard import results
    from dashboard.commands import tables

    def show() -> None:
        if choice.json:
            tables.print_json(results.season_record(season))
        else:
            tables.print_season(season, scenario, plan)

    return hand_over(choice, lambda: results.season_results(season, scenario, plan), show)


def _compare(choice: argparse.Namespace) -> int:
    from sim import compare
    from sim.comparison import plans_of

    scenario = scenario_of(choice)
    plans = plans_of(scenario, choice.plans or scenario.plan_names[:PLANS_COMPARED])
    prepare(choice)

    from dashboard import results
    from dashboard.commands import tables

    words = f"{tables.counted(len(plans), 'plan')}, {tables.counted(choice.seasons, 'season')} each"
    with tables.progress_bar(words) as progress:
        comparison = compare(scenario, plans=plans, seasons=choice.seasons, seed=choice.seed, progress=progress)

    def show() -> None:
        if choice.json:
            tables.print_json(results.comparison_record(comparison, scenario))
        else:
            tables.print_comparison(comparison, scenario, plans, every=choice.all)

    return hand_over(choice, lambda: results.comparison_results(comparison, scenario, plans), show)


def _scenarios(choice: argparse.Namespace) -> int:
    from dashboard.commands import tables
    from sim.scenario import load_scenario, scenario_names

    tables.print_scenarios([load_scenario(name) for name in scenario_names()])
    return 0


def _check(choice: argparse.Namespace) -> int:
    from sim.scenario import load_scenario

    scenario = load_scenario(choice.file)
    if scenario.place.weather_file is not None:
        from sim.season import check_weather, weather_notes  # brings in the compiler; other gardens do without

        check_weather(scenario)
        for note in weather_notes(scenario):
            print(f"The weather file: {note}")
    print(f"{choice.file}: all well.")
    return 0


def _new(choice: argparse.Namespace) -> int:
    from sim.scenario import new_scenario_text

    write_new(choice.file, new_scenario_text())
    print(f"Written: {choice.file}. Edit it, then: leafnest check {choice.file}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
