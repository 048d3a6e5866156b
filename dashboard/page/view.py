"""How a screen is looked at: by one person, or by a room through a projector. Kept for the visit and in the address.

A screen that has a form for a room asks ``is_room_view()``; if so it shows one sentence and one picture by
``dashboard/boards/room.py``. The others stay as they are, head and way out included, drawn larger.
"""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st
from streamlit.delta_generator import DeltaGenerator
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard.language.tongue import _
from dashboard.sharing.role import is_class_server

VIEW_WORD, ROOM = "view", "room"
ROOM_SCREENS = ("guess", "watch", "compare")
"""The screens that have a form for a room, by their path."""
_VIEW, _SCREEN = "view of the visit", "screen of the visit"
LETTERS_PX = 48
"""Of everything that a room must read, at 1080 lines. Wanted: 46 or more, for nine metres to an image 1.5 metres high
(AVIXA V202.01: element height in per cent = farthest viewer / (image height x 200); second hand)."""
ROOM_LINES, SCALES = 1080, (0.9, 0.8, 0.685, 0.6)
"""Lines that the view is drawn for, and how much smaller all of it becomes on a screen of fewer, so that it fits."""
HEAD_REM = 3.6
"""Room for the line of pages above, which keeps its size."""
_PICTURE = '[data-testid="stElementContainer"]:has([data-testid="stVegaLiteChart"])'


def _smaller() -> str:
    """Return the rules for each scale; the last that are fulfilled count. A phone is no projector.

    Streamlit measures a picture's place after scaling and draws before it, so the place is wider by as much.
    """
    return "\n".join(
        f"@media (min-width: 1000px) and (max-height: {round(ROOM_LINES * before) - 1}px) {{"
        f" .block-container {{ zoom: {scale}; padding-top: {HEAD_REM / scale:.2f}rem; overflow-x: clip; }}"
        f" {_PICTURE} {{ width: {100 / scale:.2f}% !important; max-width: none !important; flex-shrink: 0; }}"
        " .st-key-room-controls { zoom: 1.2; margin-top: -0.6rem; } }"  # read by the teacher alone, close by
        for before, scale in zip((1.0, *SCALES), SCALES, strict=False)
    )


ROOM_STYLE = f"""<style>
.block-container {{ max-width: none; padding: {HEAD_REM}rem 2rem 0; }}
[data-testid="stMain"] h1, .st-key-room-sentence p, .st-key-room-ask p, .st-key-room-ask input,
.st-key-room-ask label, .st-key-room-ask button p {{
  font-size: {LETTERS_PX}px !important; line-height: 1.15 !important; padding: 0;
}}
.st-key-room-ask input {{ height: 76px; }}
.st-key-room-ask button {{ height: auto; padding: 0.6rem; }}
.st-key-room-ask button p {{ white-space: normal; overflow: visible; }}
[data-testid="stMain"] h1 {{ padding: 0; }}
.st-key-room-controls {{ margin-top: -0.8rem; }}
{_smaller()}
</style>"""
LARGER = 1.6
LARGER_STYLE = f"""<style>
@media (min-width: 1200px) {{
  .block-container {{ max-width: none; zoom: {LARGER}; }}
  {_PICTURE} {{ width: {100 / LARGER:.2f}% !important; }} /* measured after scaling, drawn before it, as above */
}}
/* What comes at the top must be seen: the page shall not go after what it pushes down. */
[data-testid="stMain"] {{ overflow-anchor: none; }}
</style>"""


BESIDE = '<i class="beside-picture"></i>'
"""Marks a place whose words and picture stand side by side in a wide window. A key would have to differ each time that
more seasons come in, and the browser would draw the place anew for every one."""


def begin_view(screen: str = ROOM_SCREENS[0]) -> None:
    """Take from the address how this visit looks at the screens, and dress the page for a room.

    Parameters
    ----------
    screen
        Path of the screen that is shown.
    """
    if _VIEW not in st.session_state:
        st.session_state[_VIEW] = st.query_params.get(VIEW_WORD, "")
    st.session_state[_SCREEN] = screen
    if is_room_wanted():
        st.html(ROOM_STYLE if is_room_view() else LARGER_STYLE)


def is_room_wanted() -> bool:
    """Return whether this visit looks at the screens through a projector."""
    return get_script_run_ctx(suppress_warning=True) is not None and st.session_state.get(_VIEW, "") == ROOM


def is_room_view() -> bool:
    """Return whether the screen in hand is shown in its form for a room."""
    return is_room_wanted() and st.session_state.get(_SCREEN, ROOM_SCREENS[0]) in ROOM_SCREENS


def place_before_all() -> DeltaGenerator | None:
    """Return, where a screen without a form of its own is shown to a room, a place above all else for its answer."""
    return st.container() if is_room_wanted() and not is_room_view() else None


def show_with_picture(picture: Callable[[], object], words: Callable[[], object]) -> None:
    """Show words and then their picture; to a room the picture first, so that it is seen without scrolling."""
    for part in (picture, words) if is_room_wanted() else (words, picture):
        part()


def show_beside_picture(words: Callable[[], object], picture: Callable[[], object]) -> None:
    """Show words beside their picture, so that both end within a window of a laptop; above it where that is narrow."""
    if is_room_wanted():
        show_with_picture(picture, words)
        return
    with st.container():
        st.html(BESIDE)
        for part in (words, picture):
            with st.container():
                part()


def view_in_address() -> dict[str, list[str]]:
    """Return the word of an address that says so."""
    return {VIEW_WORD: [ROOM]} if is_room_wanted() else {}


def show_view_switch() -> None:
    """Show the way into the view for a room, or out of it; the devices of a class have no such thing."""
    if is_class_server():
        return

    def turn() -> None:
        st.session_state[_VIEW] = "" if is_room_wanted() else ROOM

    words = _("Leave the projector view") if is_room_wanted() else _("Projector view")
    st.button(words, key="view switch", on_click=turn, icon=":material/cast_for_education:")
