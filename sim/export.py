"""Results on disk: tables as CSV with a schema beside each, one run record, whole or not at all.

A folder is first written in full beside its place, flushed to the disk, and then renamed into it. A run that stops
half-way leaves nothing behind; after one that was killed, the next one puts back what it had set aside and clears up.
CSV follows RFC 4180 in UTF-8: point decimals, ISO dates, blank for missing. Each schema follows the Table Schema of the
Frictionless standards, with a ``unit`` added (a UCUM code where there is one).
"""

from __future__ import annotations

import csv
import glob
import io
import json
import math
import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sim.errors import OutputError, tell
from sim.writing import foreign, writing

if TYPE_CHECKING:
    import pandas as pd

RUN_RECORD = "run.json"

UNIT_OF_SUFFIX = {
    "kg": "kg",
    "g": "g",
    "mg": "mg",
    "kj": "kJ",
    "mj": "MJ",
    "mj_m2": "MJ/m2",
    "mm": "mm",
    "m": "m",
    "m2": "m2",
    "cm2": "cm2",
    "c": "Cel",
    "dd": "Cel.d",
    "hours": "h",
    "minutes": "min",
    "days": "d",
    "usd": "USD",
    "percent": "%",
    "share": "1",
    "count": "1",
    "per_day": "/d",
    "per_hour": "/h",
}
"""What the end of a column name says about its unit."""

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""Full-width forms too: some spreadsheets take them for the plain ones."""


@dataclass(frozen=True)
class Results:
    """Everything one run hands over.

    Parameters
    ----------
    tables
        File name without ending → table.
    provenance
        What produced them: version, scenario, plans, seeds, parameters. Goes into ``run.json``.
    descriptions
        Column name → what it holds, in words.
    extras
        File name with ending → bytes, such as a picture.
    """

    tables: Mapping[str, pd.DataFrame]
    provenance: Mapping[str, Any]
    descriptions: Mapping[str, str] = field(default_factory=dict)
    extras: Mapping[str, bytes] = field(default_factory=dict)


def unit_of(column: str) -> str:
    """Return the unit that a column name ends in, or an empty text."""
    parts = column.split("_")
    for start in range(1, len(parts)):
        unit = UNIT_OF_SUFFIX.get("_".join(parts[start:]))
        if unit is not None:
            return unit
    return ""


def csv_bytes(frame: pd.DataFrame) -> bytes:
    """Return a table as RFC 4180 text in UTF-8; cells that a spreadsheet would run as a formula start with ``'``."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_cell(str(name)) for name in frame.columns])
    columns = [frame[name].astype(object).where(frame[name].notna(), None).tolist() for name in frame.columns]
    writer.writerows([_cell(value) for value in row] for row in zip(*columns, strict=True))
    return text.getvalue().encode("utf-8")


def _cell(value: Any) -> str:
    if isinstance(value, str):
        return f"'{value}" if value.startswith(_FORMULA_STARTS) else value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return _number(value)
    if hasattr(value, "isoformat"):
        return str(value.isoformat()).removesuffix("T00:00:00")
    return str(value)


def _number(value: float) -> str:
    if math.isinf(value):
        return "INF" if value > 0 else "-INF"
    return repr(float(value))


def schema_of(frame: pd.DataFrame, descriptions: Mapping[str, str]) -> dict[str, Any]:
    """Return the Table Schema of a table: name, type, unit and description of each column."""
    fields = []
    for column in map(str, frame.columns):
        entry = {"name": column, "type": _type_of(frame[column])}
        if unit := unit_of(column):
            entry["unit"] = unit
        if column in descriptions:
            entry["description"] = descriptions[column]
        fields.append(entry)
    return {"fields": fields, "missingValues": [""], "simulated": True}


def _type_of(column: pd.Series) -> str:
    if column.name == "date":
        return "date"
    kind = column.dtype.kind
    if kind in "biufM":
        return {"b": "boolean", "i": "integer", "u": "integer", "f": "number", "M": "date"}[kind]
    held = {type(value).__name__ for value in column.dropna()}
    return "date" if held and held <= {"date", "Timestamp"} else "string"


def check_destination(folder: Path, *, overwrite: bool = False) -> None:
    """Make sure, before a long run, that results may go to this folder.

    Raises
    ------
    OutputError
        If the place is a file or the folder that one is in, cannot be written, holds something that no run wrote, or
        holds results and ``overwrite`` is not set.
    """
    with writing(folder):
        place = whole_place(folder)
        _check_nobody_stands_in(place)
        _clear_up_after_killed_runs(place)
        if place.exists() and not place.is_dir():
            raise OutputError(tell("{folder} is a file; results need a folder.", folder=folder))
        check_beside(folder)
        held = {path.name for path in place.iterdir()} if place.is_dir() else set()
    if not held:
        return
    others = sorted(held - _files_of_earlier_run(place))
    if others:
        raise foreign(folder, others[0])
    if not overwrite:
        raise OutputError(
            tell("{folder} already holds results; choose another folder or add --overwrite.", folder=folder)
        )


def whole_place(place: Path) -> Path:
    """Return where a file or folder lies, from the root; ``~`` is the person's home."""
    with suppress(RuntimeError):  # nobody is called what stands behind the ``~``: then it is part of a name
        place = place.expanduser()
    return place.resolve()


def _check_nobody_stands_in(place: Path) -> None:
    """Refuse the folder that the command was called in: results take the place of a folder, and it would be gone."""
    try:
        here = Path.cwd()
    except FileNotFoundError:  # it has been taken away; another place will do all the same
        return
    if place in (here, *here.parents):
        raise OutputError(
            tell(
                "Results cannot take the place of '{folder}', in which this command runs; choose another folder.",
                folder=place,
            )
        )


def check_beside(place: Path) -> None:
    """Make sure, before a long run, that something new can be written where this file or folder is to be.

    Raises
    ------
    OutputError
        If it cannot: on a disk that can only be read, say, or below a file.
    """
    with writing(place):  # also where the folder that one is in has been taken away
        nearest = next(folder for folder in whole_place(place).parents if folder.exists())
        tempfile.TemporaryDirectory(prefix=f".{place.name}-try-", dir=nearest).cleanup()


def _files_of_earlier_run(folder: Path) -> set[str]:
    try:
        record = json.loads((folder / RUN_RECORD).read_text(encoding="utf-8"))
        return {str(name) for name in record["files"]} | {RUN_RECORD}
    except (OSError, ValueError, KeyError, TypeError):
        return set()


def write_results(folder: Path | str, results: Results, *, overwrite: bool = False) -> Path:
    """Write all tables, schemas, extras and the run record into one folder, whole or not at all.

    Parameters
    ----------
    folder
        Where they go; made if it is not there, parents too.
    results
        What to write.
    overwrite
        Whether results of an earlier run in that folder may be replaced. Files that no run wrote never are.

    Returns
    -------
    Path
        The folder.

    Raises
    ------
    OutputError
        If the folder cannot be used; nothing has then been changed.
    """
    check_destination(Path(folder), overwrite=overwrite)
    place = whole_place(Path(folder))
    with writing(place):
        place.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(
            prefix=f".{place.name}-{os.getpid()}-", dir=place.parent, ignore_cleanup_errors=True
        ) as beside:
            fresh = Path(beside) / "new"
            fresh.mkdir()
            _write_files(fresh, files_of(results))
            _move_into_place(fresh, place, Path(beside) / "old")
    return place


def files_of(results: Results) -> dict[str, bytes]:
    """Return file name → bytes: each table as CSV and Parquet, its schema, the data package, extras and run record."""
    from sim.datapackage import FILE, package_of
    from sim.parquet import table_bytes

    files: dict[str, bytes] = {}
    schemas = {name: schema_of(frame, results.descriptions) for name, frame in results.tables.items()}
    for name, frame in results.tables.items():
        files[f"{name}.csv"] = csv_bytes(frame)
        files[f"{name}.schema.json"] = json_bytes(schemas[name])
        files[f"{name}.parquet"] = table_bytes(frame, results.provenance)
    if results.tables:
        files[FILE] = json_bytes(package_of(results.tables, schemas, results.provenance))
    files.update(results.extras)
    record = {**results.provenance, "simulated": True, "files": sorted(files)}
    files[RUN_RECORD] = json_bytes(record)
    return files


def json_bytes(content: Mapping[str, Any]) -> bytes:
    """Return a record as a file; a path that came as bytes in disguise (see ``in_words``) is in plain text again."""
    return (json.dumps(content, indent=2, ensure_ascii=False, default=str) + "\n").encode("utf-8", "surrogateescape")


def _write_files(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        with (folder / name).open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
    _flush_folders([folder])


def _move_into_place(fresh: Path, place: Path, aside: Path) -> None:
    try:
        if place.is_dir():
            place.rename(aside)
        fresh.rename(place)
    except BaseException:  # also when the person stops the run right here, between two lines
        if aside.is_dir() and not place.exists():
            aside.rename(place)
        raise
    _flush_folders([place.parent])
    shutil.rmtree(aside, ignore_errors=True)


def _clear_up_after_killed_runs(place: Path) -> None:
    """Bring back what a killed run had set aside just before its own results took the place, and take its rest away."""
    for beside in sorted(place.parent.glob(f".{glob.escape(place.name)}-*-*")):
        maker = beside.name.removeprefix(f".{place.name}-").partition("-")[0]
        with suppress(OSError):  # on a disk that cannot be written the write itself will tell
            is_ours = maker.isdigit() and {path.name for path in beside.iterdir()} <= {"new", "old"}
            if not is_ours or _is_running(int(maker)):
                continue
            if (beside / "old").is_dir() and not place.exists():
                (beside / "old").rename(place)
            shutil.rmtree(beside, ignore_errors=True)


def _is_running(process: int) -> bool:
    """Return whether a process still runs; where that cannot be asked without harm, as if it did."""
    if os.name != "posix":
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _flush_folders(folders: Iterable[Path]) -> None:
    if os.name != "posix":  # other systems do not open folders
        return
    for folder in folders:
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
