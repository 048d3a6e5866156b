"""The command that writes handouts and pictures: whole files, in every manner, and again as it is printed on them."""

import json
import shlex
import shutil
import subprocess
import sys

import pytest

from dashboard.command import main
from dashboard.handout.findings import Findings
from dashboard.language.cautions import CAUTIONS
from dashboard.language.tongue import _, speaker_note, speaking
from dashboard.paper.blocks import plain_words
from tests.dashboard.reading import language_of, words_of
from tests.dashboard.test_handout import lived
from tests.dashboard.test_printed import season_days


@pytest.fixture
def quick(monkeypatch):
    """Seasons that are invented, so that the command is tried without living any."""

    def gathered(garden, plans, numbers, progress):
        return {(plan, number): lived(number) for plan in plans for number in numbers}

    monkeypatch.setattr("dashboard.handout.findings.gather", gathered)
    monkeypatch.setattr(Findings, "days", lambda self: {plan: season_days(plan) for plan in self.plans})


def test_the_command_writes_whole_files_and_replaces_none_untold(quick, tmp_path, capsys):
    words = ["handout", "teaching_garden", "--seasons", "3", "--date", "2026-11-25", "--out", str(tmp_path / "out")]
    assert main(words) == 0
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert names == {"handout_letter.pdf", "handout_letter.docx", "handout.txt", "run.json"}
    assert json.loads((tmp_path / "out" / "run.json").read_text())["simulated"] is True
    before = (tmp_path / "out" / "handout_letter.pdf").read_bytes()
    capsys.readouterr()
    assert main(words) == 2
    assert "already holds results" in capsys.readouterr().err
    assert main([*words, "--overwrite"]) == 0
    assert (tmp_path / "out" / "handout_letter.pdf").read_bytes() == before
    assert not list(tmp_path.glob(".*"))


def test_the_command_speaks_other_languages_papers_and_units(quick, tmp_path):
    words = ["handout", "leaf_bed", "--seasons", "2", "--paper", "a4", "--language", "es", "--units", "us", "--grey"]
    assert main([*words, "--plan", "nothing", "--plan", "net", "--out", str(tmp_path / "out")]) == 0
    content = (tmp_path / "out" / "handout_a4.pdf").read_bytes()
    assert language_of(content) == "es"
    assert "lb" in words_of(content)


def test_the_command_refuses_a_private_address_before_it_runs_anything(tmp_path, capsys):
    words = ["handout", "teaching_garden", "--address", "http://localhost:8501", "--out", str(tmp_path / "out")]
    assert main(words) == 2
    assert "public address" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_pictures_come_by_name_in_every_form(quick, tmp_path, capsys):
    words = ["picture", "teaching_garden", "--seasons", "2", "--show", "marketable_kg", "--show", "calendar"]
    assert main([*words, "--size", "half_page", "--grey", "--out", str(tmp_path / "out")]) == 0
    names = {path.name for path in (tmp_path / "out").iterdir()} - {"run.json"}
    assert names == {
        f"{name}{end}"
        for name in ("marketable_kg", "calendar")
        for end in (".txt", *(f"_half_page_grey{form}" for form in (".png", "_screen.png", ".svg", ".pdf")))
    }
    assert main(["picture", "teaching_garden", "--show", "harvests", "--out", str(tmp_path / "no")]) == 2
    assert "harvest_kg" in capsys.readouterr().err


def test_an_empty_address_is_refused_before_anything_is_lived(tmp_path, capsys):
    with pytest.raises(SystemExit):
        main(["handout", "leaf_bed", "--address", "", "--out", str(tmp_path / "out")])
    assert "--address" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_the_words_beside_a_picture_hold_the_cautions(quick, tmp_path):
    words = ["picture", "leaf_bed", "--seasons", "1", "--show", "calendar", "--size", "half_page", "--language", "es"]
    assert main([*words, "--out", str(tmp_path / "out")]) == 0
    beside = (tmp_path / "out" / "calendar.txt").read_text()
    with speaking("es"):
        assert all(plain_words(_(caution)) in beside for caution in CAUTIONS)
        assert speaker_note() in beside


def test_a_full_disk_leaves_nothing(quick, tmp_path, capsys, monkeypatch):
    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("sim.export._write_files", full)
    assert main(["handout", "leaf_bed", "--seasons", "1", "--out", str(tmp_path / "out")]) == 2
    assert "No space left" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_help_of_the_command_loads_no_typesetter():
    loaded = "{'typst', 'matplotlib', 'docx'} & set(sys.modules)"
    code = f"import sys; from dashboard.command import parser; parser(); print({loaded})"
    said = subprocess.run([shutil.which(sys.executable) or sys.executable, "-c", code], capture_output=True, check=True)
    assert said.stdout.decode().strip() == "set()"


def test_the_command_printed_on_it_makes_the_same_handout(quick, tmp_path):
    words = ["handout", "leaf_bed", "--plan", "nothing", "--plan", "net", "--seasons", "2", "--date", "2026-11-25"]
    manner = ["--language", "es", "--units", "us", "--paper", "a4", "--grey"]
    for given, folder in ((manner, "odd"), ([], "usual")):
        assert main([*words, *given, "--out", str(tmp_path / folder)]) == 0
    odd, usual = ((tmp_path / one / "handout.txt").read_text().split() for one in ("odd", "usual"))
    assert " ".join(manner) in " ".join(odd)
    assert not set(manner) & {word for word in usual if word.startswith("--")}


def test_the_command_printed_on_it_runs_as_it_stands(quick, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    words = ["handout", "leaf_bed", "--plan", "nothing", "--plan", "net", "--seasons", "2", "--date", "2026-11-25"]
    assert main([*words, "--address", "https://garden.example.org", "--out", "first"]) == 0
    text = " ".join((tmp_path / "first" / "handout.txt").read_text().split())
    begun, out, _rest = text.partition("Or say to the command: ")[2].partition("--out handout")
    assert main([*shlex.split(begun + out)[1:], "--date", "2026-11-25"]) == 0
    again, first = (tmp_path / folder / "handout_letter.pdf" for folder in ("handout", "first"))
    assert again.read_bytes() == first.read_bytes()
