"""The command that varies settings: what it prints, draws and keeps, and how it answers mistakes."""

import errno
import io
import json
import os
import re

import pandas as pd
import pytest
from PIL import Image

import sim.jobs
from dashboard.command import main
from dashboard.commands.question_page import Answer, page_of
from dashboard.commands.questions import Question
from dashboard.commands.sweep_results import picture_of
from dashboard.plans.setting_words import with_words
from sim.scenario import load_scenario
from sim.settings import setting_from
from sim.sweep import sweep

LATE = "plans.net.actions.cover.days_after_planting"
STATION = ("sweep", "leaf_bed", "--seasons", "7")


class InventedSeason:
    def __init__(self, scenario, plan, seed):
        late = scenario.plan("net").actions[1].days_after_planting if plan == "net" else 0
        self.summary = {
            "marketable_kg": 20.0 + seed - 0.1 * late - 2 * scenario.pests.arrivals,
            "pests_alive_peak_count": 100.0 * scenario.pests.arrivals + seed + late,
            "bird_food_reachable_g": 1.0 + scenario.place.warmer_c / 10,
            "fruit_set_share": 0.5,
        }


@pytest.fixture(autouse=True)
def invented(monkeypatch):
    """Seasons with invented figures in the place of lived ones; returns those run so far."""
    ran = []

    def season(scenario, plan, seed):
        ran.append((plan, seed))
        return InventedSeason(scenario, plan, seed)

    monkeypatch.setattr(sim.jobs, "_run_season", lambda: season)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 1)  # other processes would live seasons
    monkeypatch.setattr("sim.rules_cache.is_warm", lambda: True)
    return ran


def run(capsys, *arguments):
    """Return exit status, standard output (its lines joined) and standard error of the command."""
    try:
        status = main(arguments)
    except SystemExit as end:
        status = end.code
    captured = capsys.readouterr()
    return status, re.sub(r"\s+", " ", captured.out), captured.err


def test_a_curve_is_printed_with_what_it_says(capsys):
    status, out, _ = run(capsys, *STATION, "--vary", f"{LATE}=0:20:3", "--plan", "nothing", "--plan", "net")
    assert status == 0
    assert "'Net: days after planting that it goes on' goes from 0 to 20, it falls from 22 to 20 kg" in out
    assert "lower in 7 of 7 seasons" in out
    assert "'nothing' is not touched by this" in out
    assert "The label" in out or "Labels of sprays are the law" in out


def test_plans_are_held_against_the_first_at_every_point(capsys):
    _, out, _ = run(capsys, *STATION, "--vary", f"{LATE}=0,5", "--plan", "nothing", "--plan", "net")
    assert "Fit to sell: against 'nothing', 'net' gives less at 5; the same in every season at 0." in out


def test_one_season_is_said_as_one(capsys):
    status, out, _ = run(capsys, "sweep", "leaf_bed", "--plan", "net", "--vary", f"{LATE}=0,5", "--seasons", "1")
    assert status == 0
    assert "1 season is too few" in out
    assert "that 1 season can tell" in out
    assert "1 seasons" not in out


def test_too_few_seasons_are_called_too_few(capsys):
    _, out, _ = run(capsys, "sweep", "leaf_bed", "--seasons", "5", "--vary", f"{LATE}=0,5")
    assert "5 seasons are too few to call any difference, whatever they show; 6 are the fewest that can." in out


@pytest.mark.parametrize(
    ("varied", "plans"),
    [
        ([f"{LATE}=0,5"], ["net"]),
        (["pests.arrivals=0,1"], ["nothing", "net", "spray_weekly"]),
        ([f"{LATE}=0,5", "plans.slack_net.actions.cover.edges=slack,buried"], ["net", "slack_net"]),
    ],
)
def test_without_plans_those_that_are_varied_are_run(capsys, varied, plans):
    asked = [word for text in varied for word in ("--vary", text)]
    _, out, _ = run(capsys, "sweep", "leaf_bed", "--seasons", "1", *asked, "--json")
    assert json.loads(out)["run"]["plans"] == plans


def test_a_change_beforehand_counts_and_is_on_record(capsys, tmp_path):
    asked = (*STATION, "--vary", f"{LATE}=0,5", "--set", "pests.arrivals=3", "--measure", "marketable_kg", "--json")
    _, out, _ = run(capsys, *asked, "--out", str(tmp_path / "out"))
    record = json.loads(out)
    assert record["points"][0]["mean"] == 20.0 + 4 - 2 * 3
    assert record["run"]["set"] == ["pests.arrivals=3"]
    assert {row["measure"] for row in record["points"]} == {"marketable_kg"}
    kept = json.loads((tmp_path / "out" / "scenario.json").read_text(encoding="utf-8"))
    assert kept["pests"]["arrivals"] == 3


def test_files_hold_every_measure_and_the_picture(capsys, tmp_path):
    import pyarrow.parquet

    folder = tmp_path / "out"
    asked = (*STATION, "--vary", f"{LATE}=0:20:3", "--measure", "marketable_kg", "--out", str(folder))
    status, _, err = run(capsys, *asked)
    assert status == 0
    assert "sweep_….png" in err
    table = pd.read_csv(folder / "sweep.csv")
    assert list(table.columns[:4]) == [LATE, "plan", "measure", "unit"]
    assert set(table["measure"]) == set(InventedSeason(load_scenario("leaf_bed"), "net", 1).summary)
    assert len(table) == 3 * 1 * 4
    parquet = pyarrow.parquet.read_table(folder / "sweep.parquet")
    assert parquet.to_pandas()["mean"].tolist() == pytest.approx(table["mean"].tolist())
    assert json.loads(parquet.schema.metadata[b"run"])["settings"] == {LATE: [0, 10, 20]}
    schema = json.loads((folder / "sweep.schema.json").read_text(encoding="utf-8"))
    assert schema["fields"][0]["description"] == "Net: days after planting that it goes on"
    assert Image.open(io.BytesIO((folder / "sweep_full_page.png").read_bytes())).width == 2130
    assert b"<desc>" in (folder / "sweep_full_page.svg").read_bytes()
    assert json.loads((folder / "run.json").read_text(encoding="utf-8"))["seeds"] == list(range(1, 8))


class UnevenSeason:
    """Seasons so uneven that Student's interval runs on to fewer than no pests, and to more than all flowers."""

    def __init__(self, plan, seed):
        self.summary = {
            "pests_alive_peak_count": 700.0 if seed == 1 and plan == "net" else 0.0,
            "fruit_set_share": 0.5 if seed == 1 and plan == "net" else 1.0,
        }


def test_an_interval_is_shown_only_where_its_measure_can_lie(capsys, monkeypatch):
    monkeypatch.setattr(sim.jobs, "_run_season", lambda: lambda _scenario, plan, seed: UnevenSeason(plan, seed))
    asked = (*STATION, "--vary", f"{LATE}=0,5", "--plan", "nothing", "--plan", "net")
    measures = ("--measure", "pests_alive_peak_count", "--measure", "fruit_set_share")
    _, out, _ = run(capsys, *asked, *measures)
    assert "100 (0 to 345)" in out.replace("│", " ")
    assert "(75 to 100)" in out.replace("│", " ")
    garden = load_scenario("leaf_bed")
    found = sweep(garden, [with_words(setting_from(f"{LATE}=0,5"), garden)], ["nothing", "net"], 7)
    assert found.table["low"].min() < -100  # files keep what was worked out
    names = ("pests_alive_peak_count", "fruit_set_share")
    picture = picture_of(found, garden, names)
    assert picture.frame.groupby("measure")["low"].min()["pests_alive_peak_count"] == 0
    assert picture.frame.groupby("measure")["high"].max()["fruit_set_share"] == 100
    question = Question("one", "One?", "leafnest sweep", "A note.", ())
    page = page_of([Answer(question, found, names, picture, garden)], "folder")
    assert "| 100 (0 to 345) | 93 (75 to 100) |" in page


def test_a_sweep_is_pictured_for_a_slide_in_grey_and_in_spanish(capsys, tmp_path, invented):
    asked = ("sweep", "leaf_bed", "--seasons", "7", "--vary", f"{LATE}=0:20:3", "--measure", "marketable_kg")
    forms = ("--size", "slide", "--grey", "--language", "es", "--date", "2026-11-25")
    status, _, err = run(capsys, *asked, *forms, "--out", str(tmp_path / "kept"))
    assert status == 0, err
    names = {file.name for file in (tmp_path / "kept").iterdir() if file.name.startswith("sweep_")}
    assert names >= {f"sweep_slide_grey{end}" for end in (".png", "_screen.png", ".svg", ".pdf")}
    words = (tmp_path / "kept" / "sweep.txt").read_text(encoding="utf-8")
    assert "25 de noviembre de 2026" in words
    assert "Malla" in words


def test_a_stopped_sweep_goes_on_where_it_was(capsys, tmp_path, invented, monkeypatch):
    store = tmp_path / "kept"
    asked = ("sweep", "leaf_bed", "--seasons", "8", "--vary", f"{LATE}=0:20:3", "--store", str(store), "--json")
    _, whole, _ = run(capsys, *asked[:-3], "--json")
    invented.clear()

    def stops(scenario, plan, seed):
        if len(invented) == 9:
            raise KeyboardInterrupt
        invented.append((plan, seed))
        return InventedSeason(scenario, plan, seed)

    with monkeypatch.context() as stopped:
        stopped.setattr(sim.jobs, "_run_season", lambda: stops)
        status, out, err = run(capsys, *asked)
    assert status == 130
    assert out == ""
    assert f"kept in {store}: say the same again" in err
    assert run(capsys, *asked)[1] == whole
    assert len(invented) == 8 * 3


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--vary", f"{LATE}=20:0:3"], "upside down"),
        (["--vary", f"{LATE}"], "say KEY=LOW:HIGH:STEPS"),
        (["--vary", "pests.arrival=0:1:2"], "Did you mean 'pests.arrivals'"),
        (["--vary", "plans.net.actions.cover.days_after_plantin=0,1"], "Did you mean"),
        (["--vary", "plans.net.actions.spray.every_days=7,14"], "no setting 'plans.net.actions.spray.every_days'"),
        (["--vary", "pests.arrivals=-1:1:3"], "-1"),
        (["--vary", "place.climate=warm_humid,polar"], "polar"),
        (["--vary", f"{LATE}=0,5", "--plan", "nothing"], "belongs to plan 'net', which is not among those run"),
        (["--vary", f"{LATE}=0,5", "--measure", "marketable"], "Did you mean 'marketable_kg'"),
        (["--vary", f"{LATE}=0,5", "--plan", "nett"], "no plan 'nett'"),
        (["--vary", f"{LATE}=0,5", "--set", "pests.arrivals"], "say KEY=VALUE"),
        (["--vary", f"{LATE}=0,5", "--set", "pests.arrivals=1,2"], "say KEY=VALUE"),
        (["--vary", f"{LATE}=0,5", "--set", "pests.arivals=1"], "Did you mean"),
        (["--vary", f"{LATE}=0,5", "--set", "beds.².length_m=1"], "no setting 'beds.².length_m'"),
        (["--vary", f"{LATE}=0,5", "--set", "plans=1"], "'plans' is 1; allowed: a list"),
        (["--vary", "plans=1,2"], "'plans' is 1; allowed: a list"),
        (["--vary", "pests.arrivals=0:inf:3"], "goes from 0 to inf; both must be numbers"),
        (["--vary", "pests.arrivals=nan:1:3"], "goes from nan to 1; both must be numbers"),
        (["--vary", f"pests.arrivals=0:1{400 * '0'}:3"], "both must be numbers"),
        (["--vary", f"{LATE}=0,5", "--workers", "0"], "whole number from 1"),
        (["--vary", f"{LATE}=0,5", "--seed", "9" * 5000], "whole number from 1"),
        (["--vary", "beds.collards.planted=04-15,04-31"], "is '04-31'; allowed: a day that every year has"),
        (["--vary", "place.warmer_c=0,2C"], "'place.warmer_c' is '2C'; allowed: a number"),
        (["--vary", f"{LATE}=0,5", "--cluster", ""], "a name is needed, or leave the option out"),
        (["--vary", f"{LATE}=0,5", "--store", ""], "a name is needed, or leave the option out"),
        (["--vary", f"{LATE}=0,5", "--out", ""], "a name is needed, or leave the option out"),
        (["--vary", f"{LATE}=0,5", "--workers", "2", "--cluster", "tcp://192.0.2.1:1"], "not allowed with"),
        (["--vary", f"{LATE}=0,5", "--cluster", "nowhere"], "No cluster answers at 'nowhere'"),
        ([], "--vary"),
    ],
)
def test_a_mistake_is_one_sentence_and_status_2(capsys, invented, arguments, told):
    status, out, err = run(capsys, "sweep", "leaf_bed", "--seasons", "1", *arguments)
    assert status == 2
    assert out == ""
    assert told in err
    assert err.count("\n") == 1
    assert not invented


@pytest.mark.parametrize(("store", "out"), [("so", "so"), ("so", "./so/../so"), ("so/kept", "so")])
def test_seasons_and_results_do_not_get_into_each_others_way(capsys, tmp_path, monkeypatch, invented, store, out):
    monkeypatch.chdir(tmp_path)
    status, printed, err = run(capsys, "sweep", "leaf_bed", "--vary", f"{LATE}=0,5", "--store", store, "--out", out)
    assert (status, printed, invented) == (2, "", [])
    assert f"(--store {store}) cannot be kept in the folder of the results" in err
    assert err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_results_may_stand_in_the_folder_that_keeps_seasons(capsys, tmp_path):
    asked = ("sweep", "leaf_bed", "--seasons", "1", "--vary", f"{LATE}=0,5", "--store", str(tmp_path / "kept"))
    assert run(capsys, *asked, "--out", str(tmp_path / "kept" / "out"))[0] == 0
    assert run(capsys, *asked, "--out", str(tmp_path / "kept" / "out"), "--overwrite")[0] == 0


def test_seasons_of_another_version_of_the_model_are_not_mixed_in(capsys, tmp_path, invented):
    store = tmp_path / "kept"
    asked = ("sweep", "leaf_bed", "--seasons", "1", "--vary", f"{LATE}=0,5", "--store", str(store))
    assert run(capsys, *asked)[0] == 0
    header = json.loads((store / "run.json").read_text(encoding="utf-8"))
    header["model"]["rules"] = "another"
    (store / "run.json").write_text(json.dumps(header), encoding="utf-8")
    before = {path.name: path.read_bytes() for path in store.iterdir()}
    status, _, err = run(capsys, *asked)
    assert status == 2
    assert "another version of the model" in err
    assert err.count("\n") == 1
    assert {path.name: path.read_bytes() for path in store.iterdir()} == before


def test_a_full_disk_is_one_sentence_and_loses_nothing(capsys, tmp_path, invented, monkeypatch):
    store = tmp_path / "kept"
    asked = ("sweep", "leaf_bed", "--seasons", "4", "--vary", f"{LATE}=0,5", "--store", str(store), "--json")
    real, calls = os.fsync, []

    def full(handle):
        calls.append(handle)
        if len(calls) > 4:
            raise OSError(errno.ENOSPC, "No space left on device")
        real(handle)

    with monkeypatch.context() as crowded:
        crowded.setattr(os, "fsync", full)
        status, _, err = run(capsys, *asked)
    assert status == 2
    assert "no room left" in err
    assert err.count("\n") == 1
    ran = len(invented)
    assert run(capsys, *asked)[0] == 0
    assert len(invented) == 8 + 1  # one season more than there are: the one that found no room
    assert ran == 4


def test_off_a_terminal_a_long_run_tells_how_far_it_is(capsys, monkeypatch):
    monkeypatch.setattr("dashboard.commands.tables.SECONDS_A_LINE", 0)
    _, _, err = run(capsys, "sweep", "leaf_bed", "--seasons", "2", "--vary", f"{LATE}=0,5", "--json")
    assert err.splitlines()[-1].endswith("2 points, 1 plan, 2 seasons each: 4 of 4 seasons done")
