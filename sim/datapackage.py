"""The label of a folder of results: a Data Package (version 2 of the Frictionless standards) that names every table.

Each table's columns, types, units and meanings are its Table Schema. The numbers are simulated and say so, lest anybody
take them for observations.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd

FILE = "datapackage.json"
PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"
SCHEMA_PROFILE = "https://datapackage.org/profiles/2.0/tableschema.json"
LICENCE = {
    "name": "CC-BY-4.0",
    "path": "https://creativecommons.org/licenses/by/4.0/",
    "title": "Creative Commons Attribution 4.0",
}
"""For results. The program itself has its own licence."""
ABOUT = (
    "Simulated by Leaf to Nest, a teaching model of a garden food web: no observations, and not a forecast. Units "
    "stand at the end of column names and in each schema. Blank means missing. Each table is also there as Parquet."
)


def package_of(
    tables: Mapping[str, pd.DataFrame], schemas: Mapping[str, Mapping[str, Any]], provenance: Mapping[str, Any]
) -> dict[str, Any]:
    """Return the descriptor.

    Parameters
    ----------
    tables
        File name without ending → table.
    schemas
        The same → Table Schema.
    provenance
        What produced them.
    """
    scenario = str(provenance.get("scenario", "results"))
    return {
        "$schema": PROFILE,
        "name": f"leafnest-{_slug(scenario)}",
        "title": f"Leaf to Nest: {scenario}",
        "description": ABOUT,
        "simulated": True,
        "licenses": [LICENCE],
        "keywords": ["simulated", "garden", "food web", "teaching model"],
        "resources": [_resource(name, len(table), schemas[name]) for name, table in tables.items()],
    }


def _resource(name: str, rows: int, schema: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "name": _slug(name),
        "path": f"{name}.csv",
        "type": "table",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "rowCount": rows,
        "dialect": {"delimiter": ",", "lineTerminator": "\r\n"},
        "schema": {"$schema": SCHEMA_PROFILE, **schema},
    }


def _slug(words: str) -> str:
    """Return words as a name that the standard allows: small letters, digits, and ``-``, ``_`` or ``.`` between."""
    return re.sub(r"[^a-z0-9._-]+", "-", words.lower()).strip("-") or "results"
