"""Put a picture on the page, with what it says to those who cannot see it."""

from __future__ import annotations

from contextvars import ContextVar
from hashlib import blake2b
from typing import Any

import altair
import pandas as pd
import pyarrow as pa
import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.charts.palette import ON_DARK_PAPER

_TABLES: ContextVar[dict[int, tuple[str, bytes]] | None] = ContextVar("tables of the picture in hand", default=None)


MOST_PX = 860
"""Width of a picture of few marks: a wider one the browser's own print makes smaller, until nobody can read it."""


def place_chart(chart: Any, alt: str, spot: DeltaGenerator | None = None, *, has_few_marks: bool = False) -> None:
    """Show a chart as wide as there is room, here or at a spot; one of few marks no wider than they need.

    It is handed over as plain Vega-Lite: Streamlit's own door for Altair holds it against the whole grammar first, one
    visitor after the other, and reads a table once a layer (measured: three quarters of what an answer took to draw).
    """
    spec = plain_spec(chart)
    if st.context.theme.type == "dark":
        spec = on_dark_paper(spec)
    if has_few_marks:
        spot = (spot or st).container(width=MOST_PX)
    (spot or st).vega_lite_chart(spec, width="stretch", theme=None, alt=alt)


def on_dark_paper(part: Any) -> Any:
    """Return a chart, or a part of it, with each colour as it is on a dark page; it is drawn for white otherwise."""
    if isinstance(part, dict):
        return {name: on_dark_paper(value) for name, value in part.items()}
    if isinstance(part, list):
        return [on_dark_paper(value) for value in part]
    return ON_DARK_PAPER.get(part, part) if isinstance(part, str) else part


def plain_spec(chart: Any) -> dict[str, Any]:
    """Return a chart as Vega-Lite that names its tables; each lies once, as Arrow bytes, under ``datasets``."""
    token = _TABLES.set({})
    try:
        spec: dict[str, Any] = chart.to_dict(validate=False)
        return spec | {"datasets": dict((_TABLES.get() or {}).values())}
    finally:
        _TABLES.reset(token)


def _by_name(data: Any) -> Any:
    """Lay a table aside and return its name, which changes with what is in it; outside a page, return its rows."""
    tables = _TABLES.get()
    if tables is None or not isinstance(data, pd.DataFrame):
        return altair.default_data_transformer(data)
    if id(data) not in tables:
        content = _arrow_bytes(data)
        tables[id(data)] = blake2b(content, digest_size=8).hexdigest(), content
    return {"name": tables[id(data)][0]}


def _arrow_bytes(frame: pd.DataFrame) -> bytes:
    table = pa.Table.from_pandas(frame, preserve_index=False)
    sink = pa.BufferOutputStream()
    with pa.ipc.new_stream(sink, table.schema) as stream:
        stream.write_table(table)
    return bytes(sink.getvalue())


altair.data_transformers.register("by_name", _by_name)
altair.data_transformers.enable("by_name")
