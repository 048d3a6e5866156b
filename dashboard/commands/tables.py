"""What the command prints: tables, a progress bar and JSON."""

from __future__ import annotations

import codecs
import json
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from dashboard.bounds import shown_interval
from dashboard.charts.picture import NO_FIGURE
from dashboard.language.saying import short_number

if TYPE_CHECKING:
    import pandas as pd

    from sim.comparison import Comparison
    from sim.scenario import Scenario
    from sim.season import Season

WIDTH_OFF_TERMINAL = 120
LABEL_WIDTH = 34
RANGE_MEANS = (
    "Low to high is made to hold the true mean in 19 of 20 such samples; where a few seasons stand far out, it does so "
    "less often."
)
SECONDS_A_LINE = 60
"""Off a terminal, progress is told so often."""
GROUPS = ("harvest", "pests", "birds", "bees", "work", "energy")
MAIN_MEASURES = frozenset(
    {
        "harvest_kg",
        "marketable_kg",
        "marketable_potential_share",
        "leaf_eaten_share",
        "fruit_set_share",
        "cucumbers_wilted_share",
        "egg_to_adult_share",
        "pests_alive_peak_count",
        "aphids_peak_count",
        "bird_food_reachable_g",
        "bird_food_in_beds_g",
        "caterpillars_grown_reachable_g",
        "bird_food_delivered_g",
        "garden_food_share",
        "nestlings_fledged_count",
        "birds_entangled_count",
        "flower_visits_count",
        "bees_harmed_share",
        "ground_beetles_mean_count",
        "labour_minutes",
        "pest_care_minutes",
        "pest_care_usd",
        "marketable_kg_per_hour",
    }
)
"""What a comparison prints unless asked for every measure."""
LIMITS = "A teaching model: directions and sizes of trade-offs, not a forecast for one garden."
CAUTION = (
    "Labels of sprays are the law; local codes, extension advice and licensed practice come first. "
    "Check nets every day for trapped animals."
)


class _Terminal(Console):
    def on_broken_pipe(self) -> None:
        raise BrokenPipeError  # the command answers it; rich itself would end the program here


def new_console() -> Console:
    """Return where tables are printed: as wide as the terminal, or wide enough for a file.

    Words are printed as they stand: in somebody's title, brackets and colons are no markup and no pictures.
    """
    width = None if sys.stdout.isatty() else WIDTH_OFF_TERMINAL
    return _Terminal(width=width, highlight=False, markup=False, emoji=False)


def heading(words: str, rest: str = "") -> Text:
    """Return a line that begins with words in bold."""
    return Text.assemble((words, "bold"), rest)


def counted(count: int, word: str) -> str:
    """Return how many there are of something, as ``1 plan`` or ``2 plans``."""
    return f"{count:,} {word}" if count == 1 else f"{count:,} {word}s"


def of_seasons(count: int) -> str:
    """Return the words for seasons after ``the same``: ``season`` or ``2 seasons``."""
    return "season" if count == 1 else counted(count, "season")


def print_json(record: dict[str, Any]) -> None:
    """Print one JSON record on standard output.

    JSON is read as UTF-8. Where standard output is not, as in a pipe on Windows, letters stand as their numbers.
    """
    is_utf8 = codecs.lookup(sys.stdout.encoding or "utf-8").name == "utf-8"
    print(json.dumps(record, indent=2, ensure_ascii=not is_utf8, default=str))


@contextmanager
def progress_bar(words: str) -> Iterator[Callable[[int, int], None]]:
    """Show on standard error how far seasons have come; hand over the function to call with (done, total).

    A terminal gets a bar. A file or a pipe, as overnight, gets a line a minute.
    """
    if not sys.stderr.isatty():
        yield _line_a_minute(words)
        return
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("{task.description}", markup=False), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    # drawn when there is news, not by a thread of its own: workers can be copies only of a process without threads
    with Progress(*columns, console=Console(stderr=True), transient=True, auto_refresh=False) as bar:
        task = bar.add_task(words, total=None)
        bar.refresh()
        yield lambda done, total: bar.update(task, completed=done, total=total, refresh=True)


def _line_a_minute(words: str) -> Callable[[int, int], None]:
    next_second = time.monotonic() + SECONDS_A_LINE

    def report(done: int, total: int) -> None:
        nonlocal next_second
        if time.monotonic() >= next_second:
            next_second = time.monotonic() + SECONDS_A_LINE
            print(f"{words}: {done:,} of {total:,} seasons done", file=sys.stderr, flush=True)

    return report


def print_scenarios(scenarios: Sequence[Scenario]) -> None:
    """Print the gardens that come with the program, each with its plans."""
    console = new_console()
    for scenario in scenarios:
        console.print(heading(scenario.name, f"  {scenario.title}"), soft_wrap=True)
        if scenario.about:
            console.print(f"  {scenario.about.strip()}")
        for plan in scenario.plans:
            console.print(f"    {plan.name:<20} {plan.title}", soft_wrap=True)
        console.print()


def print_season(season: Season, scenario: Scenario, plan: str) -> None:
    """Print one season: its measures by group, and how every insect ended."""
    console = new_console()
    console.print(heading(scenario.title, f": plan '{plan}', season {season.provenance['seed']}\n"))
    for group, names in _by_group(season.summary):
        table = new_table(group.capitalize(), "value")
        for name in names:
            table.add_row(words_of(name), figure(name, season.summary[name]))
        console.print(table)
    console.print(_fates_table(season.fates))
    print_weather(console, season.provenance["weather_notes"])
    print_limits(console)


def print_comparison(comparison: Comparison, scenario: Scenario, plans: Sequence[str], *, every: bool = False) -> None:
    """Print means and paired differences by group, of the main measures or of every one; then what must be said."""
    from dashboard.charts.sentences import fledging_sentence, headlines
    from dashboard.results import plan_titles
    from sim.season import weather_notes

    console = new_console()
    seasons = int(comparison.seasons["seed"].nunique())
    over = counted(seasons, "season") if len(plans) == 1 else f"the same {of_seasons(seasons)}"
    console.print(heading(scenario.title, f": {counted(len(plans), 'plan')} over {over}\n"))
    means = comparison.table.set_index(["measure", "plan"])
    paired = comparison.paired.set_index(["measure", "plan"])
    quiet = 0
    for group, names in _by_group(name for name in comparison.measures if every or name in MAIN_MEASURES):
        table = new_table(group.capitalize(), "plan", "mean (low to high)", f"against '{plans[0]}'", "ahead")
        for name in names:
            if not means.loc[name][["low", "mean", "high"]].to_numpy().any():
                quiet += 1
                continue
            _add_measure(table, name, plans, means, paired)
        if table.row_count:
            console.print(table)
    if quiet:
        console.print(f"Not shown because 0 under every plan: {quiet}.")
    if not every:
        console.print("Every measure, by crop and by species: add --all, or see the files that --out writes.")
    console.print(
        f"{RANGE_MEANS} Ahead: seasons in which the plan did better, of those that were not level; '?' means too close "
        "to call. Of a hundred comparisons of plans that do not differ at all, up to five have no '?' all the same.\n"
    )
    for sentence in [*headlines(comparison, plan_titles(scenario, plans)), fledging_sentence(comparison.seasons)]:
        if sentence:
            console.print(sentence)
    print_weather(console, weather_notes(scenario))
    print_limits(console)


def _add_measure(table: Table, name: str, plans: Sequence[str], means: pd.DataFrame, paired: pd.DataFrame) -> None:
    for number, plan in enumerate(plans):
        row = means.loc[(name, plan)]
        cells = [words_of(name) if number == 0 else "", plan, range_of(name, row["mean"], row["low"], row["high"])]
        if number > 0:
            against = paired.loc[(name, plan)]
            cells.append(range_of(name, against["difference"], against["low"], against["high"], sign=True))
            cells.append(_ahead(name, against))
        table.add_row(*cells)
    table.add_section()


def words_of(name: str) -> str:
    """Return a measure in words, with its unit where the words do not say it."""
    from sim.measures import MEASURES

    if name not in MEASURES:
        return name
    measure = MEASURES[name]
    words = measure.words[:1].upper() + measure.words[1:]
    unit = "%" if name.endswith("_share") else measure.unit
    says_its_unit = name.endswith(("_count", "_per_flower", "_minutes"))
    return words if says_its_unit or not unit else f"{words}, {unit}"


def _ahead(name: str, against: pd.Series) -> str:
    from sim.comparison import better_of

    played = int(against["ahead"] + against["behind"])
    if not played:
        return "level"
    if better_of(name) == "neither":
        return ""
    return f"{int(against['ahead'])} of {played}" + (" ?" if against["verdict"] == "too close to call" else "")


def range_of(name: str, middle: float, low: float, high: float, *, sign: bool = False) -> str:
    """Return a mean and the range of it as they are printed; with a sign it is a difference, which may be below 0."""

    def say(value: float) -> str:
        return figure(name, value, sign=sign)

    if low != low or high != high or low == high:  # one season, or seasons that are all alike, have no range
        return say(middle)
    if not sign:
        low, high = shown_interval(name, middle, low, high)
    return f"{say(middle)} ({say(low)} to {say(high)})"


def figure(name: str, value: float, *, sign: bool = False) -> str:
    """Return a measure's value as it is printed: shares of 1 as parts of 100, differences with their sign."""
    if value != value:
        return NO_FIGURE
    text = short_number(100 * value if name.endswith("_share") else value)
    return f"+{text}" if sign and value > 0 and text != "0" else text


def _by_group(names: Iterable[str]) -> list[tuple[str, list[str]]]:
    """Return the measures by what they are about, in the order of ``GROUPS``, then any others."""
    from sim.measures import MEASURES

    groups: dict[str, list[str]] = {group: [] for group in GROUPS}
    for name in names:
        groups.setdefault(MEASURES[name].group if name in MEASURES else "other", []).append(name)
    return [(group, found) for group, found in groups.items() if found]


def new_table(title: str, *columns: str) -> Table:
    """Return an empty table of the house's make, its first column headed by the title."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column(title, width=LABEL_WIDTH, overflow="fold", style="bold")
    for column in columns:
        table.add_column(column, justify="left" if column == "plan" else "right", overflow="fold")
    return table


def _fates_table(fates: pd.DataFrame) -> Table:
    wide = fates.pivot_table(index="fate", columns="species", values="count", aggfunc="sum", fill_value=0)
    wide = wide.loc[wide.sum(axis=1) > 0, wide.sum() > 0]
    table = new_table("How every insect ended", *[str(name).replace("_", " ") for name in wide.columns])
    for fate, row in wide.iterrows():
        table.add_row(str(fate).replace("_", " "), *[f"{int(count):,}" for count in row])
    return table


def print_weather(console: Console, notes: Sequence[str]) -> None:
    """Print what was done to a weather file so that it could be used, if anything was."""
    if notes:
        console.print(f"\nThe weather file: {' '.join(notes)}")


def print_limits(console: Console) -> None:
    """Print what the program is not, and the cautions."""
    console.print(f"\n{LIMITS} {CAUTION}")
