"""A table as Parquet; its run record travels in the file's metadata."""

from __future__ import annotations

import io
import json
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sim.writing import write_whole, writing

if TYPE_CHECKING:
    import pandas as pd


def write_table(path: Path, table: pd.DataFrame, provenance: Mapping[str, Any]) -> None:
    """Write a table whole or not at all.

    Raises
    ------
    OutputError
        If the file cannot be written.
    """
    content = table_bytes(table, provenance)
    with writing(path):
        write_whole(path, content)


def table_bytes(table: pd.DataFrame, provenance: Mapping[str, Any]) -> bytes:
    """Return a table as a Parquet file."""
    import pyarrow as arrow  # here, since few commands need it
    import pyarrow.parquet as parquet

    held = arrow.Table.from_pandas(table, preserve_index=False)
    held = held.replace_schema_metadata({**(held.schema.metadata or {}), b"run": json.dumps(dict(provenance)).encode()})
    file = io.BytesIO()
    parquet.write_table(held, file)
    return file.getvalue()
