from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import sim.store
from sim.comparison import compare, compare_as_they_come
from sim.errors import OutputError
from sim.store import ResultsFolder, SeasonKey, _line_of, _numbers_fingerprint, _season_from
from sim.workers import Processes
from tests.sim import fake_seasons as fake

pytestmark = pytest.mark.usefixtures("without_running_workers")

ABOUT = {"scenario": "fake_garden"}
KEY = SeasonKey("abc", "net", 3)


@given(st.dictionaries(st.text(), st.floats()))
def test_numbers_come_back_bit_for_bit(summary):
    key, back = _season_from(_line_of(KEY, summary))
    assert key == KEY
    assert {name: value.hex() for name, value in back.items()} == {name: value.hex() for name, value in summary.items()}


def test_what_is_kept_is_there_again(tmp_path):
    ResultsFolder(tmp_path / "new" / "folder", ABOUT).keep([(KEY, {"harvest": 0.1})])
    assert ResultsFolder(tmp_path / "new" / "folder", ABOUT).seasons() == {KEY: {"harvest": 0.1}}


def test_a_run_goes_on_where_it_stopped(tmp_path):
    marks, store = tmp_path / "marks", tmp_path / "store"
    marks.mkdir()
    garden = fake.scenario(about=str(marks))
    cancel = threading.Event()
    coming = compare_as_they_come(garden, seasons=6, season=fake.marked, store=store, cancel=cancel)
    for _ in range(7):
        next(coming)
    cancel.set()
    list(coming)
    assert len(fake.runs(marks)) == 7
    whole = compare(garden, seasons=6, season=fake.marked, store=store)
    assert len(fake.runs(marks)) == len(set(fake.runs(marks))) == 18
    assert whole.seasons.equals(compare(garden, seasons=6, season=fake.season).seasons)


def test_a_killed_run_loses_at_most_what_was_in_hand(tmp_path):
    marks, store = tmp_path / "marks", tmp_path / "store"
    marks.mkdir()
    script = (
        "import sys\nfrom sim.comparison import compare\nfrom sim.workers import here\n"
        "from tests.sim import fake_seasons as fake\n"
        "garden = fake.scenario(about=sys.argv[1])\n"
        "told = lambda done, total: print(done, flush=True)\n"
        "season = fake.held_from_second_seed\n"
        "compare(garden, seasons=300, season=season, executor=here(), store=sys.argv[2], progress=told)\n"
    )
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    run = [sys.executable, "-c", script, str(marks), str(store)]
    with (
        fake.gate(marks),
        subprocess.Popen(run, env=environment, stdout=subprocess.PIPE, text=True) as running,
    ):
        assert [running.stdout.readline() for _ in range(3)] == ["1\n", "2\n", "3\n"]
        running.kill()
    kept = ResultsFolder(store, ABOUT).seasons()
    assert len(kept) == 3
    assert len(fake.runs(marks)) - len(kept) <= 1
    compare(fake.scenario(about=str(marks)), seasons=20, season=fake.marked, store=store)
    assert len(set(fake.runs(marks))) >= 60
    assert len(fake.runs(marks)) - len(set(fake.runs(marks))) <= 1


def test_more_seasons_and_plans_add_to_a_folder(tmp_path):
    marks, store = tmp_path / "marks", tmp_path / "store"
    marks.mkdir()
    garden = fake.scenario(about=str(marks))
    compare(garden, ["net", "spray"], seasons=2, season=fake.marked, store=store)
    compare(garden, ["nothing", "net"], seasons=3, season=fake.marked, store=store)
    assert fake.runs(marks) == sorted(
        [("net", 1), ("net", 2), ("net", 3), ("spray", 1), ("spray", 2), *(("nothing", n) for n in (1, 2, 3))]
    )


def test_a_changed_garden_is_not_taken_for_the_old_one(tmp_path):
    garden = fake.scenario()
    compare(garden, seasons=2, season=fake.season, store=tmp_path)
    changed = garden.with_changes({"pests.arrivals": 3.0})
    assert compare(changed, seasons=2, season=fake.season, store=tmp_path).values[0, 0, 1] == 21


def test_workers_results_reach_disk_as_they_come(tmp_path):
    garden = fake.scenario(about=str(tmp_path))
    season = fake.held_from_second_seed
    with Processes(2) as pool, fake.gate(tmp_path):
        coming = compare_as_they_come(garden, seasons=40, season=season, executor=pool, store=tmp_path / "store")
        next(coming)  # the gate is closed: most of the run is still to come
        assert list((tmp_path / "store").glob("seasons-*.jsonl"))
        coming.close()


@pytest.mark.parametrize(
    ("spoil", "why"),
    [
        (lambda file: file.write_bytes(b"\xff\xfe"), "it is not saved as UTF-8"),
        (lambda file: file.mkdir(), "Is a directory"),
        (lambda file: file.symlink_to("nowhere"), "No such file or directory"),
    ],
)
def test_what_cannot_be_read_as_seasons_is_told(tmp_path, spoil, why):
    folder = ResultsFolder(tmp_path, ABOUT)
    spoil(tmp_path / "seasons-0.jsonl")
    with pytest.raises(OutputError, match=rf"seasons-0\.jsonl' holds no seasons \({why}\); take it away"):
        folder.seasons()


def test_another_version_is_refused(tmp_path, monkeypatch):
    ResultsFolder(tmp_path, ABOUT).keep([(KEY, {"harvest": 1.0})])
    monkeypatch.setattr(sim.store, "model_identity", lambda: {"version": "9.9", "rules": "ffffff", "parameters": "0"})
    with pytest.raises(OutputError, match=r"another version of the model \(.*this is 9\.9.*choose another folder\.$"):
        ResultsFolder(tmp_path, ABOUT)


def test_another_run_is_refused(tmp_path):
    ResultsFolder(tmp_path, ABOUT)
    with pytest.raises(OutputError, match=r"seasons of another run \(another scenario\)"):
        ResultsFolder(tmp_path, {"scenario": "other"})


def test_a_damaged_folder_is_told(tmp_path):
    folder = ResultsFolder(tmp_path, ABOUT)
    folder.keep([(KEY, {"harvest": 1.0})])
    file = next(tmp_path.glob("seasons-*.jsonl"))
    file.write_text(file.read_text()[:20])
    with pytest.raises(OutputError, match=r"line 1, is not a season"):
        folder.seasons()
    (tmp_path / "run.json").write_text("{")
    with pytest.raises(OutputError, match="is not the record of kept seasons"):
        ResultsFolder(tmp_path, ABOUT)
    (tmp_path / "run.json").unlink()
    with pytest.raises(OutputError, match=r"no run\.json"):
        ResultsFolder(tmp_path, ABOUT)


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace('"harvest": 1.0, ', ""),
        lambda text: text.replace("1.0", "2.0"),
        lambda text: text.splitlines()[0] + "\n",
        lambda text: "",
    ],
)
def test_seasons_that_are_not_as_they_were_kept_are_told_and_not_averaged(tmp_path, change):
    folder = ResultsFolder(tmp_path, ABOUT)
    folder.keep([(SeasonKey("abc", "net", seed), {"harvest": 1.0, "leaf": 3.0}) for seed in (1, 2)])
    file = next(tmp_path.glob("seasons-*.jsonl"))
    file.write_text(change(file.read_text()))
    with pytest.raises(OutputError, match=rf"{file.name}' is not as it was kept: .* take the file away"):
        folder.seasons()
    file.unlink()
    assert folder.seasons() == {}


def test_a_folder_with_somebody_s_own_files_is_told_and_left_as_it_is(tmp_path):
    (tmp_path / "letters.txt").write_text("Dear aunt")
    (tmp_path / ".hidden").write_text("")
    with pytest.raises(OutputError, match=r"holds 'letters\.txt', which no run wrote; choose another folder"):
        ResultsFolder(tmp_path, ABOUT)
    assert sorted(path.name for path in tmp_path.iterdir()) == [".hidden", "letters.txt"]


def test_files_that_nobody_sees_and_files_put_beside_seasons_do_no_harm(tmp_path):
    (tmp_path / ".leftover.part").write_text("")
    ResultsFolder(tmp_path, ABOUT).keep([(KEY, {"harvest": 1.0})])
    (tmp_path / "notes.txt").write_text("a good year")
    assert ResultsFolder(tmp_path, ABOUT).seasons() == {KEY: {"harvest": 1.0}}
    assert (tmp_path / "notes.txt").read_text() == "a good year"


def test_a_place_that_is_a_file_is_told(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(OutputError, match="cannot be a results folder"):
        ResultsFolder(tmp_path / "file", ABOUT)


def test_a_full_disk_loses_nothing_kept_before(tmp_path, monkeypatch):
    garden = fake.scenario()
    flush, calls = os.fsync, []

    def full_after_five(handle):
        calls.append(handle)
        if len(calls) > 5:
            raise OSError(errno.ENOSPC, "No space left on device")
        flush(handle)

    monkeypatch.setattr(os, "fsync", full_after_five)
    with pytest.raises(OutputError, match=r"no room left .*every season kept so far is safe"):
        compare(garden, seasons=4, season=fake.season, store=tmp_path)
    monkeypatch.undo()
    assert len(ResultsFolder(tmp_path, ABOUT).seasons()) == 4  # five writes, one of them the header
    assert not [path for path in tmp_path.iterdir() if path.name.endswith(".part")]
    assert compare(garden, seasons=4, season=fake.season, store=tmp_path).is_complete


def test_half_written_leftovers_are_not_read(tmp_path):
    folder = ResultsFolder(tmp_path, ABOUT)
    (tmp_path / ".seasons-0.jsonl.77.part").write_text('{"fingerprint": "a')
    assert folder.seasons() == {}


def test_header_says_what_made_it(tmp_path):
    ResultsFolder(tmp_path, ABOUT)
    header = json.loads(Path(tmp_path / "run.json").read_text())
    assert header["run"] == ABOUT
    assert set(header["model"]) == {"version", "rules", "parameters"}


def test_the_mark_of_numbers_changes_with_a_number_and_with_no_word_about_one(tmp_path):
    file = tmp_path / "kale.toml"

    def mark_of(text):
        file.write_text(text, encoding="utf-8")
        return _numbers_fingerprint(tmp_path)

    entry = '[kale.base]\nvalue = {value}\nlow = 0.0\nrow = [1, {row}]\nunit = "{unit}"\n'
    first = mark_of(entry.format(value=4.0, row=2, unit="°C"))
    assert mark_of(entry.format(value=4.0, row=2, unit="degC")) == first
    assert mark_of(entry.format(value=4.5, row=2, unit="°C")) != first
    assert mark_of(entry.format(value=4.0, row=3, unit="°C")) != first
    assert mark_of(entry.format(value=4.0, row=2, unit="°C").replace("low", "high")) != first
