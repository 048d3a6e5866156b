"""What stands on a handout, in reading order: one list of blocks, whatever file it becomes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from dashboard.cautions import CAUTIONS, MODEL_WORDS
from dashboard.charts.imprint import Imprint
from dashboard.handout import words
from dashboard.handout.many_plans import are_many, extremes, numbered, standing_table, table_note
from dashboard.handout.pictures import calendar_image, ends_image, measure_images
from dashboard.paper.blocks import Block, Box, Grid, Heading, Image, Pair, Paper, PaperSize, Points, Words
from dashboard.paper.public_address import qr_svg
from dashboard.paper.typeset import page_count
from dashboard.tongue import _, current_language, many, speaker_note

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings


MOST_PAGES = 2


@dataclass(frozen=True)
class Fullness:
    """What a handout holds beyond what it must."""

    has_ends: bool
    has_sources: bool
    has_beds: bool = True
    has_calendar: bool = True
    has_measures: bool = True
    has_deeds: bool = True

    @property
    def crowded_out(self) -> str:
        """What many plans leave no room for."""
        if not self.has_deeds:
            if not self.has_measures:
                return _("So many plans leave no room for pictures and for what each does: ask for fewer to see them.")
            return _("So many plans leave no room for what each plan does: ask for fewer plans to see it.")
        if not self.has_measures:
            return _("So many plans leave no room for pictures: ask for fewer plans to see them.")
        if not self.has_calendar:
            return _("So many plans leave no room for the calendar: ask for fewer plans to see it.")
        return ""


FULLNESS = (
    Fullness(True, True),
    Fullness(True, False),
    Fullness(False, True),
    Fullness(False, False),
    Fullness(False, False, False),
    Fullness(False, False, False, has_calendar=False),
    Fullness(False, False, False, has_calendar=False, has_measures=False),
    Fullness(False, False, False, has_calendar=False, has_deeds=False),
    Fullness(False, False, False, has_calendar=False, has_measures=False, has_deeds=False),
)
"""The fullest that two pages hold is printed; what many plans crowd out is said."""


def handout(
    findings: Findings, size: PaperSize = "letter", *, day: date | None = None, is_grey: bool = False, address: str = ""
) -> Paper:
    """Return the handout, as full as two pages hold.

    Parameters
    ----------
    findings
        The comparison in hand.
    size
        Of the paper.
    day
        Printed at its foot.
    is_grey
        Whether for a grey copier.
    address
        A public address of the dashboard, already checked; a QR code is printed for it, and for no other.
    """
    images = _Images(findings, is_grey=is_grey)
    for fullness in FULLNESS:
        paper = _paper(findings, images, day, address, fullness)
        if page_count(paper, size) <= MOST_PAGES:
            break
    return paper


class _Images:
    """The pictures, each drawn once and only if it is asked for."""

    def __init__(self, findings: Findings, *, is_grey: bool) -> None:
        self.findings, self.is_grey = findings, is_grey

    @cached_property
    def calendar(self) -> Image:
        return calendar_image(self.findings, is_grey=self.is_grey)

    @cached_property
    def measures(self) -> list[Image]:
        return measure_images(self.findings, words.DRAWN, is_grey=self.is_grey)

    @cached_property
    def ends(self) -> Image | None:
        return ends_image(self.findings, is_grey=self.is_grey)


def _paper(findings: Findings, images: _Images, day: date | None, address: str, fullness: Fullness) -> Paper:
    from sim.season import model_version

    garden = _(findings.garden.title)
    blocks: tuple[Block, ...] = (
        *_opening(findings, has_beds=fullness.has_beds),
        *(_plans(findings) if fullness.has_deeds else ()),
        *((images.calendar,) if fullness.has_calendar else ()),
        *_happened(findings),
        Heading(_("How sure is this?")),
        Points(tuple(words.doubt_points(findings))),
        *(() if are_many(findings) else _costs(findings)),
        *_pictures(findings, images if fullness.has_measures else None, has_ends=fullness.has_ends),
        *((Words(fullness.crowded_out, is_note=True),) if fullness.crowded_out else ()),
        _cautions(),
        *_origin(findings, address, has_list=fullness.has_sources),
    )
    paper = Paper(
        title=_("Which plan gives what? {garden}").format(garden=garden),
        blocks=blocks,
        foot=Imprint(garden, findings.numbers, model_version(), day).line(),
        language=current_language(),
    )
    lacking = words.lacking_sentence(sorted(paper.with_letters_at_hand().lacking))
    return replace(paper, blocks=(*paper.blocks, Words(lacking, is_note=True))) if lacking else paper


def _opening(findings: Findings, *, has_beds: bool) -> list[Block]:
    question = _("**The question.** Which plan gives most to sell, and which leaves most food for birds with young?")
    return [Words(question), Words(" ".join(words.garden_sentences(findings, has_beds=has_beds)))]


def _plans(findings: Findings) -> list[Block]:
    numbers = numbered(findings) if are_many(findings) else None
    return [Heading(_("The plans")), Points(tuple(words.plan_points(findings, numbers)))]


def _happened(findings: Findings) -> list[Block]:
    count = len(findings.numbers)
    heading = many("What happened in {count} season", "What happened in {count} seasons", count).format(count=count)
    against = words.against_sentence(findings)
    if are_many(findings):
        header, rows = standing_table(findings)
        widths = (3.3, *(1.0 for _column in header[1:]))
        table = Grid(header, rows, widths=widths, are_figures_right=True)
        return [Heading(heading), Points(tuple(extremes(findings))), table, Words(table_note(findings), is_note=True)]
    told = Points(tuple(words.happened_points(findings)))
    return [Heading(heading), *([Words(against)] if against else []), told]


def _pictures(findings: Findings, images: _Images | None, *, has_ends: bool) -> list[Block]:
    blocks: list[Block] = []
    if images is None:
        return blocks
    if len(images.measures) == 2:
        blocks.append(Pair((images.measures[0],), (images.measures[1],)))
    else:
        blocks += [replace(image, width_share=0.5) for image in images.measures]
    if images.measures:
        meaning = _("One mark is one season; the bar across is the mean. Lines join the same season.")
        plans = _("The numbers are those of the plans.") if are_many(findings) else ""
        blocks.append(Words(f"{meaning} {plans}".strip(), is_note=True))
    return [*blocks, images.ends] if has_ends and images.ends else blocks


def _costs(findings: Findings) -> list[Block]:
    header, rows = words.cost_table(findings)
    widths = (2.5, *(1.0 for _column in header[1:]))
    return [
        Heading(_("What it took, mean of a season, all work in the beds")),
        Grid(header, rows, widths=widths, are_figures_right=True),
    ]


def _cautions() -> Box:
    note = speaker_note()
    points = Points(tuple(_(caution) for caution in CAUTIONS))
    return Box(
        _("Before you do any of this outdoors"),
        (*((Words(note, is_note=True),) if note else ()), points, Words(_(MODEL_WORDS))),
    )


def _origin(findings: Findings, address: str, *, has_list: bool) -> list[Block]:
    blocks: list[Block] = [Heading(_("Where the numbers come from"))]
    blocks += [Words(said, is_note=place > 0) for place, said in enumerate(words.source_sentences(has_list=has_list))]
    again = [Words(sentence) for sentence in words.again_sentences(findings)]
    if not address:
        return [*blocks, *again]
    alt = _("A square code for cameras that opens {address}").format(address=address)
    return [*blocks, Pair((Image(qr_svg(address), alt),), (*again, Words(address)), left_share=0.2)]
