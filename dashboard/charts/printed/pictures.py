"""From a scene to files: PNG for print and for a screen, SVG, tagged PDF, and the words beside them."""

from __future__ import annotations

import html
import io
import threading
from collections.abc import Iterable, Mapping
from dataclasses import replace
from importlib import import_module
from typing import Any, Literal, Protocol

import matplotlib as mpl
from matplotlib.figure import Figure

from dashboard.charts.imprint import Imprint
from dashboard.charts.printed.shapes import PRINT_DOTS_PER_INCH, Style
from dashboard.charts.printed.sheet import Room, new_sheet, settings_of
from dashboard.language.cautions import CAUTIONS, MODEL_WORDS
from dashboard.language.tongue import _, current_language, speaker_note
from dashboard.paper.blocks import plain_words
from dashboard.paper.typeset import pdf_of_svg

Form = Literal["png", "screen.png", "svg", "pdf", "txt"]
FORMS: tuple[Form, ...] = ("png", "screen.png", "svg", "pdf", "txt")
DRAWERS = {
    "seasons": "season_dots",
    "empty": "empty_axes",
    "ends": "ends_bars",
    "calendar": "calendar_strip",
    "caring": "caring_grid",
    "curve": "curve_dots",
    "days": "day_lines",
    "deeds": "deed_strips",
    "energy": "energy_web",
    "guess": "guess_places",
    "stages": "stage_lines",
    "starving": "miss_marks",
    "summary": "summary_panels",
    "sweep_lines": "sweep_lines",
    "sweep_maps": "sweep_maps",
    "sweep_rows": "sweep_rows",
    "weeks": "week_bars",
}
"""Kind of a scene → the file here that draws it."""

PLACES = 5
_settings_lock = threading.Lock()  # matplotlib's settings belong to the whole process


class Printable(Protocol):
    """What every picture has, whatever it shows."""

    @property
    def kind(self) -> str:
        """Which drawer of :data:`DRAWERS` draws it."""

    @property
    def title(self) -> str:
        """What stands over it."""

    @property
    def caption(self) -> str:
        """What its marks mean."""

    @property
    def alt(self) -> str:
        """What it says to those who cannot see it."""

    @property
    def plans(self) -> Mapping[str, str]:
        """Slug → title."""


def picture_file(scene: Printable, form: Form, style: Style, imprint: Imprint | None) -> bytes:
    """Return the picture in one form; the same picture always gives the same bytes.

    Parameters
    ----------
    scene
        What it shows.
    form
        ``png`` (300 dots an inch), ``screen.png``, ``svg`` (words as words), ``pdf`` (tagged) or ``txt``.
    style
        Size, and whether for a grey copier.
    imprint
        The line at its foot; None where it stands on a paper that has its own.
    """
    if form == "txt":
        return words_beside(scene, imprint).encode()
    if form in ("png", "screen.png"):
        dots = PRINT_DOTS_PER_INCH if form == "png" else style.shape.screen_dots_per_inch
        notes = {"Title": scene.title, "Description": scene.alt, "Software": "Leaf to Nest"}
        return _saved(scene, style, imprint, format="png", dpi=dots, metadata=notes)
    svg = _saved(scene, style, imprint, format="svg", metadata={"Date": None, "Creator": "Leaf to Nest"})
    if form == "svg":
        return _with_words(svg, scene)
    return pdf_of_svg(svg, title=scene.title, alt=scene.alt, language=current_language())


def picture_files(
    scene: Printable, name: str, styles: Iterable[Style], imprint: Imprint | None, forms: Iterable[Form] = FORMS
) -> Mapping[str, bytes]:
    """Return file name → bytes, for every style and form; the words are written once."""
    files: dict[str, bytes] = {}
    wanted = list(forms)
    for style in styles:
        for part_name, part in parts_of(scene, style, imprint):
            stem = "_".join(
                word for word in (name, part_name, style.shape.name, "grey" if style.is_grey else "") if word
            )
            for form in (form for form in wanted if form != "txt"):
                files[f"{stem}_screen.png" if form == "screen.png" else f"{stem}.{form}"] = picture_file(
                    part, form, style, imprint
                )
    if "txt" in wanted:
        files[f"{name}.txt"] = words_beside(scene, imprint).encode()
    return files


def parts_of(scene: Any, style: Style, imprint: Imprint | None = None) -> list[tuple[str, Any]]:
    """Return the scene, or its parts with their names where the whole would be too small to read in this style."""
    drawer = _drawer_of(scene)
    if hasattr(drawer, "parts_of"):
        parts: list[tuple[str, Any]] = drawer.parts_of(scene, style, _foot(imprint))
        return parts
    room = new_sheet(scene.title, scene.caption, _foot(imprint), style)
    most, plans = _most_plans(scene, room), list(scene.plans)
    if most >= len(plans):
        return [("", scene)]
    groups = [plans[first : first + most] for first in range(0, len(plans), most)]
    names = [group[0] if most == 1 else str(number) for number, group in enumerate(groups, 1)]
    return [(name, scene.only(*group)) for name, group in zip(names, groups, strict=True)]


def words_beside(scene: Printable, imprint: Imprint | None) -> str:
    """Return what goes beside a picture: title, alternative text, caption, where it comes from, and the cautions.

    A picture of nets and sprays has no room for cautions; whoever prints it finds them with its words.
    """
    told = (scene.title, scene.alt, scene.caption, _foot(imprint), *_caution_words())
    return "\n\n".join(part for part in told if part) + "\n"


def _caution_words() -> tuple[str, ...]:
    said = (plain_words(_(one)) for one in (*CAUTIONS, MODEL_WORDS))
    return (f"{_('Before you do any of this outdoors')}:", *said, speaker_note())


def sheet_of(scene: Printable, style: Style, imprint: Imprint | None) -> Room:
    """Return the sheet with the scene drawn on it; if not all plans fit, with the first, and the caption says so."""
    drawer = _drawer_of(scene)
    room = new_sheet(scene.title, scene.caption, _foot(imprint), style)
    most = _most_plans(scene, room)
    if most < len(scene.plans):
        scene = _first_plans(scene, most)
        room = new_sheet(scene.title, scene.caption, _foot(imprint), style)
    drawer.draw(room, scene)
    return room


def _drawer_of(scene: Printable) -> Any:
    return import_module(f"dashboard.charts.printed.{DRAWERS[scene.kind]}")


def _foot(imprint: Imprint | None) -> str:
    return imprint.line() if imprint else ""


def _most_plans(scene: Printable, room: Room) -> int:
    """Return how many plans can be read in this room."""
    drawer = _drawer_of(scene)
    return int(drawer.most_plans(room, scene)) if hasattr(drawer, "most_plans") else len(scene.plans)


def _first_plans(scene: Any, most: int) -> Any:
    left_out = _("Drawn here: the first {some} of {all} plans.").format(some=most, all=len(scene.plans))
    plans = dict(list(scene.plans.items())[:most])
    return replace(scene, plans=plans, order=scene.order or scene.plans, caption=f"{left_out} {scene.caption}".strip())


def _saved(scene: Printable, style: Style, imprint: Imprint | None, **how: Any) -> bytes:
    file = io.BytesIO()
    with _settings_lock, mpl.rc_context(settings_of(style)):
        figure = sheet_of(scene, style, imprint).figure
        _settle(figure)
        figure.savefig(file, **how)
    return file.getvalue()


def _settle(figure: Figure) -> None:
    """Lay the figure out and round the places of its axes: the layout's solver is not exact to the last digit."""
    figure.draw_without_rendering()
    figure.set_layout_engine("none")
    for axes in figure.axes:
        left, bottom, wide, tall = (round(side, PLACES) for side in axes.get_position().bounds)
        axes.set_position((left, bottom, wide, tall))


def _with_words(svg: bytes, scene: Printable) -> bytes:
    """Give the SVG its title and description, so that a screen reader has something to say."""
    head, mark, rest = svg.decode("utf-8").partition("<svg ")
    opening, close, body = rest.partition(">")
    words = f"<title>{html.escape(scene.title)}</title><desc>{html.escape(scene.alt)}</desc>"
    return f'{head}{mark}role="img" {opening}{close}\n {words}{body}'.encode()
