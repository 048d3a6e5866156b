"""What was done to a weather file goes with every figure that rests on it: on the terminal and in the record."""

import json
from datetime import date, timedelta

import pytest

import sim.jobs
from dashboard.command import main
from dashboard.results import comparison_record
from sim.scenario import load_scenario
from sim.season import run_season, weather_notes
from tests.dashboard.invented import comparison
from tests.dashboard.test_sweep_command import InventedSeason

FILLED = "1 day was filled by a straight line between neighbours: 2025-05-01."
TAKEN = "The file names no unit of temperature, so it was read as °C."


@pytest.fixture
def file(tmp_path):
    """A garden with the days of a station, one of them blank, without units."""
    first = date(2025, 1, 1)
    days = [first + timedelta(place) for place in range(365)]
    lines = [f"{day},8,19,1\n" if day != date(2025, 5, 1) else f"{day},,,\n" for day in days]
    (tmp_path / "days.csv").write_text("date,tmin,tmax,rain\n" + "".join(lines), encoding="utf-8")
    garden = load_scenario("leaf_bed").with_changes(
        {
            "place.climate": None,
            "place.weather_file": str(tmp_path / "days.csv"),
            "place.latitude_deg": 42.0,
            "season.calendar_year": 2025,
        }
    )
    from dashboard.brought.own_files import scenario_text

    (tmp_path / "mine.toml").write_text(scenario_text(garden), encoding="utf-8")
    return tmp_path / "mine.toml"


def test_a_generated_weather_has_no_notes():
    assert weather_notes(load_scenario("leaf_bed")) == []


def test_a_season_keeps_and_prints_them(file, capsys):
    garden = load_scenario(file)
    assert run_season(garden, "nothing").provenance["weather_notes"] == weather_notes(garden)
    assert main(["season", str(file), "--out", str(file.parent / "out")]) == 0
    said = " ".join(capsys.readouterr().out.split())
    kept = json.loads((file.parent / "out" / "run.json").read_text(encoding="utf-8"))
    for note in (FILLED, TAKEN):
        assert note in said
        assert note in kept["weather_notes"]


def test_a_comparison_keeps_and_prints_them(file, capsys, monkeypatch):
    monkeypatch.setattr("sim.compare", lambda *_, **__: comparison(), raising=False)
    assert main(["compare", str(file)]) == 0
    assert f"The weather file: {TAKEN}" in " ".join(capsys.readouterr().out.split())
    assert FILLED in comparison_record(comparison(), load_scenario(file))["run"]["weather_notes"]


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_a_sweep_keeps_and_prints_them(file, capsys, monkeypatch, form):
    monkeypatch.setattr(sim.jobs, "_run_season", lambda: InventedSeason)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 1)
    monkeypatch.setattr("dashboard.commands.sweeping.pictures_of", lambda *_: {})
    out = file.parent / "out"
    asked = ("sweep", str(file), "--seasons", "1", "--plan", "net", "--vary", "pests.arrivals=0,1", "--out", str(out))
    assert main([*asked, *form]) == 0
    assert FILLED in " ".join(capsys.readouterr().out.split())
    assert FILLED in json.loads((out / "run.json").read_text(encoding="utf-8"))["weather_notes"]


def test_a_picture_keeps_them(file):
    out = file.parent / "out"
    assert main(["picture", str(file), "--seasons", "2", "--out", str(out)]) == 0
    assert FILLED in json.loads((out / "run.json").read_text(encoding="utf-8"))["weather_notes"]
