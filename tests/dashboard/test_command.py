"""The command: what it prints, what it keeps, and how it answers mistakes."""

import io
import json
import os
import subprocess
import sys
from contextlib import redirect_stdout
from datetime import date

import pytest

from dashboard.command import main
from dashboard.commands.pages import write_page
from dashboard.commands.tables import print_json
from sim.errors import OutputError
from sim.scenario import new_scenario_text
from tests.dashboard.own_things import scenario_toml, weather_csv


def run(capsys, *arguments):
    """Return exit status, standard output and standard error of the command."""
    try:
        status = main(arguments)
    except SystemExit as end:
        status = end.code
    captured = capsys.readouterr()
    return status, captured.out, captured.err


def test_help_names_every_command(capsys):
    status, out, _ = run(capsys, "--help")
    assert status == 0
    assert all(word in out for word in ("season", "compare", "scenarios", "check", "new", "--port"))


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["seasn"], "season"),
        (["season"], "SCENARIO"),
        (["season", "teaching_gardn"], "teaching_garden"),
        (["season", "teaching_garden", "--plan", "nett"], "'nett'"),
        (["season", "teaching_garden", "--seed", "-1"], "whole number from 1"),
        (["compare", "teaching_garden", "--seasons", "0"], "whole number from 1"),
        (["compare", "teaching_garden", "--seasons", "many"], "'many'"),
        (["compare", "teaching_garden", "--plan", "net", "--plan", "net"], "twice"),
        (["--port", "80"], "1024"),
        (["check", "not_there.toml"], "not_there.toml"),
    ],
)
def test_a_mistake_is_one_sentence_and_status_2(capsys, arguments, told):
    status, out, err = run(capsys, *arguments)
    assert status == 2
    assert out == ""
    assert told in err
    assert err.count("\n") == 1
    assert "Traceback" not in err


def test_scenarios_lists_gardens_and_plans(capsys):
    status, out, _ = run(capsys, "scenarios")
    assert status == 0
    assert "teaching_garden" in out
    assert "spray_weekly" in out


def test_a_new_file_is_all_well_and_is_never_written_over(capsys, tmp_path):
    file = tmp_path / "mine.toml"
    assert run(capsys, "new", str(file))[0] == 0
    assert "all well" in run(capsys, "check", str(file))[1]
    status, _, err = run(capsys, "new", str(file))
    assert status == 2
    assert "is there already" in err


@pytest.mark.parametrize("command", [["new"], ["lesson", "new"]])
def test_a_new_file_is_there_whole_or_not_at_all(capsys, tmp_path, monkeypatch, command):
    def full(_handle):
        raise OSError(28, "No space left on device")

    def stops(_handle):
        raise KeyboardInterrupt

    for refuses, status, told in ((full, 2, "No space left"), (stops, 130, "nothing was written")):
        monkeypatch.setattr("os.fsync", refuses)
        ended, _, err = run(capsys, *command, str(tmp_path / "half.toml"))
        assert ended == status
        assert told in err
        assert list(tmp_path.iterdir()) == []


def test_a_new_file_takes_no_place_of_a_link(capsys, tmp_path):
    (tmp_path / "mine.toml").symlink_to(tmp_path / "gone.toml")
    assert run(capsys, "new", str(tmp_path / "mine.toml"))[0] == 2
    assert (tmp_path / "mine.toml").is_symlink()


def test_a_place_for_results_is_checked_before_any_season(capsys, tmp_path, monkeypatch):
    (tmp_path / "mine.txt").write_text("", encoding="utf-8")
    monkeypatch.setattr("sim.compare", lambda *_, **__: pytest.fail("ran"), raising=False)
    status, _, err = run(capsys, "compare", "leaf_bed", "--out", str(tmp_path))
    assert status == 2
    assert "no run wrote" in err


def test_a_page_that_a_full_disk_refuses_leaves_the_one_before(tmp_path, monkeypatch):
    write_page(tmp_path / "page.md", "# A page\none")

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OutputError, match=r"page\.md' cannot be written: No space left on device\."):
        write_page(tmp_path / "page.md", "# A page\ntwo")
    assert (tmp_path / "page.md").read_text(encoding="utf-8") == "# A page\none"


def test_a_place_that_cannot_be_written_is_told_before_any_season(capsys, tmp_path, monkeypatch):
    (tmp_path / "mine.txt").write_text("", encoding="utf-8")
    monkeypatch.setattr("sim.compare", lambda *_, **__: pytest.fail("ran"), raising=False)
    status, out, err = run(capsys, "compare", "leaf_bed", "--out", str(tmp_path / "mine.txt" / "results"))
    assert (status, out) == (2, "")
    assert "results' cannot be written" in err
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_check_takes_a_garden_of_the_program_by_its_name(capsys):
    assert run(capsys, "check", "leaf_bed")[:2] == (0, "leaf_bed: all well.\n")
    assert run(capsys, "lesson", "check", "late_cover")[:2] == (0, "late_cover: all well.\n")


@pytest.mark.parametrize("mine", [b"# My notes\n", b"", b"\xff\xfe\x00", b"# Which numbers matter to me\n"])
@pytest.mark.parametrize("command", ["sensitivity", "patterns", "questions"])
def test_a_page_never_goes_over_a_file_of_ones_own(capsys, tmp_path, monkeypatch, command, mine):
    monkeypatch.setattr("sim.patterns.table.findings", lambda *_: pytest.fail("ran"))
    monkeypatch.setattr("dashboard.commands.sweeping.answer_to", lambda *_: pytest.fail("ran"))
    (tmp_path / "notes.md").write_bytes(mine)
    status, out, err = run(capsys, command, "--page", str(tmp_path / "notes.md"))
    assert (status, out) == (2, "")
    assert "notes.md is there already and is no earlier page, which begins with '# " in err
    assert err.count("\n") == 1
    assert (tmp_path / "notes.md").read_bytes() == mine


def test_a_page_goes_over_an_earlier_one_of_its_kind_only(capsys, tmp_path):
    page = tmp_path / "page.md"
    assert run(capsys, "sensitivity", "--page", str(page))[0] == 0
    page.write_bytes(page.read_bytes().replace(b"\n", b"\r\n") + b"older")
    assert run(capsys, "sensitivity", "--page", str(page))[0] == 0
    assert not page.read_bytes().endswith(b"older")
    assert run(capsys, "patterns", "--page", str(page))[0] == 2


def test_the_pages_in_docs_are_known_as_earlier_ones():
    from dashboard.commands import leanings, pages, pattern_page, question_page
    from tests.house.files import ROOT

    for name, made in (("SENSITIVITY", leanings), ("PATTERNS", pattern_page), ("QUESTIONS", question_page)):
        pages.check_page(ROOT / "docs" / f"{name}.md", made.TITLE)


def test_pictures_of_a_page_never_go_over_those_of_ones_own(capsys, tmp_path, monkeypatch):
    from dashboard.commands.questions import named

    monkeypatch.setattr("dashboard.commands.sweeping.answer_to", lambda *_: pytest.fail("ran"))
    (tmp_path / "garden").mkdir()
    mine = tmp_path / "garden" / f"{named([])[0].name}.png"
    mine.write_bytes(b"a cat")
    status, _, err = run(capsys, "questions", "--page", str(tmp_path / "Garden.md"))
    assert status == 2
    assert f"{mine} is there already" in err
    assert not (tmp_path / "Garden.md").exists()


@pytest.mark.parametrize("command", ["sensitivity", "patterns", "questions"])
@pytest.mark.parametrize(
    ("page", "told"), [("", "is a folder; a page is a file"), ("mine.txt/page.md", "not be written")]
)
def test_a_place_for_a_page_is_looked_at_first(capsys, tmp_path, command, page, told):
    (tmp_path / "mine.txt").write_text("", encoding="utf-8")
    status, out, err = run(capsys, command, "--page", str(tmp_path / page))
    assert (status, out) == (2, "")
    assert told in err
    assert err.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


@pytest.mark.parametrize(
    "arguments",
    [
        ("season", "leaf_bed", "--plan", ""),
        ("season", "leaf_bed", "--plan", " "),
        ("compare", "leaf_bed", "--out", ""),
        ("sensitivity", "--plan", ""),
        ("sensitivity", "--remake", ""),
        ("handout", "leaf_bed", "--out", ""),
        ("lesson", "new", "lesson.toml", "--from", ""),
    ],
)
def test_an_empty_name_is_not_taken_for_none(capsys, tmp_path, monkeypatch, arguments):
    monkeypatch.chdir(tmp_path)
    status, out, err = run(capsys, *arguments)
    assert (status, out) == (2, "")
    assert "was found; a name is needed, or leave the option out" in err
    assert not list(tmp_path.iterdir())


def test_a_stop_is_one_line_and_status_130(capsys, monkeypatch):
    def stop(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr("sim.compare", stop, raising=False)
    status, _, err = run(capsys, "compare", "leaf_bed")
    assert status == 130
    assert err.splitlines()[-1] == "leafnest: stopped; nothing was written."


def test_a_season_in_json_is_json_alone(capsys):
    status, out, _ = run(capsys, "season", "leaf_bed", "--plan", "net", "--seed", "2", "--json")
    record = json.loads(out)
    assert status == 0
    assert record["run"]["seed"] == 2
    assert record["summary"]["harvest_kg"] >= record["summary"]["marketable_kg"] >= 0


@pytest.mark.parametrize("encoding", ["utf-8", "cp1252"])
def test_json_can_be_read_whatever_the_code_page(encoding):
    printed = io.BytesIO()
    record = {"title": "El jardín 🐛 日"}
    with io.TextIOWrapper(printed, encoding=encoding) as out, redirect_stdout(out):
        print_json(record)
        out.flush()
        assert json.loads(printed.getvalue().decode("utf-8")) == record


def test_a_season_in_words_has_its_measures_and_fates(capsys):
    status, out, _ = run(capsys, "season", "leaf_bed")
    assert status == 0
    assert "How every insect ended" in out
    assert "The label" in out or "Labels of sprays are the law" in out


def test_a_comparison_prints_differences_and_keeps_files(capsys, tmp_path):
    folder = tmp_path / "out"
    status, out, err = run(capsys, "compare", "leaf_bed", "--seasons", "2", "--out", str(folder))
    assert status == 0
    assert "against 'nothing'" in out
    assert "Harvest" in out
    assert str(folder) in err
    assert {"summary.png", "summary.svg", "plans.csv", "differences.csv", "seasons.csv", "run.json"} <= {
        path.name for path in folder.iterdir()
    }
    run_record = json.loads((folder / "run.json").read_text(encoding="utf-8"))
    assert run_record["plans"] == ["nothing", "net", "spray_weekly"]


def test_a_locale_without_letters_beyond_ascii_loses_none(tmp_path):
    folder = tmp_path / "jardín"
    folder.mkdir()
    text = new_scenario_text().replace('climate = "warm_humid"', 'weather_file = "año.csv"\nlatitude_deg = 45.0')
    (folder / "peña.toml").write_text(text.replace('title = "', 'title = "Ñandú, ', 1), encoding="utf-8")
    (folder / "año.csv").write_bytes(weather_csv(date(2025, 1, 1)))
    asked = ["season", str(folder / "peña.toml"), "--out", str(folder / "o")]
    plain = {**os.environ, "LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    command = [sys.executable, "-m", "dashboard.command", *asked]
    done = subprocess.run(command, env=plain, capture_output=True)
    assert done.returncode == 0, done.stderr.decode()
    assert "Ñandú" in done.stdout.decode()
    scenario, record = (json.loads((folder / "o" / f"{name}.json").read_bytes()) for name in ("scenario", "run"))
    assert scenario["place"]["weather_file"] == str(folder / "año.csv")
    assert scenario["name"] == record["scenario"] == "peña"


def test_a_comparison_in_json_has_no_number_that_is_none(capsys):
    _, out, _ = run(capsys, "compare", "leaf_bed", "--seasons", "1", "--plan", "nothing", "--plan", "net", "--json")
    assert "NaN" not in out
    assert {row["plan"] for row in json.loads(out)["plans"]} == {"nothing", "net"}


@pytest.mark.parametrize(
    ("first_day", "header", "replaced", "told"),
    [
        (date(2025, 1, 1), "date,tmin_c,tmax_c,rain_mm", {}, None),
        (date(2025, 1, 1), "date,tmax_c,tmin_c,rain_mm", {}, "line 2: tmin 19 °C is above tmax 8 °C"),
        (date(2023, 1, 1), "date,tmin_c,tmax_c,rain_mm", {}, "the year stands in the garden's 'season.calendar_year'"),
        (date(2025, 1, 1), "date,tmin_c,tmax_c,rain_mm", {"years = 1": "years = 2"}, "2026-03-01 to 2026-11-15"),
    ],
)
def test_check_reads_the_weather_file(capsys, tmp_path, first_day, header, replaced, told):
    (tmp_path / "days.csv").write_bytes(weather_csv(first_day, header=header))
    place = {'climate = "warm_humid"': 'weather_file = "days.csv"\nlatitude_deg = 40.0'}
    file = tmp_path / "garden.toml"
    file.write_bytes(scenario_toml("teaching_garden", place | replaced))
    status, out, err = run(capsys, "check", str(file))
    if told is None:
        assert (status, out, err) == (0, f"{file}: all well.\n", "")
    else:
        assert (status, out) == (2, "")
        assert told in err
        assert err.count("\n") == 1


def test_check_says_what_was_done_to_the_weather_file(capsys, tmp_path):
    (tmp_path / "days.csv").write_bytes(weather_csv(date(2025, 2, 1), days=300))
    file = tmp_path / "garden.toml"
    file.write_bytes(
        scenario_toml(replaced={'climate = "warm_humid"': 'weather_file = "days.csv"\nlatitude_deg = 40.0'})
    )
    status, out, _err = run(capsys, "check", str(file))
    assert status == 0
    assert out.startswith("The weather file: The file begins on 2025-02-01: warmth before that day is not counted")


@pytest.mark.parametrize(
    "arguments", [["--help"], ["scenarios"], ["check", "leaf_bed"], ["season", "x", "--seed", "0"]]
)
def test_small_answers_import_nothing_slow(arguments):
    code = (
        "import sys\nfrom dashboard.command import main\n"
        f"try:\n    main({arguments!r})\nexcept SystemExit:\n    pass\n"
        "slow = {'numba', 'mesa', 'pandas', 'scipy', 'matplotlib', 'altair', 'streamlit'} & set(sys.modules)\n"
        "sys.exit(f'imported {slow}' if slow else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
