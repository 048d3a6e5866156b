"""The page of questions: each with its command, picture, answer and figures."""

from __future__ import annotations

import re
import sys
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from dashboard.bounds import shown_interval
from dashboard.charts.sweep_picture import SweepPicture, panel_of, short_figure
from dashboard.commands.markdown import head_of, row_of
from dashboard.commands.pages import check_page, check_pictures, write_page
from dashboard.commands.questions import Question, holds, said
from sim.curve_words import point_in_words
from sim.writing import write_whole, writing

if TYPE_CHECKING:
    from sim.scenario import Scenario
    from sim.sweep import Sweep

TITLE = "# Questions and what the model answers"
COMMAND = "leafnest questions --page docs/QUESTIONS.md"
WIDTH = 118
CAUTIONS = (
    "Not a forecast for your garden. Labels of sprays are the law, local codes, extension advice and licensed practice "
    "come first, and nets are looked at every day for trapped animals."
)


@dataclass(frozen=True)
class Answer:
    """What one question got: its sweep, the measures asked for, its picture and its garden."""

    question: Question
    sweep: Sweep
    measures: tuple[str, ...]
    picture: SweepPicture
    garden: Scenario

    @property
    def claims(self) -> list[str]:
        """The claims that the seasons bear out, with their figures."""
        return [said(claim, self.sweep) for claim in self.question.claims if holds(claim, self.sweep)]

    @property
    def dropped(self) -> list[str]:
        """The claims that they do not."""
        return [claim.says for claim in self.question.claims if not holds(claim, self.sweep)]


def print_answer(answer: Answer) -> None:
    """Print what the seasons bear out of a question's answer, and, on standard error, what they no longer do."""
    print(f"{answer.question.asks}")
    for claim in answer.claims:
        print(f"  - {claim}")
    print(flush=True)
    for text in answer.dropped:
        print(f"{answer.question.name}: left out, since these seasons do not bear it out: {text}", file=sys.stderr)


def check_place(file: Path | None, questions: Iterable[Question]) -> None:
    """Make sure, before a long run, that the page and its pictures go over nothing but earlier ones.

    Raises
    ------
    OutputError
        If they would, or their place cannot be written.
    """
    check_page(file, TITLE)
    if file is not None:
        check_pictures(file, [picture_place(file, question) for question in questions])


def picture_place(page: Path, question: Question) -> Path:
    """Return where the picture of a question lies: in a folder beside the page, named as the page is."""
    return page.parent / page.stem.lower() / f"{question.name}.png"


def write_answers(file: Path, answers: Sequence[Answer]) -> None:
    """Write the page, and beside it a folder with its pictures.

    Raises
    ------
    OutputError
        If they cannot be written, or would go over anything but earlier ones.
    """
    check_place(file, [answer.question for answer in answers])
    pictures = {picture_place(file, answer.question): _picture_for_the_page(answer) for answer in answers}
    folder = file.parent / file.stem.lower()
    with writing(folder):
        folder.mkdir(parents=True, exist_ok=True)
        for place, picture in pictures.items():
            write_whole(place, picture)
    write_page(file, page_of(answers, folder.name))


def _picture_for_the_page(answer: Answer) -> bytes:
    """Return the picture as one PNG, as wide as a page on a screen and as high as it needs."""
    from dashboard.charts.printed.pictures import picture_file
    from dashboard.charts.printed.shapes import Style
    from dashboard.charts.printed.sweep_panels import shape_for
    from dashboard.commands.sweep_results import imprint_of

    return picture_file(
        answer.picture, "screen.png", Style(shape_for(answer.picture)), imprint_of(answer.sweep, answer.garden, None)
    )


def page_of(answers: Sequence[Answer], folder: str) -> str:
    """Return the page in Markdown; pictures lie in ``folder`` beside it."""
    first = answers[0].sweep
    model = first.provenance["model"]
    lines = [
        TITLE,
        "",
        *_filled(
            "Each question is one command. Answers, figures and pictures on this page are made by "
            f"`{COMMAND}`. The answers are written by hand, but a sentence stands here only if the seasons of this "
            "very run bear it out (two-sided sign test at one in twenty; where nothing differs, up to one comparison "
            "of twenty is called all the same), and its figures are means of that run. Each point has the same "
            f"seasons, with the same weather and arrivals: {len(first.seeds)} seasons, seeds {first.seeds[0]} to "
            f"{first.seeds[-1]}. Points and plans were chosen beforehand. " + CAUTIONS
        ),
        "",
        f"Version {model['version']}, rules {model['rules'][:8]}, numbers {model['parameters'][:8]}.",
    ]
    for answer in answers:
        lines += ["", *_section(answer, folder)]
    return "\n".join([*lines, ""])


def _section(answer: Answer, folder: str) -> list[str]:
    question = answer.question
    lines = [f"## {question.asks}", "", "```sh", *_broken(question.command), "```", ""]
    lines += [*_filled(question.note), ""]
    for claim in answer.claims:
        lines += _filled(claim, mark="- ")
    if not answer.claims:
        lines += _filled("Nothing that was expected here is borne out by these seasons; see the figures.", mark="- ")
    lines += ["", f"![{answer.picture.alt}]({folder}/{question.name}.png)", ""]
    return [*lines, "<details><summary>Figures</summary>", "", *_table(answer), "", "</details>"]


def _table(answer: Answer) -> list[str]:
    """Return means with their ranges: a row a point and plan, a column a measure."""
    panels = [panel_of(measure) for measure in answer.measures]
    means = answer.sweep.table.set_index([*answer.sweep.setting_names, "plan", "measure"])
    lines = head_of("point", "plan", *(f"{panel.heading} ({panel.axis})" for panel in panels))
    for point in answer.sweep.comparisons:
        for plan in answer.sweep.plans:
            cells = [point_in_words(answer.sweep, point), f"`{plan}`"]
            for panel in panels:
                found = means.loc[(*point, plan, panel.measure)]
                ends = shown_interval(panel.measure, found["mean"], found["low"], found["high"])
                mean, low, high = (short_figure(panel.factor * figure) for figure in (found["mean"], *ends))
                cells.append(f"{mean} ({low} to {high})" if low != high else mean)
            lines.append(row_of(*cells))
    return lines


def _broken(command: str) -> list[str]:
    """Return a command on lines that fit, each but the last ended by a backslash."""
    pieces = re.split(" (?=--)", command)
    lines: list[str] = []
    for piece in pieces:
        if lines and len(lines[-1]) + len(piece) + 3 <= WIDTH:
            lines[-1] += f" {piece}"
        else:
            lines.append(f"  {piece}" if lines else piece)
    return [f"{line} \\" for line in lines[:-1]] + lines[-1:]


def _filled(text: str, mark: str = "") -> list[str]:
    filler = textwrap.TextWrapper(WIDTH, mark, " " * len(mark), break_long_words=False, break_on_hyphens=False)
    return filler.wrap(text)
