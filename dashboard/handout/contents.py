"""What stands on a handout, in reading order: one list of blocks, whatever file it becomes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from dashboard.cautions import CAUTIONS, MODEL_WORDS
from dashboard.charts.imprint import Imprint
from dashboard.handout import words
from dashboard.handout.pictures import MOST_PLANS_SIDE_BY_SIDE, calendar_image, ends_image, measure_images
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


FULLNESS = (
    Fullness(True, True),
    Fullness(True, False),
    Fullness(False, True),
    Fullness(False, False),
    Fullness(False, False, False),
)
"""The fullest that two pages hold is printed; many plans may still take more pages."""


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
    """The pictures, each drawn once."""

    def __init__(self, findings: Findings, *, is_grey: bool) -> None:
        self.calendar = calendar_image(findings, is_grey=is_grey)
        self.measures = measure_images(findings, words.DRAWN, is_grey=is_grey)
        self.ends = ends_image(findings, is_grey=is_grey)


def _paper(findings: Findings, images: _Images, day: date | None, address: str, fullness: Fullness) -> Paper:
    from sim.season import model_version

    garden = _(findings.garden.title)
    blocks: tuple[Block, ...] = (
        *_opening(findings, has_beds=fullness.has_beds),
        Heading(_("The plans")),
        Points(tuple(words.plan_points(findings))),
        images.calendar,
        *_happened(findings),
        Heading(_("How sure is this?")),
        Points(tuple(words.doubt_points(findings))),
        *_costs(findings),
        *_pictures(findings, images, has_ends=fullness.has_ends),
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


def _happened(findings: Findings) -> list[Block]:
    count = len(findings.numbers)
    heading = many("What happened in {count} season", "What happened in {count} seasons", count).format(count=count)
    against = words.against_sentence(findings)
    told = Points(tuple(words.happened_points(findings)))
    return [Heading(heading), *([Words(against)] if against else []), told]


def _pictures(findings: Findings, images: _Images, *, has_ends: bool) -> list[Block]:
    blocks: list[Block] = []
    if len(images.measures) == 2 and len(findings.plans) <= MOST_PLANS_SIDE_BY_SIDE:
        blocks.append(Pair((images.measures[0],), (images.measures[1],)))
    else:
        blocks += _alone(images.measures, findings)
    if images.measures:
        meaning = _("One mark is one season; the bar across is the mean. Lines join the same season.")
        blocks.append(Words(meaning, is_note=True))
    return [*blocks, images.ends] if images.ends and has_ends else blocks


def _alone(images: list[Image], findings: Findings) -> list[Block]:
    share = 0.5 if len(findings.plans) <= MOST_PLANS_SIDE_BY_SIDE else 1.0
    return [replace(image, width_share=share) for image in images]


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
