"""Results are kept also when the reader of what is printed has gone, and a stop says what there is."""

import errno
import io
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from types import SimpleNamespace

import pandas as pd
import pytest

import dashboard.commands.sweep_results
import dashboard.results
import sim.jobs
from dashboard.command import main
from dashboard.commands import questions, standard_output
from dashboard.commands.stopping import NOTHING
from dashboard.language.saying import MINUS
from sim.errors import OutputError
from sim.export import Results
from sim.patterns.table import Finding, named
from sim.scenario import new_scenario_text
from tests.dashboard.invented import comparison
from tests.dashboard.test_sweep_command import InventedSeason

FILES = Results({"plans": pd.DataFrame({"a_kg": [1.0]})}, {"seed": 1})
SWEEP = ("sweep", "leaf_bed", "--seasons", "1", "--plan", "net", "--vary", "pests.arrivals=0,1")


@pytest.fixture(autouse=True)
def invented(monkeypatch):
    """Figures and files that are there at once."""
    monkeypatch.setattr("sim.compare", lambda *_, **__: comparison(), raising=False)
    monkeypatch.setattr(dashboard.results, "comparison_results", lambda *_: FILES)
    monkeypatch.setattr(dashboard.commands.sweep_results, "results", lambda *_: FILES)
    monkeypatch.setattr("dashboard.commands.sweeping.pictures_of", lambda *_: {})
    monkeypatch.setattr(sim.jobs, "_run_season", lambda: InventedSeason)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 1)
    monkeypatch.setattr("sim.rules_cache.is_warm", lambda: True)


def main_unread(arguments):
    """Run the command with a standard output whose reader has gone; return how it ended."""
    reading, writing = os.pipe()
    os.close(reading)
    with open(writing, "w", encoding="utf-8") as lost, redirect_stdout(lost):  # noqa: PTH123 (a pipe has no path)
        try:
            return main(arguments)
        except SystemExit as end:
            return end.code


@pytest.mark.parametrize("form", [(), ("--json",)])
@pytest.mark.parametrize("command", [("compare", "leaf_bed"), SWEEP])
def test_results_are_written_when_nobody_reads_what_is_printed(tmp_path, command, form):
    assert main_unread([*command, *form, "--out", str(tmp_path / "out")]) == 0
    assert (tmp_path / "out" / "run.json").is_file()


@pytest.mark.parametrize("arguments", [["scenarios"], ["--help"], ["sensitivity"], ["lesson"], ["patterns", "--list"]])
def test_a_reader_who_leaves_early_is_no_mistake(arguments):
    assert main_unread(arguments) == 0


FULL = Path("/dev/full")
"""A file that takes nothing, as on a full disk."""


def main_full(arguments):
    """Run the command with a standard output on a full disk; return how it ended."""
    with FULL.open("w", encoding="utf-8") as full, redirect_stdout(full):
        return main(arguments)


@pytest.mark.parametrize(
    "arguments", [["compare", "leaf_bed"], ["compare", "leaf_bed", "--json"], ["scenarios"], ["--help"]]
)
def test_a_full_disk_under_what_is_printed_is_told_in_one_sentence(capsys, arguments):
    with FULL.open("w", encoding="utf-8") as full, redirect_stdout(full):
        assert main(arguments) == 2
    said = capsys.readouterr().err
    assert said == "leafnest: What was to be printed could not be written: No space left on device.\n"


def test_results_are_written_when_what_is_printed_is_not(capsys, tmp_path):
    with FULL.open("w", encoding="utf-8") as full, redirect_stdout(full):
        assert main(["compare", "leaf_bed", "--out", str(tmp_path / "out")]) == 2
    assert (tmp_path / "out" / "run.json").is_file()
    assert f"Written: {tmp_path / 'out'}" in capsys.readouterr().err


def test_patterns_go_on_for_their_page_and_for_no_reader(tmp_path, monkeypatch):
    held = []

    def findings(wanted, _seeds):
        for one in wanted:
            held.append(one.name)
            yield Finding(one, 1.0)

    monkeypatch.setattr("sim.patterns.table.findings", findings)
    names = [one.name for one in named(["egg_to_pupa", "cucumbers_left_covered"])]
    assert main_unread(["patterns", *names]) == 0
    assert held == names[:1]
    assert main_unread(["patterns", *names, "--page", str(tmp_path / "page.md")]) == 0
    assert (tmp_path / "page.md").is_file()


def test_what_a_disk_refuses_is_printed_all_the_same(capsys, tmp_path, monkeypatch):
    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    assert main(["compare", "leaf_bed", "--out", str(tmp_path / "out")]) == 2
    said = capsys.readouterr()
    assert "against 'nothing'" in said.out
    assert "No space left on device" in said.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("unread", [main_unread, main_full])
def test_results_that_a_disk_refuses_are_told_also_when_nobody_reads_the_rest(capsys, tmp_path, monkeypatch, unread):
    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    assert unread(["compare", "leaf_bed", "--out", str(tmp_path / "out")]) == 2
    assert f"'{tmp_path / 'out'}' cannot be written: No space left" in capsys.readouterr().err


@pytest.mark.parametrize("status_and_arguments", [(0, ["compare", "leaf_bed"]), (2, ["compare", "no_such_garden"])])
def test_what_is_said_beside_the_results_never_stops_the_work(capsys, tmp_path, status_and_arguments):
    status, arguments = status_and_arguments
    with FULL.open("w", encoding="utf-8") as full, redirect_stderr(full):
        assert main([*arguments, "--out", str(tmp_path / "out")]) == status
    assert (tmp_path / "out" / "run.json").is_file() == (status == 0)
    assert ("against 'nothing'" in capsys.readouterr().out) == (status == 0)


def test_a_shell_may_close_what_is_printed_to(tmp_path):
    """Nothing is said, in particular not in the record, which Python would give what belongs on standard error."""
    command = f"exec {sys.executable} -m dashboard.command"
    for closed in (">&-", "2>&-", ">&- 2>&-", "<&-"):
        asked = f"{command} lesson check late_cover {closed} && {command} --help {closed}"
        done = subprocess.run(["sh", "-c", asked.replace("exec", "")], capture_output=True, text=True)
        assert (done.returncode, done.stderr) == (0, "")
    done = subprocess.run(["sh", "-c", f"{command} check nowhere.toml 2>&-"], capture_output=True, text=True)
    assert (done.returncode, done.stdout, done.stderr) == (2, "", "")


def test_no_letter_stops_what_is_printed(tmp_path):
    """A name in another encoding than the machine's, and a letter that the machine's encoding has not."""
    odd, far = tmp_path / os.fsdecode(b"jard\xedn.toml"), tmp_path / "庭.toml"
    for encoding, file in (("utf-8:strict", odd), ("latin-1:strict", far)):
        file.write_text(new_scenario_text(), encoding="utf-8")
        command = [sys.executable, "-m", "dashboard.command", "check", str(file)]
        done = subprocess.run(command, env={**os.environ, "PYTHONIOENCODING": encoding}, capture_output=True)
        assert (done.returncode, done.stderr) == (0, b"")
        assert done.stdout.endswith(b".toml: all well.\n")


@pytest.mark.parametrize(
    ("encoding", "printed"), [("utf-8", f"from {MINUS}4 to {MINUS}1 日"), ("cp1252", r"from -4 to -1 \u65e5")]
)
def test_the_minus_sign_is_a_hyphen_where_there_is_none(encoding, printed):
    written = io.BytesIO()
    out = io.TextIOWrapper(written, encoding=encoding)
    standard_output._write_every_letter(out)
    out.write(f"from {MINUS}4 to {MINUS}1 日")
    out.flush()
    assert written.getvalue() == printed.encode()


def stops(*_, **__):
    raise KeyboardInterrupt


def test_a_stop_while_printing_says_where_the_results_are(capsys, tmp_path, monkeypatch):
    monkeypatch.setattr("dashboard.commands.tables.print_comparison", stops)
    assert main(["compare", "leaf_bed", "--out", str(tmp_path / "out")]) == 130
    assert capsys.readouterr().err.splitlines()[-1] == f"leafnest: stopped; written so far: {tmp_path / 'out'}"


def test_a_stop_between_two_files_says_which_is_there(capsys, tmp_path, monkeypatch):
    answer = SimpleNamespace(sweep=SimpleNamespace(settings=(), provenance={}), garden=None, measures=(), question=None)
    monkeypatch.setattr("dashboard.commands.sweeping.answer_to", lambda *_: answer)
    monkeypatch.setattr("dashboard.commands.question_page.print_answer", lambda *_: None)
    monkeypatch.setattr("dashboard.commands.question_page.write_answers", lambda *_: None)
    monkeypatch.setattr("sim.export.write_results", stops)
    page = tmp_path / "page.md"
    assert main(["questions", questions.named([])[0].name, "--page", str(page), "--out", str(tmp_path / "out")]) == 130
    assert capsys.readouterr().err == f"leafnest: stopped; written so far: {page}\n"


def test_a_stopped_study_says_where_its_seasons_are(capsys, tmp_path, monkeypatch):
    def study(folder, *, is_taste):
        step = folder / "screen"
        step.mkdir(parents=True)
        if is_taste:
            (step / "seasons-1.jsonl").write_text("", encoding="utf-8")
        raise KeyboardInterrupt

    monkeypatch.setattr("dashboard.commands.research._remake", study)
    assert main(["sensitivity", "--remake", str(tmp_path / "none")]) == 130
    assert capsys.readouterr().err == f"leafnest: {NOTHING}\n"
    assert main(["sensitivity", "--remake", str(tmp_path / "some"), "--taste"]) == 130
    assert f"the seasons done are kept in {tmp_path / 'some'}: say the same again." in capsys.readouterr().err


@pytest.mark.parametrize(("system", "told"), [("win32", BrokenPipeError), ("linux", OutputError)])
def test_windows_calls_a_reader_who_has_gone_an_invalid_argument(monkeypatch, system, told):
    class Unread:
        def write(self, _text):
            raise OSError(errno.EINVAL, "Invalid argument")

        def fileno(self):
            raise OSError

    monkeypatch.setattr(standard_output, "sys", SimpleNamespace(platform=system))
    with pytest.raises(told):
        standard_output._Telling(Unread()).write("a line")
