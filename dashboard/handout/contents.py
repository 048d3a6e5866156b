"""What stands on a handout, in reading order: one list of blocks, whatever file it becomes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from dashboard.charts.imprint import Imprint, garden_words
from dashboard.handout import words
from dashboard.handout.fullness import Fullness, fullest
from dashboard.handout.many_plans import are_many, extremes, numbered, standing_table, table_note
from dashboard.handout.pictures import Blanks, Pictures
from dashboard.handout.sources import source_sentences
from dashboard.language.cautions import CAUTIONS, MODEL_WORDS
from dashboard.language.tongue import _, current_language, many, speaker_note
from dashboard.paper.blocks import Block, Box, Grid, Heading, Image, Pair, Paper, PaperSize, Points, Words
from dashboard.paper.public_address import qr_svg
from dashboard.paper.typeset import page_count

if TYPE_CHECKING:
    from dashboard.handout.findings import Findings


MOST_PAGES = 2


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
    return handouts(findings, size, day=day, is_grey=is_grey, address=address)[0]


def handouts(
    findings: Findings, size: PaperSize = "letter", *, day: date | None = None, is_grey: bool = False, address: str = ""
) -> tuple[Paper, Paper]:
    """Return the handout as full as two pages hold, and with all its words for files that know no pages."""
    pictures = Pictures(findings, is_grey=is_grey)
    blanks = Blanks(pictures)

    def paper(fullness: Fullness, images: Pictures | Blanks = pictures) -> Paper:
        return _paper(findings, images, day, address, fullness, is_grey=is_grey)

    def is_held(fullness: Fullness, images: Pictures | Blanks) -> bool:
        return page_count(paper(fullness, images), size) <= MOST_PAGES

    def is_held_blank(fullness: Fullness) -> bool:
        return is_held(fullness, blanks)

    def is_held_drawn(fullness: Fullness) -> bool:
        # Blanks are no higher than what is drawn: whatever they find no room for is left undrawn.
        return is_held_blank(fullness) and is_held(fullness, pictures)

    full = fullest(is_held_drawn, fullest(is_held_blank))
    return paper(full), paper(full.with_all_words())


def _paper(
    findings: Findings, images: Pictures | Blanks, day: date | None, address: str, fullness: Fullness, *, is_grey: bool
) -> Paper:
    from sim.season import model_version

    garden = _(findings.garden.title)
    left_out = fullness.left_out(are_many=are_many(findings), had_ends=images.has_ends)
    blocks: tuple[Block, ...] = (
        *_opening(findings, has_beds=fullness.has_beds),
        *(_plans(findings) if fullness.has_deeds else ()),
        *((images.calendar,) if fullness.has_calendar else ()),
        *_happened(findings),
        Heading(_("How sure is this?")),
        Points(tuple(words.doubt_points(findings))),
        *(() if are_many(findings) else _costs(findings)),
        *(_measures(findings, images) if fullness.has_measures else ()),
        *((images.ends,) if fullness.has_ends and images.ends else ()),
        *((Words(left_out, is_note=True),) if left_out else ()),
        _cautions(),
        *_origin(findings, address, has_list=fullness.has_sources),
    )
    paper = Paper(
        title=_("Which plan gives what? {garden}").format(garden=garden),
        blocks=blocks,
        foot=Imprint(garden_words(findings.garden), findings.numbers, model_version(), day).line(),
        language=current_language(),
        is_black=is_grey,
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


def _measures(findings: Findings, images: Pictures | Blanks) -> list[Block]:
    if not images.measures:
        return []
    meaning = _("One mark is one season; the bar across is the mean. Lines join the same season.")
    plans = _("The numbers are those of the plans.") if are_many(findings) else ""
    note = Words(f"{meaning} {plans}".strip(), is_note=True)
    if len(images.measures) == 2:
        return [Pair((images.measures[0],), (images.measures[1],)), note]
    return [*(replace(image, width_share=0.5) for image in images.measures), note]


def _costs(findings: Findings) -> list[Block]:
    header, rows = words.cost_table(findings)
    widths = (2.3, *(1.0 for _column in header[2:]), 1.2)  # the harvest's head is the longest
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
    blocks += [Words(said, is_note=place > 0) for place, said in enumerate(source_sentences(has_list=has_list))]
    again = [Words(sentence) for sentence in words.again_sentences(findings)]
    if not address:
        return [*blocks, *again]
    alt = _("A square code for cameras that opens {address}").format(address=address)
    return [*blocks, Pair((Image(qr_svg(address), alt),), (*again, Words(address)), left_share=0.2)]
