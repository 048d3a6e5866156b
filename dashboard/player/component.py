"""The map as a part of a page: its files read from the package and handed to Streamlit once."""

from __future__ import annotations

from importlib.resources import files
from typing import Any, TypedDict

import streamlit as st

PLAN = "plan"
_HERE = files("dashboard.player")


class Wished(TypedDict):
    """Whose story somebody wants to read: ``kind`` is ``plant``, ``nest`` or ``insect``; not told beyond ``day``.

    Or which plan, not watched yet, somebody wants to see: then ``kind`` is ``PLAN``.
    """

    plan: str
    kind: str
    number: int
    day: int


def script() -> str:
    """Return the JavaScript: the parts in the order of their names, as one module."""
    parts = sorted(part.name for part in (_HERE / "script").iterdir() if part.name.endswith(".js"))
    return "\n".join((_HERE / "script" / part).read_text(encoding="utf-8") for part in parts)


_player = st.components.v2.component(
    "garden_map_player",
    html=(_HERE / "player.html").read_text(encoding="utf-8"),
    css=(_HERE / "player.css").read_text(encoding="utf-8"),
    js=script(),
)


def show_player(data: dict[str, Any], key: str) -> Wished | None:
    """Show the map and return whose story or which plan was asked for, once, when somebody does.

    Parameters
    ----------
    data
        What ``payload`` returns; the same data goes on playing through runs of the page.
    key
        Of the element.
    """
    wished: Wished | None = _player(key=key, data=data, on_story_change=_take_note).story
    return wished


def _take_note() -> None:
    """Have the page run again when something is asked for: Streamlit wants a function here."""
