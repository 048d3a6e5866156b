"""Results on disk: right as CSV, described, and whole or not at all."""

import csv
import errno
import io
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.errors import OutputError
from sim.export import Results, check_beside, check_destination, csv_bytes, schema_of, unit_of, write_results


def results(**changes):
    frame = pd.DataFrame(
        {"date": ["2025-03-01", "2025-03-02"], "harvest_kg": [0.5, float("nan")], "alive_count": [3, 4]}
    )
    whole = {"tables": {"daily": frame}, "provenance": {"seed": 1}, "descriptions": {"harvest_kg": "picked"}}
    return Results(**(whole | changes))


def rows_of(content):
    return list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))


@given(st.lists(st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="\x00")), min_size=1))
def test_any_text_comes_back_and_none_starts_a_formula(texts):
    rows = rows_of(csv_bytes(pd.DataFrame({"words": texts, "number": range(len(texts))})))
    for text, row in zip(texts, rows[1:], strict=True):
        assert row[0] in (text, f"'{text}")
        assert not row[0].startswith(("=", "+", "-", "@", "\t", "\r"))


@given(st.lists(st.floats(allow_nan=False), min_size=1))
def test_numbers_come_back_exactly(numbers):
    rows = rows_of(csv_bytes(pd.DataFrame({"value_kg": numbers})))
    assert [float(row[0]) for row in rows[1:]] == numbers


def test_rows_end_as_the_standard_says_and_missing_is_blank():
    frame = pd.DataFrame(
        {"plan": ["net, tight", 'say "no"'], "a_kg": [-1.5, None], "n": pd.array([1, None], dtype="Int64")}
    )
    assert csv_bytes(frame) == b'plan,a_kg,n\r\n"net, tight",-1.5,1\r\n"say ""no""",,\r\n'


def test_dates_are_iso_and_truth_is_words():
    frame = pd.DataFrame({"date": pd.to_datetime(["2025-03-01"]), "is_covered": [True]})
    assert csv_bytes(frame) == b"date,is_covered\r\n2025-03-01,true\r\n"


@pytest.mark.parametrize(
    ("column", "unit"),
    [("harvest_kg", "kg"), ("leaf_m2", "m2"), ("egg_to_adult_share", "1"), ("eggs_per_day", "/d"), ("plan", "")],
)
def test_a_column_name_tells_its_unit(column, unit):
    assert unit_of(column) == unit


def test_the_schema_names_types_units_and_words():
    schema = schema_of(results().tables["daily"], {"harvest_kg": "picked"})
    assert schema["fields"] == [
        {"name": "date", "type": "date"},
        {"name": "harvest_kg", "type": "number", "unit": "kg", "description": "picked"},
        {"name": "alive_count", "type": "integer", "unit": "1"},
    ]
    assert schema["simulated"] is True


def test_a_folder_holds_what_its_record_says(tmp_path):
    place = write_results(tmp_path / "a" / "b", results(extras={"summary.png": b"picture"}))
    record = json.loads((place / "run.json").read_text(encoding="utf-8"))
    assert {path.name for path in place.iterdir()} == {*record["files"], "run.json"}
    assert record["seed"] == 1
    assert (place / "summary.png").read_bytes() == b"picture"
    assert [path.name for path in (tmp_path / "a").iterdir()] == ["b"]


def test_the_same_results_are_the_same_bytes(tmp_path):
    first, second = write_results(tmp_path / "1", results()), write_results(tmp_path / "2", results())
    for path in first.iterdir():
        assert path.read_bytes() == (second / path.name).read_bytes()


def test_earlier_results_stay_unless_told(tmp_path):
    place = write_results(tmp_path / "out", results())
    with pytest.raises(OutputError, match="already holds results"):
        write_results(place, results(provenance={"seed": 2}))
    write_results(place, results(provenance={"seed": 2}), overwrite=True)
    assert json.loads((place / "run.json").read_text(encoding="utf-8"))["seed"] == 2


def test_what_no_run_wrote_is_never_replaced(tmp_path):
    place = write_results(tmp_path / "out", results())
    (place / "my notes.txt").write_text("keep", encoding="utf-8")
    with pytest.raises(OutputError, match="my notes"):
        write_results(place, results(), overwrite=True)
    assert (place / "my notes.txt").read_text(encoding="utf-8") == "keep"


@pytest.mark.parametrize("failing", ["os.fsync", "pathlib.Path.rename"])
def test_a_full_disk_leaves_everything_as_it_was(tmp_path, monkeypatch, failing):
    place = write_results(tmp_path / "out", results())

    def fail(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(failing, fail)
        with pytest.raises(OutputError, match="No space left"):
            write_results(place, results(provenance={"seed": 2}), overwrite=True)
    assert json.loads((place / "run.json").read_text(encoding="utf-8"))["seed"] == 1
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize(
    ("stopped_at", "left"),
    [(("before", "new"), 1), (("after", "out"), 1), (("before", "out"), 1), (("after", "new"), 2)],
)
def test_a_stop_about_two_renames_leaves_the_earlier_results_or_its_own(tmp_path, monkeypatch, stopped_at, left):
    place = write_results(tmp_path / "out", results())
    rename = Path.rename

    def stops(self, target):
        if stopped_at == ("before", self.name):
            raise KeyboardInterrupt
        rename(self, target)
        if stopped_at == ("after", self.name):
            raise KeyboardInterrupt

    monkeypatch.setattr(Path, "rename", stops)
    with pytest.raises(KeyboardInterrupt):
        write_results(place, results(provenance={"seed": 2}), overwrite=True)
    assert json.loads((place / "run.json").read_text(encoding="utf-8"))["seed"] == left
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


KILLED_AT_FSYNC = """
import os, signal, sys
count, real = 0, os.fsync
def fsync(handle):
    global count
    count += 1
    if count == {moment}:
        os.kill(os.getpid(), signal.SIGKILL)
    real(handle)
os.fsync = fsync
"""
KILLED_AT_RENAME = """
import os, pathlib, signal, sys
count, real = 0, pathlib.Path.rename
def rename(self, target):
    global count
    real(self, target)
    count += 1
    if count == {moment}:
        os.kill(os.getpid(), signal.SIGKILL)
pathlib.Path.rename = rename
"""
WRITE = """
from tests.sim.test_export import results
from sim.export import write_results
write_results(sys.argv[1], results(provenance={"seed": 2}), overwrite=True)
"""


def run_to_its_end(script, *arguments):
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    return subprocess.run([sys.executable, "-c", script, *arguments], env=environment, capture_output=True, text=True)


@pytest.mark.parametrize(
    ("killed", "left"),
    [
        (KILLED_AT_FSYNC.format(moment=1), 1),  # in its first file
        (KILLED_AT_FSYNC.format(moment=4), 1),  # in a later one
        (KILLED_AT_RENAME.format(moment=1), 1),  # the earlier results set aside, its own not yet there
        (KILLED_AT_RENAME.format(moment=2), 2),  # its own there, the earlier ones not yet gone
    ],
)
def test_a_killed_process_leaves_the_earlier_results_or_its_own_and_nothing_between(tmp_path, killed, left):
    place = write_results(tmp_path / "out", results())
    dead = run_to_its_end(killed + WRITE, str(place))
    assert dead.returncode == -signal.SIGKILL
    assert all(path.name.startswith(".") for path in tmp_path.iterdir() if path.name != "out")
    with pytest.raises(OutputError, match="already holds results"):
        check_destination(place)
    record = json.loads((place / "run.json").read_text(encoding="utf-8"))
    assert record["seed"] == left
    assert {path.name for path in place.iterdir()} == {*record["files"], "run.json"}
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_what_a_running_program_or_somebody_else_keeps_beside_the_results_stays(tmp_path):
    (tmp_path / f".out-{os.getpid()}-abc" / "new").mkdir(parents=True)
    (tmp_path / ".out-999999999-notes").mkdir()
    (tmp_path / ".out-999999999-notes" / "mine.txt").write_text("keep", encoding="utf-8")
    write_results(tmp_path / "out", results())
    assert (tmp_path / f".out-{os.getpid()}-abc" / "new").is_dir()
    assert (tmp_path / ".out-999999999-notes" / "mine.txt").is_file()


def test_a_disk_that_takes_no_more_is_told_and_leaves_everything_as_it_was(tmp_path):
    """A real write error of the system, by a limit on the size of files."""
    place = write_results(tmp_path / "out", results())
    limit = (
        "import resource, signal, sys\nsignal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (64, 64))\n"
    )
    told = run_to_its_end(limit + WRITE, str(place))
    assert told.returncode == 1
    assert "cannot be written: File too large." in told.stderr
    assert json.loads((place / "run.json").read_text(encoding="utf-8"))["seed"] == 1
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize("said", [".", "..", "../inner", "here"])
def test_the_folder_that_one_is_in_stays(tmp_path, monkeypatch, said):
    inner = tmp_path / "outer" / "inner"
    inner.mkdir(parents=True)
    monkeypatch.chdir(inner)
    place = inner if said == "here" else Path(said)
    with pytest.raises(OutputError, match="in which this command runs"):
        write_results(place, results())
    assert Path.cwd() == inner
    assert inner.stat().st_ino == Path().stat().st_ino
    assert write_results(Path("below"), results()) == inner / "below"


def test_earlier_results_in_a_home_stay_unless_told(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    assert write_results("~/out", results()) == tmp_path / "out"
    with pytest.raises(OutputError, match="already holds results"):
        write_results("~/out", results())
    with pytest.raises(OutputError, match="already holds results"):
        check_destination(Path("~/out"))


def test_a_home_of_nobody_is_part_of_a_name(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert write_results("~nobody-is-called-so/out", results()) == tmp_path / "~nobody-is-called-so" / "out"


def test_a_folder_that_was_taken_away_is_told_and_another_will_do(tmp_path, monkeypatch):
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    for look in (check_destination, check_beside):
        with pytest.raises(OutputError, match="'out' cannot be written"):
            look(Path("out"))
    assert write_results(tmp_path / "out", results()) == tmp_path / "out"


def test_a_file_in_the_way_is_told(tmp_path):
    (tmp_path / "out").write_text("", encoding="utf-8")
    with pytest.raises(OutputError, match="is a file"):
        check_destination(tmp_path / "out", overwrite=True)


def test_a_file_above_is_told_before_the_run_and_nothing_is_left(tmp_path):
    (tmp_path / "notes").write_text("", encoding="utf-8")
    with pytest.raises(OutputError, match="out' cannot be written"):
        check_destination(tmp_path / "notes" / "deeper" / "out")
    with pytest.raises(OutputError, match="o' cannot be written: File name too long"):
        check_destination(tmp_path / ("o" * 300))
    check_destination(tmp_path / "new" / "deeper" / "out")
    assert [path.name for path in tmp_path.iterdir()] == ["notes"]


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20"])
def test_no_cell_or_header_can_be_run_as_a_formula(start):
    text = csv_bytes(pd.DataFrame({f"{start}head": [f"{start}1+1"], "number": [-1.5]})).decode("utf-8")
    assert text.count(f"'{start}") == 2
    assert "-1.5" in text
