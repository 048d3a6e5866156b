"""Seasons on disk as they come: an interrupted run goes on where it stopped.

A results folder holds ``run.json``, which says what model and run it belongs to, and one small ``seasons-….jsonl``
for each batch that finished: a season a line, with its identity, plan, seed and every measure. A batch is written
beside its place, forced to disk and renamed, so a file is there whole or not at all. Its name is made from what it
holds, so one in which a season or a measure was changed or taken out is refused, not averaged. Numbers come back bit
for bit.
"""

from __future__ import annotations

import errno
import hashlib
import json
import math
import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any, NamedTuple

from sim.errors import OutputError, tell, why_of
from sim.rules_cache import sources_fingerprint
from sim.writing import foreign, unwritable, write_whole

Summary = dict[str, float]
_HEADER = "run.json"
SEASONS = "seasons-*.jsonl"
"""What the files of kept seasons are called."""
_FULL = {errno.ENOSPC, errno.EDQUOT}


class SeasonKey(NamedTuple):
    """What makes a season the same season: its scenario with this one plan, by fingerprint, and its seed."""

    fingerprint: str
    plan: str
    seed: int


@cache
def model_identity() -> dict[str, str]:
    """Return what must be alike for two machines to give the same numbers: version, rules and parameters."""
    try:
        release = version("leafnest")
    except PackageNotFoundError:  # run from its sources
        release = "from sources"
    return {
        "version": release,
        "rules": sources_fingerprint(Path(__file__).parent),
        "parameters": _numbers_fingerprint(Path(__file__).parent / "parameters"),
    }


def _numbers_fingerprint(folder: Path) -> str:
    """Return 16 hex digits that change with any number of nature, climates among them, and with no word about one."""
    digest = hashlib.sha256()
    for path in sorted(folder.glob("*.toml")):
        if path.name != "sources.toml":
            numbers = _numbers_in(tomllib.loads(path.read_text(encoding="utf-8")))
            digest.update(json.dumps([path.name, numbers], sort_keys=True).encode())
    return digest.hexdigest()[:16]


def _numbers_in(node: Any) -> Any:
    """Return a table or list with only the numbers in it; words, such as notes and sources, give nothing."""
    if isinstance(node, dict):
        kept = {key: _numbers_in(value) for key, value in node.items()}
        return {key: value for key, value in kept.items() if value is not None}
    if isinstance(node, list):
        return [_numbers_in(value) for value in node]
    return node if isinstance(node, int | float) else None


class ResultsFolder:
    """Seasons kept in a folder.

    Parameters
    ----------
    path
        The folder; made if it is not there.
    about
        What is run, in plain values that JSON can hold; another run may not be kept in the same folder.

    Raises
    ------
    OutputError
        If the folder cannot be used, or holds seasons of another model or another run, or what no run wrote.
    """

    def __init__(self, path: str | Path, about: Mapping[str, Any]) -> None:
        self.path = Path(path)
        self._header = {"model": model_identity(), "run": json.loads(json.dumps(dict(about)))}
        try:
            self.path.mkdir(parents=True, exist_ok=True)
            held = sorted(file.name for file in self.path.iterdir() if not file.name.startswith("."))
        except OSError as error:
            raise OutputError(
                tell("'{path}' cannot be a results folder: {why}.", path=self.path, why=why_of(error))
            ) from None
        if _HEADER in held:
            self._check_header()
        elif any(self.path.glob(SEASONS)):
            raise OutputError(
                tell("'{path}' holds seasons but no {file}; choose another folder.", path=self.path, file=_HEADER)
            )
        elif held:
            raise foreign(self.path, held[0])
        else:
            self._write(_HEADER, json.dumps(self._header, indent=2) + "\n")

    def seasons(self) -> dict[SeasonKey, Summary]:
        """Return every season kept so far.

        Raises
        ------
        OutputError
            If a file does not hold seasons, or not those that were kept in it.
        """
        kept: dict[SeasonKey, Summary] = {}
        for file in sorted(self.path.glob(SEASONS)):
            text = _text_of(file)
            for number, line in enumerate(text.splitlines(), start=1):
                try:
                    key, summary = _season_from(line)
                except (ValueError, TypeError, KeyError, AttributeError):
                    raise OutputError(
                        tell(
                            "'{file}', line {number}, is not a season; take the file away and its seasons run again.",
                            file=file,
                            number=number,
                        )
                    ) from None
                kept[key] = summary
            if file.name != _name_for(text):
                raise OutputError(
                    tell(
                        "'{file}' is not as it was kept: a number or a name was changed or taken out; take the file "
                        "away and its seasons run again.",
                        file=file,
                    )
                )
        return kept

    def keep(self, batch: Sequence[tuple[SeasonKey, Summary]]) -> None:
        """Write a batch of seasons, whole or not at all.

        Raises
        ------
        OutputError
            If there is no room or the folder cannot be written; what was kept before stays.
        """
        text = "".join(_line_of(key, summary) for key, summary in batch)
        self._write(_name_for(text), text)

    def _check_header(self) -> None:
        try:
            found = json.loads((self.path / _HEADER).read_text(encoding="utf-8"))
            model, run = found["model"], found["run"]
        except (OSError, ValueError, KeyError, TypeError):
            raise OutputError(
                tell("'{path}' is not the record of kept seasons; choose another folder.", path=self.path / _HEADER)
            ) from None
        if model != self._header["model"]:
            raise OutputError(
                tell(
                    "'{path}' holds seasons of another version of the model ({other}; this is {this}); choose "
                    "another folder.",
                    path=self.path,
                    other=_in_short(model),
                    this=_in_short(self._header["model"]),
                )
            )
        if run != self._header["run"]:
            raise OutputError(
                tell(
                    "'{path}' holds seasons of another run ({difference}); choose another folder.",
                    path=self.path,
                    difference=_difference(run, self._header["run"]),
                )
            )

    def _write(self, name: str, text: str) -> None:
        place = self.path / name
        try:
            write_whole(place, text.encode())
        except OSError as error:
            if error.errno in _FULL:
                raise OutputError(
                    tell(
                        "There is no room left to keep results in '{path}'; every season kept so far is safe: make "
                        "room and run the same again to go on.",
                        path=self.path,
                    )
                ) from None
            raise unwritable(place, error) from None


def _name_for(text: str) -> str:
    return f"seasons-{hashlib.sha256(text.encode()).hexdigest()[:24]}.jsonl"


def _text_of(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        why = why_of(fault) if isinstance(fault, OSError) else tell("it is not saved as UTF-8")
        raise OutputError(
            tell("'{file}' holds no seasons ({why}); take it away and its seasons run again.", file=file, why=why)
        ) from None


def _line_of(key: SeasonKey, summary: Summary) -> str:
    measures = {name: None if math.isnan(value) else value for name, value in summary.items()}
    return json.dumps({**key._asdict(), "measures": measures}) + "\n"


def _season_from(line: str) -> tuple[SeasonKey, Summary]:
    raw = json.loads(line)
    measures = {name: math.nan if value is None else float(value) for name, value in raw["measures"].items()}
    return SeasonKey(str(raw["fingerprint"]), str(raw["plan"]), int(raw["seed"])), measures


def _in_short(model: Any) -> str:
    if not isinstance(model, dict):
        return tell("unknown")
    return f"{model.get('version')}, rules {str(model.get('rules'))[:6]}, numbers {str(model.get('parameters'))[:6]}"


def _difference(found: Any, wanted: Mapping[str, Any]) -> str:
    if not isinstance(found, dict):
        return tell("unknown")
    names = sorted(name for name in {*found, *wanted} if found.get(name) != wanted.get(name))
    return tell("another {names}", names=" + ".join(names))
